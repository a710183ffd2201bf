//! What a wet piece will look like dry, as a person asks for it.

use crate::support::{Studio, testdata};
use serde_json::{Value, json};

fn swatch(lab: [f64; 3], share: f64) -> Value {
    json!({"lab": lab, "share": share, "doubt": 1.5})
}

fn photo(name: &str, piece: &str, state: &str, swatches: Vec<Value>) -> Value {
    json!({"file": name, "piece": piece, "state": state, "light": {"basis": "tag"}, "swatches": swatches})
}

/// Pieces that all dry lighter by 12 L\* and hold their hue, and W1, which is still wet.
fn journal(studio: &Studio, pairs: usize) {
    let mut pieces =
        vec![json!({"code": "W1", "fibre": "silk", "rounds": [{"round": 1, "pot": "P9"}]})];
    let mut photos = vec![photo(
        "W1-wet.jpg",
        "W1",
        "wet",
        vec![
            swatch([50.0, 10.0, 24.0], 0.7),
            swatch([34.0, 6.0, 10.0], 0.3),
        ],
    )];
    for n in 0..pairs {
        let code = format!("P{n}");
        let l = 46.0 + n as f64;
        let both = |lighter: f64| {
            vec![
                swatch([l + lighter, 10.0, 24.0], 0.6),
                swatch([l - 14.0 + lighter, 6.0, 10.0], 0.4),
            ]
        };
        pieces.push(json!({"code": code, "fibre": "silk", "rounds": [{"round": 1, "pot": format!("pot {n}")}]}));
        photos.push(photo(&format!("{code}-wet.jpg"), &code, "wet", both(0.0)));
        photos.push(photo(&format!("{code}-dry.jpg"), &code, "dry", both(12.0)));
    }
    let export = json!({"schema": "filemot/1", "pieces": pieces, "photos": photos});
    studio.write("all.json", export.to_string());
    studio.run(&["import", "all.json"]).good();
}

#[test]
fn physics_first_then_the_journals_own_pairs() {
    let studio = Studio::new();
    journal(&studio, 0);
    let alone = studio.json(&["foresee", "W1-wet.jpg", "--json"]);
    assert_eq!(alone["basis"], "physics");
    assert_eq!(alone["pairs"], 0);
    assert_eq!(alone["off"], Value::Null);
    assert_eq!(alone["piece"], "W1");
    assert_eq!(alone["toward"], Value::Null);
    assert!(alone.as_object().expect("fields").contains_key("toward"));
    let studio = Studio::new();
    journal(&studio, 8);
    let taught = studio.json(&["foresee", "W1-wet.jpg", "--json"]);
    assert_eq!(taught["basis"], "journal");
    assert_eq!(taught["pairs"], 8);
    assert!(
        taught["off"].as_f64().is_some_and(|off| off < 1.5),
        "{taught}"
    );
    let first = &taught["swatches"][0];
    assert_eq!(first["wet"], json!([50.0, 10.0, 24.0]));
    let dry = first["dry"][0].as_f64().expect("a number");
    assert!((dry - 62.0).abs() < 1.0, "{dry}");
    for axis in 0..3 {
        let [low, dry, high] = ["low", "dry", "high"].map(|k| first[k][axis].as_f64());
        assert!(low < dry && dry < high, "{first}");
    }
    let wide = |outlook: &Value| {
        let band = &outlook["swatches"][0];
        band["high"][0]
            .as_f64()
            .zip(band["low"][0].as_f64())
            .map(|(h, l)| h - l)
    };
    assert!(wide(&taught) < wide(&alone));
}

#[test]
fn a_wish_has_its_chance() {
    let studio = Studio::new();
    journal(&studio, 8);
    let chance = |toward: &str, within: &str| {
        let told = studio.json(&[
            "foresee", "W1", "--json", "--toward", toward, "--within", within,
        ]);
        told["toward"]["chance"].as_f64().expect("a chance")
    };
    assert!(chance("62,10,24", "6") > 0.8);
    assert!(chance("62,10,24", "6") > chance("62,10,24", "2"));
    assert_eq!(chance("30,-40,20", "5"), 0.0);
    assert!(chance("P4", "8") > 0.5);
    let said = studio.run(&["foresee", "W1", "--toward", "P4"]).good().out;
    assert!(said.contains("within 5 CIEDE2000 of P4"), "{said}");
    assert!(said.contains("8 pieces seen wet and dry"), "{said}");
    studio
        .run(&["foresee", "W1", "--toward", "P77"])
        .refused(&["P77", "colour word of your own"]);
    assert_eq!(chance("p4", "8"), chance("P4", "8"));
    assert_eq!(chance("62, 10, 24", "6"), chance("62,10,24", "6"));
    for odd in ["62,14", "620,8,45", "101,0,0", "62,8,450", "62,x,45"] {
        studio
            .run(&["foresee", "W1", "--toward", odd])
            .misused(&[odd, "not a colour", "0 to 100"]);
    }
    studio
        .run(&["foresee", "W1", "--toward", ""])
        .misused(&["is empty"]);
    studio.run(&["foresee", ""]).misused(&["is empty"]);
    studio
        .run(&["foresee", "W1", "--toward", "#b08"])
        .misused(&["#b08a4e"]);
    // sRGB of IEC 61966-2-1: #808080 is L* 53.585.
    assert_eq!(chance("#808080", "20"), chance("53.585,0,0", "20"));
    for near in ["0", "-3", "101", "wide"] {
        let run = studio.run(&["foresee", "W1", "--toward", "P4", "--within", near]);
        assert_eq!((run.status, run.out.as_str()), (2, ""));
        let told = format!(
            "filemot: --within cannot be “{near}”: how near counts is a number from 0.1 to 100.\n"
        );
        assert_eq!(run.err, told);
    }
    studio
        .run(&["foresee", "W1", "--toward", "W1"])
        .refused(&["no dry photo of W1"]);
}

#[test]
fn it_is_drawn() {
    let studio = Studio::new();
    journal(&studio, 2);
    studio.run(&["foresee", "W1", "--plot", "w1.svg"]).good();
    assert!(studio.read("w1.svg").contains("<svg"));
    studio.run(&["foresee", "W1", "--plot", "w1.png"]).good();
    assert!(std::fs::read(studio.path("w1.png")).is_ok_and(|b| b.starts_with(b"\x89PNG")));
    studio
        .run(&["foresee", "W1", "--plot", "w1.jpg"])
        .misused(&["--plot", ".png"]);
}

#[test]
fn what_cannot_be_foreseen_is_told() {
    let studio = Studio::new();
    journal(&studio, 1);
    studio
        .run(&["foresee", "P0-dry.jpg"])
        .refused(&["dry", "claim"]);
    studio
        .run(&["foresee", "nothing.jpg"])
        .refused(&["nothing.jpg"]);
    studio.write("broken.jpg", b"no photo");
    studio
        .run(&["foresee", "broken.jpg"])
        .refused(&["broken.jpg"]);
    let bare = json!({"schema": "filemot/1", "pieces": [{"code": "D1"}], "photos": [
        photo("D1-dry.jpg", "D1", "dry", vec![swatch([60.0, 1.0, 9.0], 1.0)]),
        photo("E1-wet.jpg", "E1", "wet", vec![]),
    ]});
    studio.write("bare.json", bare.to_string());
    studio.run(&["import", "bare.json"]).good();
    studio
        .run(&["foresee", "D1"])
        .refused(&["no wet photo of D1"]);
    studio
        .run(&["foresee", "E1-wet.jpg"])
        .refused(&["No piece was found"]);
}

/// A piece that dried darker by its photos teaches nothing.
#[test]
fn pairs_that_were_mixed_up_are_left_out() {
    let studio = Studio::new();
    journal(&studio, 1);
    let mixed = json!({"schema": "filemot/1", "pieces": [{"code": "M1"}], "photos": [
        photo("M1-wet.jpg", "M1", "wet", vec![swatch([70.0, 5.0, 20.0], 1.0)]),
        photo("M1-dry.jpg", "M1", "dry", vec![swatch([58.0, 5.0, 20.0], 1.0)]),
    ]});
    studio.write("mixed.json", mixed.to_string());
    studio.run(&["import", "mixed.json"]).good();
    let told = studio.json(&["foresee", "W1", "--json"]);
    assert_eq!(told["pairs"], 1);
    let codes = told["cautions"].as_array().expect("cautions");
    assert!(codes.iter().any(|c| c["code"] == "pair-left-out"), "{told}");
}

/// Nor does what drying cannot be measured of: two guessed lights, one photo under two names.
#[test]
fn pairs_that_drying_refuses_teach_nothing() {
    let studio = Studio::new();
    journal(&studio, 1);
    let guessed = |mut photo: Value| {
        photo["light"]["basis"] = json!("assumed");
        photo
    };
    let odd = json!({"schema": "filemot/1", "pieces": [{"code": "G1"}, {"code": "S1"}], "photos": [
        guessed(photo("G1-wet.jpg", "G1", "wet", vec![swatch([40.0, 5.0, 20.0], 1.0)])),
        guessed(photo("G1-dry.jpg", "G1", "dry", vec![swatch([68.0, 5.0, 20.0], 1.0)])),
        photo("S1-wet.jpg", "S1", "wet", vec![swatch([50.0, 5.0, 20.0], 1.0)]),
        photo("S1-dry.jpg", "S1", "dry", vec![swatch([50.0, 5.0, 20.0], 1.0)]),
    ]});
    studio.write("odd.json", odd.to_string());
    studio.run(&["import", "odd.json"]).good();
    assert_eq!(studio.json(&["foresee", "W1", "--json"])["pairs"], 1);
}

/// A photo from the card in the phone is measured and not kept, and its piece need not be known.
#[test]
fn a_file_is_looked_at_and_not_kept() {
    let studio = Studio::new();
    journal(&studio, 0);
    let wet = testdata("season/photos").join("LB001-wet.jpg");
    let wet = wet.to_str().expect("a plain path");
    let before = studio.export();
    let told = studio.json(&["foresee", wet, "--json"]);
    assert_eq!(studio.export(), before);
    assert!(told["swatches"].as_array().is_some_and(|s| !s.is_empty()));
    let codes = told["cautions"].as_array().expect("cautions");
    for code in ["settings-unknown", "physics-alone"] {
        assert!(codes.iter().any(|c| c["code"] == code), "{code}: {told}");
    }
}

/// A dry photo that is older than the wet one teaches nothing, as it counts in no mean of drying.
#[test]
fn a_dry_photo_from_before_teaches_nothing() {
    let studio = Studio::new();
    journal(&studio, 1);
    let at = |mut photo: Value, taken: &str| {
        photo["taken"] = json!(taken);
        photo
    };
    let swapped = json!({"schema": "filemot/1", "pieces": [{"code": "D1"}], "photos": [
        at(photo("D1-wet.jpg", "D1", "wet", vec![swatch([40.0, 5.0, 20.0], 1.0)]), "2026-05-02T10:00:00"),
        at(photo("D1-dry.jpg", "D1", "dry", vec![swatch([52.0, 5.0, 20.0], 1.0)]), "2026-05-01T10:00:00"),
    ]});
    studio.write("swapped.json", swapped.to_string());
    studio.run(&["import", "swapped.json"]).good();
    let told = studio.json(&["foresee", "W1", "--json"]);
    assert_eq!(told["pairs"], 1);
    let codes = told["cautions"].as_array().expect("cautions");
    let left = codes.iter().find(|c| c["code"] == "pair-left-out");
    assert!(
        left.is_some_and(|c| c["text"].as_str().is_some_and(|t| t.contains("D1"))),
        "{told}"
    );
    assert_eq!(studio.json(&["drying", "--json"])["all"]["pieces"], 1);
}

/// What whoever asks says of a photo of the journal counts for the answer, and the journal stays as it is.
#[test]
fn a_state_is_said_for_one_answer() {
    let studio = Studio::new();
    journal(&studio, 2);
    let before = studio.export();
    let told = studio.json(&["foresee", "P0-dry.jpg", "--state", "wet", "--json"]);
    assert_eq!(told["piece"], "P0");
    assert_eq!(told["pairs"], 1);
    let codes = told["cautions"].as_array().expect("cautions");
    let said = codes.iter().find(|c| c["code"] == "state-as-asked");
    assert!(
        said.is_some_and(|c| c["text"].as_str().is_some_and(|t| t.contains("as dry"))),
        "{told}"
    );
    assert_eq!(studio.export(), before);
    studio
        .run(&["foresee", "P0-wet.jpg", "--state", "dry"])
        .refused(&["dry", "--state wet"]);
}

/// Without a journal a photo is foreseen by physics, and no journal is made for it.
#[test]
fn no_journal_is_needed() {
    let studio = Studio::new();
    let wet = testdata("season/photos").join("LB001-wet.jpg");
    let wet = wet.to_str().expect("a plain path");
    let told = studio.json(&["foresee", wet, "--toward", "60,5,20", "--json"]);
    assert_eq!(told["basis"], "physics");
    assert!(told["toward"]["chance"].is_number(), "{told}");
    assert!(!studio.path("filemot-journal").exists());
    studio
        .run(&["foresee", "gone.jpg"])
        .refused(&["no file gone.jpg", "--journal"]);
    studio
        .run(&["foresee", wet, "--toward", "LB003"])
        .refused(&["LB003", "neither"]);
    // One that is named is meant.
    studio
        .run(&["--journal", "gone", "foresee", wet])
        .refused(&["no journal at gone"]);
    studio.run(&["foresee", "."]).refused(&["is a folder"]);
    studio
        .run(&["foresee", wet, "--state", "dry"])
        .refused(&["You said with --state", "only a wet piece"]);
}

/// Words of the studio's own may be long; no line of the table is longer than an 80-column terminal for it.
#[test]
fn long_words_leave_the_table_whole() {
    let studio = Studio::new();
    journal(&studio, 1);
    let word = "the brown of oak bark after rain";
    studio
        .run(&["words", "add", word, "61,10,24", "--within", "30"])
        .good();
    let told = studio.run(&["foresee", "W1"]).good().out;
    let lines: Vec<&str> = told.lines().filter(|l| l.contains("dry L*")).collect();
    assert_eq!(lines.len(), 2, "{told}");
    assert!(
        lines.iter().all(|line| line.chars().count() <= 80),
        "{told}"
    );
    assert!(told.contains("just seen side by side"), "{told}");
}

/// A piece that will dry as it is.
#[test]
fn no_lighter_is_told_in_words() {
    let studio = Studio::new();
    let white = json!({"schema": "filemot/1", "pieces": [{"code": "N1"}], "photos": [
        photo("N1-wet.jpg", "N1", "wet", vec![swatch([97.0, 0.0, 3.0], 1.0)]),
    ]});
    studio.write("white.json", white.to_string());
    studio.run(&["import", "white.json"]).good();
    let told = studio.run(&["foresee", "N1"]).good().out;
    assert!(
        told.contains("N1 will be as light dry as it is wet, as far as this can tell."),
        "{told}"
    );
}

/// What the journal keeps for itself is no place for a plot.
#[test]
fn nothing_is_drawn_into_the_journals_own_folders() {
    let studio = Studio::new();
    studio.sheet();
    studio.photos("in", &["LB001-wet.jpg"]);
    studio.run(&["ingest", "in"]).good();
    for place in [
        "filemot-journal/photos/x.svg",
        "filemot-journal/backups/../photos/x.svg",
        "filemot-journal/journal.sqlite-wal.svg",
    ] {
        std::fs::create_dir_all(studio.path("filemot-journal/backups")).expect("made");
        studio
            .run(&["foresee", "LB001", "--plot", place])
            .refused(&["keeps for itself", "another folder"]);
        assert!(!studio.path(place).exists(), "{place}");
    }
    let inside = |arguments: &[&str]| studio.run(arguments).refused(&["keeps for itself"]);
    inside(&["export", "--out", "filemot-journal/photos/all.json"]);
    inside(&["show", "LB001", "--overlay", "filemot-journal/photos/x.png"]);
    inside(&["backup", "filemot-journal/photos/copy.sqlite"]);
    studio
        .run(&["foresee", "LB001", "--plot", "filemot-journal/x.svg"])
        .good();
}
