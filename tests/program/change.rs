//! Wet, dry, washed: pieces of known colours, imported, so that no photo needs to be measured.

use crate::support::Studio;
use serde_json::{Value, json};

/// A photo with these colours: L\*, share.
fn photo(piece: &str, state: &str, washes: Option<u32>, colours: &[(f64, f64)]) -> Value {
    let swatch =
        |&(l, share): &(f64, f64)| json!({"lab": [l, 6.0, 20.0], "share": share, "doubt": 0.8});
    let swatches: Vec<Value> = colours.iter().map(swatch).collect();
    json!({"file": format!("{piece}-{state}-{}.jpg", washes.unwrap_or(0)), "piece": piece, "state": state, "washes": washes,
        "light": {"basis": "tag"}, "swatches": swatches})
}

fn known(studio: &Studio) {
    let pieces: Vec<Value> = ["A", "B", "C"]
        .iter()
        .map(|code| json!({"code": code, "rounds": [{"round": 1, "pot": format!("pot {code}")}]}))
        .collect();
    let photos = [
        photo("A", "wet", None, &[(40.0, 0.7), (25.0, 0.3)]),
        photo("A", "dry", None, &[(50.0, 0.7), (33.0, 0.3)]),
        photo("A", "washed", Some(1), &[(51.0, 0.7), (35.0, 0.3)]),
        photo("A", "washed", Some(5), &[(54.0, 0.7), (38.0, 0.3)]),
        photo("A", "worn", Some(5), &[(55.0, 0.7), (39.0, 0.3)]),
        photo("B", "wet", None, &[(45.0, 1.0)]),
        photo("B", "dry", None, &[(53.0, 1.0)]),
        photo("C", "dry", None, &[(53.5, 1.0)]),
    ];
    let all = json!({"schema": "filemot/1", "pieces": pieces, "photos": photos});
    studio.write("known.json", all.to_string());
    studio.run(&["import", "known.json"]).good();
}

#[test]
fn drying_of_pieces_and_of_all() {
    let studio = Studio::new();
    known(&studio);
    let all = studio.json(&["drying", "--json"]);
    let first = &all["pieces"][0];
    let lightening = first["lightening"].as_f64().expect("measured");
    assert!((lightening - 9.4).abs() < 1e-9, "{lightening}");
    assert!(first["low"].as_f64() < Some(9.4) && first["high"].as_f64() > Some(9.4));
    assert_eq!(first["matched"].as_array().expect("a list").len(), 2);
    assert_eq!(all["pieces"][2]["lightening"], Value::Null);
    assert_eq!(all["all"]["pieces"], 2);
    let told = studio.run(&["drying", "a", "C"]).good().out;
    for word in [
        "dried  9.4 L* lighter",
        "how strong the colours are: +0.0",
        "a step of 1 is just seen",
        "no wet photo",
        "Only one of these",
    ] {
        assert!(told.contains(word), "\"{word}\" is missing in:\n{told}");
    }
    studio
        .run(&["drying", "Z"])
        .refused(&["no piece Z", "filemot show"]);
}

#[test]
fn washing_in_grades_and_what_they_are_not() {
    let studio = Studio::new();
    known(&studio);
    let all = studio.json(&["washing", "--json"]);
    assert!(
        all["scale"]
            .as_str()
            .expect("words")
            .ends_with("not a fastness test")
    );
    let grades: Vec<(&Value, &Value, &Value)> = all["pieces"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|p| (&p["washes"], &p["state"], &p["grade"]))
        .collect();
    // The darker colour changed by 2, 5 and 6: by the table of ISO 105-A05 4, 2-3 and 2.
    let wanted = [
        (json!(1), json!("washed"), json!("4")),
        (json!(5), json!("washed"), json!("2-3")),
        (json!(5), json!("worn"), json!("2")),
    ];
    assert_eq!(
        grades,
        wanted.iter().map(|(w, s, g)| (w, s, g)).collect::<Vec<_>>()
    );
    let told = studio.run(&["washing", "A", "C"]).good().out;
    for word in [
        "after 1 wash: grade 4",
        "worn, after 5 washes",
        "became",
        "C       no photo of it washed or worn",
    ] {
        assert!(told.contains(word), "\"{word}\" is missing in:\n{told}");
    }
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = "change in the studio's own wash, estimated from photographs on the ISO 105-A05 scale (D65, 2°); not a fastness test";
    assert!(told.contains(words), "{told}");
    let bands = "ΔE_F is how large the change is, below 0.40 grade 5, from 11.60 on grade 1";
    assert!(told.contains(bands), "{told}");
    let none = Studio::new();
    none.run(&[
        "enter",
        none.write("s.csv", "piece\nX\n").to_str().expect("a path"),
    ])
    .good();
    assert!(none.run(&["washing"]).good().out.contains("--washes 1"));
}

#[test]
fn washing_is_drawn() {
    let studio = Studio::new();
    known(&studio);
    studio.run(&["washing", "A", "--plot", "washes.svg"]).good();
    let svg = studio.read("washes.svg");
    for word in ["grade 4-5", "not a fastness", "ΔE_F", "A: how far"] {
        assert!(svg.contains(word), "{word}");
    }
    studio.run(&["washing", "A", "--plot", "washes.png"]).good();
    let png = std::fs::read(studio.path("washes.png")).expect("drawn");
    assert!(png.starts_with(b"\x89PNG"));
    studio
        .run(&["washing", "C", "--plot", "c.svg"])
        .refused(&["nothing to draw"]);
    studio
        .run(&["washing", "A", "B", "--plot", "c.svg"])
        .misused(&["name one"]);
    studio
        .run(&["washing", "--plot", "c.svg"])
        .misused(&["name one"]);
    studio
        .run(&["washing", "A", "--plot", "c.gif"])
        .misused(&[".svg", ".png"]);
}

#[test]
fn washes_are_said_by_a_claim() {
    let studio = Studio::new();
    known(&studio);
    let out = studio
        .run(&["claim", "C-dry-0.jpg", "C", "--washes", "3"])
        .good()
        .out;
    assert!(out.contains("shows C washed, after 3 washes"), "{out}");
    let all = studio.export();
    let photo = &all["photos"].as_array().expect("a list")[7];
    assert_eq!(
        (&photo["state"], &photo["washes"]),
        (&json!("washed"), &json!(3))
    );
    studio
        .run(&[
            "claim",
            "C-dry-0.jpg",
            "C",
            "--state",
            "wet",
            "--washes",
            "3",
        ])
        .refused(&["--state washed"]);
    studio
        .run(&["claim", "C-dry-0.jpg", "C", "--state", "dry"])
        .good();
    assert_eq!(studio.export()["photos"][7]["washes"], Value::Null);
    for washes in ["0", "-1", "1.5", "501", "4000000000"] {
        let run = studio.run(&["claim", "C-dry-0.jpg", "C", "--washes", washes]);
        let told = format!(
            "filemot: --washes cannot be “{washes}”: how often a piece was washed is a whole number from 1 to 500.\n"
        );
        assert_eq!((run.status, run.err), (2, told));
    }
}

/// The photo itself need not be washed: only what is said of it counts.
#[test]
fn washes_are_taken_from_names_and_the_command_line() {
    let studio = Studio::new();
    studio.sheet();
    studio.write(
        "in/LB001 washed 5.jpg",
        crate::support::season_photo("LB001-dry.jpg"),
    );
    studio.run(&["ingest", "in"]).good();
    studio.photos("later", &["LB002-dry.jpg"]);
    studio.run(&["ingest", "later", "--washes", "2"]).good();
    let all = studio.export();
    let told: Vec<(&Value, &Value)> = all["photos"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|photo| (&photo["state"], &photo["washes"]))
        .collect();
    assert_eq!(
        told,
        [(&json!("washed"), &json!(5)), (&json!("washed"), &json!(2))]
    );
    studio
        .run(&["ingest", "later", "--state", "wet", "--washes", "2"])
        .refused(&["--washes"]);
}

/// Photos of one state that contradict each other, a wash that nobody counted, a colour on next to nothing of the cloth.
#[test]
fn what_is_not_sure_is_said() {
    let studio = Studio::new();
    known(&studio);
    let named = |mut photo: Value, name: &str| {
        photo["file"] = json!(name);
        photo
    };
    let more = json!({"schema": "filemot/1", "pieces": [{"code": "D"}], "photos": [
        named(photo("B", "dry", None, &[(75.0, 1.0)]), "B-dry-again.jpg"),
        named(photo("D", "dry", None, &[(50.0, 0.996), (30.0, 0.004)]), "D-dry.jpg"),
        named(photo("D", "washed", None, &[(52.0, 0.996), (32.0, 0.004)]), "D-washed.jpg"),
    ]});
    studio.write("more.json", more.to_string());
    studio.run(&["import", "more.json"]).good();
    let told = studio.json(&["drying", "B", "--json"]);
    let piece = &told["pieces"][0];
    assert_eq!(
        piece["dry_photos"],
        json!(["B-dry-0.jpg", "B-dry-again.jpg"])
    );
    assert_eq!(piece["dry"], "B-dry-again.jpg");
    let (low, high) = (piece["low"].as_f64(), piece["high"].as_f64());
    assert!(low < Some(8.0) && high > Some(30.0), "{piece}");
    let told = studio.run(&["drying", "B"]).good().out;
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("Two dry photos of B, B-dry-0.jpg and B-dry-again.jpg,"),
        "{told}"
    );
    let told = studio.run(&["washing", "D"]).good().out;
    assert!(!told.contains(" 0 %"), "{told}");
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("how often D had been washed"), "{told}");
    assert!(
        told.contains("filemot claim D-washed.jpg D --washes N"),
        "{told}"
    );
}
