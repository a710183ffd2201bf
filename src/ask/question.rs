use super::names::{LONGEST_NAME, Names};
use super::refusal;
use super::terms::{Factor, Measure, Narrowing, Order};
use super::vocabulary::{ARTICLES, CAN_BE_ASKED, KINDS_OF_NAME, LONGEST_PHRASE, Meaning, meaning};
use crate::error::{Error, Result};
use crate::reading::State;
use crate::words::Family;
use std::fmt;

/// A question as it was understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What is measured.
    pub measure: Measure,
    /// Which end comes first.
    pub order: Order,
    /// Only colours of this family, where one was named.
    pub family: Option<Family>,
    /// Whose values are compared.
    pub by: Factor,
    /// All of these must hold of a piece.
    pub filters: Vec<Filter>,
    /// What the photos show the pieces as; dry unless the question says otherwise.
    pub state: State,
}

/// One narrowing of a question: `with walnut`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Filter {
    /// How it narrows.
    pub narrowing: Narrowing,
    /// A name of the journal, lower case.
    pub name: String,
}

impl fmt::Display for Filter {
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        write!(to, "{} {}", self.narrowing.word(), self.name)
    }
}

impl fmt::Display for Question {
    /// One line a craftsperson can check: `warmth of yellows, by mordant, dry pieces, warmest first`.
    fn fmt(&self, to: &mut fmt::Formatter) -> fmt::Result {
        write!(to, "{}", self.measure.name())?;
        if let Some(family) = self.family {
            write!(to, " of {}", family.plural())?;
        }
        write!(to, ", by {}", self.by)?;
        match self.measure {
            Measure::Lightening => write!(to, ", from wet to dry")?,
            _ => write!(to, ", {} pieces", self.state.word())?,
        }
        for filter in &self.filters {
            write!(to, ", {filter}")?;
        }
        write!(to, ", {} first", self.measure.first(self.order))
    }
}

/// Reads a question; every word must be understood.
///
/// # Errors
/// The caller's: what was not understood, the nearest known words, and what can be asked.
pub fn read(question: &str, names: &Names) -> Result<Question> {
    let words = words(question);
    if words.is_empty() {
        return Err(refusal::empty());
    }
    let mut found = Found::default();
    let mut meanings: Vec<(Meaning, String)> = Vec::new();
    let mut unknown: Vec<&str> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let Some((length, meaning)) = longest(&words[at..], names) else {
            unknown.push(&words[at]);
            at += 1;
            continue;
        };
        let phrase = words[at..at + length].join(" ");
        at += length;
        if let Meaning::Narrow(narrowing) = meaning {
            at += found.narrow(narrowing, &words[at..], names)?;
        } else {
            meanings.push((meaning, phrase));
        }
    }
    if !unknown.is_empty() {
        return Err(refusal::not_understood(&unknown, names));
    }
    for (meaning, phrase) in meanings {
        found.take(meaning, &phrase)?;
    }
    found.question()
}

/// Lower case, no punctuation, no articles. `>` stays: it stands between the soaks of a sequence.
fn words(question: &str) -> Vec<String> {
    let plain = question
        .to_lowercase()
        .replace('’', "'")
        .replace('>', " > ");
    let mark = |c: char| {
        c.is_ascii_punctuation() && !matches!(c, '>' | '#' | '%') || "“”„«»¿…".contains(c)
    };
    plain
        .split(|c: char| c.is_whitespace() || matches!(c, ',' | ';'))
        .map(|word| word.trim_matches(mark))
        .map(|word| word.strip_suffix("'s").unwrap_or(word))
        .filter(|word| !word.is_empty() && !ARTICLES.contains(word))
        .map(str::to_owned)
        .collect()
}

/// The longest phrase at the start of `words` that means something, and how many words it takes.
fn longest(words: &[String], names: &Names) -> Option<(usize, Meaning)> {
    (1..=words.len().min(LONGEST_NAME))
        .rev()
        .find_map(|length| {
            let phrase = words[..length].join(" ");
            let known = (length <= LONGEST_PHRASE)
                .then(|| meaning(&phrase))
                .flatten();
            let column = || names.column(&phrase).map(Meaning::By);
            Some((length, known.or_else(column)?))
        })
}

/// What has been found so far; each of these may be said once.
#[derive(Default)]
struct Found {
    best: Option<(Measure, Order)>,
    /// `most` or `least`, waiting for its noun.
    amount: Option<(Order, String)>,
    family: Option<Family>,
    by: Option<Factor>,
    state: Option<State>,
    filters: Vec<Filter>,
}

impl Found {
    fn take(&mut self, meaning: Meaning, phrase: &str) -> Result<()> {
        match meaning {
            Meaning::Filler | Meaning::Narrow(_) => Ok(()),
            Meaning::Amount(order) => {
                self.amount = Some((order, phrase.to_owned()));
                Ok(())
            }
            Meaning::Best(measure, order) => {
                let order = match self.amount.take() {
                    Some((Order::Lowest, _)) => order.reversed(),
                    _ => order,
                };
                self.measure(measure, order)
            }
            Meaning::Name(measure) => match (self.amount.take(), self.best) {
                (None, Some((known, order))) => self.measure_again(known, order, measure),
                (amount, _) => self.measure(measure, amount.map_or(Order::Highest, |a| a.0)),
            },
            Meaning::Family(family) => {
                if let Some((order, _)) = self.amount.take() {
                    self.measure(Measure::Share, order)?;
                }
                once(&mut self.family, family, |f| f.plural(), "colour")
            }
            Meaning::By(factor) => once(&mut self.by, factor, Factor::to_string, "comparison"),
            Meaning::In(state) => once(&mut self.state, state, |s| s.word().to_owned(), "state"),
            Meaning::Unclear(advice) => Err(Error::caller(format!(
                "“{phrase}” could mean several things; {advice}."
            ))),
        }
    }

    fn measure(&mut self, measure: Measure, order: Order) -> Result<()> {
        let say = |(measure, order): &(Measure, Order)| {
            format!("{} ({} first)", measure.name(), measure.first(*order))
        };
        once(&mut self.best, (measure, order), say, "measure")
    }

    /// `the warmest … by warmth` says it twice, which is fine; `the warmest … by lightness` is not.
    fn measure_again(&mut self, known: Measure, order: Order, again: Measure) -> Result<()> {
        if known == again {
            return Ok(());
        }
        self.measure(again, order)
    }

    /// Reads the name after `with`, `without` or `on`; how many words it took.
    fn narrow(&mut self, narrowing: Narrowing, words: &[String], names: &Names) -> Result<usize> {
        let length = (1..=words.len().min(LONGEST_NAME))
            .rev()
            .find(|&n| names.has(narrowing, &words[..n].join(" ")))
            .ok_or_else(|| refusal::no_such_name(narrowing, words, names))?;
        let filter = Filter {
            narrowing,
            name: words[..length].join(" "),
        };
        if !self.filters.contains(&filter) {
            self.filters.push(filter);
        }
        let kind = words
            .get(length)
            .is_some_and(|w| KINDS_OF_NAME.contains(&w.as_str()));
        Ok(length + usize::from(kind))
    }

    fn question(self) -> Result<Question> {
        if let Some((_, word)) = self.amount {
            return Err(Error::caller(format!(
                "“{word}” does not say of what: name a colour (“most yellow”), or warmth, lightness, chroma (the strength of a colour) or lightening."
            )));
        }
        let (measure, order) = self.best.ok_or_else(|| {
            Error::caller(format!(
                "The question does not say what to look for.\n{CAN_BE_ASKED}"
            ))
        })?;
        let by = self.by.ok_or_else(|| {
            Error::caller(format!(
                "The question does not say what to compare.\n{CAN_BE_ASKED}"
            ))
        })?;
        if measure == Measure::Share && self.family.is_none() {
            return Err(Error::caller(
                "The question asks for a share but not of which colour: say, for example, “the largest share of yellow”.",
            ));
        }
        if measure == Measure::Lightening && matches!(self.state, Some(State::Washed | State::Worn))
        {
            return Err(Error::caller(
                "Lightening is from wet to dry, so it cannot be asked of washed or worn pieces: leave that word out.",
            ));
        }
        Ok(Question {
            measure,
            order,
            family: self.family,
            by,
            filters: self.filters,
            state: match measure {
                Measure::Lightening => State::Dry,
                _ => self.state.unwrap_or(State::Dry),
            },
        })
    }
}

/// Fills `slot`; the same again is fine, something else is two questions in one.
fn once<T: PartialEq>(
    slot: &mut Option<T>,
    value: T,
    say: impl Fn(&T) -> String,
    what: &str,
) -> Result<()> {
    match slot {
        Some(known) if *known != value => Err(Error::caller(format!(
            "The question names more than one {what}, {} and {}: ask one question for each.",
            say(known),
            say(&value)
        ))),
        _ => {
            *slot = Some(value);
            Ok(())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::record::{Piece, PlantUse, Round, Setting, Soak};
    use std::path::Path;

    /// The journal of `testdata/questions/README.md`.
    fn names() -> Names {
        let plant = |name: &str| PlantUse {
            name: name.to_owned(),
            how: Vec::new(),
        };
        let soak = |name: &str| Soak {
            mordant: name.to_owned(),
            ..Soak::default()
        };
        let piece = |fibre: &str, weave: Option<&str>, soaks: &[&str]| Piece {
            fibre: Some(fibre.to_owned()),
            weave: weave.map(str::to_owned),
            rounds: vec![Round {
                soaks: soaks.iter().map(|s| soak(s)).collect(),
                plants: ["walnut", "smokebush", "red oak", "olive"]
                    .map(plant)
                    .to_vec(),
                settings: ["leaf_age", "washed_on", "blanket"]
                    .map(|key| (key.to_owned(), Setting::Number(1.0)))
                    .into(),
                ..Round::default()
            }],
            ..Piece::default()
        };
        Names::of(&[
            piece("silk", Some("crepe de chine"), &["alum", "iron"]),
            piece("wool", None, &["tannin"]),
        ])
    }

    /// Calls `check` with both sides of every line of a file of questions.
    fn for_each_case(file: &str, check: impl Fn(&str, &str)) -> usize {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("testdata/questions")
            .join(file);
        let text = std::fs::read_to_string(path).unwrap();
        let cases: Vec<_> = text
            .lines()
            .filter(|line| !line.starts_with('#'))
            .map(|line| line.split_once(" => ").unwrap())
            .collect();
        cases
            .iter()
            .for_each(|(question, wanted)| check(question, wanted));
        cases.len()
    }

    #[test]
    fn questions_are_read() {
        let names = names();
        let many = for_each_case("read.txt", |question, wanted| {
            match read(question, &names) {
                Ok(found) => assert_eq!(found.to_string(), wanted, "{question}"),
                Err(error) => panic!("{question}: {error}"),
            }
        });
        assert!(many >= 40, "{many}");
    }

    #[test]
    fn questions_are_refused() {
        let names = names();
        let many = for_each_case("refused.txt", |question, wanted| {
            match read(question, &names) {
                Ok(found) => panic!("{question} was read as {found}"),
                Err(error) => assert!(error.to_string().contains(wanted), "{question}: {error}"),
            }
        });
        assert!(many >= 12, "{many}");
    }

    proptest::proptest! {
        /// Whatever is typed, it is read or refused with a sentence.
        #[test]
        fn nothing_typed_breaks_the_reader(words in proptest::collection::vec("[a-z]{1,9}|most|with|on|>|\\PC{0,4}|yellow", 0..9)) {
            let _ = read(&words.join(" "), &names()).map_err(|error| assert!(!error.to_string().is_empty()));
        }
    }

    #[test]
    fn a_journal_without_names_says_so() {
        let error = read("which mordant is warmest with walnut", &Names::default()).unwrap_err();
        assert!(error.to_string().contains("no such names yet"), "{error}");
    }
}
