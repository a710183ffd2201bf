//! Bad input: each gets a sentence, and nothing is lost.

use crate::support::{Run, Studio, season_photo, testdata};

/// Ingests one bad photo beside a good one: the bad one is refused with a sentence that names it and holds `words`, the good one is measured.
fn check_photo(name: &str, bytes: &[u8], words: &[&str]) {
    let studio = Studio::new();
    studio.photos("in", &["LB001-dry.jpg"]);
    studio.write(&format!("in/{name}"), bytes);
    let summary = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(summary["new"], 1, "{summary}");
    assert_eq!(
        summary["refused"].as_array().map(Vec::len),
        Some(1),
        "{summary}"
    );
    let why = summary["refused"][0]["why"].as_str().expect("a sentence");
    assert!(why.contains(name) && why.ends_with('.'), "{why}");
    for word in words {
        assert!(why.contains(word), "\"{word}\" is missing in: {why}");
    }
}

#[test]
fn an_empty_file() {
    check_photo("empty.jpg", b"", &["empty"]);
}

#[test]
fn a_text_named_jpg() {
    check_photo("letter.jpg", b"Dear studio, the scarf arrived.", &[]);
}

#[test]
fn a_truncated_jpeg() {
    let whole = season_photo("LB002-dry.jpg");
    check_photo("half.jpg", &whole[..whole.len() / 2], &[]);
    check_photo("nearly.jpg", &whole[..whole.len() - 300], &[]);
}

#[test]
fn a_header_claiming_60000_by_60000() {
    let mut bytes = season_photo("LB002-dry.jpg");
    let frame = bytes
        .windows(2)
        .position(|pair| pair == [0xff, 0xc0])
        .expect("a frame header");
    bytes[frame + 5..frame + 9].copy_from_slice(&[0xea, 0x60, 0xea, 0x60]);
    check_photo("huge.jpg", &bytes, &["60000"]);
}

#[test]
fn a_truncated_heic() {
    let heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic\0\0\0\x08mdat";
    check_photo("IMG_1.HEIC", heic, &["copy it again"]);
}

#[test]
fn a_folder_that_is_not_there() {
    Studio::new()
        .run(&["ingest", "season"])
        .refused(&["season", "check the name"]);
}

#[test]
fn a_picture_with_no_cloth_in_it_is_kept_and_measured_as_nothing() {
    let studio = Studio::new();
    let png = flat_png();
    studio.write("in/wall.png", &png);
    let summary = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(summary["new"], 1);
    let export = studio.export();
    assert_eq!(
        export["photos"][0]["swatches"].as_array().map(Vec::len),
        Some(0),
        "{export}"
    );
    assert_eq!(export["photos"][0]["piece"], serde_json::Value::Null);
}

/// A grey wall, 320 × 240.
fn flat_png() -> Vec<u8> {
    let mut bytes = Vec::new();
    let picture = image::RgbImage::from_pixel(320, 240, image::Rgb([140, 138, 135]));
    picture
        .write_to(
            &mut std::io::Cursor::new(&mut bytes),
            image::ImageFormat::Png,
        )
        .expect("encoded");
    bytes
}

#[test]
fn two_pieces_tags_in_one_picture_leave_it_unclaimed() {
    let studio = Studio::new();
    let one = image::load_from_memory(&season_photo("LB001-dry.jpg"))
        .expect("a photo")
        .to_rgb8();
    let other = image::load_from_memory(&season_photo("LB002-dry.jpg"))
        .expect("a photo")
        .to_rgb8();
    let mut both = image::RgbImage::new(one.width() + 300, one.height());
    image::imageops::replace(&mut both, &one, 300, 0);
    let tag = image::imageops::crop_imm(&other, 0, 0, 300, other.height()).to_image();
    image::imageops::replace(&mut both, &tag, 0, 0);
    let mut bytes = Vec::new();
    both.write_to(
        &mut std::io::Cursor::new(&mut bytes),
        image::ImageFormat::Png,
    )
    .expect("encoded");
    studio.write("in/both.png", bytes);
    let summary = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(summary["unclaimed"][0], "both.png", "{summary}");
    let export = studio.export();
    let cautions = export["photos"][0]["cautions"].to_string();
    assert!(cautions.contains("several-pieces"), "{cautions}");
    studio
        .run(&["claim", "both.png", "LB001", "--state", "dry"])
        .good();
    assert_eq!(studio.export()["photos"][0]["piece"], "LB001");
}

#[test]
fn a_code_with_a_colon() {
    let studio = Studio::new();
    studio.run(&["tags", "state:wet"]).refused(&["state:wet"]);
    studio.write("s.csv", "piece,mordant\nLB:1,alum\n");
    studio.run(&["enter", "s.csv"]).refused(&["LB:1"]);
}

#[test]
fn a_journal_of_a_newer_version_and_a_file_that_is_no_database() {
    let studio = Studio::new();
    studio.sheet();
    let file = studio.path("filemot-journal/journal.sqlite");
    let database = rusqlite::Connection::open(&file).expect("a database");
    database
        .pragma_update(None, "user_version", 9999)
        .expect("set");
    drop(database);
    studio.run(&["drying"]).refused(&["newer"]);
    std::fs::write(
        &file,
        "this is a shopping list, and long enough to be taken for something else ".repeat(20),
    )
    .expect("written");
    studio.run(&["drying"]).refused(&["journal"]);
    let kept = std::fs::read_to_string(&file).expect("still there");
    assert!(
        kept.starts_with("this is a shopping list"),
        "a file that is not ours must stay as it was"
    );
}

#[test]
fn a_closed_pipe_is_no_error() {
    let studio = Studio::new();
    studio.sheet();
    let mut child = studio.start(&["export"]);
    drop(child.stdout.take());
    let run = Run::from(child).good();
    assert!(run.err.is_empty(), "{}", run.err);
}

#[test]
fn every_bad_sheet_is_refused_and_changes_nothing() {
    let studio = Studio::new();
    studio.sheet();
    let before = studio.export();
    let folder = testdata("bad/sheets");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).expect("bad sheets") {
        let path = entry.expect("a file").path();
        if path.extension().is_some_and(|ending| ending == "md") {
            continue;
        }
        let run = studio.run(&["enter", path.to_str().expect("a plain path")]);
        assert_eq!(run.status, 1, "{} was taken: {}", path.display(), run.out);
        assert!(
            run.err.starts_with("filemot: ") && run.err.trim_end().ends_with('.'),
            "{}: {}",
            path.display(),
            run.err
        );
        count += 1;
    }
    assert!(count >= 5);
    assert_eq!(studio.export(), before);
}

#[test]
fn a_wrong_command_line_exits_with_2() {
    let studio = Studio::new();
    assert_eq!(studio.run(&["polish"]).status, 2);
    assert_eq!(studio.run(&["ingest"]).status, 2);
    assert_eq!(studio.run(&["ingest", "x", "--state", "damp"]).status, 2);
}

#[test]
fn no_journal_yet_is_said() {
    Studio::new()
        .run(&["show", "LB001"])
        .refused(&["no journal", "filemot enter"]);
}

#[test]
fn the_tour_leaves_a_used_folder_alone() {
    let studio = Studio::new();
    studio.write("mine/sheet.csv", "piece,fibre\nA1,silk\n");
    studio.write("mine/photos/LB001-wet.jpg", "my own photo");
    studio.write("mine/LB008-note.html", "my own note");
    studio
        .run(&["tour", "--into", "mine"])
        .refused(&["mine", "--into"]);
    assert_eq!(studio.read("mine/sheet.csv"), "piece,fibre\nA1,silk\n");
    assert_eq!(studio.read("mine/photos/LB001-wet.jpg"), "my own photo");
    assert_eq!(studio.read("mine/LB008-note.html"), "my own note");
    assert!(!studio.path("mine/journal").exists());
}

#[test]
fn nothing_is_written_over_a_database() {
    let studio = Studio::new();
    studio.sheet();
    let before = studio.export();
    studio.run(&["backup", "b.sqlite"]).good();
    for file in ["filemot-journal/journal.sqlite", "b.sqlite"] {
        studio
            .run(&["export", "--out", file])
            .refused(&[file, "choose another name"]);
    }
    assert_eq!(studio.export(), before);
    studio.run(&["export", "--out", "e.json"]).good();
    studio.run(&["export", "--out", "e.json"]).good();
}

#[test]
fn an_empty_variable_names_no_journal() {
    let studio = Studio::new();
    studio
        .command(&["set", "unit", "F"])
        .env("FILEMOT_JOURNAL", "")
        .assert()
        .success();
    assert!(studio.path("filemot-journal/journal.sqlite").is_file());
    assert!(!studio.path("journal.sqlite").exists());
}

#[test]
fn a_kept_photo_that_changed_is_not_measured_again() {
    let studio = Studio::new();
    let photo = studio.write("LB001-dry.jpg", season_photo("LB001-dry.jpg"));
    studio
        .run(&["ingest", "LB001-dry.jpg", "--in-place"])
        .good();
    let before = studio.export();
    std::fs::write(photo, season_photo("LB002-dry.jpg")).expect("written");
    let run = studio.run(&["remeasure"]).good();
    assert!(
        run.err.contains("LB001-dry.jpg is no longer"),
        "{}",
        run.err
    );
    assert_eq!(studio.export(), before);
}

#[test]
fn a_claim_for_a_new_piece_says_so() {
    let studio = Studio::new();
    studio.sheet();
    studio.photos("in", &["LB001-dry.jpg"]);
    studio.run(&["ingest", "in"]).good();
    let known = studio.run(&["claim", "LB001-dry.jpg", "lb002"]).good();
    assert!(known.out.contains("shows LB002 dry."), "{}", known.out);
    let new = studio.run(&["claim", "LB001-dry.jpg", "LB0O2"]).good();
    assert!(new.out.contains("a new piece"), "{}", new.out);
}

#[cfg(unix)]
#[test]
fn links_and_what_is_no_file() {
    use std::os::unix::fs::symlink;
    let studio = Studio::new();
    studio.photos("elsewhere", &["LB001-dry.jpg"]);
    studio.photos("in", &["LB002-dry.jpg"]);
    symlink("../elsewhere/LB001-dry.jpg", studio.path("in/link.jpg")).expect("linked");
    symlink("nowhere.jpg", studio.path("in/lost.jpg")).expect("linked");
    symlink("../in", studio.path("in/circle")).expect("linked");
    symlink("/dev/zero", studio.path("in/endless.jpg")).expect("linked");
    let summary = studio.json(&["ingest", "in", "--json"]);
    assert_eq!(summary["new"], 2, "{summary}");
    assert_eq!(summary["refused"].as_array().map(Vec::len), Some(1));
    assert_eq!(summary["refused"][0]["photo"], "lost.jpg", "{summary}");
    for odd in ["in/endless.jpg", "/dev/zero"] {
        studio
            .run(&["ingest", odd])
            .refused(&["neither a photo nor a folder"]);
    }
}

#[cfg(unix)]
#[test]
fn a_name_cannot_command_the_terminal() {
    let studio = Studio::new();
    studio.write(
        "in/red\u{1b}[31m\u{202e}.jpg",
        season_photo("LB001-dry.jpg"),
    );
    let run = studio.run(&["ingest", "in"]).good();
    assert!(!run.out.contains('\u{1b}'), "{}", run.out);
    assert_eq!(
        studio.export()["photos"][0]["file"],
        "red\u{fffd}[31m\u{fffd}.jpg"
    );
}

#[test]
fn no_sentence_speaks_the_systems_language() {
    let studio = Studio::new();
    studio.sheet();
    studio.write("file", "x");
    for arguments in [
        &["--journal", "file", "set", "unit", "F"][..],
        &["--journal", "file/below", "set", "unit", "F"],
        &["export", "--out", "nowhere/e.json"],
        &["export", "--out", "filemot-journal"],
        &["tags", "A1", "--out", "nowhere/t.pdf"],
        &["import", "nowhere.json"],
        &["import", "filemot-journal"],
        &["tour", "--into", "file"],
    ] {
        let run = studio.run(arguments).refused(&["filemot: ", "; "]);
        assert!(!run.err.contains("os error"), "{arguments:?}: {}", run.err);
    }
}
