use super::super::{delimited, example, write_csv};
use super::*;
use crate::journal::record::{HeatKind, Setting};

fn table(csv: &str) -> Table {
    delimited::parse("s.csv", csv.as_bytes()).expect("the test's own sheet")
}

/// The journal's pieces after a sheet, with the account.
fn after(existing: &[Piece], csv: &str) -> (Vec<Piece>, Entered) {
    let (put, entered) = plan_changes(existing, &table(csv)).unwrap_or_else(|e| panic!("{e}"));
    let mut all: BTreeMap<String, Piece> = existing
        .iter()
        .map(|p| (p.code.clone(), p.clone()))
        .collect();
    all.extend(put.into_iter().map(|p| (p.code.clone(), p)));
    (all.into_values().collect(), entered)
}

#[track_caller]
fn check(existing: &[Piece], csv: &str, changes: &[(&str, &str, &str)]) -> Vec<Piece> {
    let (all, entered) = after(existing, csv);
    let got: Vec<_> = entered
        .changed
        .iter()
        .map(|c| (c.field.as_str(), c.from.as_str(), c.to.as_str()))
        .collect();
    assert_eq!(got, changes);
    all
}

#[test]
fn every_column_of_the_example_lands() {
    let (all, entered) = after(&[], example());
    assert_eq!(entered.new, ["LB001", "LB002", "LB003", "LB004"]);
    let one = &all[0];
    assert_eq!(one.fibre.as_deref(), Some("silk"));
    assert_eq!((one.gsm, one.dry_g), (Some(52.08), Some(29.16)));
    let round = &one.rounds[0];
    assert_eq!(round.soaks[0].on.as_deref(), Some("2026-05-01"));
    assert_eq!(round.plants[0].how, ["fresh", "vein side down"]);
    assert_eq!(round.settings["cool_h"], Setting::Number(12.0));
    let heat = round.heat.clone().unwrap();
    assert_eq!(
        (heat.kind, heat.low_c, heat.high_c),
        (Some(HeatKind::Simmer), Some(82.0), Some(88.0))
    );
    let twice = &all[3];
    assert_eq!(twice.rounds.len(), 2);
    assert_eq!(
        twice.fibre.as_deref(),
        Some("wool"),
        "an empty cell of round 2 clears nothing told in round 1"
    );
}

#[test]
fn again_unchanged_and_again_with_changes() {
    let (all, _) = after(&[], example());
    let (same, entered) = after(&all, example());
    assert_eq!(
        (same, entered),
        (
            all.clone(),
            Entered {
                unchanged: 4,
                ..Entered::default()
            }
        )
    );
    let edited = example()
        .replace("clear ribs", "clear ribs, darker")
        .replace(
            "LB001,B01,P01,1,2026-05-03,1",
            "LB001,B01,P01,1,2026-05-04,1",
        );
    let edited = edited.replace("clear ribs, darker", "\"clear ribs, darker\"");
    check(
        &all,
        &edited,
        &[
            ("made", "2026-05-03", "2026-05-04"),
            ("remarks", "clear ribs", "clear ribs, darker"),
        ],
    );
}

#[test]
fn absent_columns_stay_and_empty_cells_clear() {
    let (all, _) = after(&[], "piece,fibre,moon,mordant\nA1,silk,full,alum\n");
    let all = check(&all, "piece,status\nA1,Sold\n", &[("status", "", "sold")]);
    assert_eq!(all[0].rounds.len(), 1);
    let all = check(
        &all,
        "piece,Moon,fibre,mordant\nA1,,,\n",
        &[
            ("fibre", "silk", ""),
            ("mordant", "alum", ""),
            ("moon", "full", ""),
        ],
    );
    assert_eq!(all[0].status.as_deref(), Some("sold"));
}

#[test]
fn a_setting_keeps_its_first_spelling() {
    let (all, _) = after(&[], "piece,Moon phase\nA1,3\n");
    let all = check(
        &all,
        "piece,moon_PHASE\nA1,4.5\n",
        &[("Moon phase", "3", "4.5")],
    );
    assert_eq!(
        all[0].rounds[0].settings["Moon phase"],
        Setting::Number(4.5)
    );
}

#[test]
fn settings_that_only_look_like_numbers_stay_text() {
    let (all, _) = after(
        &[],
        "piece,a,b,c,d,e\nA1,007,12345678901234567890,0.5,NaN,+3\n",
    );
    let got: Vec<_> = all[0].rounds[0]
        .settings
        .values()
        .map(write::print_setting)
        .collect();
    assert_eq!(got, ["007", "12345678901234567890", "0.5", "NaN", "+3"]);
    let numbers = all[0].rounds[0]
        .settings
        .values()
        .filter(|s| matches!(s, Setting::Number(_)));
    assert_eq!(numbers.count(), 1);
}

#[test]
fn a_new_round_is_added_in_its_place() {
    let (all, _) = after(&[], "piece,round,mordant\nA1,3,iron\n");
    let all = check(
        &all,
        "piece,round,mordant\nA1,2,alum\n",
        &[("round", "", "2")],
    );
    let rounds: Vec<_> = all[0]
        .rounds
        .iter()
        .map(|r| (r.round, r.mordant()))
        .collect();
    assert_eq!(rounds, [(2, "alum".to_owned()), (3, "iron".to_owned())]);
}

#[test]
fn mass_follows_the_size_until_it_is_weighed() {
    let csv = "piece,momme,width_cm,length_cm\nA1,8,55,55\n";
    let (all, _) = after(&[], csv);
    assert_eq!(all[0].dry_g, Some(10.5));
    let all = check(
        &all,
        "piece,length_cm\nA1,110\n",
        &[("dry_g", "10.5", "21.01"), ("length_cm", "55", "110")],
    );
    let all = check(
        &all,
        "piece,dry_g\nA1,20.4\n",
        &[("dry_g", "21.01", "20.4")],
    );
    let all = check(
        &all,
        "piece,length_cm\nA1,100\n",
        &[("length_cm", "110", "100")],
    );
    check(&all, "piece,dry_g\nA1,\n", &[("dry_g", "20.4", "19.1")]);
}

/// 14 in = 35.56 cm and 180 °F = 82.22 °C by the definitions of 1959 and of the scale; silk of 8 momme: 34.72 g/m².
#[test]
fn either_unit_says_the_same() {
    let ours = "piece;gsm;width_cm;length_cm;simmer_low_c;simmer_high_c\nA1;34,72;35,56;160,02;82,22;87,78\n";
    let theirs = "piece,momme,width_in,length_in,simmer_low_f,simmer_high_f\nA1,8,14,63,180,190\n";
    let both = "piece,momme,gsm,width_in,width_cm,length_in,simmer_low_f,simmer_high_f,simmer_high_c\nA1,8,34.72,14,35.56,63,180,190,87.78\n";
    let (first, _) = after(&[], ours);
    assert_eq!(after(&[], theirs).0, first);
    assert_eq!(after(&[], both).0, first);
}

#[test]
fn the_last_round_speaks_for_the_cloth() {
    let csv = "piece,round,fibre,status,remarks\nA1,2,,sold,again\nA1,1,silk,kept,pale\nA2,1,silk,,\nA2,2,wool,,\n";
    let (all, entered) = after(&[], csv);
    assert_eq!(all[0].fibre.as_deref(), Some("silk"));
    assert_eq!(all[0].status.as_deref(), Some("sold"));
    assert_eq!(all[0].remarks.as_deref(), Some("pale\nagain"));
    assert_eq!(entered.new, ["A1", "A2"]);
    let codes: Vec<_> = entered.cautions.iter().map(|c| c.code.as_str()).collect();
    assert_eq!(
        (codes, all[1].fibre.as_deref()),
        (vec!["rows-differ"], Some("wool"))
    );
    assert_eq!(after(&all, &write_csv(&all)).1.unchanged, 2);
}

#[test]
fn a_sheet_written_is_a_sheet_read() {
    let (all, _) = after(&[], example());
    let (again, _) = after(&[], &write_csv(&all));
    assert_eq!(again, all);
    let bare = [Piece {
        code: "A1".to_owned(),
        ..Piece::default()
    }];
    assert_eq!(after(&[], &write_csv(&bare)).0, bare);
}

#[test]
fn entering_reaches_the_journal_or_leaves_it() {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::open_or_create(&folder.path().join("journal")).unwrap();
    let sheet = folder.path().join("s.csv");
    std::fs::write(&sheet, example()).unwrap();
    assert_eq!(enter(&mut journal, &sheet).unwrap().new.len(), 4);
    let before = journal.pieces().unwrap();
    let bad = example().replace("kept", "given") + "LB009,,,,,,,,,,,,,,,,,,,\n";
    std::fs::write(&sheet, bad).unwrap();
    enter(&mut journal, &sheet).unwrap_err();
    assert_eq!(journal.pieces().unwrap(), before);
    std::fs::write(&sheet, write_csv(&before)).unwrap();
    assert_eq!(enter(&mut journal, &sheet).unwrap().unchanged, 4);
}

/// The workbook comes from another implementation of ISO/IEC 29500, the crate `rust_xlsxwriter`: numbers as numbers, days
/// as date cells shown in another order.
#[test]
fn a_workbook_says_what_the_csv_says() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("s.xlsx");
    let mut book = rust_xlsxwriter::Workbook::new();
    let day = rust_xlsxwriter::Format::new().set_num_format("dd/mm/yy");
    let sheet = book.add_worksheet();
    let rows = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(example().as_bytes())
        .into_records();
    for (row, record) in (0..).zip(rows) {
        for (column, text) in (0..).zip(&record.unwrap()) {
            if let Ok(number) = text.parse::<f64>() {
                sheet.write(row, column, number).unwrap();
            } else if let Ok(date) = rust_xlsxwriter::ExcelDateTime::parse_from_str(text) {
                sheet.write_with_format(row, column, &date, &day).unwrap();
            } else {
                sheet.write(row, column, text).unwrap();
            }
        }
    }
    book.save(&path).unwrap();
    let (all, _) = after(&[], example());
    let (put, _) = plan_changes(&[], &read(&path).unwrap()).unwrap();
    assert_eq!(put, all);
}

proptest::proptest! {
    #[test]
    fn no_cells_bring_it_down(rows in proptest::collection::vec(proptest::collection::vec(".{0,9}", 33..36), 1..4)) {
        let mut table = table("piece\nA1");
        table.headings = Column::ALL.iter().map(|(_, name)| (*name).to_owned()).collect();
        table.headings.push("own".to_owned());
        let number = |(number, cells)| super::super::Row { number, cells };
        table.rows = (2..).zip(rows).map(number).collect();
        let _ = plan_changes(&[], &table);
    }

    #[test]
    fn no_bytes_bring_it_down(bytes: Vec<u8>, text in "[a-z,;\"\n\r\t ]{0,60}") {
        let _ = delimited::parse("s.csv", &bytes);
        if let Ok(table) = delimited::parse("s.csv", format!("piece,made\n{text}").as_bytes()) {
            let _ = plan_changes(&[], &table);
        }
    }
}

#[test]
fn changes_read_as_sentences() {
    let (all, _) = after(&[], "piece,round,layer\nA1,1,2\n");
    let (_, entered) = after(&all, "piece,round,layer,price\nA1,1,3,9.5\nA1,2,1,\n");
    let lines: Vec<String> = entered.changed.iter().map(Change::to_string).collect();
    assert_eq!(
        lines,
        [
            "A1: price is now 9.5",
            "A1: layer was 2, is now 3",
            "A1: round 2 is new"
        ]
    );
}

/// Each `NAME.csv` in `testdata/bad/sheets` is refused with every line of `NAME.txt` in the message.
#[test]
fn bad_sheets_are_refused_with_every_reason() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/bad/sheets");
    let mut cases = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let expected = entry.unwrap().path();
        if expected.extension().is_none_or(|ending| ending != "txt") {
            continue;
        }
        cases += 1;
        let sheet = expected.with_extension("csv");
        let got = read(&sheet).and_then(|table| plan_changes(&[], &table));
        let message = got.expect_err(&sheet.display().to_string()).to_string();
        for part in std::fs::read_to_string(&expected).unwrap().lines() {
            assert!(
                message.contains(part),
                "{}: no “{part}” in: {message}",
                sheet.display()
            );
        }
    }
    assert!(cases >= 20, "{cases} cases found");
}
