//! Imports: partial, repeated, broken, from elsewhere.

use super::*;
use crate::journal::record::Setting;
use crate::reading::State;
use std::fs;

pub fn import(journal: &mut Journal, json: &str) -> Imported {
    journal.import(&Export::from_json(json).unwrap()).unwrap()
}

/// Every file in `testdata/bad/exports` says in its field `why` what the refusal must say.
#[test]
fn broken_exports_are_refused_with_their_place() {
    let mut seen = 0;
    for entry in fs::read_dir(testdata("bad/exports")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "json") {
            continue;
        }
        let text = fs::read_to_string(&path).unwrap();
        let told = serde_json::from_str::<serde_json::Value>(&text);
        let why = told
            .as_ref()
            .map_or(Some("no export of a journal"), |value| {
                value["why"].as_str()
            });
        check(
            Export::from_json(&text),
            Kind::File,
            why.unwrap_or_else(|| panic!("{path:?} has no why")),
        );
        seen += 1;
    }
    assert!(seen >= 15, "{seen} files");
}

#[test]
fn what_is_left_out_or_null_is_not_known() {
    let (_dir, mut journal) = empty();
    let json = r#"{"schema":"filemot/1","studio":null,
        "pieces":[{"code":"A","fibre":null,"rounds":[{"round":1,"soaks":[{"mordant":null,"strength":5}],"heat":{"kind":null},
            "plants":[{"how":null}],"settings":{"moon":null,"lid":"on"}},{"round":2,"soaks":null,"settings":null}]},{"code":"B","rounds":null}],
        "photos":[{"file":null,"piece":"C","light":{"basis":null},"exposure":null,"earlier":null,"outline":null,
            "swatches":[{"lab":[50,1,2],"share":1,"doubt":null,"part":null}],"cautions":[{"code":null,"text":"It rained."}]},
            {"piece":"C","swatches":null,"cautions":null}]}"#;
    let done = import(&mut journal, json);
    assert_eq!((done.pieces_new, done.photos_new), (2, 2));
    assert_eq!(import(&mut journal, json), Imported::default());
    assert_eq!(journal.codes().unwrap(), ["A", "B", "C"]);
    let round = &journal.piece("A").unwrap().unwrap().rounds[0];
    assert_eq!(round.settings.len(), 1);
    assert_eq!((round.soaks[0].strength, &round.heat), (Some(5.0), &None));
    assert_eq!(
        journal.photos_of("C").unwrap()[0].reading.cautions[0].text,
        "It rained."
    );
    let nothing = Export::from_json(r#"{"schema":"filemot/1"}"#).unwrap();
    assert_eq!(journal.import(&nothing).unwrap(), Imported::default());
}

#[test]
fn partial_file_adds_and_takes_nothing_away() {
    let (_dir, mut journal) = empty();
    let mut known = piece("LB007");
    known.rounds[0]
        .settings
        .insert("cool_h".to_owned(), Setting::Number(12.0));
    journal.put_pieces(&[known]).unwrap();
    let json = r#"{"schema":"filemot/1","pieces":[{"code":"LB007","price":90,"rounds":[
        {"round":2,"pot":"P9"},{"round":1,"heat":{"minutes":90},"settings":{"lid":"on"}}]}]}"#;
    assert_eq!(import(&mut journal, json).pieces_changed, 1);
    let both = journal.piece("LB007").unwrap().unwrap();
    assert_eq!(
        (both.fibre.as_deref(), both.price),
        (Some("silk"), Some(90.0))
    );
    let [first, second] = &both.rounds[..] else {
        panic!("{:?}", both.rounds)
    };
    assert_eq!(
        (first.pot.as_deref(), second.pot.as_deref()),
        (Some("P1"), Some("P9"))
    );
    assert_eq!(
        first.heat.as_ref().and_then(|heat| heat.minutes),
        Some(90.0)
    );
    assert_eq!(first.settings.len(), 2);
    assert_eq!(import(&mut journal, json), Imported::default());
}

#[test]
fn failing_import_changes_nothing() {
    let (_dir, mut journal) = empty();
    journal.put_pieces(&[piece("LB007")]).unwrap();
    let before = journal.export().unwrap();
    let mut export = before.clone();
    export.pieces.push(piece("LB008"));
    export.photos.push(photo("a.jpg", b"a", Some("LB009")));
    let failing =
        "CREATE TEMP TRIGGER full BEFORE INSERT ON swatches BEGIN SELECT RAISE(ABORT, 'no'); END";
    journal.db.execute_batch(failing).unwrap();
    check(
        journal.import(&export),
        Kind::Journal,
        "nothing was changed",
    );
    assert_eq!(journal.export().unwrap(), before);
    export.schema = "filemot/2".to_owned();
    check(journal.import(&export), Kind::File, "filemot/2");
}

#[test]
fn readings_of_two_journals_come_together() {
    let (_here, mut ours) = empty();
    let (_there, mut theirs) = empty();
    for journal in [&mut ours, &mut theirs] {
        journal
            .add_photo(&photo("a.jpg", b"a", None), Original::None)
            .unwrap();
    }
    let old = ours.export().unwrap();
    theirs.add_reading(1, &reading("2")).unwrap();
    theirs.claim(1, "LB007", Some(State::Dry), None).unwrap();
    let new = theirs.export().unwrap();
    assert_eq!(ours.import(&new).unwrap().photos_changed, 1);
    assert_eq!(ours.photos().unwrap(), theirs.photos().unwrap());
    // An older export brings no old reading back to the front, and what it leaves out stays.
    assert_eq!(ours.import(&old).unwrap(), Imported::default());
    assert_eq!(ours.photos().unwrap(), theirs.photos().unwrap());
}

/// Two pieces measured to the same colour are two photos; one of them, claimed later, is still the same.
#[test]
fn photos_made_elsewhere_are_known_again() {
    let (_dir, mut journal) = empty();
    let colour = r#""swatches":[{"lab":[50,1,2],"share":1}]"#;
    let json = format!(
        r#"{{"schema":"filemot/1","photos":[{{"piece":"A",{colour}}},{{"piece":"B",{colour}}},{{{colour}}},{{{colour}}}]}}"#
    );
    assert_eq!(import(&mut journal, &json).photos_new, 3);
    assert_eq!(import(&mut journal, &json), Imported::default());
    let id = journal.unclaimed().unwrap()[0].id.unwrap();
    journal.claim(id, "C", Some(State::Dry), None).unwrap();
    journal.add_reading(id, &reading("by hand")).unwrap();
    let export = journal.export().unwrap();
    assert_eq!(journal.import(&export).unwrap(), Imported::default());
    assert_eq!(import(&mut journal, &json), Imported::default());
    assert_eq!(journal.photos().unwrap().len(), 3);
    let (_elsewhere, mut fresh) = empty();
    assert_eq!(fresh.import(&export).unwrap().photos_new, 3);
    assert_eq!(fresh.export().unwrap(), export);
}

/// After an import the files can be brought back from the folder with the photos.
#[test]
fn files_are_brought_back_after_an_import() {
    let (_here, mut ours) = empty();
    let shown = photo("a.jpg", b"a", Some("LB007"));
    ours.add_photo(&shown, jpg(b"a")).unwrap();
    let (_there, mut theirs) = empty();
    theirs.import(&ours.export().unwrap()).unwrap();
    assert_eq!(theirs.original(&shown).unwrap(), None);
    assert!(!theirs.add_photo(&shown, jpg(b"a")).unwrap());
    assert!(theirs.original(&shown).unwrap().unwrap().is_file());
    assert_eq!(theirs.check().unwrap(), []);
}

/// An earlier program let in what `valid` now refuses: it is told as not known, and the export comes back.
#[test]
fn washes_that_cannot_be_are_not_exported() {
    let (dir, mut journal) = empty();
    let json = r#"{"schema":"filemot/1","photos":[{"file":"a.jpg","piece":"A","state":"washed","washes":5},
        {"file":"b.jpg","piece":"A","state":"dry","washes":0}]}"#;
    import(&mut journal, json);
    let db = rusqlite::Connection::open(crate::journal::connection::database(dir.path())).unwrap();
    db.execute_batch("UPDATE photos SET state = 'dry' WHERE file = 'a.jpg'")
        .unwrap();
    let export = journal.export().unwrap();
    assert_eq!(export.photos[0].washes, None);
    assert_eq!(export.photos[1].washes, Some(0));
    let (_other, mut elsewhere) = empty();
    assert_eq!(elsewhere.import(&export).unwrap().photos_new, 2);
}

/// Each file is right by itself, and together they would be dry and washed.
#[test]
fn an_import_leaves_no_dry_photo_washed() {
    let (_dir, mut journal) = empty();
    let hash = "0".repeat(64);
    let photo = |rest: &str| {
        format!(r#"{{"schema":"filemot/1","photos":[{{"hash":"{hash}","piece":"A",{rest}}}]}}"#)
    };
    import(&mut journal, &photo(r#""state":"washed","washes":5"#));
    import(&mut journal, &photo(r#""state":"dry""#));
    assert_eq!(journal.photos_of("A").unwrap()[0].washes, None);
    let export = journal.export().unwrap();
    assert_eq!(journal.import(&export).unwrap(), Imported::default());
}

/// What a studio writes may have several lines; its own readings come back even where a badly judged light made odd colours.
#[test]
fn what_is_here_can_come_back() {
    let (_dir, mut journal) = empty();
    let json = r#"{"schema":"filemot/1","pieces":[{"code":"A","remarks":"first line\n\tsecond"}],"photos":[{"file":"wet/a.jpg",
        "light":{"basis":"assumed","correction":{"tone":{"strength":0},"flare":[0,0,0],"gain":[1,1,1],"matrix":[[1,0,0],[0,1,0],[0,0,1]]}},
        "swatches":[{"lab":[104,1,2],"share":1}]}]}"#;
    assert_eq!(import(&mut journal, json).photos_new, 1);
    let export = serde_json::to_string(&journal.export().unwrap()).unwrap();
    assert_eq!(import(&mut journal, &export), Imported::default());
}
