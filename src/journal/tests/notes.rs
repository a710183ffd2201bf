//! What notes told customers.

use super::exchanging::import;
use super::round_trip::{amount, date};
use super::*;
use crate::journal::record::{Issued, IssuedColour};
use crate::reading::{Basis, State};
use proptest::collection::vec;
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

fn colour() -> impl Strategy<Value = IssuedColour> {
    let lab = (0.0..=100.0, -120.0..=120.0, -120.0..=120.0);
    let word = "[A-Za-zé ]{0,9}[a-z]";
    (word, word, lab, 0.0..=1.0, of(amount())).prop_map(
        |(word, standard, (l, a, b), share, doubt)| IssuedColour {
            word,
            standard,
            lab: Lab::new(l, a, b),
            share,
            doubt,
        },
    )
}

/// Notes of two pieces, by piece; no two of them alike.
pub fn issued() -> impl Strategy<Value = Vec<Issued>> {
    let known = (
        of(any::<u8>()),
        of(date()),
        of(select(State::ALL.to_vec())),
        of(select(vec![Basis::Chart, Basis::Tag, Basis::Assumed])),
    );
    let note = (0..2_u8, date(), known, vec(colour(), 1..4)).prop_map(
        |(piece, on, (photo, taken, state, basis), colours)| Issued {
            piece: format!("P{piece}"),
            on,
            photo: photo.map(|n| blake3::hash(&[n]).to_string()),
            taken,
            state,
            basis,
            colours,
        },
    );
    vec(note, 0..5).prop_map(|mut notes| {
        notes.sort_by(|one, other| one.piece.cmp(&other.piece));
        let mut unlike: Vec<Issued> = Vec::new();
        for note in notes {
            if !unlike.contains(&note) {
                unlike.push(note);
            }
        }
        unlike
    })
}

fn told(on: &str, word: &str) -> Issued {
    let colour = IssuedColour {
        word: word.to_owned(),
        standard: "moderate yellow".to_owned(),
        lab: Lab::new(71.0, 6.0, 46.0),
        share: 0.6,
        doubt: Some(2.0),
    };
    Issued {
        piece: "LB007".to_owned(),
        on: on.to_owned(),
        photo: None,
        taken: None,
        state: Some(State::Dry),
        basis: Some(Basis::Tag),
        colours: vec![colour],
    }
}

#[test]
fn the_last_note_counts_and_the_earlier_stay() {
    let (_dir, mut journal) = empty();
    assert_eq!(journal.issued("LB007").unwrap(), None);
    let [first, second] = [told("2026-05-12", "straw"), told("2026-06-01", "old gold")];
    journal.issue(std::slice::from_ref(&first)).unwrap();
    journal.issue(std::slice::from_ref(&second)).unwrap();
    assert_eq!(journal.issued("LB007").unwrap(), Some(second.clone()));
    assert_eq!(journal.issued_notes().unwrap(), [first, second]);
    // A sheet that is entered again puts the piece anew, and its notes stay.
    journal.put_pieces(&[piece("LB007")]).unwrap();
    assert_eq!(journal.issued_notes().unwrap().len(), 2);
}

#[test]
fn what_cannot_be_is_not_issued() {
    let (_dir, mut journal) = empty();
    let mut nothing = told("2026-05-12", "straw");
    nothing.colours.clear();
    let mut huge = told("2026-05-12", "straw");
    huge.colours[0].share = 60.0;
    for (note, word) in [
        (told("12 May", "straw"), "on"),
        (told("2026-05-12", " "), "word"),
        (nothing, "colours"),
        (huge, "share"),
    ] {
        check(journal.issue(&[note]), Kind::Caller, word);
    }
    assert_eq!(journal.issued_notes().unwrap(), []);
}

#[test]
fn a_copy_knows_what_was_told() {
    let (_dir, mut journal) = empty();
    journal.issue(&[told("2026-05-12", "straw")]).unwrap();
    let (dir, file) = (tempfile::tempdir().unwrap(), "journal.sqlite");
    journal.backup(&dir.path().join(file)).unwrap();
    let copy = Journal::open(dir.path()).unwrap();
    assert_eq!(
        copy.issued("LB007").unwrap(),
        journal.issued("LB007").unwrap()
    );
}

#[test]
fn an_import_adds_what_was_told_elsewhere() {
    let (_dir, mut journal) = empty();
    let json = r#"{"schema":"filemot/1","notes":[{"piece":"LB007","on":"2026-05-12","photo":null,
        "colours":[{"word":"straw","lab":[71,6,46],"share":0.6,"doubt":null}]}]}"#;
    assert_eq!(import(&mut journal, json).notes_new, 1);
    assert_eq!(import(&mut journal, json), Imported::default());
    assert_eq!(journal.codes().unwrap(), ["LB007"]);
    let refused = Export::from_json(&json.replace("0.6", "60"));
    check(refused, Kind::File, "notes[0].colours[0].share");
}

#[test]
fn a_damaged_note_is_found() {
    let (_dir, mut journal) = empty();
    journal.issue(&[told("2026-05-12", "straw")]).unwrap();
    assert_eq!(journal.check().unwrap(), []);
    let damage = "UPDATE issued_colours SET share = 60";
    journal.db.execute_batch(damage).unwrap();
    let found = journal.check().unwrap();
    assert!(found.iter().any(|f| f.serious && f.what.contains("LB007")));
}
