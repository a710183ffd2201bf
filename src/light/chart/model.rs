//! What a fit may turn, how far each usually strays, and the correction that comes of it.

use crate::colour::{Matrix, product};
use crate::light::tone::USUAL;
use crate::reading::{Correction, Fall, Tone};
use nalgebra::SVector;

/// How many numbers a fit turns.
pub(super) const COUNT: usize = 23;

/// The numbers: natural logarithm of three gains, six entries of the matrix off its diagonal, strength and shoulder of the tone
/// curve, flare, two slopes of the fall of light, nine weights of root terms.
pub(super) type Numbers = SVector<f64, COUNT>;

const MATRIX: usize = 3;
const TONE: usize = 9;
const FLARE: usize = 11;
/// Where the slopes of the fall begin.
pub(super) const FALL: usize = 12;
const ROOTS: usize = 14;

/// One standard deviation of each entry of the camera's matrix off its diagonal, in the file's primaries: the maker's own
/// matrix has brought colours near.
const MATRIX_SD: f64 = 0.12;
/// One standard deviation of a root term's weight.
const ROOTS_SD: f64 = 0.08;
/// One standard deviation of the tone curve's shoulder.
const SHOULDER_SD: f64 = 0.25;
/// One standard deviation of flare, by the light of a perfect white.
const FLARE_SD: f64 = 0.006;
/// One standard deviation of the logarithm of a gain: next to nothing is known of it.
const GAIN_SD: f64 = 2.0;

/// Whether a number is fitted, with or without root terms; else it stays as it is.
pub(super) fn turns(number: usize, roots: bool) -> bool {
    roots || number < ROOTS
}

/// The numbers as they are before the chart was seen, and one standard deviation of each.
#[derive(Clone, Copy, Debug)]
pub(super) struct Prior {
    pub mean: Numbers,
    pub sd: Numbers,
}

impl Prior {
    /// What is known of cameras, with gains about `gain`, all above 0.
    pub fn usual(gain: [f64; 3]) -> Self {
        let mut mean = Numbers::zeros();
        let mut sd = Numbers::from_element(MATRIX_SD);
        for channel in 0..3 {
            mean[channel] = gain[channel].ln();
            sd[channel] = GAIN_SD;
        }
        (mean[TONE], sd[TONE]) = USUAL;
        sd[TONE + 1] = SHOULDER_SD;
        sd[FLARE] = FLARE_SD;
        for root in ROOTS..COUNT {
            sd[root] = ROOTS_SD;
        }
        Self { mean, sd }
    }
}

/// What does not turn.
#[derive(Clone, Copy, Debug)]
pub(super) struct Setting {
    /// The file's own matrix.
    pub to_xyz: Matrix,
    /// The middle of the chart, in pixels.
    pub chart: [f64; 2],
    /// The middle of the photo, in pixels.
    pub middle: [f64; 2],
    /// Half the photo's longer side, in pixels: the slopes of the fall are over it.
    pub half: f64,
    /// What light loses by the square of the distance from the photo's middle, by half the longer side.
    pub bend: f64,
}

impl Setting {
    /// The correction that these numbers make. Whatever the matrix does, white stays white: its rows and the root terms' sum to
    /// what the file's own do, so that gains alone hold balance and exposure.
    pub fn correction(&self, n: &Numbers) -> Correction {
        let gain = [0, 1, 2].map(|c| n[c].clamp(-12.0, 12.0).exp());
        let roots: Matrix = [0, 1, 2].map(|r| [0, 1, 2].map(|c| n[ROOTS + 3 * r + c]));
        let mut own = Matrix::default();
        for row in 0..3 {
            let [next, last] = [(row + 1) % 3, (row + 2) % 3];
            let [a, b] = [n[MATRIX + 2 * row], n[MATRIX + 2 * row + 1]];
            own[row][next] = a;
            own[row][last] = b;
            own[row][row] = 1.0 - a - b - roots[row].iter().sum::<f64>();
        }
        let flare = n[FLARE].clamp(0.0, 0.2);
        Correction {
            tone: Tone {
                strength: n[TONE].clamp(-1.0, 1.0),
                shoulder: n[TONE + 1].clamp(-0.9, 9.0),
            },
            flare: gain.map(|g| flare / g),
            gain,
            matrix: product(self.to_xyz, own),
            roots: product(self.to_xyz, roots),
            fall: self.fall([n[FALL], n[FALL + 1]]),
        }
    }

    /// The fall of light that is 0 in the middle of the chart.
    fn fall(&self, slope: [f64; 2]) -> Fall {
        let slope = slope.map(|s| s / self.half);
        let bend = self.bend / (self.half * self.half);
        let [x, y] = [0, 1].map(|axis| self.chart[axis] - self.middle[axis]);
        Fall {
            middle: self.middle,
            level: bend * (x * x + y * y) - slope[0] * x - slope[1] * y,
            slope,
            bend,
        }
    }
}
