use super::super::fit::{Fitted, best, mean_of_kept, remaining};
use super::super::sample::Sample;
use crate::colour::{Lab, Xyz, apply, de00, srgb_to_xyz};
use crate::light::Surroundings;
use crate::picture::{Mask, Picture};
use crate::reading::root_terms;
use palette::IntoColor;

/// 24 patches as a camera shows them, and as they should be, both linear sRGB: the arrays MATRIX_TEST and MATRIX_REFERENCE of
/// colour-science 0.4.7's own tests.
fn published() -> Vec<[f64; 6]> {
    let table = include_str!("../../../../testdata/published/chart-fit.csv");
    let row = |line: &str| {
        let cells: Vec<f64> = line.split(',').map(|c| c.parse().unwrap()).collect();
        <[f64; 6]>::try_from(cells).unwrap()
    };
    table.lines().skip(1).map(row).collect()
}

fn xyz(rgb: [f64; 3]) -> Xyz {
    let [x, y, z] = apply(srgb_to_xyz(), rgb);
    Xyz::new(x, y, z)
}

fn samples(pairs: &[([f64; 3], [f64; 3])]) -> Vec<Sample> {
    let sample = |(n, (seen, wanted)): (usize, &([f64; 3], [f64; 3]))| Sample {
        id: n.to_string(),
        xyz: xyz(*wanted),
        place: [(n % 6) as f64 * 10.0, (n / 6) as f64 * 10.0],
        seen: *seen,
        slope: [0.0; 2],
        spread: 0.0,
        clipped: false,
        beyond: false,
    };
    pairs.iter().enumerate().map(sample).collect()
}

/// A fit in a photo of which nothing but the patches is known.
fn fit(samples: &[Sample]) -> Option<Fitted> {
    let picture = Picture {
        width: 0,
        height: 0,
        pixels: Vec::new(),
    };
    let around = Surroundings {
        size: [100, 80],
        picture: &picture,
        step: 1,
        bare: &Mask::empty(0, 0),
    };
    best(samples, srgb_to_xyz(), &around)
}

fn lab(rgb: [f64; 3]) -> Lab {
    xyz(rgb).into_color()
}

/// `matrix_colour_correction_Finlayson2015` of colour-science 0.4.7 for those arrays: degree 1, and degree 2 with root terms.
const LINEAR: [[f64; 3]; 3] = [
    [0.69822661, 0.03071629, 0.16210422],
    [0.06893498, 0.67579611, 0.16430385],
    [-0.06314956, 0.09212471, 0.97134152],
];
const ROOTS: [[f64; 6]; 3] = [
    [
        0.86386468,
        -0.00303543,
        -0.10727864,
        -0.28270098,
        0.48866439,
        -0.06427476,
    ],
    [
        0.13568593,
        0.95373531,
        0.32971732,
        -0.24020661,
        -0.35115143,
        0.05441566,
    ],
    [
        0.20883013,
        0.45156654,
        1.52077770,
        -0.34906295,
        -0.50363475,
        -0.42951498,
    ],
];

fn by_roots(seen: [f64; 3]) -> [f64; 3] {
    let more = root_terms(seen);
    ROOTS.map(|row| {
        let terms = seen.iter().chain(&more);
        row.iter().zip(terms).map(|(w, t)| w * t).sum::<f64>()
    })
}

/// Mean CIEDE2000 over the patches.
fn off(pairs: &[([f64; 3], [f64; 3])], corrected: impl Fn([f64; 3]) -> [f64; 3]) -> f64 {
    let all = pairs
        .iter()
        .map(|(seen, wanted)| de00(lab(corrected(*seen)), lab(*wanted)));
    all.sum::<f64>() / pairs.len() as f64
}

fn pairs() -> Vec<([f64; 3], [f64; 3])> {
    let rows = published();
    assert_eq!(rows.len(), 24);
    rows.into_iter()
        .map(|[a, b, c, d, e, f]| ([a, b, c], [d, e, f]))
        .collect()
}

#[test]
fn the_fit_is_at_least_as_near_as_least_squares_of_another_library() {
    let pairs = pairs();
    let (linear, roots) = (
        off(&pairs, |seen| apply(LINEAR, seen)),
        off(&pairs, by_roots),
    );
    let samples = samples(&pairs);
    let fitted = fit(&samples).unwrap();
    assert!(fitted.outlying.is_empty());
    let ours = mean_of_kept(&remaining(&samples, &fitted));
    assert!(
        ours < linear && ours < 1.1 * roots,
        "{ours}, theirs {linear} and {roots}"
    );
}

#[test]
fn what_a_published_matrix_makes_is_found_again() {
    // Colours that the published matrices make of the camera's, without any rest: the fit must lead to them.
    for made in [
        |seen| apply(LINEAR, seen),
        by_roots as fn([f64; 3]) -> [f64; 3],
    ] {
        let pairs: Vec<_> = pairs()
            .into_iter()
            .map(|(seen, _)| (seen, made(seen)))
            .collect();
        let samples = samples(&pairs);
        let fitted = fit(&samples).unwrap();
        let rest = mean_of_kept(&remaining(&samples, &fitted));
        assert!(rest < 1.0 && fitted.outlying.is_empty(), "{rest}");
    }
}

#[test]
fn left_out_patches_are_foretold_as_they_are_when_left_out_in_truth() {
    let pairs = pairs();
    let all = samples(&pairs);
    let told = fit(&all).unwrap().left_out;
    let one = |n: usize| {
        let mut others = all.clone();
        let left = others.remove(n);
        let fitted = fit(&others).unwrap();
        remaining(&[left], &fitted)[0].de00
    };
    let truth = (0..all.len()).map(one).sum::<f64>() / all.len() as f64;
    assert!(
        (told / truth - 1.0).abs() < 0.25,
        "told {told}, in truth {truth}"
    );
}

#[test]
fn too_few_patches_tell_nothing() {
    let samples = samples(&pairs());
    assert!(fit(&samples[..5]).is_none());
    assert!(fit(&[]).is_none());
    let black: Vec<Sample> = samples
        .iter()
        .map(|s| Sample {
            seen: [0.0; 3],
            ..s.clone()
        })
        .collect();
    assert!(fit(&black).is_none());
}
