//! Tags photographed by reckoning.

use super::*;

/// How a tag is seen.
#[derive(Clone, Copy, Debug)]
pub struct View {
    /// Pixels to a module where the tag is nearest to square on.
    pub module: f64,
    /// Turned in the plane, degrees.
    pub turn: f64,
    /// Tilted away from the camera, degrees, about an axis at 30°.
    pub tilt: f64,
    /// Standard deviation of the blur, in modules.
    pub blur: f64,
}

pub const SIZE: [usize; 2] = [560, 420];

/// Dots to a millimetre at which tags are rendered before they are photographed.
pub const DOTS: f64 = 10.0;

pub fn photograph(width: usize, height: usize, rgb: Vec<u8>) -> Photograph {
    let curve: Vec<f32> = (0..=255u8).map(palette_linear).collect();
    Photograph {
        width,
        height,
        samples: Samples::Eight(rgb),
        encoding: Encoding {
            curves: [curve.clone(), curve.clone(), curve],
            to_xyz: crate::colour::srgb_to_xyz(),
            name: "sRGB".to_owned(),
        },
    }
}

pub fn palette_linear(code: u8) -> f32 {
    palette::Srgb::new(code, code, code)
        .into_linear::<f32>()
        .red
}

pub fn rendered(drawing: &Drawing, dots: f64) -> Photograph {
    let (width, height, rgb) = drawing.pixels(dots).unwrap();
    photograph(width, height, rgb)
}

impl View {
    /// From millimetres on the tag to pixels.
    pub fn homography(&self, modules: usize) -> Homography {
        let scale = self.module * (modules as f64 + 2.0 * QUIET_ZONE) / SYMBOL;
        let [turn, tilt, axis] = [self.turn, self.tilt, 30.0].map(f64::to_radians);
        let distance = 3.0 * TAG[0] * scale;
        let square = [[0.0, 0.0], [TAG[0], 0.0], TAG, [0.0, TAG[1]]];
        let seen = square.map(|[x, y]| {
            let (x, y) = ((x - TAG[0] / 2.0) * scale, (y - TAG[1] / 2.0) * scale);
            let (x, y) = (
                x * turn.cos() - y * turn.sin(),
                x * turn.sin() + y * turn.cos(),
            );
            let (along, across) = (
                x * axis.cos() + y * axis.sin(),
                y * axis.cos() - x * axis.sin(),
            );
            let depth = distance / (distance + across * tilt.sin());
            let (along, across) = (along * depth, across * tilt.cos() * depth);
            [
                SIZE[0] as f64 / 2.0 + along * axis.cos() - across * axis.sin() + 3.3,
                SIZE[1] as f64 / 2.0 + along * axis.sin() + across * axis.cos() - 2.6,
            ]
        });
        homography(square, seen).unwrap()
    }

    /// The tag on a brown ground, darker to the right, blurred, with a little noise.
    pub fn photo(&self, tag: &Drawing, modules: usize) -> Photograph {
        let sheet = rendered(tag, DOTS);
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let forward = self.homography(modules);
        let corners = square.map(|at| project(&forward, at));
        let back = homography(corners, square).unwrap();
        let light = |x: f64, y: f64| {
            let [across, down] = project(&back, [x, y]).map(|mm| mm * DOTS);
            let inside = across >= 0.0
                && down >= 0.0
                && across < sheet.width as f64
                && down < sheet.height as f64;
            let grey = if inside {
                0.05 + 0.8 * f64::from(sheet.linear(across as usize, down as usize).g)
            } else {
                0.15 + 0.05 * (x / 17.0).sin()
            };
            grey * (1.0 - 0.5 * x / SIZE[0] as f64)
        };
        let mut plane = Vec::with_capacity(SIZE[0] * SIZE[1]);
        for (x, y) in (0..SIZE[1]).flat_map(|y| (0..SIZE[0]).map(move |x| (x, y))) {
            let sum: f64 = (0..16)
                .map(|i| {
                    let (dx, dy) = (f64::from(i % 4), f64::from(i / 4));
                    light(x as f64 + (dx + 0.5) / 4.0, y as f64 + (dy + 0.5) / 4.0)
                })
                .sum();
            plane.push(sum / 16.0);
        }
        let plane = blurred(&plane, self.blur * self.module);
        let mut seed = 1u32;
        let rgb = plane.iter().flat_map(|grey| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = (f64::from(seed >> 16) / 65_536.0 - 0.5) * 0.02;
            let tint = [1.0, 0.9, 0.75].map(|t| ((grey + noise) * t).clamp(0.0, 1.0));
            let encoded: palette::Srgb<f64> = palette::LinSrgb::from(tint).into_encoding();
            let bytes: [u8; 3] = encoded.into_format::<u8>().into();
            bytes
        });
        photograph(SIZE[0], SIZE[1], rgb.collect())
    }
}

/// A Gaussian blur, rows then columns.
pub fn blurred(plane: &[f64], deviation: f64) -> Vec<f64> {
    let reach = (3.0 * deviation).ceil() as isize;
    let weights: Vec<f64> = (-reach..=reach)
        .map(|i| (-(i as f64).powi(2) / (2.0 * deviation * deviation)).exp())
        .collect();
    let total: f64 = weights.iter().sum();
    let [width, height] = SIZE.map(|s| s as isize);
    let pass = |from: &[f64], dx: isize, dy: isize| -> Vec<f64> {
        let places = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        let at = |x: isize, y: isize| {
            from[(y.clamp(0, height - 1) * width + x.clamp(0, width - 1)) as usize]
        };
        let sum = |(x, y): (isize, isize)| -> f64 {
            (-reach..=reach)
                .zip(&weights)
                .map(|(i, w)| w * at(x + i * dx, y + i * dy))
                .sum()
        };
        places.map(|place| sum(place) / total).collect()
    };
    pass(&pass(plane, 1, 0), 0, 1)
}
