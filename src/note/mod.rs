//! What a customer gets: one piece in words and colours, as text and as one self-contained page.
//!
//! A note describes; it promises nothing that a photo cannot show (`care::must_not_say`), and says how far its colours can
//! be trusted.

mod colours;
mod html;
mod overlay;
mod picture;
mod seen;
mod sentences;
mod text;

pub use colours::Colour;
pub use overlay::{DOTS, overlay};
pub use seen::{photo_seen, piece_seen};

use crate::care::must_not_say;
use crate::error::{Caution, Error, Result};
use crate::journal::Journal;
use crate::journal::record::{Photo, Piece};
use crate::photo;
use crate::reading::{Basis, State};
use serde::Serialize;

/// One piece, as a customer reads about it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Note {
    /// The piece's code.
    pub code: String,
    /// Fibre, weave and size in one line; empty where nothing is known.
    pub cloth: String,
    /// How it was made, in whole sentences; empty where nothing is known.
    pub making: String,
    /// Its colours, largest share first; never empty.
    pub colours: Vec<Colour>,
    /// Share of the cloth, 0 to 1, that has none of these colours.
    pub rest: f64,
    /// What the photo showed the piece as.
    pub state: State,
    /// How far to trust the colours, one sentence.
    pub trust: String,
    /// What the customer must be told before the rest: a wet photo, a photo without reference.
    pub warnings: Vec<String>,
    /// What screens do to colours, one sentence.
    pub screens: String,
    /// How to look after it, whole sentences.
    pub care: String,
    /// For the studio, not printed: what was left out and why.
    pub cautions: Vec<Caution>,
    /// All measured colours for the ribbon, largest first.
    #[serde(skip)]
    ribbon: Vec<(String, f64)>,
    /// JPEG of the piece in true light.
    #[serde(skip)]
    picture: Option<Vec<u8>>,
}

/// The note of a piece as the journal knows it, with the piece's own picture where the journal still has the photo.
///
/// # Errors
/// Those of [`compose`]; a journal that cannot be read.
pub fn of_piece(journal: &Journal, piece: &Piece) -> Result<Note> {
    let photos = journal.photos_of(&piece.code)?;
    let picture = match telling(&photos) {
        Some(photo) => picture_of(journal, photo)?,
        None => None,
    };
    compose(piece, &photos, picture.as_deref())
}

/// A photo that has gone or can no longer be opened leaves the note without a picture; `check` tells of it.
fn picture_of(journal: &Journal, photo: &Photo) -> Result<Option<Vec<u8>>> {
    let name = photo.file.as_deref().unwrap_or_default();
    let bytes = journal
        .original(photo)?
        .and_then(|path| std::fs::read(path).ok());
    match bytes.and_then(|bytes| photo::decode(&bytes, name).ok()) {
        Some(opened) => picture::in_true_light(&opened.photograph, &photo.reading),
        None => Ok(None),
    }
}

/// Writes the note of a piece from its photos; `picture` is a JPEG of it in true light.
///
/// The newest photo of it dry or washed counts, else the newest worn, else the newest wet one, with a warning. Words of the
/// sheet that no note may say are left out, with a caution `not-in-note`.
///
/// # Errors
/// The caller's move where no photo of the piece has colours.
pub fn compose(piece: &Piece, photos: &[Photo], picture: Option<&[u8]>) -> Result<Note> {
    let code = &piece.code;
    let photo = telling(photos).ok_or_else(|| {
        Error::caller(format!(
            "There is no measured photo of {code} yet: ingest one, dry and with its tag in the picture, then ask for the note again."
        ))
    })?;
    let reading = &photo.reading;
    let state = photo.state.unwrap_or(State::Dry);
    let basis = reading.basis();
    let mut cautions = vec![];
    let mut allowed = |words: &str| match must_not_say(words) {
        None => true,
        Some(why) => {
            let text = format!("The note of {code} leaves out “{words}”: {why}.");
            let caution = Caution::new("not-in-note", text);
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
            false
        }
    };
    let cloth = sentences::cloth(piece, &mut allowed);
    let making = sentences::making(piece.rounds_shown(photo.taken.as_deref()), &mut allowed);
    let (colours, rest) = colours::named(&reading.swatches, &mut allowed);
    Ok(Note {
        code: code.clone(),
        cloth,
        making,
        colours,
        rest,
        state,
        trust: sentences::trust(
            basis,
            colours::doubt(&reading.swatches),
            photo.taken.as_deref(),
        ),
        warnings: sentences::warnings(state, basis),
        screens: sentences::SCREENS.to_owned(),
        care: sentences::CARE.to_owned(),
        cautions,
        ribbon: colours::ribbon(&reading.swatches),
        picture: picture.map(<[u8]>::to_vec),
    })
}

impl Note {
    /// A name for its file without an ending: letters, digits, hyphens and underscores of the code, then `-note`.
    pub fn file_stem(&self) -> String {
        let plain = |c: char| {
            if c.is_alphanumeric() || c == '_' {
                c
            } else {
                '-'
            }
        };
        let code: String = self.code.chars().map(plain).collect();
        format!("{code}-note")
    }
}

/// The photo that counts for a customer: the newest dry or washed one, else the newest worn, else the newest wet one; `None`
/// where none has colours.
pub fn telling(photos: &[Photo]) -> Option<&Photo> {
    let rank = |photo: &Photo| match photo.state {
        Some(State::Wet) => 0,
        Some(State::Worn) => 1,
        Some(State::Dry | State::Washed) | None => 2,
    };
    photos
        .iter()
        .filter(|photo| photo.reading.swatches.iter().any(|s| s.share > 0.0))
        .max_by_key(|photo| (rank(photo), &photo.taken, photo.washes, photo.id))
}

/// Whether the light was known from something in the picture.
fn referenced(basis: Option<Basis>) -> bool {
    matches!(basis, Some(Basis::Chart | Basis::Tag))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::Lab;
    use crate::journal::record::{PlantUse, Round, Soak};
    use crate::reading::{Light, Reading, Swatch};

    fn piece() -> Piece {
        let soak = |mordant: &str| Soak {
            mordant: mordant.to_owned(),
            ..Soak::default()
        };
        let plant = |name: &str| PlantUse {
            name: name.to_owned(),
            how: vec!["fresh".to_owned()],
        };
        Piece {
            code: "LB003".to_owned(),
            fibre: Some("silk".to_owned()),
            weave: Some("crepe de chine".to_owned()),
            width_cm: Some(35.0),
            length_cm: Some(160.0),
            remarks: Some("for the blue box".to_owned()),
            rounds: vec![Round {
                round: 1,
                made: Some("2026-05-03".to_owned()),
                soaks: vec![soak("tannin"), soak("ferrous sulfate")],
                plants: vec![plant("smokebush"), plant("walnut")],
                ..Round::default()
            }],
            ..Piece::default()
        }
    }

    fn photo(state: State, taken: &str, basis: Basis) -> Photo {
        let swatch = |lab: [f64; 3], share: f64, word: Option<&str>| Swatch {
            lab: Lab::new(lab[0], lab[1], lab[2]),
            share,
            doubt: Some(2.0),
            word: word.map(str::to_owned),
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        };
        Photo {
            taken: Some(taken.to_owned()),
            state: Some(state),
            reading: Reading {
                light: Some(Light {
                    basis,
                    residual: None,
                    patches: Vec::new(),
                    correction: None,
                    ..Light::default()
                }),
                swatches: vec![
                    swatch([71.0, 6.0, 46.0], 0.48, None),
                    swatch([48.0, 10.0, 26.0], 0.27, None),
                    swatch([70.0, 7.0, 44.0], 0.14, None),
                    swatch([30.0, 3.0, 6.0], 0.1, Some("bark")),
                    swatch([88.0, 0.0, 6.0], 0.01, None),
                ],
                ..Reading::default()
            },
            ..Photo::default()
        }
    }

    fn note() -> Note {
        let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
        compose(&piece(), &photos, None).unwrap()
    }

    /// Every piece of text a customer sees passes `care`, and both forms say it.
    fn check(note: &Note, says: &[&str], never: &[&str]) {
        let (text, html) = (note.text(), note.html());
        assert_eq!(must_not_say(&text), None, "{text}");
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in says {
            assert!(flat.contains(words), "no “{words}” in {text}");
            assert!(html.contains(words), "no “{words}” in {html}");
        }
        for words in never {
            let said = flat.contains(words) || html.contains(words);
            assert!(!said, "“{words}” in {text}");
        }
    }

    #[test]
    fn a_note_says_what_the_piece_is() {
        let says = [
            "LB003",
            "Silk crepe de chine, 35 × 160 cm (14 × 63 in)",
            "smokebush and walnut",
            "plant tannin, then in an iron salt",
            "Made in May 2026.",
            "62 %",
            "moderate yellow",
            "bark",
            "12 May 2026",
            "off by about 2.0 steps",
        ];
        check(&note(), &says, &["Please note", "blue box", "fresh"]);
    }

    #[test]
    fn colours_of_one_name_become_one_and_traces_are_gathered() {
        let note = note();
        let words: Vec<&str> = note.colours.iter().map(|c| c.word.as_str()).collect();
        assert_eq!(
            words,
            ["moderate yellow", "moderate yellowish brown", "bark"]
        );
        assert!((note.colours[0].lab.l - (71.0 * 0.48 + 70.0 * 0.14) / 0.62).abs() < 1e-9);
        let all: f64 = note.colours.iter().map(|c| c.share).sum();
        assert!((all + note.rest - 1.0).abs() < 1e-9 && note.rest > 0.0);
        check(&note, &["1 %", "traces of other colours"], &[]);
    }

    #[test]
    fn the_newest_photo_of_the_cloth_as_sold_counts() {
        let photos = [
            photo(State::Washed, "2026-05-20T10:00:00", Basis::Chart),
            photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag),
            photo(State::Wet, "2026-06-01T10:00:00", Basis::Tag),
        ];
        let note = compose(&piece(), &photos, None).unwrap();
        assert_eq!(note.state, State::Washed);
        check(&note, &["chart", "20 May 2026"], &["shows the cloth wet"]);
    }

    #[test]
    fn a_round_after_the_photo_is_not_told() {
        let mut piece = piece();
        let mut second = piece.rounds[0].clone();
        second.round = 2;
        second.made = Some("2026-07-01".to_owned());
        second.plants[0].name = "sumac".to_owned();
        piece.rounds.push(second);
        let before = [photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag)];
        let after = [photo(State::Dry, "2026-07-12T10:00:00", Basis::Tag)];
        let note = |photos: &[Photo]| compose(&piece, photos, None).unwrap();
        check(&note(&before), &["Made in May 2026"], &["sumac", "twice"]);
        check(&note(&after), &["Made in July 2026", "sumac", "twice"], &[]);
    }

    #[test]
    fn a_wet_photo_and_an_assumed_light_are_told() {
        let photos = [photo(State::Wet, "2026-05-12T10:00:00", Basis::Assumed)];
        let note = compose(&piece(), &photos, None).unwrap();
        check(
            &note,
            &["dries lighter", "an estimate", "nothing of known colour"],
            &["lay beside"],
        );
    }

    #[test]
    fn without_a_measured_photo_there_is_no_note() {
        let mut empty = photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag);
        empty.reading.swatches.clear();
        let error = compose(&piece(), &[empty], None).unwrap_err();
        assert!(error.to_string().contains("LB003"), "{error}");
    }

    #[test]
    fn what_the_sheet_must_not_promise_is_left_out_and_told() {
        let mut piece = piece();
        piece.fibre = Some("eco-friendly silk".to_owned());
        piece.rounds[0].plants[0].name = "healing sage".to_owned();
        let photos = [photo(State::Dry, "2026-05-12T10:00:00", Basis::Tag)];
        let mut photos = photos;
        photos[0].reading.swatches[3].word = Some("organic gray".to_owned());
        let note = compose(&piece, &photos, None).unwrap();
        let never = ["eco-", "healing", "organic"];
        check(
            &note,
            &["Crepe de chine", "walnut", "brownish gray"],
            &never,
        );
        let codes: Vec<&str> = note.cautions.iter().map(|c| c.code.as_str()).collect();
        assert_eq!(codes, ["not-in-note"; 3]);
    }

    #[test]
    fn markup_in_a_sheet_stays_text() {
        let mut piece = piece();
        piece.weave = Some("<script>alert(1)</script>".to_owned());
        piece.code = "A/B \"<1>\"".to_owned();
        let photos = [photo(State::Dry, "", Basis::Tag)];
        let note = compose(&piece, &photos, Some(b"jpeg")).unwrap();
        let html = note.html();
        assert!(!html.contains("<script") && !html.contains("<1>"), "{html}");
        assert_eq!(note.file_stem(), "A-B---1---note");
    }

    #[test]
    fn a_page_needs_nothing_from_elsewhere() {
        let photos = [photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)];
        let html = compose(&piece(), &photos, Some(b"jpeg")).unwrap().html();
        for outside in ["http", "url(", "<script", "<link", "@import"] {
            assert!(!html.contains(outside), "{outside}");
        }
        // RFC 4648: `jpeg` in base 64, worked by hand.
        assert!(html.contains("data:image/jpeg;base64,anBlZw=="));
    }

    #[test]
    fn lines_of_text_are_at_most_72_letters() {
        for line in note().text().lines() {
            assert!(line.chars().count() <= 72, "{line}");
        }
    }
}
