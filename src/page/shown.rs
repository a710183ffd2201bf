//! How colours and photos are put into words and shapes on a page.

use crate::change::{Drying, Washing};
use crate::colour::{Lab, lab_to_hex};
use crate::error::capital;
use crate::journal::record::{Photo, Piece};
use crate::reading::{Basis, LIGHT_BORROWED, Part, SET_ASIDE, State, Swatch};
use crate::words::{self, Own};

/// A colour's place on a strip, in hundredths of its length.
pub(super) struct Band {
    /// Where it begins.
    pub from: f64,
    /// How long it is.
    pub wide: f64,
    /// `#rrggbb`.
    pub srgb: String,
}

/// The colours of a reading side by side, each as long as its share of the cloth.
pub(super) fn strip(swatches: &[Swatch]) -> Vec<Band> {
    bands(swatches.iter().map(|swatch| (swatch.lab, swatch.share)))
}

/// Colours side by side, each as long as its share.
pub(super) fn bands(colours: impl Iterator<Item = (Lab, f64)> + Clone) -> Vec<Band> {
    let whole: f64 = colours.clone().map(|(_, share)| share).sum();
    let mut from = 0.0;
    let band = |(lab, share): (Lab, f64)| {
        let wide = 100.0 * share / whole;
        let begin = from;
        from += wide;
        Band {
            from: begin,
            // A little over the next, so that no seam shows where they touch.
            wide: wide + 0.3,
            srgb: lab_to_hex(lab),
        }
    };
    colours.map(band).collect()
}

/// A colour of a reading under its name.
pub(super) struct Named<'a> {
    /// The studio's own word, else the standard's.
    pub word: &'a str,
    /// The standard's word, where the studio has one of its own.
    pub beneath: Option<&'a str>,
    /// Its share of the cloth, 0 to 1.
    pub share: f64,
    /// What the studio said it is: `ground`, `print of walnut`; empty where nothing was said.
    pub is: String,
}

/// What a colour is called: the studio's own word and the standard's beneath, else the standard's alone. A word without a level is
/// one that a studio gave this very colour.
pub(super) fn name<'a>(swatch: &'a Swatch, own: &'a [Own]) -> (&'a str, Option<&'a str>) {
    let standard = swatch.word.as_deref();
    let ours = match standard.is_some() && swatch.word_level.is_none() {
        true => None,
        false => own_word(own, swatch.lab, swatch.doubt),
    };
    match ours {
        Some(ours) => (&ours.name, standard),
        None => (standard.unwrap_or("no word"), None),
    }
}

/// The studio's own word for a colour that is known to `doubt`, as its notes have it.
pub(super) fn own_word(own: &[Own], lab: Lab, doubt: Option<f64>) -> Option<&Own> {
    words::own(own, lab).filter(|word| word.is_likely(lab, doubt))
}

/// What the studio said of a colour; empty where it said nothing.
pub(super) fn part(swatch: &Swatch) -> String {
    match (swatch.part, &swatch.plant) {
        (Some(Part::Ground), _) => "ground".to_owned(),
        (Some(Part::Print), Some(plant)) => format!("print of {plant}"),
        (Some(Part::Print), None) => "print".to_owned(),
        (None, _) => String::new(),
    }
}

/// The colours of a reading under their names, largest first: what has one name and was said to be the same is one.
pub(super) fn named<'a>(swatches: &'a [Swatch], own: &'a [Own]) -> Vec<Named<'a>> {
    let mut all: Vec<Named> = Vec::new();
    for swatch in swatches {
        let ((word, beneath), is) = (name(swatch, own), part(swatch));
        match all
            .iter_mut()
            .find(|known| known.word == word && known.is == is)
        {
            Some(known) => known.share += swatch.share,
            None => all.push(Named {
                word,
                beneath,
                share: swatch.share,
                is,
            }),
        }
    }
    all.sort_by(|one, other| other.share.total_cmp(&one.share));
    all
}

/// Words with the share of the cloth each covers, largest first: `62 % moderate yellow`.
pub(super) fn in_words(swatches: &[Swatch], own: &[Own]) -> Vec<String> {
    let mut words: Vec<(&str, f64)> = Vec::new();
    for swatch in swatches {
        let (word, _) = name(swatch, own);
        match words.iter_mut().find(|(known, _)| *known == word) {
            Some((_, share)) => *share += swatch.share,
            None => words.push((word, swatch.share)),
        }
    }
    words.sort_by(|one, other| other.1.total_cmp(&one.1));
    let told = |(word, share): &(&str, f64)| format!("{} {word}", percent(*share));
    words.iter().map(told).collect()
}

/// A share as people read it: `62 %`, and what is less than one as `under 1 %`.
pub(super) fn percent(share: f64) -> String {
    match 100.0 * share {
        little if little < 0.5 => "under 1 %".to_owned(),
        much => format!("{much:.0} %"),
    }
}

/// What a photo shows its piece as: `dry`, `washed 5 times`.
pub(super) fn state(photo: &Photo) -> String {
    let word = photo.state.map_or("state unknown", |state| state.word());
    match photo.washes {
        Some(1) => format!("{word} once"),
        Some(times) => format!("{word} {times} times"),
        None => word.to_owned(),
    }
}

/// What a photo shows, in a sentence.
pub(super) fn says(photo: &Photo) -> String {
    let name = photo.file.as_deref().unwrap_or("The photo");
    match &photo.piece {
        Some(piece) => {
            let outline = match photo.told.outline {
                Some(_) => ", with the outline that you gave",
                None => "",
            };
            format!("{name} shows {piece}, {}{outline}.", state(photo))
        }
        None if photo.reading.has_caution(SET_ASIDE) => {
            format!("{name} is set aside and waits for no piece.")
        }
        None => format!("{name} waits for its piece."),
    }
}

/// A photo's outline as a hand may give it: what was found can lie a little beyond the photo's edge.
pub(super) fn outline(photo: &Photo) -> Vec<[f64; 2]> {
    let side = |side: Option<u32>| side.map_or(f64::INFINITY, f64::from);
    let (width, height) = (side(photo.width), side(photo.height));
    let found = photo.reading.outline.as_deref().unwrap_or_default();
    let within = |[x, y]: &[f64; 2]| [x.clamp(0.0, width), y.clamp(0.0, height)];
    found.iter().map(within).collect()
}

/// When a photo was taken: `2026-05-12, 17:20`; empty where that is not known.
pub(super) fn taken(photo: &Photo) -> String {
    let taken = photo.taken.as_deref().unwrap_or_default();
    match (taken.get(..10), taken.get(11..16)) {
        (Some(day), Some(time)) => format!("{day}, {time}"),
        _ => taken.to_owned(),
    }
}

/// What the light was known from, and how far it can be trusted.
pub(super) fn light(photo: &Photo) -> &'static str {
    let borrowed = photo.reading.has_caution(LIGHT_BORROWED);
    match (photo.reading.basis(), borrowed) {
        (Some(Basis::Chart), false) => "light known from a chart",
        (Some(Basis::Tag), false) => "light known from the tag",
        (Some(Basis::Chart), true) => {
            "light borrowed from a photo of the same minutes with a chart"
        }
        (Some(Basis::Tag), true) => "light borrowed from a photo of the same minutes with the tag",
        (Some(Basis::Assumed), _) => "light guessed: no tag or chart was readable",
        (None, _) => "light not known",
    }
}

/// The cloth in one line; empty where nothing is known.
pub(super) fn cloth(piece: &Piece) -> String {
    let size = piece.width_cm.zip(piece.length_cm);
    let parts = [
        piece.fibre.clone(),
        piece.weave.clone(),
        size.map(|(width, length)| format!("{} × {} cm", number(width), number(length))),
        piece.gsm.map(|gsm| format!("{gsm:.0} g/m²")),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// A number without needless noughts.
pub(super) fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// `1 photo`, `3 photos`.
pub(super) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// How much lighter a piece dried, in a sentence; `None` where that was not measured.
pub(super) fn dried(found: &Drying) -> Option<String> {
    let lighter = found.lightening?;
    let (way, sure) = match found.low.zip(found.high) {
        sure if lighter >= 0.0 => ("lighter", sure),
        sure => ("darker", sure.map(|(low, high)| (-high, -low))),
    };
    let sure = sure.map(|(low, high)| format!(" (between {low:.1} and {high:.1})"));
    Some(format!(
        "It dried {:.1} steps of lightness {way}{}.",
        lighter.abs(),
        sure.unwrap_or_default()
    ))
}

/// How far a piece changed in washing, in a sentence; `None` where that was not measured.
pub(super) fn washed(found: &Washing) -> Option<String> {
    let graded = graded(found)?;
    Some(format!("{graded}, on the grey scale of ISO 105-A05."))
}

/// Its grade with its range, where nothing else need be said: `After 3 washes: grade 3-4 of 5 (from 2 to 5)`.
pub(super) fn graded(found: &Washing) -> Option<String> {
    let grade = found.grade?;
    let washes = |number: u32| format!("after {}", count(number as usize, "wash", "washes"));
    let what = match (found.state, found.washes.map(washes)) {
        (State::Washed, Some(washes)) => washes,
        (state, Some(washes)) => format!("{}, {washes}", state.word()),
        (state, None) => state.word().to_owned(),
    };
    let range = match found.grade_low.zip(found.grade_high) {
        Some((low, high)) if low != high => format!(" (from {low} to {high})"),
        _ => String::new(),
    };
    Some(capital(&format!("{what}: grade {grade} of 5{range}")))
}

/// Where on the page that is done which a command is advised for.
const INSTEAD: [(&str, &str); 12] = [
    ("page", "this page"),
    ("drying", "“How much lighter pieces dried” at the Desk"),
    ("washing", "“How they stood washing” at the Desk"),
    ("claim", "“What it shows” on the photo's page"),
    ("enter", "“A bundle” at Pot"),
    ("ingest", "“Take them in” at Line"),
    ("set", "“Paper and ink” in Studio"),
    ("remeasure", "“Measure again” in Studio"),
    ("show", "the photo's page"),
    ("card", "“Charts and cards” in Studio"),
    ("check", "“Look the journal over” in Studio"),
    ("note", "“Take today’s words” beneath the note"),
];

/// A sentence with places of the page where it advises commands: `“filemot claim PHOTO PIECE”` becomes what does the same here.
pub(super) fn advice(text: &str) -> String {
    let mut parts = text.split("“filemot ");
    let mut told = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let instead = INSTEAD
            .iter()
            .find(|(command, _)| part.starts_with(command));
        match (instead, part.split_once('”')) {
            (Some((_, place)), Some((_, rest))) => told.extend([*place, rest]),
            _ => told.extend(["“filemot ", part]),
        }
    }
    // Two commands can be done at one place.
    for (_, place) in INSTEAD {
        told = told.replace(&format!("{place} and {place}"), place);
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn advice_names_places_of_the_page() {
        for (text, wanted) in [
            (
                "Say so with “filemot claim PHOTO PIECE --state wet”.",
                "Say so with “What it shows” on the photo's page.",
            ),
            (
                "Then run “filemot remeasure”, please.",
                "Then run “Measure again” in Studio, please.",
            ),
            (
                "Give them with “filemot set paper L,a,b” and “filemot set ink L,a,b”.",
                "Give them with “Paper and ink” in Studio.",
            ),
            (
                "Keep “this” and “filemot fly”.",
                "Keep “this” and “filemot fly”.",
            ),
            ("Nothing to do.", "Nothing to do."),
        ] {
            assert_eq!(advice(text), wanted);
        }
    }

    #[test]
    fn an_outline_to_mend_lies_within_its_photo() {
        let mut photo = Photo {
            width: Some(100),
            height: Some(50),
            ..Photo::default()
        };
        photo.reading.outline = Some(vec![[-2.5, 3.0], [40.0, 53.0], [101.0, 20.0]]);
        assert_eq!(outline(&photo), [[0.0, 3.0], [40.0, 50.0], [100.0, 20.0]]);
    }

    #[test]
    fn shares_read_well_and_sum_to_the_strip() {
        assert_eq!(
            [0.0, 0.004, 0.006, 0.62, 1.0].map(percent),
            ["under 1 %", "under 1 %", "1 %", "62 %", "100 %"]
        );
        let swatch = |share| Swatch {
            lab: Lab::new(50.0, 0.0, 0.0),
            share,
            doubt: None,
            word: None,
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        };
        let bands = strip(&[swatch(0.5), swatch(0.3), swatch(0.2)]);
        assert_eq!(
            bands
                .iter()
                .map(|band| band.from.round())
                .collect::<Vec<_>>(),
            [0.0, 50.0, 80.0]
        );
    }
}
