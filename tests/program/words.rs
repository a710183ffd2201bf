//! Colour words of the studio's own.

use crate::support::Studio;
use serde_json::{Value, json};

/// Four pieces in pots of their own, two of alum and two of iron, each with two colours; P4 was washed after.
fn known(studio: &Studio) {
    let piece = |code: &str, mordant: &str| json!({"code": code, "rounds": [{"round": 1, "pot": code, "soaks": [{"mordant": mordant}]}]});
    let photo = |code: &str, state: &str, taken: &str, lab: [f64; 3]| {
        json!({"piece": code, "state": state, "taken": taken, "file": format!("{code}-{state}.jpg"),
            "swatches": [{"lab": lab, "share": 0.75, "doubt": 1.0}, {"lab": [80.0, 2.0, 12.0], "share": 0.25, "doubt": 1.0}]})
    };
    let all = json!({"schema": "filemot/1",
    "pieces": [piece("P1", "alum"), piece("P2", "alum"), piece("P3", "iron"), piece("P4", "iron")],
    "photos": [
        photo("P1", "dry", "2026-05-01T10:00:00", [45.0, 32.0, 40.0]),
        photo("P2", "dry", "2026-05-01T10:00:00", [46.0, 31.0, 39.0]),
        photo("P3", "dry", "2026-05-01T10:00:00", [45.0, 24.0, 34.0]),
        photo("P4", "dry", "2026-05-01T10:00:00", [30.0, 3.0, 6.0]),
        photo("P4", "washed", "2026-05-09T10:00:00", [33.0, 3.0, 7.0]),
        photo("P4", "washed", "2026-05-20T10:00:00", [36.0, 3.5, 8.0]),
    ]});
    studio.write("known.json", all.to_string());
    studio.run(&["import", "known.json"]).good();
}

fn count(studio: &Studio, question: &str) -> Value {
    studio.json(&["ask", question, "--json"])["count"].clone()
}

#[test]
fn a_word_is_added_asked_about_and_dropped() {
    let studio = Studio::new();
    known(&studio);
    studio
        .run(&["ask", "how many pieces have rust"])
        .refused(&["rust"]);
    let told = studio.run(&["words"]).good().out;
    assert!(
        told.contains("no colour words of your own") && told.contains("yellow greens"),
        "{told}"
    );
    studio.run(&["words", "add", "Rust", "45,32,40"]).good();
    let told = studio.run(&["words"]).good().out;
    assert!(told.contains("rust") && told.contains("within 5"), "{told}");
    assert_eq!(count(&studio, "how many pieces have rust"), 3);
    assert_eq!(count(&studio, "how many pieces have \"rust\""), 3);
    let answer = studio.json(&["ask", "which mordant gave the warmest rusts", "--json"]);
    assert_eq!(answer["read_as"]["family"], "rust");
    assert_eq!(
        (
            &answer["groups"][0]["value"],
            &answer["groups"][0]["pieces"]
        ),
        (&"alum".into(), &2.into())
    );
    studio
        .run(&["words", "drop", "moss"])
        .refused(&["moss", "there are rust"]);
    studio.run(&["words", "drop", "RUST"]).good();
    studio
        .run(&["ask", "how many pieces have rust"])
        .refused(&["rust"]);
}

/// CIEDE2000 by another library (colour-science): P3 is 3.7 from the middle of rust, P1 nothing and P2 1.1.
#[test]
fn of_words_that_overlap_the_nearer_counts() {
    let studio = Studio::new();
    known(&studio);
    let told = studio
        .run(&["words", "add", "rust", "45,32,40", "--within", "9"])
        .good()
        .out;
    assert!(!told.contains("overlaps"), "{told}");
    assert_eq!(count(&studio, "how many pieces have rust"), 3);
    let told = studio
        .run(&["words", "add", "brick", "45,24,34", "--within", "9"])
        .good()
        .out;
    assert!(told.contains("overlaps with “rust”"), "{told}");
    assert_eq!(count(&studio, "how many pieces have rust"), 2);
    assert_eq!(count(&studio, "how many pieces have bricks"), 1);
}

#[test]
fn a_piece_shows_what_a_word_means() {
    let studio = Studio::new();
    known(&studio);
    let told = studio.run(&["words", "add", "bark brown", "p4"]).good().out;
    assert!(
        told.contains("P4, washed photo P4-washed.jpg") && told.contains("75 %"),
        "{told}"
    );
    let told = studio
        .run(&["words", "add", "rust", "P1", "--within", "2.5"])
        .good()
        .out;
    assert!(told.contains("P1, dry photo"), "{told}");
    let export = studio.export();
    assert_eq!(
        export["studio"],
        json!({"word bark brown": "36,3.5,8,5", "word rust": "45,32,40,2.5"})
    );
    let other = Studio::new();
    other.write("all.json", export.to_string());
    other.run(&["import", "all.json"]).good();
    assert_eq!(other.export(), export);
    assert_eq!(count(&other, "how many washed pieces have bark browns"), 1);
    // Said again, a word means something else from then on.
    let told = studio.run(&["words", "add", "rust", "10,0,0"]).good().out;
    let before = "Until now it meant L* 45.0, a* 32.0, b* 40.0, within 2.5.";
    assert!(told.contains(before), "{told}");
    assert_eq!(count(&studio, "how many pieces have rust"), 0);
}

#[test]
fn a_word_that_questions_have_already_is_told() {
    let studio = Studio::new();
    known(&studio);
    let told = |name: &str| studio.run(&["words", "add", name, "30,3,6"]).good().out;
    assert!(told("brown").contains("no longer the standard's browns"));
    assert!(told("warm").contains("quotation marks"));
    assert_eq!(count(&studio, "how many pieces have browns"), 1);
    assert_eq!(count(&studio, "how many pieces have \"warm\""), 0);
}

#[test]
fn what_cannot_be_a_word_is_refused() {
    let studio = Studio::new();
    known(&studio);
    let refused = |arguments: &[&str], words: &[&str]| {
        studio
            .run(&[&["words", "add"], arguments].concat())
            .refused(words);
    };
    refused(&["2 rust", "45,32,40"], &["2 rust", "small letters"]);
    refused(&["the", "45,32,40"], &["“the”", "choose another"]);
    refused(&["rust", "45,32"], &["45,32", "not a colour"]);
    refused(&["rust", "P9"], &["P9", "neither a piece"]);
    for within in ["x", "0", "-1", "31", "nan"] {
        studio
            .run(&["words", "add", "rust", "45,32,40", "--within", within])
            .misused(&["--within", "a number from 0.1 to 30"]);
    }
    studio.write("bare.csv", "piece\nP7\n");
    studio.run(&["enter", "bare.csv"]).good();
    refused(&["rust", "P7"], &["P7", "no dry or washed photo"]);
    studio.run(&["words", "add", "rust-red", "45,32,40"]).good();
    refused(&["rust red", "45,32,40"], &["rust red", "rust-red"]);
    assert_eq!(
        studio.export()["studio"],
        json!({"word rust-red": "45,32,40,5"})
    );
}

/// Kelly and Judd's names (NBS Special Publication 440): L* 40, a* 10, b* 40 is no yellow of theirs.
#[test]
fn a_name_of_the_standard_stays_with_its_colours() {
    let studio = Studio::new();
    known(&studio);
    let add = |name: &str| studio.run(&["words", "add", name, "40,10,40"]);
    add("moderate yellow").refused(&["“moderate yellow”", "ISCC-NBS", "brown", "of your own"]);
    assert_eq!(studio.export().get("studio"), None);
    let told = add("green").good().out;
    assert!(told.contains("and others “green”"), "{told}");
}

#[test]
fn of_words_with_one_middle_it_is_said_which_counts() {
    let studio = Studio::new();
    known(&studio);
    let add = |name: &str, within: &str| {
        let add = ["words", "add", name, "45,32,40", "--within", within];
        studio
            .run(&add)
            .good()
            .out
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
    };
    add("rust", "5");
    let told = add("ember", "5");
    assert!(
        told.contains("is called “ember”, the first by the alphabet"),
        "{told}"
    );
    // Three of the pieces lie within 4 of that middle.
    assert_eq!(count(&studio, "how many pieces have ember"), 3);
    assert_eq!(count(&studio, "how many pieces have rust"), 0);
    let told = add("terracotta", "4");
    assert!(
        told.contains("is called “terracotta”, which reaches less far"),
        "{told}"
    );
    assert_eq!(count(&studio, "how many pieces have terracotta"), 3);
}

#[test]
fn a_word_that_no_note_may_say_is_told_at_once() {
    let studio = Studio::new();
    known(&studio);
    let add = ["words", "add", "lightfast rust", "45,32,40"];
    let told = studio.run(&add).good().out;
    assert!(told.contains("No note will call a colour"), "{told}");
    let note = studio.run(&["note", "P1"]).good();
    assert!(!note.out.contains("lightfast") && note.err.contains("lightfast rust"));
}
