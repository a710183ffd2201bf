//! How the light falls over a photo, found in computed ones.

use super::*;
use crate::light::fall::fall;

#[test]
fn the_fall_of_light_over_a_tag_is_followed() {
    let scene = Scene {
        slope: 0.15 / 200.0,
        exposure: 0.7,
        ..Scene::plain()
    };
    let photo = scene.photo();
    let found = scene.found(&known(&scene));
    let here = found.light.correction.unwrap();
    let (x, y) = (330, HEIGHT * 3 / 12);
    let [l, a, b] = CLOTH[1];
    let off = |lab| de00(lab, Lab::new(l, a, b));
    let pixel = photo.linear(x, y);
    let there = off(here.for_picture().to_lab(pixel, [x as f64, y as f64]));
    assert!(
        there < 0.65 * off(here.to_lab(pixel)),
        "{there} {}",
        off(here.to_lab(pixel))
    );
}

/// A backdrop of planks and a dark stone floor below, grained, under light that falls to the right and into the corners.
fn backdrop(slope: f64, bend: f64) -> Picture<CameraRgb> {
    let (width, height) = (400, 300);
    let mut noise = 3u32;
    let pixel = |n: usize| {
        let (x, y) = ((n % width) as f64, (n / width) as f64);
        noise = noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let grain = f64::from(noise >> 8) / f64::from(1u32 << 24) - 0.5;
        let [u, v] = [x / 200.0 - 1.0, y / 200.0 - 0.75];
        let light = 0.3 * grain + slope * u - bend * (u * u + v * v);
        let colour = if y < 220.0 {
            [0.3, 0.2, 0.1]
        } else {
            [0.1, 0.1, 0.12]
        };
        let [r, g, b] = colour.map(|c| (c * light.exp()) as f32);
        CameraRgb { r, g, b }
    };
    Picture {
        width,
        height,
        pixels: (0..width * height).map(pixel).collect(),
    }
}

#[test]
fn the_backdrop_tells_how_the_light_falls() {
    for (slope, bend) in [(0.0, 0.03), (0.2, 0.03), (-0.3, 0.0), (0.1, 0.07)] {
        let picture = backdrop(slope, bend);
        let bare = picture.map(|_| true);
        let around = Surroundings {
            size: [4000, 3000],
            picture: &picture,
            step: 10,
            bare: &bare,
        };
        let straight = tone::Bend {
            tone: Tone::default(),
            shifts: [[0.1, 0.0], [0.0, 0.1]],
            flare: 0.0,
        };
        let found = fall(&[], straight, srgb_to_xyz(), &around);
        let across = found.at([4000.0, 1500.0]) - found.at([2000.0, 1500.0]);
        let truth = (slope - bend).clamp(-0.4, 0.4);
        assert!((across - truth).abs() < 0.03, "{across} for {truth}");
        let down = found.at([2000.0, 3000.0]) - found.at([2000.0, 0.0]);
        assert!(down.abs() < 0.03, "{down}");
    }
}

#[test]
fn two_tags_give_the_gradient_between_them() {
    let scene = Scene::plain();
    let dim = Scene {
        exposure: 0.9 * scene.exposure,
        ..scene
    };
    let (photo, tags) = stacked(scene, dim);
    let found = lit(&photo, &[&tags[0], &tags[1]], &known(&scene)).unwrap();
    let fall = found.light.correction.unwrap().fall;
    let [above, below] = [&tags[0], &tags[1]].map(|t| fall.at(t.point(10.5, 10.5)));
    // The light is even over each of them, so part of the step is taken for papers that lie at two angles.
    let followed = (below - above) / 0.9f64.ln();
    assert!((0.5..1.0).contains(&followed), "{above} {below}");
    assert!((below + above).abs() < 0.02);
}
