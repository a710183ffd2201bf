//! A note once issued keeps its words.

use super::*;
use crate::journal::{Original, colour_word_value};
use jiff::civil::date;

/// A journal with the piece and one dry photo of it.
fn journal() -> (tempfile::TempDir, Journal) {
    let dir = tempfile::tempdir().unwrap();
    let mut journal = Journal::open_or_create(dir.path()).unwrap();
    journal.put_pieces(&[piece()]).unwrap();
    let photo = Photo {
        piece: Some("LB003".to_owned()),
        ..photo(State::Dry, "2026-05-12T17:20:00", Basis::Tag)
    };
    journal.add_photo(&photo, Original::None).unwrap();
    (dir, journal)
}

fn told(journal: &Journal, options: Options) -> Note {
    of_piece(journal, &piece(), &options).unwrap()
}

fn words(note: &Note) -> Vec<&str> {
    note.colours.iter().map(|c| c.word.as_str()).collect()
}

fn learn(journal: &mut Journal, word: &str) {
    let (name, value) = colour_word_value(word, Lab::new(71.0, 6.0, 45.0), 4.0);
    journal.set(&name, Some(&value)).unwrap();
}

const REISSUE: Options = Options {
    language: Language::English,
    reissue: true,
};

#[test]
fn only_a_note_issued_anew_changes_its_words() {
    let (_dir, mut journal) = journal();
    let first = told(&journal, Options::default());
    assert_eq!(
        (words(&first)[0], &first.issued),
        ("moderate yellow", &None)
    );
    issue(&mut journal, &[first], date(2026, 5, 20)).unwrap();

    learn(&mut journal, "old gold");
    let kept = told(&journal, Options::default());
    assert_eq!(words(&kept)[0], "moderate yellow");
    assert_eq!(kept.issued.as_deref(), Some("2026-05-20"));
    let [caution] = &kept.cautions[..] else {
        panic!("{:?}", kept.cautions)
    };
    assert_eq!(caution.code, "words-issued");
    for said in ["2026-05-20", "“moderate yellow”", "“old gold”", "--reissue"] {
        assert!(caution.text.contains(said), "{}", caution.text);
    }
    issue(&mut journal, &[kept], date(2026, 6, 1)).unwrap();
    assert_eq!(
        journal.issued_notes().unwrap().len(),
        1,
        "nothing new was told"
    );

    let anew = told(&journal, REISSUE);
    assert_eq!((words(&anew)[0], &anew.cautions[..]), ("old gold", &[][..]));
    issue(&mut journal, &[anew], date(2026, 6, 2)).unwrap();
    let later = told(&journal, Options::default());
    assert_eq!(words(&later)[0], "old gold");
    assert_eq!(later.issued.as_deref(), Some("2026-06-02"));
    assert_eq!(journal.issued_notes().unwrap().len(), 2);
}

/// A journal whose note was issued, and a newer photo of the piece.
fn issued_then(newer: Photo) -> (tempfile::TempDir, Journal) {
    let (dir, mut journal) = journal();
    let first = told(&journal, Options::default());
    issue(&mut journal, &[first], date(2026, 5, 20)).unwrap();
    let newer = Photo {
        piece: Some("LB003".to_owned()),
        ..newer
    };
    journal.add_photo(&newer, Original::None).unwrap();
    (dir, journal)
}

/// The one caution that the note keeps what it was issued with says each of these, and the note still says what it said.
#[track_caller]
fn check_kept(newer: Photo, says: &[&str]) {
    let (_dir, mut journal) = issued_then(newer);
    let kept = told(&journal, Options::default());
    let [caution] = &kept.cautions[..] else {
        panic!("{:?}", kept.cautions)
    };
    assert_eq!(caution.code, WORDS_ISSUED);
    for words in [says, &["2026-05-20", "--reissue"]].concat() {
        assert!(caution.text.contains(words), "{words}: {}", caution.text);
    }
    let says = [
        "It came out mostly moderate yellow, with moderate yellowish brown and bark.",
        "62 %",
        "27 %",
        "10 %",
        "± 2.0",
        "L* 71 a* 6 b* 46",
        "a photo of 12 May 2026",
    ];
    check(&kept, &says, &[]);
    // Issued anew it says the same as a note that was never issued.
    let anew = told(&journal, REISSUE);
    assert_eq!(anew.issued, None);
    issue(&mut journal, std::slice::from_ref(&anew), date(2026, 7, 1)).unwrap();
    let later = told(&journal, Options::default());
    assert_eq!(later.issued.as_deref(), Some("2026-07-01"));
    assert_eq!((later.text(), &later.cautions[..]), (anew.text(), &[][..]));
}

#[test]
fn the_order_and_the_shares_of_an_issued_note_stay() {
    let mut newer = photo(State::Dry, "2026-05-12T18:00:00", Basis::Tag);
    newer.reading.swatches[0].share = 0.1;
    newer.reading.swatches[1].share = 0.65;
    let says = [
        "62 % “moderate yellow”, 27 % “moderate yellowish brown” and 10 % “bark”",
        "65 % “moderate yellowish brown”, 24 % “moderate yellow” and 10 % “bark”",
    ];
    check_kept(newer, &says);
}

#[test]
fn the_colours_and_doubts_of_an_issued_note_stay() {
    let mut newer = photo(State::Dry, "2026-05-12T18:00:00", Basis::Tag);
    newer.reading.swatches[0].lab.l = 73.0;
    check_kept(newer, &["its colours lie up to 1."]);
    let mut newer = photo(State::Dry, "2026-05-12T18:00:00", Basis::Tag);
    newer.reading.swatches[1].doubt = Some(4.5);
    // By hand: (62 · 2 + 27 · 4.5 + 10 · 2) / 99.
    check_kept(newer, &["± 2.0 on average", "± 2.7"]);
}

#[test]
fn the_standards_names_of_an_issued_note_stay() {
    let mut newer = photo(State::Dry, "2026-05-12T18:00:00", Basis::Tag);
    newer.reading.swatches[3].lab = Lab::new(30.0, 30.0, 25.0);
    check_kept(newer, &["beneath its words stands “brownish gray”"]);
}

#[test]
fn the_photo_of_an_issued_note_stays() {
    let newer = photo(State::Washed, "2026-06-12T17:20:00", Basis::Chart);
    let (_dir, journal) = issued_then(newer);
    let kept = told(&journal, Options::default());
    assert_eq!(kept.state, State::Dry);
    let kept = kept
        .cautions
        .iter()
        .find(|c| c.code == WORDS_ISSUED)
        .unwrap();
    for words in [
        "the dry photo of 2026-05-12 with a tag",
        "the washed photo of 2026-06-12 with a chart",
    ] {
        assert!(kept.text.contains(words), "{}", kept.text);
    }
}

/// The same colours measured again, only later the same day, print the same note.
#[test]
fn what_would_be_printed_the_same_is_no_news() {
    let mut newer = photo(State::Dry, "2026-05-12T18:00:00", Basis::Tag);
    newer.reading.swatches[0].share = 0.481;
    let (_dir, journal) = issued_then(newer);
    let kept = told(&journal, Options::default());
    assert_eq!(
        (&kept.cautions[..], kept.issued.as_deref()),
        (&[][..], Some("2026-05-20"))
    );
    assert_eq!(
        told(&journal, REISSUE).issued.as_deref(),
        Some("2026-05-20")
    );
}

#[test]
fn a_piece_named_twice_is_issued_once() {
    let (_dir, mut journal) = journal();
    let note = told(&journal, Options::default());
    issue(&mut journal, &[note.clone(), note], date(2026, 5, 20)).unwrap();
    assert_eq!(journal.issued_notes().unwrap().len(), 1);
}

#[test]
fn an_issued_note_speaks_of_the_photo_it_was_made_from() {
    let (_dir, mut journal) = journal();
    let first = told(&journal, Options::default());
    issue(&mut journal, &[first], date(2026, 5, 20)).unwrap();
    let mut newer = photo(State::Washed, "2026-06-12T17:20:00", Basis::Chart);
    newer.piece = Some("LB003".to_owned());
    newer.reading.swatches[0].lab = Lab::new(60.0, 30.0, 30.0);
    journal.add_photo(&newer, Original::None).unwrap();
    let kept = told(&journal, Options::default());
    assert_eq!(kept.state, State::Dry);
    check(
        &kept,
        &["12 May 2026", "black and white"],
        &["12 June 2026"],
    );
    // Another language says the same words.
    let german = told(&journal, in_german());
    assert_eq!(words(&german)[0], "mittleres Gelb");
    check(&told(&journal, REISSUE), &["12 June 2026"], &[]);
}
