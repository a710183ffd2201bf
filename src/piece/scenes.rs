//! Drawn photos in which cloth and backdrop are hard to tell apart.

use super::{Found, find};
use crate::colour::CameraRgb;
use crate::picture::{Mask, Picture};

const WIDTH: usize = 480;
const HEIGHT: usize = 360;

/// Even noise between -1 and 1, the same on every run.
struct Grain(u32);

impl Grain {
    fn next(&mut self) -> f32 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as f32 / (1u32 << 23) as f32 - 1.0
    }
}

/// A wavy cloth of colour `ground` with four round prints, on what `backdrop` gives for each place, in light that `light`
/// gives; light and each channel are grainy by the parts given.
fn scene(
    ground: [f32; 3],
    backdrop: impl Fn(f32, f32) -> [f32; 3],
    light: impl Fn(f32, f32) -> [f32; 3],
    grain: [f32; 2],
) -> (Picture<CameraRgb>, Mask) {
    let mut noise = Grain(11);
    let mut cloth = Mask::empty(WIDTH, HEIGHT);
    let mut pixels = Vec::new();
    for y in 0..HEIGHT {
        for x in 0..WIDTH {
            let (u, v) = (x as f32 - 250.0, y as f32 - 175.0);
            let (across, down) = (u + 0.08 * v, v - 0.08 * u);
            let belongs = across.abs() < 95.0 + 3.0 * (v / 21.0).sin()
                && down.abs() < 120.0 + 3.0 * (u / 23.0).sin();
            cloth.pixels[y * WIDTH + x] = belongs;
            let (x, y) = (x as f32, y as f32);
            let colour = if !belongs {
                backdrop(x, y)
            } else if (u - 30.0).hypot(v + 60.0) < 28.0 || (u + 40.0).hypot(v - 50.0) < 34.0 {
                [0.30, 0.13, 0.06]
            } else if (u + 45.0).hypot(v + 40.0) < 26.0 || (u - 35.0).hypot(v - 45.0) < 30.0 {
                [0.16, 0.17, 0.06]
            } else {
                ground
            };
            let shade = 1.0 + grain[0] * noise.next();
            let lit = light(x, y);
            let [r, g, b] =
                [0, 1, 2].map(|k| colour[k] * lit[k] * shade * (1.0 + grain[1] * noise.next()));
            pixels.push(CameraRgb { r, g, b });
        }
    }
    let picture = Picture {
        width: WIDTH,
        height: HEIGHT,
        pixels,
    };
    (picture, cloth)
}

/// The outline overlaps with the cloth by more than 0.93, and is sure of itself.
fn check(scene: (Picture<CameraRgb>, Mask)) {
    assert!(check_outline(scene).cautions.is_empty());
}

/// The outline overlaps with the cloth by more than 0.93.
fn check_outline((picture, cloth): (Picture<CameraRgb>, Mask)) -> Found {
    let found = find(&picture, &[]).expect("there is a cloth");
    let pairs = || found.mask.pixels.iter().zip(&cloth.pixels);
    let both = pairs().filter(|(a, b)| **a && **b).count() as f64;
    let overlap = both / pairs().filter(|(a, b)| **a || **b).count() as f64;
    assert!(overlap > 0.93, "overlap {overlap}");
    found
}

fn daylight(x: f32, _: f32) -> [f32; 3] {
    [0.8 + 0.3 * x / WIDTH as f32; 3]
}

/// Clouds of light and dark by a tenth either way, as on plaster.
fn mottled(x: f32, y: f32) -> f32 {
    1.0 + 0.05 * (x / 17.0 + (y / 29.0).sin()).sin() + 0.05 * (y / 23.0 + x / 61.0).cos()
}

/// The ground differs from the plaster by less than the plaster's own light and dark, in a hue that the plaster never has.
#[test]
fn a_pale_cloth_on_pale_plaster() {
    let plaster = |x, y| [0.53, 0.52, 0.50].map(|c| c * mottled(x, y));
    check(scene([0.56, 0.53, 0.46], plaster, daylight, [0.06, 0.01]));
}

#[test]
fn a_tan_cloth_on_planks() {
    let planks = |x: f32, y: f32| {
        let plank = ((x / 60.0).floor() * 2.3).sin();
        let fibre = ((x + 3.0 * (y / 40.0).sin()) / 3.0).sin();
        let light = (1.0 + 0.25 * plank) * (1.0 + 0.12 * fibre);
        [0.28, 0.15, 0.07].map(|c| c * light)
    };
    check(scene([0.40, 0.27, 0.14], planks, daylight, [0.08, 0.02]));
}

#[test]
fn a_cloth_over_two_backdrops() {
    let parted = |x, y| {
        if y > 210.0 {
            [0.62, 0.62, 0.64]
        } else {
            [0.10, 0.11, 0.13].map(|c| c * mottled(x, y))
        }
    };
    check(scene([0.60, 0.54, 0.42], parted, daylight, [0.06, 0.01]));
}

/// A shadow of a third of the light, bluish as open sky is, lies across cloth and slate.
#[test]
fn a_cloth_half_in_shadow() {
    let slate = |x, y| [0.12, 0.13, 0.14].map(|c| c * mottled(x, y));
    let shadow = |x: f32, y: f32| {
        if x + 0.4 * y > 330.0 {
            [0.30, 0.33, 0.38]
        } else {
            [1.0; 3]
        }
    };
    check(scene([0.50, 0.43, 0.31], slate, shadow, [0.06, 0.01]));
}

/// A board lies half under the cloth, along so much of its upper side that a straight side could as well hold it.
#[test]
fn a_thing_along_half_a_side() {
    let boarded = |x: f32, y: f32| {
        if (118.0..250.0).contains(&x) && (8.0..75.0).contains(&y) {
            [0.30, 0.36, 0.44]
        } else {
            [0.62, 0.58, 0.52].map(|c| c * mottled(x, y))
        }
    };
    check_outline(scene([0.50, 0.46, 0.24], boarded, daylight, [0.04, 0.01]));
}
