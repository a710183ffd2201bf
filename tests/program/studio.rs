//! A studio's day: sheet in, tags printed, questions asked, notes written.

use crate::support::Studio;
use serde_json::Value;

/// A journal with pieces of known colours; no photo needs to be measured for it.
fn known(studio: &Studio) {
    let colour =
        |lab: [f64; 3], share: f64| serde_json::json!({"lab": lab, "share": share, "doubt": 1.0});
    let piece = |code: &str, pot: &str, mordant: &str| serde_json::json!({"code": code, "fibre": "silk", "rounds": [{"round": 1, "pot": pot, "soaks": [{"mordant": mordant}]}]});
    let photo = |code: &str, state: &str, lightness: f64, b: f64| serde_json::json!({"piece": code, "state": state, "swatches": [colour([lightness, 6.0, b], 0.75), colour([40.0, 4.0, 10.0], 0.25)]});
    let mut pieces = Vec::new();
    let mut photos = Vec::new();
    for (n, (mordant, b)) in [("alum", 62.0), ("iron", 45.0)].into_iter().enumerate() {
        for pot in 0..4 {
            let code = format!("K{n}{pot}");
            let drift = f64::from(pot);
            pieces.push(piece(&code, &format!("P{n}{pot}"), mordant));
            photos.push(photo(&code, "wet", 62.0, b + drift));
            photos.push(photo(&code, "dry", 70.0 + drift, b + drift));
        }
    }
    let all = serde_json::json!({"schema": "filemot/1", "pieces": pieces, "photos": photos});
    studio.write("known.json", all.to_string());
    studio.run(&["import", "known.json"]).good();
}

#[test]
fn the_tour_runs_twice_and_leaves_a_journal_and_a_note() {
    let studio = Studio::new();
    for _ in 0..2 {
        let run = studio.run(&["tour"]).good();
        for word in [
            "LB001",
            "yellow",
            "lighter",
            "warmest yellows",
            "Written to",
            "filemot ingest FOLDER",
        ] {
            assert!(
                run.out.contains(word),
                "\"{word}\" is missing in:\n{}",
                run.out
            );
        }
        assert!(
            !run.out.contains('\x1b'),
            "no colour where there is no terminal"
        );
    }
    let notes: Vec<_> = std::fs::read_dir(studio.path("filemot-tour"))
        .expect("the tour's folder")
        .flatten()
        .collect();
    assert!(notes.iter().any(|entry| {
        entry
            .path()
            .extension()
            .is_some_and(|ending| ending == "html")
    }));
    assert!(
        !studio.path("filemot-journal").exists(),
        "nothing outside the tour's folder is touched"
    );
}

#[test]
fn a_question_is_answered_with_pots_as_evidence() {
    let studio = Studio::new();
    known(&studio);
    let answer = studio.json(&["ask", "Which mordant gave the warmest yellows?", "--json"]);
    assert_eq!(answer["read_as"]["measure"], "warmth");
    assert_eq!(answer["read_as"]["family"], "yellow");
    assert_eq!(answer["read_as"]["by"], "mordant");
    assert_eq!(answer["read_as"]["state"], "dry");
    assert_eq!(answer["groups"][0]["value"], "alum");
    assert_eq!(
        (&answer["groups"][0]["pieces"], &answer["groups"][0]["pots"]),
        (&4.into(), &4.into())
    );
    assert_eq!(answer["verdict"]["leader"], "alum");
    assert_eq!(answer["verdict"]["holds"], true);
    let words = studio
        .run(&["ask", "which mordant gave the warmest yellows"])
        .good()
        .out;
    assert!(
        words.contains("alum") && words.contains("Read as"),
        "{words}"
    );
    let table = studio
        .run(&["ask", "which mordant gave the warmest yellows", "--csv"])
        .good()
        .out;
    assert_eq!(table.lines().count(), 9, "{table}");
}

#[test]
fn a_question_that_cannot_be_read_is_refused_with_what_can() {
    let studio = Studio::new();
    known(&studio);
    studio
        .run(&["ask", "which mordent gave the warmest yellows"])
        .refused(&["mordent", "mordant"]);
    studio.run(&["ask", "what is love"]).refused(&["love"]);
}

#[test]
fn drying_is_the_difference_of_area_weighted_lightness() {
    let studio = Studio::new();
    known(&studio);
    let drying = studio.json(&["drying", "K01", "--json"]);
    // By hand: 0.75 of the cloth went from L* 62 to 71, the rest stayed.
    let lightening = drying["pieces"][0]["lightening"]
        .as_f64()
        .expect("a number");
    assert!((lightening - 0.75 * 9.0).abs() < 1e-9, "{lightening}");
    let all = studio.json(&["drying", "--json"]);
    assert_eq!(all["all"]["pieces"], 8);
    studio.run(&["drying", "K99"]).refused(&["K99"]);
}

#[test]
fn a_note_is_written_as_text_and_as_one_page() {
    let studio = Studio::new();
    studio.sheet();
    studio.photos("in", &["LB001-dry.jpg"]);
    studio.run(&["ingest", "in"]).good();
    let text = studio.run(&["note", "LB001"]).good().out;
    assert!(text.contains("LB001") && text.contains("walnut"), "{text}");
    let run = studio
        .run(&["note", "LB001", "--format", "html", "--out", "notes"])
        .good();
    let name = run
        .out
        .trim()
        .trim_start_matches("Written to ")
        .trim_end_matches('.')
        .to_owned();
    let page = studio.read(&name);
    assert!(
        page.contains("data:image/jpeg;base64,"),
        "the piece's own picture is in it"
    );
    assert!(
        !page.contains("<script") && !page.contains("http://") && !page.contains("https://"),
        "it needs nothing else"
    );
    studio.run(&["note", "LB002"]).refused(&["LB002"]);
    studio.run(&["note", "LB999"]).refused(&["LB999"]);
}

#[test]
fn show_tells_settings_colours_and_cautions() {
    let studio = Studio::new();
    studio.sheet();
    studio.photos("in", &["LB001-wet.jpg", "LB001-dry.jpg"]);
    studio.run(&["ingest", "in"]).good();
    let out = studio.run(&["show", "LB001"]).good().out;
    for word in [
        "titanium oxalate",
        "walnut",
        "81 to 87 °C",
        "light from the tag",
        "lighter",
        "oxalate",
    ] {
        assert!(out.contains(word), "\"{word}\" is missing in:\n{out}");
    }
    studio.run(&["set", "unit", "F"]).good();
    assert!(
        studio
            .run(&["show", "LB001"])
            .good()
            .out
            .contains("177.8 to 188.6 °F")
    );
    let json = studio.json(&["show", "LB001", "--json"]);
    assert_eq!(json["code"], "LB001");
    assert_eq!(json["photos"].as_array().map(Vec::len), Some(2));
    let photo = studio.run(&["show", "LB001-dry.jpg"]).good().out;
    assert!(photo.contains("light from the tag"), "{photo}");
    studio.run(&["show", "LB1"]).refused(&["LB1"]);
}

#[test]
fn a_sheet_entered_again_says_what_changed() {
    let studio = Studio::new();
    studio.write(
        "s.csv",
        "piece,mordant,width_cm\nA1,alum 12%,35\nA2,iron 2%,35\n",
    );
    let first = studio.run(&["enter", "s.csv"]).good().out;
    assert!(
        first.contains("2 new pieces") && first.contains("lock"),
        "first use of a salt shows its cautions:\n{first}"
    );
    let again = studio.run(&["enter", "s.csv"]).good().out;
    assert!(
        again.contains("0 changes") && !again.contains("lock"),
        "cautions are shown once:\n{again}"
    );
    studio.write(
        "s.csv",
        "piece,mordant,width_cm\nA1,alum 12%,40\nA2,iron 2%,35\n",
    );
    let edited = studio.run(&["enter", "s.csv"]).good().out;
    assert!(
        edited.contains("A1: width_cm was 35, is now 40"),
        "{edited}"
    );
    let sheet = studio.run(&["export", "--format", "csv"]).good().out;
    studio.write("back.csv", &sheet);
    assert!(
        studio
            .run(&["enter", "back.csv"])
            .good()
            .out
            .contains("0 changes"),
        "an exported sheet says nothing new:\n{sheet}"
    );
}

#[test]
fn paper_and_ink_once_known_make_colours_surer() {
    let studio = Studio::new();
    studio.photos("in", &["LB001-dry.jpg"]);
    studio.run(&["ingest", "in"]).good();
    let doubt = |export: &Value| {
        export["photos"][0]["swatches"][0]["doubt"]
            .as_f64()
            .expect("a doubt")
    };
    let before = studio.export();
    assert!(
        before["photos"][0]["cautions"]
            .to_string()
            .contains("paper-assumed")
    );
    studio
        .run(&["set", "paper", "96,0,0", "ink", "25,0,0"])
        .good();
    studio.run(&["remeasure"]).good();
    let after = studio.export();
    assert!(
        !after["photos"][0]["cautions"]
            .to_string()
            .contains("paper-assumed")
    );
    assert!(
        doubt(&after) < doubt(&before),
        "{} {}",
        doubt(&after),
        doubt(&before)
    );
    assert_eq!(
        after["photos"][0]["earlier"].as_array().map(Vec::len),
        Some(1),
        "the old reading stays"
    );
    studio
        .run(&["set", "paper", "white"])
        .refused(&["white", "95.5,0.3,-1.2"]);
    studio.run(&["set", "mood", "good"]).refused(&["mood"]);
}

#[test]
fn tags_are_written_as_pdf_and_svg() {
    let studio = Studio::new();
    studio.run(&["tags", "LB001", "LB002", "--states"]).good();
    assert!(
        std::fs::read(studio.path("tags.pdf"))
            .expect("a file")
            .starts_with(b"%PDF-")
    );
    studio
        .run(&["tags", "LB001", "--out", "t.svg", "--page", "letter"])
        .good();
    let svg = studio.read("t.svg");
    assert!(
        svg.contains("<svg") && svg.contains("LB001") && svg.contains("brightener"),
        "code and paper stand in print"
    );
    studio
        .run(&["tags", "LB001", "--out", "t.doc"])
        .refused(&[".pdf or .svg"]);
    studio
        .run(&["tags", "LB001", "--out", "nowhere/t.pdf"])
        .refused(&["nowhere"]);
}

#[test]
fn show_without_a_name_lists_the_pieces() {
    let studio = Studio::new();
    studio.sheet();
    studio.photos("in", &["LB003-wet.jpg", "LB003-dry.jpg"]);
    studio.run(&["ingest", "in"]).good();
    let out = studio.run(&["show"]).good().out;
    assert_eq!(out.lines().count(), 9, "{out}");
    assert!(out.contains("LB001   no photo yet"), "{out}");
    let line = out
        .lines()
        .find(|line| line.starts_with("LB003"))
        .expect("a line");
    assert!(line.contains("yellow"), "{line}");
}

#[test]
fn a_claim_settles_what_the_name_left_open() {
    let studio = Studio::new();
    studio.write(
        "in/IMG_1.jpg",
        crate::support::season_photo("LB001-wet.jpg"),
    );
    studio.run(&["ingest", "in"]).good();
    let said = |studio: &Studio| studio.export()["photos"][0]["cautions"].to_string();
    assert!(said(&studio).contains("state-taken-as-dry"));
    studio
        .run(&["claim", "IMG_1.jpg", "LB001", "--state", "wet"])
        .good();
    assert!(
        !said(&studio).contains("state-taken-as-dry"),
        "{}",
        said(&studio)
    );
    studio.run(&["remeasure"]).good();
    assert!(
        !said(&studio).contains("state-taken-as-dry"),
        "{}",
        said(&studio)
    );
}

#[test]
fn an_answer_names_temperatures_in_the_studios_unit() {
    let studio = Studio::new();
    studio.write(
        "s.csv",
        "piece,pot,simmer_low_c,simmer_high_c\nA1,P1,80,84\nA2,P2,88,92\n",
    );
    studio.run(&["enter", "s.csv"]).good();
    let photo = |piece: &str, l: f64| serde_json::json!({"piece": piece, "state": "dry", "swatches": [{"lab": [l, 5.0, 40.0], "share": 1.0}]});
    let known = serde_json::json!({"schema": "filemot/1", "photos": [photo("A1", 60.0), photo("A2", 50.0)]});
    studio.write("known.json", known.to_string());
    studio.run(&["import", "known.json"]).good();
    studio.run(&["set", "unit", "F"]).good();
    let question = "which simmer temperature gave the darkest pieces";
    let words = studio.run(&["ask", question]).good().out;
    // 90 °C is 194 °F by the definition of the degree Fahrenheit.
    assert!(words.contains("194 °F") && !words.contains("°C"), "{words}");
    assert_eq!(
        studio.json(&["ask", question, "--json"])["groups"][0]["value"],
        "90 °C"
    );
}
