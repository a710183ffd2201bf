//! Palettes that were wetted in several ways, foreseen dry: whether the estimate adapts to a wetting that is not the one it starts
//! from. The palettes and wettings are invented; the film of water is checked against published figures in `water`.

use super::*;
use crate::change::shown::{Colour, Settings, Shown};
use crate::colour::{Lab, apply, de00, inverse, lab_to_xyz, srgb_to_xyz, xyz_to_lab};
use crate::reading::{Basis, State};
use crate::stats::Normals;

/// A photo of these colours, of equal shares, as one tag lets them be measured.
fn photo(state: State, colours: impl IntoIterator<Item = Lab>) -> Shown {
    let colours: Vec<Lab> = colours.into_iter().collect();
    let share = 1.0 / colours.len() as f64;
    let colour = |&lab: &Lab| Colour {
        lab,
        share,
        doubt: Some(1.0),
    };
    Shown {
        piece: "P".to_owned(),
        file: None,
        state,
        washes: None,
        taken: None,
        round: 1,
        made: None,
        settings: Settings::default(),
        basis: Some(Basis::Tag),
        cautions: Vec::new(),
        colours: colours.iter().map(colour).collect(),
    }
}

/// A ground and three prints, dry.
fn dry_piece(normals: &mut Normals) -> Vec<Lab> {
    let pool = [
        (76.0, 3.0, 18.0),
        (52.0, 20.0, 34.0),
        (40.0, 4.0, 10.0),
        (60.0, -8.0, 30.0),
    ];
    pool.map(|(l, a, b)| {
        let mut near = |middle: f64, far: f64| middle + far * normals.draw();
        Lab::new(near(l, 5.0), near(a, 3.0), near(b, 4.0))
    })
    .to_vec()
}

/// How cloth gets wet.
type Wetting = fn(Lab, f64) -> Lab;

/// Ångström's film alone, more or less of it: `much` is 0 on the mean and strays by 1.
fn film(dry: Lab, much: f64) -> Lab {
    // 1/1.33² of the light comes out through the surface.
    let passed = (1.0f64 / 1.33).powf(2.0 * (1.0 + 0.15 * much));
    in_light(dry, |r| passed * r / (1.0 - (1.0 - passed) * r))
}

/// The same number of L\* darker whatever the colour.
fn shifted(dry: Lab, much: f64) -> Lab {
    Lab::new(dry.l - 16.0 + 1.2 * much, 1.1 * dry.a, 1.1 * dry.b)
}

/// A film, and a part of the light goes through the cloth and is lost.
fn translucent(dry: Lab, much: f64) -> Lab {
    in_light(film(dry, 0.0), |r| (0.78 + 0.03 * much) * r)
}

fn in_light(lab: Lab, change: impl Fn(f64) -> f64) -> Lab {
    let to = srgb_to_xyz();
    let light = apply(inverse(to), lab_to_xyz(lab)).map(|r| change(r.clamp(0.0, 1.0)));
    xyz_to_lab(apply(to, light))
}

/// Wet and dry photos of pieces that got wet so; every measured number strays by 0.5.
fn season(wetting: Wetting, pieces: usize, seed: u64) -> Vec<[Shown; 2]> {
    let mut normals = Normals::new(seed);
    let one = |n: usize| {
        let dry = dry_piece(&mut normals);
        let much = normals.draw();
        let wet = dry.iter().map(|lab| wetting(*lab, much));
        let mut strayed = |lab: Lab| {
            let [l, a, b] = [lab.l, lab.a, lab.b].map(|v| v + 0.5 * normals.draw());
            Lab::new(l, a, b)
        };
        let wet = photo(State::Wet, wet.map(&mut strayed).collect::<Vec<_>>());
        let dry = photo(State::Dry, dry.into_iter().map(strayed));
        [wet, dry].map(|photo| Shown {
            piece: format!("P{seed}-{n}"),
            ..photo
        })
    };
    (0..pieces).map(one).collect()
}

/// Mean CIEDE2000 from the foreseen colour to the one it became, and the share of numbers within their bands.
fn judged(experience: &Experience, season: &[[Shown; 2]]) -> (f64, f64) {
    let (mut far, mut held, mut count) = (0.0, 0, 0);
    for [wet, dry] in season {
        let ahead = experience.ahead(wet).unwrap();
        for colour in ahead.colours() {
            let place = wet
                .colours
                .iter()
                .position(|s| s.lab == colour.wet)
                .unwrap();
            let dry = dry.colours[place].lab;
            far += de00(colour.dry, dry);
            let ranges = [
                (colour.low.l, dry.l, colour.high.l),
                (colour.low.a, dry.a, colour.high.a),
                (colour.low.b, dry.b, colour.high.b),
            ];
            held += ranges
                .iter()
                .filter(|(low, v, high)| low <= v && v <= high)
                .count();
            count += 1;
        }
    }
    (far / f64::from(count), held as f64 / f64::from(3 * count))
}

/// What water alone foresees, about as far off as told, then what eight pairs teach: no further off than told, and bands hold.
#[track_caller]
fn check(wetting: Wetting, alone: f64, taught: f64) {
    let all = season(wetting, 48, 3);
    let (seen, new) = all.split_at(8);
    let (physics, _) = judged(&Experience::of(&[]), new);
    assert!((physics - alone).abs() < 0.5, "alone {physics}");
    let experience = Experience::of(seen.as_flattened());
    let (learnt, held) = judged(&experience, new);
    assert!(learnt <= taught && held >= 0.9, "taught {learnt} {held}");
    let off = experience.off().unwrap();
    assert!((off - learnt).abs() < 1.0, "said {off}, was {learnt}");
    assert_eq!(experience.pairs(), 8);
}

#[test]
fn a_film_of_water_is_foreseen_and_not_unlearnt() {
    check(film, 1.4, 1.6);
}

#[test]
fn a_shift_is_learnt() {
    check(shifted, 5.3, 2.2);
}

#[test]
fn translucent_cloth_is_learnt() {
    check(translucent, 3.5, 1.8);
}

#[test]
fn the_chance_of_what_is_expected_is_high_and_of_another_colour_none() {
    let all = season(film, 12, 9);
    let experience = Experience::of(all.as_flattened());
    let ahead = experience.ahead(&all[0][0]).unwrap();
    let colours = ahead.colours();
    let palette = colours.iter().map(|c| (c.dry, c.share)).collect();
    let likely = ahead.chance(&Wish::Palette(palette), 8.0);
    assert!(likely > 0.9, "{likely}");
    let first = Wish::Colour(colours[0].dry);
    assert!(ahead.chance(&first, 8.0) > 0.9);
    assert!(ahead.chance(&first, 8.0) >= ahead.chance(&first, 2.0));
    assert_eq!(
        ahead.chance(&Wish::Colour(Lab::new(40.0, -4.0, -60.0)), 5.0),
        0.0
    );
}

/// A light that was only assumed errs by 7, and the bands say so.
#[test]
fn doubtful_light_makes_wide_bands() {
    let [sure, unsure] = [1.0, 7.0].map(|doubt| {
        let mut wet = photo(State::Wet, [Lab::new(50.0, 10.0, 20.0)]);
        wet.colours[0].doubt = Some(doubt);
        let ahead = Experience::of(&[]).ahead(&wet);
        let colour = ahead.unwrap().colours()[0];
        colour.high.l - colour.low.l
    });
    assert!(unsure > 1.25 * sure, "{sure} {unsure}");
    assert!(Experience::of(&[]).ahead(&photo(State::Wet, [])).is_none());
    assert_eq!(Experience::of(&[]).off(), None);
}

/// Two cloths that dry differently are told apart, and a new piece is foreseen by its own.
#[test]
fn a_cloth_is_foreseen_by_its_own_kind() {
    let both = [season(film, 10, 4), season(shifted, 10, 5)];
    let named = |n: usize| Settings {
        cloth: Some(["silk twill", "wool gauze"][n].to_owned()),
        ..Settings::default()
    };
    let made = |n: usize, photo: &Shown| Shown {
        settings: named(n),
        ..photo.clone()
    };
    let all: Vec<Shown> = (both.iter().enumerate())
        .flat_map(|(n, season)| {
            season
                .as_flattened()
                .iter()
                .map(move |photo| made(n, photo))
        })
        .collect();
    let experience = Experience::of(&all);
    let wet = photo(
        State::Wet,
        [Lab::new(48.0, 8.0, 20.0), Lab::new(36.0, 6.0, 10.0)],
    );
    let [silk, wool] = [0, 1].map(|n| {
        let ahead = experience.ahead(&made(n, &wet));
        ahead.unwrap().colours()[0].dry.l
    });
    assert!(wool > silk + 2.5, "{silk} {wool}");
}

/// Neither physics nor what is held likely beforehand, nor pieces that dried less light than water alone would have it, make a
/// near-white cloth darker in drying; a journal whose pieces did dry darker may.
#[test]
fn white_cloth_does_not_dry_darker() {
    let pair = |n: usize, wet: f64, dry: f64| {
        [(State::Wet, wet), (State::Dry, dry)].map(|(state, l)| Shown {
            piece: format!("P{n}"),
            ..photo(state, [Lab::new(l, 1.0, 6.0)])
        })
    };
    let foreseen = |pairs: &[[Shown; 2]], wet: f64| {
        let wet = photo(State::Wet, [Lab::new(wet, 1.0, 6.0)]);
        let ahead = Experience::of(pairs.as_flattened()).ahead(&wet);
        ahead.unwrap().colours()[0].dry.l
    };
    let little: Vec<_> = (0..8)
        .map(|n| pair(n, 40.0 + n as f64, 41.0 + n as f64))
        .collect();
    let darker: Vec<_> = (0..8)
        .map(|n| pair(n, 92.0 + 0.5 * n as f64, 90.0 + 0.5 * n as f64))
        .collect();
    for wet in [55.0, 80.0, 90.0, 95.0, 99.0, 100.0] {
        assert!(foreseen(&[], wet) >= wet, "{wet}: {}", foreseen(&[], wet));
        assert!(
            foreseen(&little, wet) >= wet,
            "{wet}: {}",
            foreseen(&little, wet)
        );
    }
    let found = foreseen(&darker, 94.0);
    assert!((91.5..93.5).contains(&found), "{found}");
}

/// A dry photo that is older than the wet one teaches nothing, and its piece is named.
#[test]
fn a_dry_photo_before_the_wet_one_teaches_nothing() {
    let of = |wet: &str, dry: &str| {
        let mut pair = season(film, 1, 2).remove(0);
        pair[0].taken = Some(wet.to_owned());
        pair[1].taken = Some(dry.to_owned());
        Experience::of(&pair)
    };
    assert_eq!(of("2026-05-01", "2026-05-02").pairs(), 1);
    let mixed_up = of("2026-05-02", "2026-05-01");
    assert_eq!(
        (mixed_up.pairs(), mixed_up.odd()),
        (0, &["P2-0".to_owned()][..])
    );
}
