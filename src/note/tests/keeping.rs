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

#[test]
fn a_newer_photo_with_the_same_words_is_no_news() {
    let (_dir, mut journal) = journal();
    let first = told(&journal, Options::default());
    issue(&mut journal, &[first], date(2026, 5, 20)).unwrap();
    let mut newer = photo(State::Washed, "2026-06-12T17:20:00", Basis::Tag);
    newer.piece = Some("LB003".to_owned());
    newer.reading.swatches[1].share = 0.28;
    newer.reading.swatches[4].share = 0.0;
    journal.add_photo(&newer, Original::None).unwrap();
    let note = told(&journal, Options::default());
    assert_eq!((note.state, &note.cautions[..]), (State::Washed, &[][..]));
    assert_eq!(note.issued.as_deref(), Some("2026-05-20"));
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
