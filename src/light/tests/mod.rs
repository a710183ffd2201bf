//! Pictures computed the way a camera makes them, and the light found in them again.

mod edges;
mod fall;
mod scene;

use super::*;
use crate::colour::{CameraRgb, Xyz, apply, de00, srgb_to_xyz};
use crate::picture::{Photograph, Picture};
use crate::reading::{Basis, Correction, Tone};
use crate::tag::Sighting;
use palette::IntoColor;
use proptest::prelude::*;
use scene::{CLOTH, HEIGHT, Scene, WIDTH, stacked};

/// The light of a photo by its tags alone, whatever lies around them.
fn lit(photo: &Photograph, tags: &[&Sighting], references: &References) -> Option<Found> {
    let picture = photo.reduced(2);
    let bare = Mask::empty(picture.width, picture.height);
    let around = Surroundings {
        size: [photo.width, photo.height],
        picture: &picture,
        step: 2,
        bare: &bare,
    };
    from_tags(photo, tags, references, &around)
}

impl Scene {
    fn found(&self, references: &References) -> Found {
        lit(&self.photo(), &[&self.tag()], references).unwrap()
    }

    /// CIEDE2000 of one colour lit like the reference, after camera and correction.
    fn off(&self, correction: &Correction, colour: [f64; 3]) -> f64 {
        let [r, g, b] = self.photographed(colour, 1.0).map(|v| v as f32);
        let [l, a, b_] = colour;
        de00(correction.to_lab(CameraRgb { r, g, b }), Lab::new(l, a, b_))
    }

    /// Checks that paper comes back within `white`, ink within `black` and all cloth within `cloth`, CIEDE2000.
    fn check(&self, references: &References, white: f64, black: f64, cloth: f64) {
        let found = self.found(references);
        let correction = found.light.correction.unwrap();
        let paper = self.off(&correction, self.paper);
        assert!(paper <= white, "paper off by {paper}");
        let ink = self.off(&correction, self.ink);
        assert!(ink <= black, "ink off by {ink}, {:?}", correction.tone);
        for colour in CLOTH {
            let off = self.off(&correction, colour);
            assert!(
                off <= cloth,
                "{colour:?} off by {off}, {:?}",
                correction.tone
            );
            let doubt = found.doubt.of(Lab::new(colour[0], colour[1], colour[2]));
            assert!(off <= 2.0 * doubt, "{off} against {doubt}");
        }
        let codes: Vec<&str> = found.cautions.iter().map(|c| c.code.as_str()).collect();
        let known = references.paper_known && references.ink_known;
        let expected: &[&str] = if known { &[] } else { &["paper-assumed"] };
        assert_eq!(codes, expected);
    }

    fn check_caution(&self, code: &str) {
        let plain = Scene::plain().found(&known(&Scene::plain()));
        let found = self.found(&known(self));
        let codes: Vec<&str> = found.cautions.iter().map(|c| c.code.as_str()).collect();
        assert_eq!(codes, [code]);
        assert!(plain.cautions.is_empty(), "{:?}", plain.cautions);
    }
}

/// The scene's own paper and ink, given by the studio.
fn known(scene: &Scene) -> References {
    let lab = |[l, a, b]: [f64; 3]| Lab::new(l, a, b);
    References {
        paper: lab(scene.paper),
        ink: lab(scene.ink),
        paper_known: true,
        ink_known: true,
    }
}

#[test]
fn known_paper_and_ink_come_back() {
    // Paper exactly; ink as near as the curve's prior lets it, which is below what an eye tells apart; cloth as near as the
    // usual shoulder is, since these modules have no blur by which to tell it.
    for strength in [0.0, 0.2, 0.4, 0.6, 0.8] {
        let scene = Scene {
            strength,
            ..Scene::plain()
        };
        scene.check(&known(&scene), 0.05, 0.6, 1.5);
    }
}

#[test]
fn a_studio_s_own_paper_and_ink_are_used() {
    let scene = Scene {
        paper: [93.0, 0.8, -5.0],
        ink: [31.0, 1.0, 2.0],
        strength: 0.3,
        ..Scene::plain()
    };
    scene.check(&known(&scene), 0.05, 0.6, 1.5);
    let assumed = scene.found(&References::default());
    let straw = scene.off(&assumed.light.correction.unwrap(), CLOTH[1]);
    assert!(
        straw > 2.0,
        "paper that is taken for neutral shows: {straw}"
    );
}

#[test]
fn assumed_ink_undoes_a_curve_within_the_doubt() {
    for strength in [0.0, 0.2, 0.4, 0.6] {
        let scene = Scene {
            strength,
            ..Scene::plain()
        };
        scene.check(&References::default(), 0.05, 2.0, 2.2);
    }
}

#[test]
fn flare_costs_little() {
    for flare in [0.002, 0.005, 0.01] {
        let scene = Scene {
            flare,
            strength: 0.35,
            ..Scene::plain()
        };
        scene.check(&known(&scene), 0.05, 1.0, 2.0);
    }
}

#[test]
fn other_primaries_are_no_matter() {
    // Display P3: SMPTE RP 431-2 primaries with the white of D65.
    let p3 = crate::colour::rgb_to_xyz([[0.680, 0.320], [0.265, 0.690], [0.150, 0.060]]);
    let scene = Scene {
        to_xyz: p3,
        strength: 0.4,
        ..Scene::plain()
    };
    scene.check(&known(&scene), 0.05, 0.6, 1.5);
}

#[test]
fn real_cameras_stay_within_the_doubt_of_their_matrix() {
    // Computed with colour-science 0.4.7 from two cameras' measured sensitivities; see testdata/published/README.md.
    let table = include_str!("../../../testdata/published/cloth-by-camera.csv");
    let rows: Vec<Vec<f64>> = table
        .lines()
        .skip(1)
        .map(|line| line.split(',').map(|cell| cell.parse().unwrap()).collect())
        .collect();
    assert_eq!(rows.len(), 72);
    let scene = Scene {
        balance: [0.95, 1.0, 1.08],
        strength: 0.3,
        ..Scene::plain()
    };
    let correction = scene.found(&known(&scene)).light.correction.unwrap();
    let mut near = 0;
    for row in &rows {
        let [_, _, r, g, b, l, a, b_] = row[..] else {
            panic!("{row:?}")
        };
        let by_matrix: Xyz = {
            let [x, y, z] = apply(scene.to_xyz, [r, g, b]);
            Xyz::new(x, y, z)
        };
        let Lab {
            l: ql,
            a: qa,
            b: qb,
            ..
        } = by_matrix.into_color();
        let [r, g, b] = scene.photographed([ql, qa, qb], 1.0).map(|v| v as f32);
        let off = de00(correction.to_lab(CameraRgb { r, g, b }), Lab::new(l, a, b_));
        assert!(off < 3.0, "{row:?} off by {off}");
        near += usize::from(off <= doubt::MATRIX.0 + doubt::MATRIX.1 * a.hypot(b_));
    }
    assert!((40..=65).contains(&near), "{near} of 72 within the doubt");
}

#[test]
fn each_trouble_has_its_caution() {
    let plain = Scene::plain();
    let bright = Scene {
        exposure: 1.2,
        ..plain
    };
    bright.check_caution("white-clipped");
    let shade = Scene {
        shade: 0.75,
        ..plain
    };
    shade.check_caution("tag-shaded");
    let slant = Scene {
        module: [7.5, 4.5],
        ..plain
    };
    slant.check_caution("tag-tilted");
    let far = Scene {
        module: [3.5, 3.5],
        ..plain
    };
    far.check_caution("tag-small");
}

#[test]
fn a_channel_at_its_top_is_told_from_the_black() {
    // Red would be 1.12 of what the file holds.
    let scene = Scene {
        balance: [1.3, 1.0, 0.95],
        exposure: 0.95,
        ..Scene::plain()
    };
    let found = scene.found(&known(&scene));
    let off = scene.off(&found.light.correction.unwrap(), CLOTH[3]);
    assert!(off < 1.5, "brown off by {off}");
    let plain = Scene::plain().found(&known(&Scene::plain()));
    assert!(found.doubt.common > plain.doubt.common + 0.5);
}

#[test]
fn tags_in_different_light_raise_the_doubt() {
    let scene = Scene::plain();
    let dim = Scene {
        exposure: 0.8 * scene.exposure,
        ..scene
    };
    let (even, tags) = stacked(scene, scene);
    let same = lit(&even, &[&tags[0], &tags[1]], &known(&scene)).unwrap();
    assert!(same.cautions.is_empty(), "{:?}", same.cautions);
    let (uneven, tags) = stacked(scene, dim);
    let found = lit(&uneven, &[&tags[0], &tags[1]], &known(&scene)).unwrap();
    assert!(found.cautions.iter().any(|c| c.code == "tags-differ"));
    assert!(
        found.doubt.common > same.doubt.common + 0.2,
        "{:?} {:?}",
        found.doubt,
        same.doubt
    );
}

#[test]
fn no_light_without_a_usable_tag() {
    let scene = Scene::plain();
    let photo = scene.photo();
    let references = References::default();
    assert!(lit(&photo, &[], &references).is_none());
    let mut outside = scene.tag();
    outside.to_photo[0][2] += 2.0 * WIDTH as f64;
    assert!(lit(&photo, &[&outside], &references).is_none());
    let mut inverted = scene.tag();
    inverted.dark.iter_mut().for_each(|dark| *dark = !*dark);
    assert!(lit(&photo, &[&inverted], &references).is_none());
    let both = lit(&photo, &[&outside, &scene.tag()], &references).unwrap();
    assert_eq!(both.light.basis, Basis::Tag);
}

fn picture(pixels: Vec<[f64; 3]>) -> Picture<CameraRgb> {
    let pixel = |[r, g, b]: [f64; 3]| CameraRgb {
        r: r as f32,
        g: g as f32,
        b: b as f32,
    };
    Picture {
        width: pixels.len(),
        height: 1,
        pixels: pixels.into_iter().map(pixel).collect(),
    }
}

#[test]
fn the_assumed_balance_is_the_sixth_power_mean() {
    // np.mean(v**6, axis=0)**(1/6) of NumPy 2.4.6, after the usual curve was undone by np.interp on a table of its way there.
    let [red, green, blue] = [0.480_980, 0.328_093, 0.181_213];
    let found = assumed(
        &picture(vec![[0.6, 0.4, 0.2], [0.3, 0.2, 0.1]]),
        &srgb_to_xyz(),
    );
    let gain = found.light.correction.unwrap().gain;
    let ratio = |a: f64, b: f64| (a / b).powf(0.3);
    assert!((gain[0] / gain[1] - ratio(green, red)).abs() < 1e-4);
    assert!((gain[2] / gain[1] - ratio(green, blue)).abs() < 1e-4);
}

#[test]
fn an_assumed_light_says_so_and_leaves_grey_grey() {
    let grey = (1..=50).map(|n| [f64::from(n) / 60.0; 3]).collect();
    let found = assumed(&picture(grey), &srgb_to_xyz());
    assert_eq!(found.light.basis, Basis::Assumed);
    assert_eq!(found.cautions[0].code, "light-assumed");
    let [r, g, b] = found.light.correction.unwrap().gain;
    assert!((r - g).abs() < 1e-9 && (b - g).abs() < 1e-9, "{r} {g} {b}");
}

fn finite(found: &Found) -> bool {
    let correction = found.light.correction.as_ref().unwrap();
    let numbers = correction.gain.iter().chain(&correction.flare);
    let numbers = numbers
        .chain(&correction.fall.slope)
        .chain(&correction.fall.middle)
        .chain([&correction.fall.level, &correction.fall.bend]);
    let residual = found.light.residual.unwrap_or(0.0);
    numbers
        .chain([&found.doubt.common, &residual, &correction.tone.strength])
        .all(|n| n.is_finite())
        && correction.gain.iter().all(|g| *g > 0.0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_light_is_always_numbers(
        balance in prop::array::uniform3(0.05..3.0f64), exposure in 0.05..4.0f64, flare in 0.0..0.2f64,
        strength in -1.0..=1.0f64, paper in 0.0..=100.0f64, ink in 0.0..=100.0f64, blue in -128.0..127.0f64,
    ) {
        let scene = Scene { balance, exposure, flare, strength, ..Scene::plain() };
        let references = References {
            paper: Lab::new(paper, 0.0, blue),
            ink: Lab::new(ink, 0.0, 0.0),
            ..References::default()
        };
        if let Some(found) = lit(&scene.photo(), &[&scene.tag()], &references) {
            prop_assert!(finite(&found), "{found:?}");
        }
    }

    #[test]
    fn an_assumed_light_is_always_numbers(pixels in prop::collection::vec(prop::array::uniform3(0.0..=1.0f64), 0..40)) {
        prop_assert!(finite(&assumed(&picture(pixels), &srgb_to_xyz())));
    }

    #[test]
    fn paper_comes_back_in_any_light(
        balance in prop::array::uniform3(0.7..1.2f64), exposure in 0.3..0.8f64, strength in 0.0..0.8f64,
    ) {
        let scene = Scene { balance, exposure, strength, ..Scene::plain() };
        let found = scene.found(&References::default());
        prop_assert!(scene.off(&found.light.correction.unwrap(), scene.paper) < 0.05);
    }
}
