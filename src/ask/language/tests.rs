mod any;

use super::*;
use crate::journal::gist;
use crate::journal::record::{Piece, PlantUse, Round, Setting, Soak};
use crate::reading::State;
use crate::words::Family;
use any::{a_question, factors};
use jiff::civil::{Date, date};
use proptest::prelude::*;
use std::path::Path;

const TODAY: Date = date(2026, 7, 15);

fn soaks(sequence: &str) -> Vec<Soak> {
    let soak = |name: &str| Soak {
        mordant: name.to_owned(),
        ..Soak::default()
    };
    sequence.split(" > ").map(soak).collect()
}

/// The journal of `testdata/questions/README.md`.
fn names() -> Names {
    let plants = ["walnut", "smokebush", "red oak", "olive", "birch"];
    let cloths = [
        ("silk", Some("crepe de chine")),
        ("silk", Some("habotai")),
        ("wool", None),
    ];
    let mordants = ["alum", "iron", "alum > iron", "tannin > alum", "none"];
    let pots = ["P1", "P2", "P 3"];
    let bundles = ["B1", "B2"];
    let moons = ["full", "new"];
    let ratings = ["very good", "so-so"];
    let pieces = (0..9).map(|n| {
        let code = if n == 8 {
            "A".to_owned()
        } else {
            format!("LB{:03}", n + 1)
        };
        let (fibre, weave) = cloths[n % 3];
        let text = |text: &str| Setting::Text(text.to_owned());
        let settings = [
            ("leaf_age", Setting::Number(2.0)),
            ("moon", text(moons[n % 2])),
            ("rating", text(ratings[n % 2])),
            ("washed_on", text("2026-05-20")),
            ("blanket", text("wool")),
            ("time", text("morning")),
            ("vat number", Setting::Number(3.0)),
        ];
        let settings = settings.map(|(key, value)| (key.to_owned(), value));
        let mut rounds = vec![Round {
            pot: Some(pots[n % 3].to_owned()),
            bundle: Some(bundles[n % 2].to_owned()),
            soaks: soaks(mordants[n % 5]),
            plants: vec![PlantUse {
                name: plants[n % 5].to_owned(),
                how: Vec::new(),
            }],
            settings: settings.into(),
            ..Round::default()
        }];
        if n == 0 {
            rounds.push(Round {
                soaks: soaks("iron"),
                ..Round::default()
            });
        }
        Piece {
            code,
            fibre: Some(fibre.to_owned()),
            weave: weave.map(str::to_owned),
            status: Some(["kept", "sold", "spoiled"][n % 3].to_owned()),
            rounds,
            ..Piece::default()
        }
    });
    let own = ["moss gold", "dark honey", "evening light", "rust", "light"];
    let pieces: Vec<gist::Piece> = pieces.map(|piece| (&piece).into()).collect();
    Names::of(&pieces, &own.map(str::to_owned))
}

/// What is wrong with each line of a file of questions, and how many lines there are.
fn wrongs(file: &str, wrong: impl Fn(&str, &str) -> Option<String>) -> (usize, Vec<String>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("testdata/questions")
        .join(file);
    let text = std::fs::read_to_string(path).unwrap();
    let cases: Vec<_> = text
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split_once(" => ").unwrap())
        .collect();
    let wrongs = cases
        .iter()
        .filter_map(|(question, wanted)| wrong(question, wanted));
    (cases.len(), wrongs.collect())
}

#[test]
fn questions_are_read() {
    let names = names();
    let (many, wrongs) = wrongs("read.txt", |question, wanted| {
        match read(question, &names, TODAY) {
            Ok(found) if found.to_string() == wanted => None,
            Ok(found) => Some(format!("{question}\n  wanted {wanted}\n  found  {found}")),
            Err(error) => Some(format!("{question}\n  {error}")),
        }
    });
    assert!(
        wrongs.is_empty(),
        "{} of {many}:\n{}",
        wrongs.len(),
        wrongs.join("\n")
    );
    assert!(many >= 200, "{many}");
}

#[test]
fn questions_are_refused() {
    let names = names();
    let (many, wrongs) = wrongs("refused.txt", |question, wanted| {
        match read(question, &names, TODAY) {
            Ok(found) => Some(format!("{question}\n  was read as {found}")),
            Err(error) if error.to_string().contains(wanted) => None,
            Err(error) => Some(format!("{question}\n  wanted {wanted}\n  {error}")),
        }
    });
    assert!(
        wrongs.is_empty(),
        "{} of {many}:\n{}",
        wrongs.len(),
        wrongs.join("\n")
    );
    assert!(many >= 70, "{many}");
}

/// A reading is itself a question that is read the same: nothing in it was lost, and no word of it means anything else.
#[test]
fn readings_of_the_corpus_are_read_as_themselves() {
    let names = names();
    let (_, wrongs) = wrongs("read.txt", |_, reading| {
        match read(reading, &names, TODAY) {
            Ok(again) if again.to_string() == reading => None,
            Ok(again) => Some(format!("{reading}\n  {again}")),
            Err(error) => Some(format!("{reading}\n  {error}")),
        }
    });
    assert!(
        wrongs.is_empty(),
        "{}:\n{}",
        wrongs.len(),
        wrongs.join("\n")
    );
}

#[test]
fn a_journal_without_names_says_so() {
    let error = read(
        "which mordant is warmest with walnut",
        &Names::default(),
        TODAY,
    )
    .unwrap_err();
    assert!(error.to_string().contains("no such names yet"), "{error}");
}

/// Pieces whose codes differ in capitals alone are told apart by them, and asked for where they are not written.
#[test]
fn codes_that_differ_in_capitals_are_asked_for() {
    let piece = |code: &str| Piece {
        code: code.to_owned(),
        ..Piece::default()
    };
    let names = Names::of(&[(&piece("Ab1")).into(), (&piece("AB1")).into()], &[]);
    let found = read("nearest to AB1", &names, TODAY).unwrap();
    assert_eq!(
        found.wanted,
        Wanted::Nearest {
            to: Target::Piece("AB1".to_owned())
        }
    );
    let error = read("nearest to ab1", &names, TODAY).unwrap_err();
    assert!(error.to_string().contains("AB1 or Ab1"), "{error}");
}

proptest! {
    /// Whatever is typed, it is read or refused with a sentence; and what is read, reads the same again.
    #[test]
    fn nothing_typed_breaks_the_reader(words in prop::collection::vec(
        "[a-z]{1,9}|most|with|on|or|than|>|\\PC{0,4}|yellow|alum|iron|silk|olive|darker|mordant|above|[0-9]{1,4}|C|%|in|since|june|LB007|does|not|bath|“",
        0..9,
    )) {
        let names = names();
        match read(&words.join(" "), &names, TODAY) {
            Err(error) => prop_assert!(!error.to_string().is_empty()),
            Ok(found) => {
                let again = read(&found.to_string(), &names, TODAY);
                prop_assert_eq!(again.map(|q| q.to_string()).map_err(|e| e.to_string()), Ok(found.to_string()));
            }
        }
    }

    /// Every question that can be put is put in words that are read as this very question.
    #[test]
    fn what_is_said_is_read_back(question in a_question()) {
        let said = question.to_string();
        let again = read(&said, &names(), TODAY);
        prop_assert_eq!(again.map_err(|e| format!("{said}: {e}")), Ok(question));
    }
}

/// The page for the craftsperson names every measure and every setting, and what it shows is read.
#[test]
fn the_page_keeps_up_with_the_language() {
    let page = include_str!("../../../docs/questions.md");
    for measure in Measure::ALL {
        assert!(
            page.contains(&format!("| {} |", measure.name())),
            "{}",
            measure.name()
        );
    }
    for factor in factors() {
        assert!(page.contains(&factor.to_string()), "{factor}");
    }
    let names = names();
    let asked = page
        .lines()
        .filter_map(|line| line.strip_prefix("filemot ask \"")?.strip_suffix('"'));
    let mut many = 0;
    for question in asked {
        many += 1;
        assert!(read(question, &names, TODAY).is_ok(), "{question}");
    }
    let (_, kinds) = page.split_once("| kind of question |").unwrap();
    let (kinds, _) = kinds.split_once("\n\n").unwrap();
    for row in kinds
        .lines()
        .filter(|row| row.starts_with("| ") && !row.contains("---"))
    {
        let examples = row.trim_matches(['|', ' ']).rsplit('|').next().unwrap();
        for example in examples
            .split(';')
            .map(|e| e.split(", to #").next().unwrap())
        {
            let read = read(example, &names, TODAY);
            assert!(read.is_ok(), "{example}: {}", read.unwrap_err());
            many += 1;
        }
    }
    assert!(many >= 15, "{many}");
    let (_, prints) = page.split_once("printed by walnut`.").unwrap();
    let (prints, _) = prints.split_once("\n\n").unwrap();
    // What stands between two marks: every second part.
    for question in prints.split('`').skip(1).step_by(2) {
        let read = read(question, &names, TODAY);
        assert!(read.is_ok(), "{question}: {}", read.unwrap_err());
    }
    let (_, filters) = page.split_once("## Among which pieces").unwrap();
    let (filters, _) = filters.split_once("\n\n`Since").unwrap();
    for row in filters
        .lines()
        .filter(|row| row.starts_with("| ") && !row.contains("---") && !row.contains("for example"))
    {
        let examples = row.trim_matches(['|', ' ']).rsplit('|').next().unwrap();
        let examples = examples.replace(
            "wet, dry, washed, worn; dry if you say nothing",
            "wet; dry; washed; worn",
        );
        for example in examples.split(';').map(|e| e.split(" (").next().unwrap()) {
            let example = example.replace("P3", "P 3").replace("B01", "B1");
            let question = format!("which mordant is warmest {example}");
            let read = read(&question, &names, TODAY);
            assert!(read.is_ok(), "{question}: {}", read.unwrap_err());
        }
    }
}
