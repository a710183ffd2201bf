//! Which colours a note tells, and how it says them.

use super::*;

/// A note of these colours: CIELAB, share, and the studio's word where it has one.
fn of_colours(colours: &[([f64; 3], f64, Option<&str>)], options: Options) -> Note {
    let mut photo = photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag);
    let swatches = colours
        .iter()
        .map(|&(lab, share, word)| swatch(lab, share, word));
    photo.reading.swatches = swatches.collect();
    composed(&piece(), &[photo], &options).unwrap()
}

fn words(note: &Note) -> Vec<&str> {
    note.colours.iter().map(|c| c.word.as_str()).collect()
}

/// Colours of these shares, far enough apart to look like others.
fn of_shares(shares: &[f64], options: Options) -> Note {
    let colour = |(n, &share): (usize, &f64)| (lab(n), share, None);
    let colours: Vec<_> = shares.iter().enumerate().map(colour).collect();
    of_colours(&colours, options)
}

#[test]
fn colours_of_one_name_become_one_and_traces_are_gathered() {
    let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
    let note = composed(&piece(), &photos, &Options::default()).unwrap();
    assert_eq!(
        words(&note),
        ["moderate yellow", "moderate yellowish brown", "bark"]
    );
    assert!((note.colours[0].lab.l - (71.0 * 0.48 + 70.0 * 0.14) / 0.62).abs() < 1e-9);
    let all: f64 = note.colours.iter().map(|c| c.share).sum();
    assert!((all + note.rest - 1.0).abs() < 1e-9 && note.rest > 0.0);
    check(&note, &["1 %", "traces of other colours"], &[]);
}

#[test]
fn a_note_tells_three_to_six_colours_where_there_are() {
    let told = |shares: &[f64]| of_shares(shares, Options::default()).colours.len();
    assert_eq!(told(&[1.0]), 1);
    assert_eq!(told(&[0.98, 0.01, 0.007, 0.003]), 3);
    assert_eq!(told(&[0.4, 0.3, 0.2, 0.06, 0.03, 0.01]), 5);
    assert_eq!(told(&[0.25, 0.2, 0.2, 0.15, 0.1, 0.05, 0.05]), 6);
}

/// CIEDE2000 by colour-science 0.4 (Python package index): from the mean of the first and third, L* 30.25, they lie 0.194 and 0.584
/// off, a root mean square by area of 0.337, which with their doubt of 2 makes 2.03; the second lies 15.6 off.
#[test]
fn colours_of_one_name_that_look_apart_stay_apart() {
    let colours = [
        ([30.0, 3.0, 6.0], 0.3, Some("bark")),
        ([48.0, 3.0, 6.0], 0.25, Some("bark")),
        ([31.0, 3.0, 6.0], 0.1, Some("bark")),
        ([71.0, 6.0, 46.0], 0.35, None),
    ];
    let note = of_colours(&colours, Options::default());
    let told: Vec<(&str, f64, f64)> = (note.colours.iter())
        .map(|c| (c.word.as_str(), c.share, c.lab.l))
        .collect();
    let wanted = [
        ("bark", 0.4, 30.25),
        ("moderate yellow", 0.35, 71.0),
        ("bark", 0.25, 48.0),
    ];
    assert_eq!(told.len(), wanted.len());
    for (told, wanted) in told.iter().zip(wanted) {
        assert_eq!(told.0, wanted.0);
        assert!((told.1 - wanted.1).abs() < 1e-9 && (told.2 - wanted.2).abs() < 1e-9);
    }
    assert!((note.colours[0].doubt.unwrap() - 2.028_186).abs() < 1e-5);
    assert_eq!(note.colours[2].doubt, Some(2.0));
    let says = "It came out mostly bark in two shades, with moderate yellow.";
    check(&note, &[says, "± 2.0"], &["bark, bark", "bark and bark"]);
    let says = "Es wurde überwiegend bark in zwei Tönen, dazu mittleres Gelb.";
    check(&of_colours(&colours, in_german()), &[says], &[]);
}

/// What is not told is called traces only where there is little of it, and what is told leads only where it holds half the cloth.
#[test]
fn many_colours_are_said_to_be_many() {
    let twelve = [1.0 / 12.0; 12];
    let note = of_shares(&twelve, Options::default());
    let says = [
        "50 % other colours",
        "It came out in many colours, among them",
    ];
    check(&note, &says, &["traces", "mainly", "mostly", "touch"]);
    let says = ["50 % andere Farben", "Es wurde vielfarbig, darunter"];
    check(
        &of_shares(&twelve, in_german()),
        &says,
        &["Spuren", "vor allem"],
    );

    let leads = |shares: &[f64], says: &[&str]| {
        check(&of_shares(shares, Options::default()), says, &[]);
    };
    leads(&[0.3, 0.25, 0.2, 0.15, 0.1], &["It came out mainly "]);
    leads(&[0.3, 0.18, 0.18, 0.17, 0.17], &["in many colours, among"]);
    leads(&[0.53, 0.28, 0.17, 0.012, 0.008], &["2 % traces of other"]);
    leads(
        &[0.5, 0.25, 0.15, 0.06, 0.014, 0.013, 0.013],
        &["4 % other colours"],
    );
    leads(
        &[0.4],
        &["in many colours, among them", "60 % other colours"],
    );
}
