//! What the journal keeps comes out again, whole.

use crate::support::Studio;
use serde_json::{Value, json};

#[test]
fn an_export_taken_in_elsewhere_is_the_same_journal() {
    let studio = Studio::new();
    studio.sheet();
    studio.photos("in", &["LB001-wet.jpg", "LB001-dry.jpg"]);
    studio.run(&["ingest", "in"]).good();
    studio.run(&["set", "paper", "95.1,0.4,-1.2"]).good();
    studio.run(&["remeasure"]).good();
    studio.run(&["export", "--out", "all.json"]).good();

    let other = Studio::new();
    other.write("all.json", studio.read("all.json"));
    other.run(&["import", "all.json"]).good();
    assert_eq!(other.export(), studio.export());
    other.run(&["import", "all.json"]).good();
    assert_eq!(
        other.export(),
        studio.export(),
        "imported twice, nothing changes"
    );
}

#[test]
fn readings_made_elsewhere_come_in_with_what_they_have() {
    let studio = Studio::new();
    let small = json!({"schema": "filemot/1",
        "pieces": [{"code": "X1", "rounds": [{"round": 1, "bundle": "B1"}]}],
        "photos": [{"piece": "X1", "state": "dry", "swatches": [{"lab": [60.0, 5.0, 40.0], "share": 1.0}]}]});
    studio.write("small.json", small.to_string());
    studio.run(&["import", "small.json"]).good();
    studio.run(&["import", "small.json"]).good();
    let export = studio.export();
    assert_eq!(export["photos"].as_array().map(Vec::len), Some(1));
    assert_eq!(
        export["photos"][0]["swatches"][0]["lab"],
        json!([60.0, 5.0, 40.0])
    );
    assert_eq!(export["photos"][0]["file"], Value::Null);
}

#[test]
fn a_broken_import_changes_nothing() {
    let studio = Studio::new();
    studio.sheet();
    let before = studio.export();
    studio.write(
        "half.json",
        r#"{"schema":"filemot/1","pieces":[{"code":"NEW1"#,
    );
    studio.run(&["import", "half.json"]).refused(&["export"]);
    studio.write(
        "other.json",
        r#"{"schema":"something/7","pieces":[{"code":"NEW1"}]}"#,
    );
    studio
        .run(&["import", "other.json"])
        .refused(&["something/7"]);
    studio.write(
        "bad.json",
        r#"{"schema":"filemot/1","pieces":[{"code":"NEW1"},{"code":"NEW2","width_cm":"wide"}]}"#,
    );
    studio.run(&["import", "bad.json"]).refused(&["width_cm"]);
    assert_eq!(studio.export(), before);
}

#[test]
fn a_backup_is_a_journal_of_its_own() {
    let studio = Studio::new();
    studio.sheet();
    studio.run(&["backup", "copy.sqlite"]).good();
    let copy = studio.path("elsewhere");
    std::fs::create_dir(&copy).expect("made");
    std::fs::copy(studio.path("copy.sqlite"), copy.join("journal.sqlite")).expect("copied");
    assert_eq!(
        studio.json(&["--journal", "elsewhere", "export"]),
        studio.export()
    );
    studio
        .run(&["backup", "copy.sqlite"])
        .refused(&["copy.sqlite"]);
}

#[test]
fn check_tells_of_a_kept_photo_that_changed() {
    let studio = Studio::new();
    studio.photos("in", &["LB001-dry.jpg"]);
    studio.run(&["ingest", "in"]).good();
    studio.run(&["check"]).good();
    let hash = studio.export()["photos"][0]["hash"]
        .as_str()
        .expect("a hash")
        .to_owned();
    let kept = studio.path(&format!("filemot-journal/photos/{}/{hash}.jpg", &hash[..2]));
    std::fs::write(&kept, b"something else").expect("written");
    studio.run(&["check"]).refused(&["damaged"]);
}

#[test]
fn the_nearest_journal_above_is_used() {
    let studio = Studio::new();
    studio.sheet();
    std::fs::create_dir_all(studio.path("photos/may")).expect("made");
    let output = studio
        .command(&["show", "LB001"])
        .current_dir(studio.path("photos/may"))
        .output()
        .expect("run");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let named = studio
        .command(&["show", "LB001"])
        .env("FILEMOT_JOURNAL", studio.path("other"))
        .output()
        .expect("run");
    assert_eq!(
        named.status.code(),
        Some(1),
        "the environment is believed before what lies above"
    );
}

/// As docs/journal.md tells.
#[test]
fn ground_and_print_come_in_by_an_edited_export() {
    let studio = Studio::new();
    let photo = serde_json::json!({"piece": "M1", "state": "dry", "file": "M1.jpg",
        "swatches": [{"lab": [70.0, 5.0, 50.0], "share": 0.6}, {"lab": [40.0, 8.0, 20.0], "share": 0.4}]});
    let all =
        serde_json::json!({"schema": "filemot/1", "pieces": [{"code": "M1"}], "photos": [photo]});
    studio.write("all.json", all.to_string());
    studio.run(&["import", "all.json"]).good();
    let asked = ["ask", "which piece is the darkest in prints", "--json"];
    let unmarked = studio.json(&asked);
    assert!(
        unmarked["cautions"].to_string().contains("“filemot page”"),
        "{unmarked}"
    );
    let mut export = studio.export();
    export["photos"][0]["swatches"][1]["part"] = "print".into();
    export["photos"][0]["swatches"][1]["plant"] = "walnut".into();
    studio.write("marked.json", export.to_string());
    studio.run(&["import", "marked.json"]).good();
    let marked = studio.json(&asked);
    assert_eq!(marked["groups"][0]["mean"], 40.0, "{marked}");
}
