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
        let notes: Vec<&str> = out.lines().filter(|line| !line.is_empty()).collect();
        assert_eq!(notes.len(), 2, "{out}");
        for note in notes {
            assert!(note.chars().count() <= 500 && note.ends_with('.'), "{note}");
        }
    }
    studio
        .run(&["note", "LB007", "--short", "--format", "png"])
        .refused(&["--short"]);
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
