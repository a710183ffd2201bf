//! Photos of a chart, computed the way a camera makes them.

use super::super::homography::Homography;
use super::super::{Chart, Corners};
use crate::colour::{CameraRgb, Lab, Xyz, apply, inverse, srgb_to_xyz};
use crate::picture::{Encoding, Photograph, Samples};
use palette::IntoColor;
use palette::encoding::{FromLinear, IntoLinear, Srgb};

pub(super) const SIZE: [usize; 2] = [420, 320];

/// Cloth colours, CIELAB (undyed, straw, rust, brown, olive, iron black): a scenario of our own.
pub(super) const CLOTH: [[f64; 3]; 6] = [
    [84.0, 1.0, 12.0],
    [72.0, 5.0, 42.0],
    [52.0, 26.0, 36.0],
    [38.0, 9.0, 14.0],
    [48.0, -6.0, 22.0],
    [26.0, 1.0, 2.0],
];

/// A photo to compute: where the chart lies, and what the light, the lens and the camera did.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scene {
    /// Degrees clockwise.
    pub turn: f64,
    /// Pixels from one patch to the next.
    pub pitch: f64,
    /// The width of a patch by the pitch.
    pub patch: f64,
    /// Perspective: by how much a pixel to the right is farther away.
    pub slant: f64,
    /// Light of what lies between and around the patches.
    pub ground: f64,
    pub balance: [f64; 3],
    pub exposure: f64,
    pub flare: f64,
    pub strength: f64,
    pub shoulder: f64,
    /// Natural logarithm of light from left to right.
    pub fall: f64,
    /// A patch with a reflection on it.
    pub spoiled: Option<(usize, usize)>,
    /// The same colours in other places; the whole chart seen in a mirror; without colour.
    pub shuffled: bool,
    pub mirrored: bool,
    pub bleached: bool,
}

impl Scene {
    pub fn plain() -> Self {
        Self {
            turn: 0.0,
            pitch: 34.0,
            patch: 0.84,
            slant: 0.0,
            ground: 0.1,
            balance: [1.06, 1.0, 0.93],
            exposure: 0.78,
            flare: 0.0,
            strength: 0.4,
            shoulder: 0.0,
            fall: 0.0,
            spoiled: None,
            shuffled: false,
            mirrored: false,
            bleached: false,
        }
    }

    /// From the chart's coordinates, in which patch (row, column) has its middle at (column, row), to pixels.
    fn place(&self, chart: &Chart) -> Homography {
        let middle = [chart.columns, chart.rows].map(|n| (n as f64 - 1.0) / 2.0);
        let (sin, cos) = self.turn.to_radians().sin_cos();
        let at = |[x, y]: [f64; 2]| {
            let (x, y) = (self.pitch * (x - middle[0]), self.pitch * (y - middle[1]));
            let away = 1.0 + self.slant * x;
            let (x, y) = ((cos * x - sin * y) / away, (sin * x + cos * y) / away);
            [SIZE[0] as f64 / 2.0 + x, SIZE[1] as f64 / 2.0 + y]
        };
        let own = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0], [2.0, 1.0]];
        Homography::fitted(&own.map(|p| (p, at(p)))).unwrap()
    }

    /// The photo and the chart's corners in it.
    pub fn photo(&self, chart: &Chart) -> (Photograph, Corners) {
        let place = self.place(chart);
        let back = place.inverse().unwrap();
        let [width, height] = SIZE;
        let mut samples = Vec::with_capacity(3 * width * height);
        for n in 0..width * height {
            let mut light = [0.0; 3];
            // Four points a pixel: edges are as soft as a lens makes them.
            for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                let (x, y) = ((n % width) as f64 + dx, (n / width) as f64 + dy);
                let here = self.colour(chart, back.at([x, y]));
                let lit = (self.fall * (x - width as f64 / 2.0) / width as f64).exp();
                (0..3).for_each(|c| light[c] += here[c] * lit / 4.0);
            }
            for value in self.camera(light) {
                let encoded: f64 = Srgb::from_linear(value);
                samples.push((65535.0 * encoded).round() as u16);
            }
        }
        let curve: Vec<f32> = (0..=u16::MAX)
            .map(|code| Srgb::into_linear(f32::from(code) / 65535.0f32))
            .collect();
        let encoding = Encoding {
            curves: [curve.clone(), curve.clone(), curve],
            to_xyz: srgb_to_xyz(),
            name: String::new(),
        };
        let half = self.patch / 2.0;
        let (right, bottom) = (
            chart.columns as f64 - 1.0 + half,
            chart.rows as f64 - 1.0 + half,
        );
        let corners = [
            [-half, -half],
            [right, -half],
            [right, bottom],
            [-half, bottom],
        ];
        let photo = Photograph {
            width,
            height,
            samples: Samples::Sixteen(samples),
            encoding,
        };
        (photo, corners.map(|corner| place.at(corner)))
    }

    /// Linear light of what lies at a point of the chart.
    fn colour(&self, chart: &Chart, [x, y]: [f64; 2]) -> [f64; 3] {
        let (column, row) = (x.round(), y.round());
        let on = (x - column).abs() < self.patch / 2.0 && (y - row).abs() < self.patch / 2.0;
        let inside = (0.0..chart.columns as f64).contains(&column)
            && (0.0..chart.rows as f64).contains(&row);
        if !on || !inside {
            return [self.ground; 3];
        }
        let (mut column, mut row) = (column as usize, row as usize);
        if self.spoiled == Some((row, column)) {
            return [0.7; 3];
        }
        if self.shuffled {
            (row, column) = (
                (row + 3 * column + 1) % chart.rows,
                (column * 5 + row) % chart.columns,
            );
        }
        if self.mirrored {
            column = chart.columns - 1 - column;
        }
        let xyz = chart.patches[row * chart.columns + column].xyz;
        if self.bleached {
            return [0.5 + 0.3 * (xyz.x - xyz.z); 3];
        }
        apply(inverse(srgb_to_xyz()), [xyz.x, xyz.y, xyz.z]).map(|v| v.max(0.0))
    }

    /// What the file holds of such light, linear, 0 to 1.
    fn camera(&self, light: [f64; 3]) -> [f64; 3] {
        [0, 1, 2].map(|c| {
            let lit = (light[c] + self.flare) * self.balance[c] * self.exposure;
            let e: f64 = Srgb::from_linear(lit.min(1.0));
            let e = (1.0 + self.shoulder) * e / (1.0 + self.shoulder * e);
            let s = self.strength;
            Srgb::into_linear((1.0 - s) * e + s * (3.0 * e * e - 2.0 * e * e * e))
        })
    }

    /// A colour in the middle of the photo's light, as the file holds it.
    pub fn photographed(&self, [l, a, b]: [f64; 3]) -> CameraRgb {
        let Xyz { x, y, z, .. } = Lab::new(l, a, b).into_color();
        let light = apply(inverse(srgb_to_xyz()), [x, y, z]);
        let [r, g, b] = self.camera(light).map(|v| v as f32);
        CameraRgb { r, g, b }
    }
}
