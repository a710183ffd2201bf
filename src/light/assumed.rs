//! The light of a picture in which nothing is known.

use super::Found;
use super::tone::{Triple, USUAL};
use crate::colour::{CameraRgb, Matrix};
use crate::error::Caution;
use crate::picture::Picture;
use crate::reading::{Basis, Correction, Doubt, Fall, Light, Tone};

/// The power of the mean over the picture: 6, as Finlayson & Trezzi found best, CIC 12 (2004), 37-41.
const POWER: i32 = 6;

/// How much of the estimate is believed. The camera has balanced the picture once already, and coloured cloth that fills
/// the picture misleads the estimate: between them a little nearer to the camera.
const BELIEVED: f64 = 0.3;

/// Where a camera's exposure usually puts a perfect white, in linear light after its tone curve. Common practice, no source.
const WHITE: f64 = 0.8;

/// The light that the lightest hundredth of a picture usually has, by a perfect white: pale cloth or plaster. In 124 computed
/// photos of seven made seasons 0.6 did best; with 0.72 all came out too light.
const LIGHTEST: f64 = 0.6;

/// One standard deviation of a cloth colour, CIEDE2000. In 48 computed photos in daylight of D50 to D75 on three backdrops
/// two thirds of the cloth was nearer than 3.9 (pale backdrops) and 7.2 (dark and coloured ones); this holds the worse.
const DOUBT: f64 = 7.0;

/// The light from the picture alone: a sixth-power mean for the white balance ("shades of grey"), a usual exposure and the
/// lightest hundredth of the picture in equal parts, and a usual tone curve. It is a guess, and says so.
pub fn assumed(picture: &Picture<CameraRgb>, to_xyz: &Matrix) -> Found {
    let tone = Tone {
        strength: USUAL.0,
        ..Tone::default()
    };
    let lights: Vec<Triple> = picture
        .pixels
        .iter()
        .map(|pixel| pixel.array().map(|v| tone.undo(v)))
        .collect();
    let balance = balance(&lights, to_xyz);
    let usual = 1.0 / tone.undo(WHITE);
    let exposure = match lightest(&lights, to_xyz) {
        Some(light) => (usual * LIGHTEST / light).sqrt(),
        None => usual,
    };
    Found {
        light: Light {
            basis: Basis::Assumed,
            residual: None,
            patches: Vec::new(),
            correction: Some(Correction {
                tone,
                flare: [0.0; 3],
                gain: balance.map(|b| b * exposure),
                matrix: *to_xyz,
                roots: Matrix::default(),
                fall: Fall::default(),
            }),
            ..Light::default()
        },
        doubt: Doubt::even(DOUBT),
        cautions: vec![Caution::new(
            "light-assumed",
            "Nothing in this picture says what white is, so its colours are a guess from the picture alone; photograph the \
             piece with its tag beside it.",
        )],
    }
}

/// Gains that bring the sixth-power mean part of the way to neutral and leave a neutral's lightness as it is.
fn balance(lights: &[Triple], to_xyz: &Matrix) -> Triple {
    let mean = [0, 1, 2].map(|c| {
        let sum: f64 = lights.iter().map(|light| light[c].powi(POWER)).sum();
        (sum / lights.len().max(1) as f64).powf(1.0 / f64::from(POWER))
    });
    let level = luminance(mean, to_xyz);
    mean.map(|m| {
        let gain = (level / m).powf(BELIEVED);
        // A channel with nothing in it (a black picture, a single pure colour) says nothing about the light.
        if gain.is_finite() && gain > 0.0 {
            gain.clamp(0.5, 2.0)
        } else {
            1.0
        }
    })
}

/// The light that a hundredth of the picture exceeds; `None` where that is next to nothing.
fn lightest(lights: &[Triple], to_xyz: &Matrix) -> Option<f64> {
    let mut all: Vec<f64> = lights
        .iter()
        .map(|&light| luminance(light, to_xyz))
        .collect();
    all.sort_by(f64::total_cmp);
    let light = all.get(all.len() * 99 / 100).copied()?;
    (light > 0.01).then_some(light)
}

fn luminance(light: Triple, to_xyz: &Matrix) -> f64 {
    (0..3).map(|c| to_xyz[1][c] * light[c]).sum()
}
