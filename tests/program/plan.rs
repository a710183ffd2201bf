//! Plans and mordant baths.

use crate::support::Studio;

const SHEET: &str = "piece,made,fibre,momme,width_cm,length_cm,mordant,heat
LB061,2026-05-13,silk,8,55,55,alum 15%,simmer
LB062,2026-05-13,silk,8,55,55,alum 15% > iron,simmer
";

const BATHS: &str = "bath,mordant,on,event,litres,grams
A1,alum,2026-05-01,made,10,500
A1,,2026-05-11,topped up,,100
";

/// By hand: two squares of 10.50 g, 15 % of 21 g is 3.15 g, and 0.63 L of water up to the next tenth.
#[test]
fn a_plan_is_shown_and_nothing_is_stored() {
    let studio = Studio::new();
    studio.write("next.csv", SHEET);
    let plan = studio.run(&["plan", "next.csv"]).good().out;
    for word in [
        "safety sheet",
        "Tuesday 2026-05-12",
        "[ ] Soak in alum: LB061, LB062 (21.0 g)",
        "0.7 L of water · alum 3.15 g",
        "LB062: how strong the iron is",
        "the program's own assumption",
    ] {
        assert!(plan.contains(word), "\"{word}\" is missing in:\n{plan}");
    }
    assert!(!studio.path("filemot-journal").exists());
    let json = studio.json(&["plan", "next.csv", "--json"]);
    assert_eq!(json["pieces"], 2);
    assert_eq!(json["days"][0]["date"], "2026-05-11");
    assert_eq!(json["days"][1]["steps"][0]["litres"], 0.7);
}

#[test]
fn a_plan_is_printed() {
    let studio = Studio::new();
    studio.write("next.csv", SHEET);
    for name in ["plan.pdf", "plan.txt", "plan.svg"] {
        let told = studio.run(&["plan", "next.csv", "--out", name]).good().out;
        assert!(
            told.contains("Written to") && told.contains("LB062"),
            "{told}"
        );
    }
    let pdf = std::fs::read(studio.path("plan.pdf")).expect("written");
    assert!(pdf.starts_with(b"%PDF") && pdf.len() > 5_000);
    assert!(studio.read("plan.txt").contains("[ ] Scour"));
    studio
        .run(&["plan", "next.csv", "--out", "plan.doc"])
        .refused(&["plan.doc", ".pdf"]);
    assert_eq!(studio.run(&["plan"]).status, 2);
    studio.write("none.csv", "code,made\nLB1,2026-05-03\n");
    studio
        .run(&["plan", "none.csv"])
        .refused(&["piece", "was not planned"]);
    studio.run(&["plan", "gone.csv"]).refused(&["gone.csv"]);
    studio.write("bad.csv", "piece,width_cm,mordant\nLB1,wide,alum 5%\n");
    studio
        .run(&["plan", "bad.csv"])
        .refused(&["bad.csv", "width_cm"]);
}

#[test]
fn habits_are_entered_once() {
    let studio = Studio::new();
    studio.write("next.csv", SHEET);
    let told = studio
        .run(&["set", "liquor-ratio", "50", "wof", "iron", "2"])
        .good()
        .out;
    assert!(
        told.contains("liquor-ratio   50") && !told.contains("remeasure"),
        "{told}"
    );
    let plan = studio.run(&["plan", "next.csv"]).good().out;
    assert!(plan.contains("1.1 L of water · alum 3.15 g"), "{plan}");
    assert!(
        plan.contains("iron 0.21 g") && !plan.contains("Left open"),
        "{plan}"
    );
    studio
        .run(&["set", "liquor-ratio", "1:30"])
        .refused(&["liquor-ratio", "5 to 200"]);
    studio
        .run(&["set", "wof", "alum", "200"])
        .refused(&["wof alum", "100"]);
    for (mordant, percent, part) in [
        ("chrome", "3", "home studio"),
        ("", "3", "not written"),
        ("alum > iron", "3", "more than one"),
        ("iron", "50", "at most 15"),
    ] {
        studio
            .run(&["set", "wof", mordant, percent])
            .refused(&[part]);
    }
    let told = studio
        .run(&["set", "wof", "iron", "none", "liquor-ratio", "none"])
        .good()
        .out;
    assert!(
        told.contains("liquor-ratio   30, assumed") && !told.contains("wof iron"),
        "{told}"
    );
    studio
        .run(&["set", "liquor", "30"])
        .refused(&["liquor-ratio"]);
}

#[test]
fn pieces_like_one_of_the_journal_are_planned() {
    let studio = Studio::new();
    studio
        .run(&["plan", "--like", "LB061"])
        .refused(&["no journal"]);
    studio.write("done.csv", SHEET);
    studio.run(&["enter", "done.csv"]).good();
    let plan = studio
        .run(&["plan", "--like", "lb061", "--pieces", "3"])
        .good()
        .out;
    assert!(
        plan.contains("Plan for 3 pieces, 31.5 g") && plan.contains("Day 1"),
        "{plan}"
    );
    studio.run(&["plan", "--like", "LB999"]).refused(&["LB999"]);
}

/// By hand: 600 g in 10 L are 60 g/L; from the 1st to the 12th of May are 11 days, from the 11th one.
#[test]
fn a_bath_grows_old() {
    let studio = Studio::new();
    studio.write(
        "pieces.csv",
        SHEET.replace("alum 15%,", "\"alum 15% [2026-05-12, bath A1]\","),
    );
    let told = studio.run(&["enter", "pieces.csv"]).good().out;
    assert!(told.contains("No bath A1"), "{told}");
    studio.write("baths.csv", BATHS);
    let told = studio.run(&["enter", "baths.csv"]).good().out;
    assert!(told.contains("1 new bath, 0 changes"), "{told}");
    let told = studio.run(&["enter", "baths.csv"]).good().out;
    assert!(
        told.contains("0 new baths, 0 changes, 1 unchanged"),
        "{told}"
    );
    let shown = studio.run(&["show", "LB061"]).good().out;
    let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    for word in [
        "in bath A1 on 2026-05-12",
        "A1, 11 days old",
        "1 day before",
        "60 g/L",
    ] {
        assert!(shown.contains(word), "\"{word}\" is missing in:\n{shown}");
    }
    // A soak in a bath of another mordant, and one before its bath was made.
    studio.write(
        "odd.csv",
        "piece,made,mordant\nLB063,2026-05-12,iron 2% [bath A1]\nLB064,2026-04-12,alum 2% [bath A1]\n",
    );
    let told = studio.run(&["enter", "odd.csv"]).good().out;
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        told.contains("Bath A1 holds alum") && told.contains("not yet made"),
        "{told}"
    );
    let shown = studio.run(&["show", "LB063"]).good().out;
    assert!(
        shown.contains("A1 holds alum") && !shown.contains("days old"),
        "{shown}"
    );
    studio.write(
        "slip.csv",
        "bath,mordant,on,event\nA1,alum,2026-05-20,watered\n",
    );
    studio
        .run(&["enter", "slip.csv"])
        .refused(&["Row 2, column event", "diluted"]);

    let export = studio.export();
    assert_eq!(export["baths"][0]["events"][1]["what"], "topped up");
    assert_eq!(export["pieces"][0]["rounds"][0]["soaks"][0]["bath"], "A1");
    let other = Studio::new();
    other.write("all.json", export.to_string());
    let told = other.run(&["import", "all.json"]).good().out;
    assert!(told.contains("1 bath is new"), "{told}");
    let told = other.run(&["import", "all.json"]).good().out;
    assert!(!told.contains("bath"), "{told}");
    assert_eq!(other.export(), export);
    assert!(other.run(&["check"]).good().out.len() > 5);
    let sheet = other.run(&["export", "--format", "csv"]).good().out;
    assert!(
        sheet.contains("\"alum 15% [2026-05-12, bath A1]\""),
        "{sheet}"
    );
}
