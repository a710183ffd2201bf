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
        .refused(&["P77", "show"]);
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
        .refused(&[".png"]);
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
