//! Notes as the studio asks for them.

use crate::support::Studio;
use serde_json::{Value, json};
use std::path::Path;

/// The small season's third bundle, dry; its first piece wet as well.
fn bundle(studio: &Studio) {
    studio.sheet();
    let photos = [
        "LB007-wet.jpg",
        "LB007-dry.jpg",
        "LB008-dry.jpg",
        "LB009-dry.jpg",
    ];
    studio.photos("in", &photos);
    studio.run(&["ingest", "in"]).good();
}

/// Writes notes in every format where independent readers can look at them: `tests/decoders/read_notes.py` does.
#[test]
fn every_format_is_written_for_independent_readers() {
    let studio = Studio::new();
    bundle(&studio);
    studio
        .run(&["words", "add", "old gold", "LB008", "--within", "4"])
        .good();
    let note = |arguments: &[&str]| {
        let all = [&["note"][..], arguments, &["--out", "notes"]].concat();
        studio.run(&all).good()
    };
    note(&["LB008", "--format", "pdf"]);
    note(&["LB008", "--format", "png"]);
    note(&["LB008", "--format", "html"]);
    note(&["--bundle", "B03", "--format", "pdf"]);
    note(&[
        "--all", "--format", "pdf", "--paper", "letter", "--lang", "de",
    ]);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("written_notes");
    std::fs::create_dir_all(&folder).expect("made");
    let card = [
        "LB008",
        "old gold",
        "5 July 2026",
        "Plant colours can change",
    ];
    let german = [
        "LB007",
        "LB008",
        "LB009",
        "5. Juli 2026",
        "Pflanzenfarben können sich",
    ];
    let expected: [(&str, usize, [f64; 2], &[&str]); 5] = [
        ("LB008-note.pdf", 2, [105.0, 148.0], &card),
        (
            "B03-notes.pdf",
            2,
            [210.0, 297.0],
            &["LB007", "LB008", "LB009"],
        ),
        (
            "B03-notes-cover.pdf",
            1,
            [210.0, 297.0],
            &["B03", "3 pieces", "LB009"],
        ),
        ("notes.pdf", 2, [215.9, 279.4], &german),
        (
            "notes-cover.pdf",
            1,
            [215.9, 279.4],
            &["Notizen", "3 Stücke"],
        ),
    ];
    let mut list = serde_json::Map::new();
    for (file, pages, size, says) in expected {
        let told = json!({"pages": pages, "mm": size, "says": says});
        list.insert(file.to_owned(), told);
    }
    list.insert("LB008-note.png".to_owned(), json!({"pixels": [1080, 1080]}));
    for file in list.keys() {
        let from = studio.path("notes").join(file);
        std::fs::copy(from, folder.join(file)).expect(file);
    }
    let list = serde_json::to_string_pretty(&Value::Object(list)).expect("JSON");
    std::fs::write(folder.join("expected.json"), list).expect("written");
}

#[test]
fn a_note_keeps_its_words_until_it_is_issued_anew() {
    let studio = Studio::new();
    bundle(&studio);
    let first_word = |arguments: &[&str]| {
        let all = [&["note", "LB008", "--format", "json"][..], arguments].concat();
        studio.json(&all)[0]["colours"][0]["word"].clone()
    };
    let standard = first_word(&[]);
    assert!(
        studio.export().get("notes").is_none(),
        "JSON issues nothing"
    );
    studio.run(&["note", "LB008", "--short"]).good();
    assert_eq!(studio.export()["notes"][0]["piece"], "LB008");

    studio
        .run(&["words", "add", "old gold", "LB008", "--within", "14"])
        .good();
    let run = studio.run(&["note", "LB008"]).good();
    for said in [standard.as_str().expect("a word"), "old gold", "--reissue"] {
        assert!(run.err.contains(said), "{}", run.err);
    }
    assert!(!run.out.contains("old gold"), "{}", run.out);
    assert_eq!(first_word(&[]), standard);
    assert_eq!(first_word(&["--reissue"]), "old gold");
    studio.run(&["note", "LB008", "--reissue"]).good();
    assert_eq!(first_word(&[]), "old gold");

    // What was told goes with an export into another journal.
    studio.write("all.json", studio.export().to_string());
    let other = ["--journal", "other"];
    studio
        .run(&[&other[..], &["import", "all.json"]].concat())
        .good();
    let theirs = studio.json(&[&other[..], &["export"]].concat());
    assert_eq!(theirs["notes"], studio.export()["notes"]);
}

#[test]
fn a_short_text_is_short_and_whole() {
    let studio = Studio::new();
    bundle(&studio);
    for language in ["en", "de"] {
        let out = studio
            .run(&["note", "LB007", "LB008", "--short", "--lang", language])
            .good()
            .out;
        let notes: Vec<&str> = out.trim_end().split("\n\n").collect();
        assert_eq!(notes.len(), 2, "{out}");
        for (note, code) in notes.into_iter().zip(["LB007", "LB008"]) {
            let (over, note) = note.split_once('\n').expect("a code over the note");
            assert_eq!(over, code);
            assert!(note.chars().count() <= 500 && note.ends_with('.'), "{note}");
        }
    }
    studio
        .run(&["note", "LB007", "--short", "--format", "png"])
        .misused(&["--short"]);
}

#[test]
fn what_nobody_photographed_has_no_note() {
    let studio = Studio::new();
    studio.sheet();
    studio.run(&["note", "--all"]).refused(&["dry or washed"]);
    studio.run(&["note", "--bundle", "B99"]).refused(&["B99"]);
    assert_eq!(studio.run(&["note"]).status, 2);
    assert_eq!(studio.run(&["note", "LB001", "--all"]).status, 2);
}

/// Thirty pieces of one bundle, read elsewhere: 22 dry, four only wet, four without a photo.
fn thirty(studio: &Studio) {
    let codes: Vec<String> = (1..=30).map(|n| format!("P{n:02}")).collect();
    let piece = |code: &String| json!({"code": code, "rounds": [{"round": 1, "bundle": "B1"}]});
    let photo = |(n, code): (usize, &String)| {
        let state = if n < 22 { "dry" } else { "wet" };
        json!({"piece": code, "state": state, "taken": "2026-05-12T10:00:00",
            "swatches": [{"lab": [71, 6, 46], "share": 0.6, "doubt": 1}, {"lab": [48, 10, 26], "share": 0.4, "doubt": 1}]})
    };
    let all = json!({"schema": "filemot/1", "pieces": codes.iter().map(piece).collect::<Vec<_>>(),
        "photos": codes.iter().enumerate().take(26).map(photo).collect::<Vec<_>>()});
    studio.write("thirty.json", all.to_string());
    studio.run(&["import", "thirty.json"]).good();
}

#[test]
fn a_batch_says_whom_it_passed_over_and_whose_each_note_is() {
    let studio = Studio::new();
    thirty(&studio);
    let run = studio.run(&["note", "--all", "--short"]).good();
    for told in [
        "8 of 30 pieces are passed over",
        "4 have no photo with colours (P27, P28, P29, P30)",
        "4 have only photos wet or worn (P23, P24, P25, P26)",
    ] {
        assert!(run.err.contains(told), "{told}: {}", run.err);
    }
    let codes = |out: &str| {
        out.lines()
            .filter(|line| line.starts_with('P') && line.len() == 3)
            .count()
    };
    assert_eq!(codes(&run.out), 22, "{}", run.out);
    assert!(run.out.starts_with("P01\nIt came out"), "{}", run.out);
    let one = studio.run(&["note", "P01", "--short"]).good().out;
    assert_eq!(codes(&one), 0, "{one}");
    // The journal's own writing of the bundle counts.
    let out = studio
        .run(&[
            "note", "--bundle", "b1", "--format", "pdf", "--out", "notes",
        ])
        .good()
        .out;
    assert!(
        out.contains("B1-notes.pdf") && out.contains("B1-notes-cover.pdf"),
        "{out}"
    );
    let pdf = std::fs::read(studio.path("notes/B1-notes.pdf")).expect("a PDF");
    assert!(String::from_utf8_lossy(&pdf).contains("Notes of the bundle B1"));
}

#[test]
fn a_batch_that_cannot_be_written_whole_is_not_begun() {
    let studio = Studio::new();
    thirty(&studio);
    studio.write("out/P02-note.html/in-the-way", "");
    let all = ["note", "P01", "P02", "--format", "html", "--out", "out"];
    studio.run(&all).refused(&["P02-note.html"]);
    assert!(!studio.path("out/P01-note.html").exists());
    assert!(studio.export().get("notes").is_none());
    // A place that can only be seen to be barred when it is written to: what was written before it counts as issued.
    std::fs::remove_dir_all(studio.path("out/P02-note.html")).expect("removed");
    studio.write("out/P02-note.html.part/in-the-way", "");
    studio.run(&all).refused(&["P02-note.html"]);
    assert!(studio.path("out/P01-note.html").exists());
    let notes = &studio.export()["notes"];
    assert_eq!(
        (&notes[0]["piece"], notes.as_array().map(Vec::len)),
        (&json!("P01"), Some(1))
    );
}

#[test]
fn a_piece_named_twice_has_one_note() {
    let studio = Studio::new();
    thirty(&studio);
    let out = studio
        .run(&[
            "note", "P01", "p01", "P01", "--format", "html", "--out", "out",
        ])
        .good()
        .out;
    assert_eq!(out.lines().count(), 1, "{out}");
}

#[test]
fn options_that_do_not_fit_are_a_wrong_command_line() {
    let studio = Studio::new();
    thirty(&studio);
    for wrong in [
        &["--paper", "letter"][..],
        &["--paper", "a6", "--format", "png"],
        &["--paper", "a6", "--format", "json"],
        &["--short", "--format", "pdf"],
    ] {
        let all = [&["note", "P01"], wrong].concat();
        studio.run(&all).misused(&[wrong[0]]);
    }
    // A batch of pages has a cover to print.
    let cover = [
        "note", "--bundle", "B1", "--format", "html", "--paper", "letter", "--out", "out",
    ];
    studio.run(&cover).good();
}

/// A later photo and the studio's paper measured anew: the note stays as it went out of the house, and says so.
#[test]
fn an_issued_note_does_not_rewrite_itself() {
    let studio = Studio::new();
    thirty(&studio);
    let first = studio.run(&["note", "P01"]).good();
    assert_eq!(first.err, "");
    let later = json!({"schema": "filemot/1", "photos": [{"piece": "P01", "state": "dry", "taken": "2026-06-01T10:00:00",
        "swatches": [{"lab": [71, 6, 46], "share": 0.2, "doubt": 3}, {"lab": [48, 10, 26], "share": 0.8, "doubt": 3}]}]});
    studio.write("later.json", later.to_string());
    studio.run(&["import", "later.json"]).good();
    let second = studio.run(&["note", "P01"]).good();
    assert_eq!(second.out, first.out);
    for told in [
        "60 % “",
        "80 % “",
        "± 1.0",
        "± 3.0",
        "2026-06-01",
        "--reissue",
    ] {
        assert!(second.err.contains(told), "{told}: {}", second.err);
    }
    let json = studio.json(&["note", "P01", "--format", "json"]);
    assert_eq!(json[0]["colours"][0]["share"], 0.6);
    assert_eq!(json[0]["cautions"][0]["code"], "words-issued");
    assert_eq!(studio.export()["notes"].as_array().map(Vec::len), Some(1));
    let anew = studio.run(&["note", "P01", "--reissue"]).good();
    assert!(anew.out != first.out && anew.err.is_empty(), "{}", anew.err);
    assert_eq!(studio.run(&["note", "P01"]).good().out, anew.out);
}

#[test]
fn a_code_that_is_a_promise_is_told_and_not_printed() {
    let studio = Studio::new();
    studio.write("sheet.csv", "piece,fibre\nlightfast-gold,silk\n");
    let told = studio.run(&["enter", "sheet.csv"]).good();
    assert!((told.out + &told.err).contains("lightfast-gold says what no customer"));
    let photo = json!({"schema": "filemot/1", "photos": [{"piece": "lightfast-gold", "state": "dry",
        "swatches": [{"lab": [71, 6, 46], "share": 1, "doubt": 1}]}]});
    studio.write("photo.json", photo.to_string());
    studio.run(&["import", "photo.json"]).good();
    for format in ["text", "html"] {
        let run = studio
            .run(&["note", "lightfast-gold", "--format", format, "--out", "out"])
            .good();
        assert!(run.err.contains("not by its code"), "{}", run.err);
    }
    for file in ["out/Piece-of-silk-note.txt", "out/Piece-of-silk-note.html"] {
        let note = studio.read(file).to_lowercase();
        assert!(
            note.contains("piece of silk") && !note.contains("lightfast"),
            "{note}"
        );
    }
    assert_eq!(studio.export()["notes"][0]["piece"], "lightfast-gold");
}
