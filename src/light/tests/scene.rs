//! Photos of a tag and cloth, computed the way a camera makes them.

use crate::colour::{Lab, Matrix, Xyz, apply, inverse, srgb_to_xyz};
use crate::picture::{Encoding, Photograph, Samples};
use crate::tag::{Payload, Sighting};
use palette::IntoColor;
use palette::encoding::{FromLinear, IntoLinear, Srgb};
use statrs::function::erf::erf;

pub(super) const WIDTH: usize = 360;
pub(super) const HEIGHT: usize = 240;

/// Cloth colours, CIELAB (undyed, straw, rust, brown, olive, iron black): a scenario of our own.
pub(super) const CLOTH: [[f64; 3]; 6] = [
    [84.0, 1.0, 12.0],
    [72.0, 5.0, 42.0],
    [52.0, 26.0, 36.0],
    [38.0, 9.0, 14.0],
    [48.0, -6.0, 22.0],
    [26.0, 1.0, 2.0],
];

/// A photo to compute: what the light, the lens and the camera did.
#[derive(Clone, Copy)]
pub(super) struct Scene {
    pub balance: [f64; 3],
    pub exposure: f64,
    pub flare: f64,
    pub strength: f64,
    pub shoulder: f64,
    /// One standard deviation of the lens's blur in pixels; at 0 pixels are whole modules.
    pub blur: f64,
    /// What a camera adds afterwards of the difference between a pixel and its neighbourhood.
    pub sharpening: f64,
    /// Natural logarithm of light a pixel to the right.
    pub slope: f64,
    /// The light on the left half of the tag.
    pub shade: f64,
    pub paper: [f64; 3],
    pub ink: [f64; 3],
    /// Pixels a module across and down.
    pub module: [f64; 2],
    pub to_xyz: Matrix,
}

impl Scene {
    pub fn plain() -> Self {
        Self {
            balance: [1.06, 1.0, 0.93],
            exposure: 0.78,
            flare: 0.0,
            strength: 0.0,
            shoulder: 0.0,
            blur: 0.0,
            sharpening: 0.0,
            slope: 0.0,
            shade: 1.0,
            paper: [96.0, 0.0, 0.0],
            ink: [25.0, 0.0, 0.0],
            module: [6.0, 6.0],
            to_xyz: srgb_to_xyz(),
        }
    }

    /// The tag's paper begins at (8, 8); `dark` like a code's three finders with nothing between.
    pub fn tag(&self) -> Sighting {
        let [across, down] = self.module;
        let finder = |x: usize, y: usize| {
            let ring = x.abs_diff(3).max(y.abs_diff(3));
            x < 7 && y < 7 && ring != 2
        };
        let dark = |x: usize, y: usize| {
            finder(x, y)
                || (x >= 14 && finder(x - 14, y))
                || (y >= 14 && finder(x, y - 14))
                || (x > 8 && y > 8 && (x * y) % 3 == 1)
        };
        Sighting {
            payload: Payload::Piece("LB001".to_owned()),
            modules: 21,
            dark: (0..441).map(|n| dark(n % 21, n / 21)).collect(),
            to_photo: [
                [across, 0.0, 8.0 + 4.0 * across],
                [0.0, down, 8.0 + 4.0 * down],
                [0.0, 0.0, 1.0],
            ],
        }
    }

    /// What lies at a pixel: the tag on the left, six strips of cloth on the right.
    fn colour(&self, tag: &Sighting, x: usize, y: usize) -> [f64; 3] {
        let place = |p: usize, axis: usize| {
            ((p as f64 + 0.5 - tag.to_photo[axis][2]) / self.module[axis]).floor()
        };
        let (u, v) = (place(x, 0), place(y, 1));
        if (-4.0..25.0).contains(&u) && (-4.0..25.0).contains(&v) {
            let inside = (0.0..21.0).contains(&u) && (0.0..21.0).contains(&v);
            let black = inside && tag.dark[v as usize * 21 + u as usize];
            return if black { self.ink } else { self.paper };
        }
        CLOTH[(y * 6 / HEIGHT).min(5)]
    }

    fn linear(&self, [l, a, b]: [f64; 3]) -> [f64; 3] {
        let xyz: Xyz = Lab::new(l, a, b).into_color();
        apply(inverse(self.to_xyz), [xyz.x, xyz.y, xyz.z])
    }

    /// Linear light after the camera, in the file's primaries: exposure and balance, flare, the curve, what the file holds.
    pub fn photographed(&self, colour: [f64; 3], light: f64) -> [f64; 3] {
        self.bent(self.linear(colour).map(|v| v * light))
            .map(Srgb::into_linear)
    }

    /// Encoded light after the camera.
    fn bent(&self, light: [f64; 3]) -> [f64; 3] {
        [0, 1, 2].map(|c| {
            let level = self.balance[c] * self.exposure;
            let before = (level * (light[c] + self.flare)).clamp(0.0, 1.0);
            let e: f64 = Srgb::from_linear(before);
            let (s, k) = (self.strength, self.shoulder);
            let e = (1.0 + k) * e / (1.0 + k * e);
            (1.0 - s) * e + s * (3.0 * e * e - 2.0 * e * e * e)
        })
    }

    /// How much of what a pixel of the tag sees is ink, under a normal blur.
    fn cover(&self, tag: &Sighting, x: usize, y: usize) -> f64 {
        let shares = |p: usize, axis: usize| {
            let edge = move |module: usize| {
                let away =
                    tag.to_photo[axis][2] + module as f64 * self.module[axis] - p as f64 - 0.5;
                erf(away / self.blur / 2f64.sqrt()) / 2.0
            };
            (0..21).map(move |module| edge(module + 1) - edge(module))
        };
        let across: Vec<f64> = shares(x, 0).collect();
        let row = |v: usize| -> f64 {
            let dark = across.iter().zip(&tag.dark[v * 21..]);
            dark.map(|(share, &dark)| if dark { *share } else { 0.0 })
                .sum()
        };
        shares(y, 1)
            .enumerate()
            .map(|(v, share)| if share > 1e-9 { share * row(v) } else { 0.0 })
            .sum()
    }

    /// Light before the camera.
    fn before(&self, tag: &Sighting, x: usize, y: usize) -> [f64; 3] {
        let there = self.linear(self.colour(tag, x, y));
        let [paper, ink] = [self.paper, self.ink].map(|colour| self.linear(colour));
        if self.blur == 0.0 || (there != paper && there != ink) {
            return there;
        }
        let cover = self.cover(tag, x, y);
        [0, 1, 2].map(|c| paper[c] + cover * (ink[c] - paper[c]))
    }

    pub fn photo(&self) -> Photograph {
        let tag = self.tag();
        let mut encoded = Vec::with_capacity(WIDTH * HEIGHT);
        for n in 0..WIDTH * HEIGHT {
            let (x, y) = (n % WIDTH, n / WIDTH);
            let shaded = (x as f64) < 8.0 + 14.5 * self.module[0];
            let light = (self.slope * x as f64).exp() * if shaded { self.shade } else { 1.0 };
            encoded.push(self.bent(self.before(&tag, x, y).map(|v| v * light)));
        }
        let samples = (0..WIDTH * HEIGHT)
            .flat_map(|n| {
                let around = around(&encoded, n);
                [0, 1, 2].map(|c| encoded[n][c] + self.sharpening * (encoded[n][c] - around[c]))
            })
            .map(|value| (value.clamp(0.0, 1.0) * 65535.0).round() as u16)
            .collect();
        let line: Vec<f32> = (0..65536)
            .map(|code| Srgb::into_linear(code as f64 / 65535.0) as f32)
            .collect();
        Photograph {
            width: WIDTH,
            height: HEIGHT,
            samples: Samples::Sixteen(samples),
            encoding: Encoding {
                curves: [line.clone(), line.clone(), line],
                to_xyz: self.to_xyz,
                name: "computed".to_owned(),
            },
        }
    }
}

/// The mean of a pixel and its eight neighbours, at the margin of the pixel itself.
fn around(pixels: &[[f64; 3]], n: usize) -> [f64; 3] {
    let (x, y) = (n % WIDTH, n / WIDTH);
    if x == 0 || y == 0 || x == WIDTH - 1 || y == HEIGHT - 1 {
        return pixels[n];
    }
    let nine = (0..9).map(|i| pixels[n + i % 3 - 1 + (i / 3) * WIDTH - WIDTH]);
    nine.fold([0.0; 3], |sum, p| [0, 1, 2].map(|c| sum[c] + p[c] / 9.0))
}

/// Two photos, one above the other, and the tag of each.
pub(super) fn stacked(above: Scene, below: Scene) -> (Photograph, [Sighting; 2]) {
    let mut photo = above.photo();
    let (Samples::Sixteen(top), Samples::Sixteen(bottom)) =
        (&mut photo.samples, below.photo().samples)
    else {
        unreachable!("scenes are of sixteen bits")
    };
    top.extend(bottom);
    photo.height *= 2;
    let mut lower = below.tag();
    lower.to_photo[1][2] += HEIGHT as f64;
    (photo, [above.tag(), lower])
}
