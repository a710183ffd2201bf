//! Charts read, found in pictures computed the way a camera makes them, and the light told from them.

mod files;
mod fits;
mod scene;

use super::*;
use crate::colour::{CameraRgb, Lab, de00};
use crate::picture::{Mask, Picture};

use scene::{CLOTH, Scene};

fn chart() -> Chart {
    Chart::parse(
        include_str!("../../../../testdata/good/charts/spectra.txt"),
        "spectra.txt",
    )
    .unwrap()
}

impl Scene {
    /// Checks that the chart is found within a fifth of a patch, and that cloth comes back within `off`, CIEDE2000.
    fn check(&self, off: f64) -> Found {
        let chart = chart();
        let (photo, corners) = self.photo(&chart);
        let picture = photo.reduced(photo.step_to(1100));
        let found = find(&photo, &picture, &chart).unwrap_or_else(|| panic!("not found: {self:?}"));
        for (found, wanted) in found.iter().zip(corners) {
            let far = (found[0] - wanted[0]).hypot(found[1] - wanted[1]);
            assert!(far < 0.2 * self.pitch, "{found:?} for {wanted:?}: {self:?}");
        }
        let light = told(&photo, &chart, found).unwrap();
        let correction = light.light.correction.as_ref().unwrap();
        for colour in CLOTH {
            let lab = correction.to_lab(self.photographed(colour));
            let [l, a, b] = colour;
            let far = de00(lab, Lab::new(l, a, b));
            assert!(
                far < off,
                "{colour:?} off by {far}: {self:?}, {correction:?}"
            );
        }
        light
    }
}

/// The light from the chart alone: the photo around it says nothing.
fn told(photo: &Photograph, chart: &Chart, corners: Corners) -> Option<Found> {
    let picture = photo.reduced(1);
    let bare = Mask::empty(picture.width, picture.height);
    let around = Surroundings {
        size: [photo.width, photo.height],
        picture: &picture,
        step: 1,
        bare: &bare,
    };
    light(photo, chart, corners, &around)
}

fn codes(found: &Found) -> Vec<&str> {
    found.cautions.iter().map(|c| c.code.as_str()).collect()
}

#[test]
fn a_chart_is_found_at_any_turn() {
    for turn in [0.0, 37.0, 45.0, 90.0, 133.0, 180.0, 270.0, 315.0] {
        let light = Scene {
            turn,
            ..Scene::plain()
        }
        .check(1.0);
        assert!(light.light.residual.unwrap() < 0.5 && codes(&light).is_empty());
    }
}

#[test]
fn gaps_and_frames_are_no_matter() {
    for (patch, ground) in [(1.0, 0.3), (0.9, 0.02), (0.7, 0.9), (0.8, 0.18)] {
        Scene {
            patch,
            ground,
            turn: 12.0,
            ..Scene::plain()
        }
        .check(1.2);
    }
}

#[test]
fn small_charts_and_slanted_ones_are_found() {
    Scene {
        pitch: 14.0,
        turn: 20.0,
        ..Scene::plain()
    }
    .check(1.5);
    Scene {
        slant: 0.0006,
        turn: 205.0,
        ..Scene::plain()
    }
    .check(1.2);
}

#[test]
fn coloured_light_curves_and_flare_are_undone() {
    let plain = Scene::plain();
    for scene in [
        Scene {
            balance: [1.5, 1.0, 0.5],
            exposure: 0.6,
            ..plain
        },
        Scene {
            balance: [0.6, 1.0, 1.4],
            exposure: 0.6,
            ..plain
        },
        Scene {
            strength: 0.8,
            ..plain
        },
        Scene {
            strength: 0.0,
            ..plain
        },
        Scene {
            shoulder: 0.8,
            strength: 0.2,
            exposure: 0.6,
            ..plain
        },
        Scene {
            flare: 0.01,
            ..plain
        },
        Scene {
            exposure: 0.25,
            ..plain
        },
    ] {
        scene.check(1.6);
    }
}

#[test]
fn light_that_falls_over_the_chart_is_followed() {
    let scene = Scene {
        fall: 0.3,
        ..Scene::plain()
    };
    let light = scene.check(1.6);
    let fall = light.light.correction.unwrap().fall;
    let told = fall.slope[0] * scene::SIZE[0] as f64;
    assert!(
        (told - 0.3).abs() < 0.06 && fall.slope[1].abs() < 1e-4,
        "{told} {fall:?}"
    );
}

#[test]
fn patches_out_of_place_are_named_and_left_out() {
    let light = Scene {
        spoiled: Some((1, 2)),
        ..Scene::plain()
    }
    .check(1.2);
    assert_eq!(codes(&light), ["chart-patches"]);
    assert!(
        light.cautions[0].text.contains("Patch B3 "),
        "{:?}",
        light.cautions
    );
    let left: Vec<&str> = light
        .light
        .patches
        .iter()
        .filter(|p| p.left_out)
        .map(|p| p.id.as_str())
        .collect();
    // C6 is more vivid than sRGB holds.
    assert_eq!(left, ["B3", "C6"]);
    let bright = Scene {
        exposure: 1.15,
        ..Scene::plain()
    }
    .check(1.6);
    assert_eq!(codes(&bright), ["chart-clipped"]);
}

#[test]
fn other_things_are_no_chart() {
    let chart = chart();
    let other = Scene {
        shuffled: true,
        ..Scene::plain()
    };
    let mirrored = Scene {
        mirrored: true,
        ..Scene::plain()
    };
    let grey = Scene {
        bleached: true,
        ..Scene::plain()
    };
    for scene in [other, mirrored, grey] {
        let (photo, _) = scene.photo(&chart);
        assert_eq!(find(&photo, &photo.reduced(1), &chart), None, "{scene:?}");
    }
    let (photo, _) = Scene::plain().photo(&chart);
    for (width, height) in [(0, 0), (1, 1), (16, 16), (300, 1)] {
        let pixels = vec![CameraRgb::default(); width * height];
        assert_eq!(
            find(
                &photo,
                &Picture {
                    width,
                    height,
                    pixels
                },
                &chart
            ),
            None
        );
    }
}

#[test]
fn corners_are_taken_from_any_beginning() {
    let chart = chart();
    let (photo, corners) = Scene {
        turn: 25.0,
        ..Scene::plain()
    }
    .photo(&chart);
    let right = seated(&photo, &chart, corners);
    assert_eq!(
        right,
        Seated {
            corners: Some(corners),
            caution: None
        }
    );
    let [a, b, c, d] = corners;
    for given in [[b, c, d, a], [c, d, a, b], [a, d, c, b], [d, c, b, a]] {
        let put_right = seated(&photo, &chart, given);
        assert_eq!(put_right.corners, Some(corners));
        assert_eq!(put_right.caution.unwrap().code, "chart-corners");
    }
    let elsewhere = [[2.0, 2.0], [9.0, 2.0], [9.0, 9.0], [2.0, 9.0]];
    let found = seated(&photo, &chart, elsewhere);
    assert!(found.caution.unwrap().text.contains("other colours"));
    for nothing in [
        [[5.0, 5.0]; 4],
        [[f64::NAN; 2]; 4],
        [[-9e9, 0.0], [9e9, 0.0], [0.0, 9e9], [1.0, 1.0]],
    ] {
        let seat = seated(&photo, &chart, nothing);
        assert!(seat.caution.is_some());
        if let Some(found) = told(&photo, &chart, nothing) {
            assert!(found.doubt.common.is_finite());
        }
    }
}

#[test]
fn a_chart_covers_its_frame() {
    let area = area(
        &chart(),
        [
            [100.0, 100.0],
            [160.0, 100.0],
            [160.0, 140.0],
            [100.0, 140.0],
        ],
    );
    assert!(
        (area[0][0] - 95.0).abs() < 1e-6 && (area[2][1] - 145.0).abs() < 1e-6,
        "{area:?}"
    );
}
