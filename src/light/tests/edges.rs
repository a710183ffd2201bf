//! A tone curve found again in the edges of a computed tag.

use super::*;
use crate::light::edges::Edges;
use crate::light::sample::Sample;

/// A photo through a lens that blurs, the tag a little out of step with the pixels.
fn blurred(shoulder: f64) -> Scene {
    Scene {
        strength: 0.4,
        shoulder,
        blur: 0.85,
        exposure: 0.65,
        module: [7.37, 7.37],
        ..Scene::plain()
    }
}

fn edges(scene: Scene) -> Option<Edges> {
    let (photo, tag) = (scene.photo(), scene.tag());
    Edges::take(&photo, &tag, &Sample::take(&photo, &tag).unwrap())
}

/// The worst of the cloth colours, CIEDE2000.
fn worst(scene: Scene, correction: &Correction) -> f64 {
    let off = CLOTH.map(|colour| scene.off(correction, colour));
    off.into_iter().fold(0.0, f64::max)
}

#[test]
fn the_right_curve_makes_edges_even() {
    for shoulder in [0.0, 0.5, 1.0] {
        let scene = blurred(shoulder);
        let edges = edges(scene).unwrap();
        let left = |strength, shoulder| edges.asymmetries(&[Tone { strength, shoulder }])[0].sqrt();
        let right = left(scene.strength, shoulder);
        assert!(right < 0.002, "{right} with the right curve");
        for other in [shoulder + 0.3, shoulder - 0.3].map(|k| left(0.4, k)) {
            assert!(other > 2.0 * right, "{other} with another curve, {right}");
        }
    }
}

#[test]
fn a_shoulder_is_found() {
    for shoulder in [0.0, 0.5, 1.0] {
        let scene = blurred(shoulder);
        let sharp = Scene { blur: 0.0, ..scene };
        let without = sharp.found(&known(&sharp)).light.correction.unwrap();
        let correction = scene.found(&known(&scene)).light.correction.unwrap();
        // What is usual draws the strong ones back.
        let likely = 0.55 * shoulder - 0.1..=shoulder + 0.1;
        let found = correction.tone.shoulder;
        assert!(likely.contains(&found), "{found} for {shoulder}");
        let (off, blind) = (worst(scene, &correction), worst(scene, &without));
        assert!(
            off < 0.5 || off < 0.7 * blind,
            "{off}, without edges {blind}"
        );
    }
}

#[test]
fn a_sharpened_picture_is_not_believed() {
    for shoulder in [0.0, 0.5] {
        for sharpening in [0.6, 1.2] {
            let scene = Scene {
                sharpening,
                ..blurred(shoulder)
            };
            let found = scene.found(&known(&scene)).light.correction.unwrap().tone;
            assert!(found.shoulder.abs() < 0.35, "{found:?}");
        }
    }
}

#[test]
fn edges_that_say_nothing_are_left_out() {
    assert!(edges(blurred(0.0)).is_some());
    let small = Scene {
        module: [4.7, 4.7],
        ..blurred(0.0)
    };
    let soft = Scene {
        blur: 3.0,
        ..blurred(0.0)
    };
    let sharp = Scene {
        blur: 0.0,
        ..blurred(0.0)
    };
    let bright = Scene {
        exposure: 1.2,
        ..blurred(0.0)
    };
    let shade = Scene {
        shade: 0.75,
        ..blurred(0.0)
    };
    for (name, scene) in [
        ("small", small),
        ("soft", soft),
        ("sharp", sharp),
        ("bright", bright),
        ("shade", shade),
    ] {
        assert!(edges(scene).is_none(), "{name}");
    }
}
