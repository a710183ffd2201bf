use super::super::delimited;
use super::line::COLUMNS;
use super::*;

fn table(rows: &str) -> Table {
    let csv = format!("bath,mordant,on,event,litres,grams,remarks\n{rows}");
    delimited::parse("baths.csv", csv.as_bytes()).expect("the test's own sheet")
}

/// The baths after the sheet, its changes in words.
#[track_caller]
fn check(existing: &[Bath], rows: &str, wanted: &str, told: &[&str]) -> Vec<Bath> {
    let (put, entered) = plan_baths(existing, &table(rows)).unwrap_or_else(|e| panic!("{e}"));
    let mut all = existing.to_vec();
    all.retain(|bath| put.iter().all(|new| new.name != bath.name));
    all.extend(put);
    let events = all.iter().flat_map(|bath| &bath.events);
    let line = |e: &BathEvent| format!("{} {} {}", &e.on[5..], e.what.word(), amounts(e));
    assert_eq!(events.map(line).collect::<Vec<_>>().join("; "), wanted);
    let changes: Vec<String> = entered.changed.iter().map(ToString::to_string).collect();
    assert_eq!(changes, told);
    all
}

#[track_caller]
fn refuse(existing: &[Bath], rows: &str, parts: &[&str]) {
    let error = plan_baths(existing, &table(rows))
        .expect_err(rows)
        .to_string();
    for part in parts {
        assert!(error.contains(part), "{part} in: {error}");
    }
}

const LIFE: &str = "A1,alum,2026-05-01,made,10,500,\nA1,,2026-05-11,Topped up,,100,\n";

#[test]
fn a_bath_is_told_in_rows_and_again_with_changes() {
    let known = check(
        &[],
        LIFE,
        "05-01 made 10 L, 500 g; 05-11 topped up 100 g",
        &[],
    );
    let (put, entered) = plan_baths(&known, &table(LIFE)).expect("the same once more");
    assert_eq!((put.len(), entered.unchanged), (0, 1));
    // One more row by itself is added.
    let known = check(
        &known,
        "a1,,2026-05-21,diluted,5,,\n",
        "05-01 made 10 L, 500 g; 05-11 topped up 100 g; 05-21 diluted 5 L",
        &["A1: diluted on 2026-05-21 is now 5 L"],
    );
    // A sheet that tells the making tells the whole life: the slip in a date goes.
    check(
        &known,
        "A1,,2026-05-21,diluted,6,,\nA1,alum,2026-05-02,made,10,500,\n",
        "05-02 made 10 L, 500 g; 05-21 diluted 6 L",
        &[
            "A1: made on 2026-05-02 is now 10 L, 500 g",
            "A1: diluted on 2026-05-21 was 5 L, is now 6 L",
            "A1: made on 2026-05-01 was 10 L, 500 g, is now taken out",
            "A1: topped up on 2026-05-11 was 100 g, is now taken out",
        ],
    );
}

#[test]
fn a_name_may_be_used_again() {
    let known = check(
        &[],
        "A1,alum,2026-05-01,made,10,500,\nA1,,2026-05-20,discarded,,,\n",
        "05-01 made 10 L, 500 g; 05-20 discarded noted",
        &[],
    );
    check(
        &known,
        "A1,alum,2026-06-01,made,8,400,\n",
        "05-01 made 10 L, 500 g; 05-20 discarded noted; 06-01 made 8 L, 400 g",
        &["A1: made on 2026-06-01 is now 8 L, 400 g"],
    );
}

#[test]
fn refusals_say_row_column_and_what_to_do() {
    refuse(
        &[],
        "A1,alum,2026-05-01,stirred,,,\n",
        &["Row 2, column event", "topped up"],
    );
    refuse(
        &[],
        "A1,alum,2026-05-01,,,,\n",
        &["column event", "write one of made"],
    );
    refuse(
        &[],
        "A1,alum,1/5/2026,made,,,\n",
        &["Row 2, column on", "year first"],
    );
    refuse(&[], "A1,alum,,made,,,\n", &["column on", "no day"]);
    refuse(
        &[],
        ",alum,2026-05-01,made,,,\n",
        &["column bath", "no bath is named"],
    );
    refuse(
        &[],
        "A;1,alum,2026-05-01,made,,,\n",
        &["column bath", "holds “;”"],
    );
    refuse(
        &[],
        "A1,,2026-05-01,made,,,\n",
        &["column mordant", "not written"],
    );
    refuse(
        &[],
        "A1,alum,2026-05-01,made,ten,,\n",
        &["column litres", "not a number"],
    );
    refuse(
        &[],
        "A1,alum,2026-05-01,made,-1,,\n",
        &["column litres", "outside"],
    );
    refuse(
        &[],
        "A1,alum,2026-05-01,made,,,\nA1,iron,2026-05-02,topped up,,5,\n",
        &["alum in one row and iron"],
    );
    refuse(
        &[],
        "A1,alum,2026-05-01,made,,,\nA1,,2026-04-30,diluted,2,,\n",
        &["Row 3: bath A1", "diluted on 2026-04-30"],
    );
    refuse(
        &[],
        "A1,alum,2026-05-01,made,0.001,1000000,\n",
        &["Row 2", "does not dissolve"],
    );
    // Made twice: on a fresh journal and on one that knows the first.
    let twice = "A1,alum,2026-05-01,made,10,500,\nA1,,2026-06-01,made,10,500,\n";
    refuse(&[], twice, &["Row 3", "not thrown out"]);
    let known = check(
        &[],
        LIFE,
        "05-01 made 10 L, 500 g; 05-11 topped up 100 g",
        &[],
    );
    refuse(&known, twice, &["Row 3", "not thrown out"]);
    refuse(&[], "", &["nothing below"]);
    let headless = delimited::parse("b.csv", b"bath,event\nA1,made\n").expect("a table");
    assert!(
        plan_baths(&[], &headless)
            .expect_err("no days")
            .to_string()
            .contains("column “on”")
    );
}

#[test]
fn the_sheet_of_the_docs_is_one() {
    let csv = include_str!("../../../docs/bath-sheet.csv");
    let sheet = delimited::parse("bath-sheet.csv", csv.as_bytes()).expect("a table");
    assert!(is_bath_sheet(&sheet));
    let (baths, entered) = plan_baths(&[], &sheet).unwrap_or_else(|e| panic!("{e}"));
    assert!(baths.len() > 1 && entered.cautions.iter().any(|c| c.code == "alum"));
    let docs = include_str!("../../../docs/sheet.md");
    for column in COLUMNS {
        assert!(docs.contains(&format!("| `{column}` |")), "{column}");
    }
    assert!(docs.contains(csv), "docs/sheet.md shows the bath sheet");
}

#[test]
fn a_sheet_with_pieces_is_none() {
    let sheet = delimited::parse("s.csv", b"piece,bath,event\nA,B,made\n").expect("a table");
    assert!(!is_bath_sheet(&sheet));
}

/// What was shown with a salt of the pieces is not shown again with its bath, nor the other way round.
#[test]
fn cautions_are_shown_the_first_time_only() {
    let folder = tempfile::tempdir().expect("an empty folder");
    let mut journal =
        crate::journal::Journal::open_or_create(folder.path()).expect("a new journal");
    let mut codes = |name: &str, text: &str| {
        let path = folder.path().join(name);
        std::fs::write(&path, text).expect("written");
        let entered = crate::sheet::enter(&mut journal, &path).unwrap_or_else(|e| panic!("{e}"));
        entered
            .cautions
            .into_iter()
            .map(|c| c.code)
            .collect::<Vec<_>>()
    };
    let first = codes("pieces.csv", "piece,mordant\nS1,alum\n");
    assert_eq!(first.len(), care::always().len() + 1);
    let head = "bath,mordant,on,event\n";
    assert_eq!(
        codes("a.csv", &format!("{head}A1,alum,2026-05-01,made\n")),
        [""; 0]
    );
    assert_eq!(
        codes("f.csv", &format!("{head}F1,iron,2026-05-01,made\n")),
        ["iron"]
    );
    assert_eq!(codes("more.csv", "piece,mordant\nS2,iron\n"), [""; 0]);
}
