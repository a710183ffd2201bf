//! What is measured of each piece.

use super::*;

#[test]
fn lightening_compares_wet_with_dry() {
    let mut made = Made::default();
    for (code, pot, mordant, dry) in [
        ("A", "1", "alum", 62.0),
        ("B", "2", "alum", 64.0),
        ("C", "3", "iron", 55.0),
    ] {
        made.piece(code, pot, mordant, "")
            .photo(
                State::Wet,
                &[([50.0, 0.0, 0.0], 0.5), ([30.0, 10.0, 12.0], 0.5)],
            )
            .photo(
                State::Dry,
                &[([dry, 0.0, 0.0], 0.5), ([38.0, 10.0, 12.0], 0.5)],
            );
    }
    made.piece("D", "4", "iron", "")
        .photo(State::Dry, &[([50.0, 0.0, 0.0], 1.0)]);
    let all = made.ask("which mordant dried lightest");
    check(groups(&all)[0].mean, (10.0 + 11.0) / 2.0);
    check(groups(&all)[1].mean, 6.5);
    assert!(codes(&all).contains(&"no-photo-in-state"));
    let greys = made.ask("which mordant dried lightest in greys");
    check(groups(&greys)[0].mean, 13.0);
    assert_eq!(&*greys.evidence[0].piece, "B");
}

/// From 60 to 65 L* is 4.25 CIEDE2000 by the formula of ISO/CIE 11664-6 (colour-science 0.4.7 `delta_E_CIE2000`).
#[test]
fn fading_compares_dry_with_washed() {
    let mut made = Made::greys(&[("alum", "1", 60.0), ("iron", "2", 40.0)]);
    made.photo(State::Washed, &[([40.0, 0.0, 0.0], 1.0)]);
    made.photos[2].piece = Some("G0".to_owned());
    made.photos[2].reading.swatches[0].lab.l = 65.0;
    let found = made.ask("which mordant faded least");
    assert_eq!(groups(&found)[0].value, "alum");
    assert!(
        (groups(&found)[0].mean - 4.249743978906974).abs() < 1e-6,
        "{}",
        groups(&found)[0].mean
    );
    assert!(codes(&found).contains(&"no-photo-in-state"));
}

#[test]
fn share_counts_pieces_without_the_colour() {
    let found = yellows().ask("which mordant gave the most yellow");
    let alum = groups(&found).iter().find(|g| g.value == "alum").unwrap();
    assert_eq!((alum.pieces, alum.pots), (4, 3));
    // Pots 4 and 5: 0.5 and 0.7; pot 6: 0.2 and 0.
    assert!((0.35..0.44).contains(&alum.mean), "{}", alum.mean);
}

#[test]
fn evenness_number_and_hue() {
    let mut made = Made::default();
    made.piece("A", "1", "alum", "").photo(
        State::Dry,
        &[([50.0, 0.0, 0.0], 0.5), ([60.0, 0.0, 0.0], 0.5)],
    );
    made.piece("B", "2", "iron", "").photo(
        State::Dry,
        &[([50.0, 20.0, -0.4], 0.5), ([50.0, 20.0, 0.4], 0.5)],
    );
    let even = made.ask("which mordant is most even");
    assert_eq!(groups(&even)[0].value, "iron");
    // Each half lies as far from the middle, 55: CIEDE2000 4.9102 and 4.5594 (colour-science 0.4.7).
    assert!(
        (groups(&even)[1].mean - 4.73479655607).abs() < 1e-4,
        "{}",
        groups(&even)[1].mean
    );
    let many = made.ask("which mordant has the most colours");
    check(groups(&many)[0].mean, 2.0);
    // Hues of 358.9° and 1.1° lie around 0 and not around 180.
    let hue = made.ask("hue by mordant");
    let iron = groups(&hue).iter().find(|g| g.value == "iron").unwrap();
    assert!(
        super::value::turned(iron.mean).abs() < 1e-6,
        "{}",
        iron.mean
    );
}

#[test]
fn drying_compares_photos_of_one_round() {
    let mut made = Made::greys(&[("alum", "1", 50.0)]);
    made.photo(State::Wet, &[([42.0, 0.0, 0.0], 1.0)]);
    made.pieces[0].rounds[0].made = Some("2026-05-01".to_owned());
    let mut again = made.pieces[0].rounds[0].clone();
    (again.round, again.made) = (2, Some("2026-06-01".to_owned()));
    made.pieces[0].rounds.push(again);
    made.photo(State::Wet, &[([20.0, 0.0, 0.0], 1.0)]);
    for (photo, taken) in made
        .photos
        .iter_mut()
        .zip(["2026-05-03", "2026-05-01", "2026-06-01"])
    {
        photo.taken = Some(format!("{taken}T12:00:00"));
    }
    let report = made.journal(|journal| drying(journal, &[]).unwrap());
    check(report.pieces[0].lightening.unwrap(), 8.0);
    assert_eq!(report.pieces[0].trial.as_deref(), Some("1"));
    let none = made.journal(|journal| drying(journal, &["G9".to_owned()]).unwrap());
    assert!(none.pieces.is_empty());
}

/// The number of washes is the photo's own, else the sheet's; names, dates and cautions come with the photos.
#[test]
fn washing_reads_the_journal() {
    let mut made = Made::greys(&[("alum", "1", 50.0)]);
    made.photo(State::Washed, &[([52.0, 0.0, 0.0], 1.0)]);
    made.photo(State::Worn, &[([53.0, 0.0, 0.0], 1.0)]);
    let settings = &mut made.pieces[0].rounds[0].settings;
    settings.insert("washes".to_owned(), Setting::Number(3.0));
    made.photos[1].file = Some("after.jpg".to_owned());
    made.photos[1].taken = Some("2026-06-01T12:00:00".to_owned());
    made.photos[2].washes = Some(8);
    let all = made.journal(|journal| washing(journal, &[]).unwrap().pieces);
    let told: Vec<_> = all
        .iter()
        .map(|w| (w.washes, w.state, w.de_f.unwrap()))
        .collect();
    assert_eq!(
        told,
        [(Some(3), State::Washed, 2.0), (Some(8), State::Worn, 3.0)]
    );
    assert_eq!(all[0].after.as_deref(), Some("after.jpg"));
    assert_eq!(all[0].taken.as_deref(), Some("2026-06-01T12:00:00"));
    assert_eq!(all[0].before, None);
}

/// Hues on both sides of 0°: 356°, 2° and 4° are near one another, and 8° lies beyond them.
#[test]
fn hues_are_angles_between_pieces_too() {
    let mut made = Made::default();
    for (n, (mordant, hue)) in [
        ("alum", 356.0_f64),
        ("alum", 2.0),
        ("alum", 4.0),
        ("iron", 8.0),
        ("iron", 9.0),
        ("iron", 10.0),
    ]
    .into_iter()
    .enumerate()
    {
        let (sin, cos) = hue.to_radians().sin_cos();
        made.piece(&format!("H{n}"), &n.to_string(), mordant, "")
            .photo(State::Dry, &[([50.0, 30.0 * cos, 30.0 * sin], 1.0)]);
    }
    let found = made.ask("hue by mordant");
    let all = groups(&found);
    assert_eq!(all[0].value, "iron");
    assert!(
        (all[0].mean - 9.0).abs() < 1e-6 && (all[1].mean - 2.0 / 3.0).abs() < 1e-6,
        "{all:?}"
    );
}

/// Four pieces of two mordants, wet and dry on these days; iron's photos may be changed.
fn dried() -> Made {
    let mut made = Made::default();
    for (n, (code, mordant)) in [
        ("A1", "alum"),
        ("A2", "alum"),
        ("I1", "iron"),
        ("I2", "iron"),
    ]
    .into_iter()
    .enumerate()
    {
        made.piece(code, &n.to_string(), mordant, "")
            .photo(State::Wet, &[([40.0, 0.0, 0.0], 1.0)])
            .photo(State::Dry, &[([50.0, 0.0, 0.0], 1.0)]);
    }
    for photo in &mut made.photos {
        let wet = photo.state == Some(State::Wet);
        photo.taken = Some(if wet { "2026-05-01" } else { "2026-05-03" }.to_owned());
    }
    made
}

#[test]
fn what_was_mixed_up_is_left_out_and_named() {
    let mut made = dried();
    made.photos[5].taken = Some("2026-04-03".to_owned());
    made.photos[7].reading.swatches[0].lab.l = 30.0;
    let found = made.ask("which mordant dried lightest");
    assert_eq!(groups(&found).len(), 1);
    assert_eq!(groups(&found)[0].value, "alum");
    let said = found.cautions.iter().find(|c| c.code == "photos-mixed-up");
    assert!(said.unwrap().text.contains("I1 and I2"), "{said:?}");
    assert!(!codes(&found).contains(&"family-absent"));
}

#[test]
fn one_photo_under_two_names_is_no_lightening() {
    let mut made = dried();
    made.photos[1].reading.swatches[0].lab.l = 40.0;
    let found = made.ask("which mordant dried lightest");
    let alum = groups(&found).iter().find(|g| g.value == "alum").unwrap();
    assert_eq!((alum.pieces, alum.mean), (1, 10.0));
    assert!(codes(&found).contains(&"same-photo"));
}

/// Thirty pieces differ clearly, yet one mordant's were washed oftener.
#[test]
fn washed_unlike_often_nothing_holds() {
    let verdict_after = |of_iron: Option<u32>| {
        let mut made = Made::default();
        for n in 0..30 {
            let (mordant, change) = if n % 2 == 0 {
                ("alum", 1.0)
            } else {
                ("iron", 8.0)
            };
            made.piece(&format!("P{n}"), &n.to_string(), mordant, "")
                .photo(State::Dry, &[([50.0, 0.0, 0.0], 1.0)])
                .photo(
                    State::Washed,
                    &[([50.0 + change + 0.05 * f64::from(n), 0.0, 0.0], 1.0)],
                );
            if let Some(photo) = made.photos.last_mut() {
                photo.washes = if n % 2 == 0 { Some(2) } else { of_iron };
            }
        }
        let found = made.ask("which mordant faded least");
        (verdict(&found).holds, codes(&found).join(" "))
    };
    let (holds, said) = verdict_after(Some(2));
    assert!(holds && !said.contains("wash"), "{said}");
    let (holds, said) = verdict_after(Some(20));
    assert!(!holds && said.contains("washes-unlike"), "{said}");
    let (holds, said) = verdict_after(None);
    assert!(!holds && said.contains("washes-unknown"), "{said}");
}
