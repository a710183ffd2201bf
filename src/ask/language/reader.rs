//! From words to what they say: at each place the longest phrase counts, of the language or of the journal.

mod against;
mod narrow;
mod print;
mod setting;

use super::date;
use super::filter::Filter;
use super::found::Found;
use super::kind::Kind;
use super::names::{Name, Names};
use super::number::amount;
use super::question::{Colours, Question};
use super::refusal;
use super::said::Said;
use super::terms::Factor;
use super::vocabulary::{KINDS_OF_NAME, LONGEST_PHRASE, Meaning, PIECES, meaning};
use super::words::{Word, joined, words};
use crate::error::{Error, Result};
use jiff::civil::Date;

/// Reads a question; every word must be understood. `today` is the day from which `since June` is reckoned.
///
/// # Errors
/// The caller's: what was not understood, the nearest known words, and what can be asked.
pub fn read(question: &str, names: &Names, today: Date) -> Result<Question> {
    let words = words(question, |written| names.is_code(written));
    if words.is_empty() {
        return Err(refusal::empty());
    }
    let mut reader = Reader {
        words: &words,
        at: 0,
        names,
        today,
        said: Vec::new(),
        unknown: Vec::new(),
        problem: None,
    };
    while reader.at < words.len() {
        if let Err(error) = reader.step() {
            reader.problem.get_or_insert(error);
            reader.at += 1;
        }
    }
    // What went wrong first explains most.
    if !reader.unknown.is_empty() {
        return Err(refusal::not_understood(&reader.unknown, names));
    }
    if let Some(error) = reader.problem {
        return Err(error);
    }
    reader.set_against();
    let mut found = Found::default();
    reader
        .said
        .into_iter()
        .try_for_each(|said| found.take(said))?;
    found.question(names)
}

struct Reader<'a> {
    words: &'a [Word],
    at: usize,
    names: &'a Names,
    today: Date,
    said: Vec<Said>,
    unknown: Vec<&'a [Word]>,
    /// The first thing that was understood and cannot be.
    problem: Option<Error>,
}

/// What stands at one place.
enum Thing {
    Meaning(Meaning),
    Own(String),
    Column(Factor),
    Value(Factor, String),
    Name(Name),
}

impl Reader<'_> {
    /// Reads what stands here and moves behind it.
    fn step(&mut self) -> Result<()> {
        if let Some(made) = date::made(self.rest(), self.today) {
            let (length, filter) = made?;
            self.at += length;
            self.say(Said::Filter(filter));
            return Ok(());
        }
        if let Some(amount) = amount(self.rest()).filter(|amount| amount.is_told) {
            self.at += amount.length;
            return self.bounded(&amount, None);
        }
        match self.thing()? {
            Some((length, thing)) => match (&thing, self.lone_value()) {
                (Thing::Meaning(Meaning::Unclear(_)), longer) if longer > length => {
                    self.not_understood(longer);
                    Ok(())
                }
                _ => self.take(length, thing),
            },
            None => {
                self.not_understood(self.lone_value().max(1));
                Ok(())
            }
        }
    }

    /// Notes so many words here as not understood and moves behind them. After something that cannot be, words may be unknown only because of that.
    fn not_understood(&mut self, length: usize) {
        if self.problem.is_none() {
            self.unknown.push(&self.words[self.at..self.at + length]);
        }
        self.at += length;
    }

    /// How many words a text of a column of words takes that stands here, where it takes several.
    fn lone_value(&self) -> usize {
        let rest = self.rest();
        let held = |n: &usize| !self.names.columns_of(&joined(&rest[..*n])).is_empty();
        let lengths = 2..=rest.len().min(super::names::LONGEST_NAME);
        lengths.rev().find(held).unwrap_or_default()
    }

    fn rest(&self) -> &[Word] {
        &self.words[self.at..]
    }

    /// Whether a comma stands before what comes next.
    fn is_apart(&self) -> bool {
        self.at
            .checked_sub(1)
            .is_some_and(|before| self.words[before].ends)
    }

    /// Moves behind a word that says what kind of name stood before it.
    fn skip_kind(&mut self) -> bool {
        !self.is_apart() && self.skip(&KINDS_OF_NAME)
    }

    fn next_is(&self, known: &[&str]) -> bool {
        self.rest()
            .first()
            .is_some_and(|word| known.contains(&word.text.as_str()))
    }

    /// Moves behind the phrase if it stands here.
    fn skip(&mut self, phrases: &[&str]) -> bool {
        let length = phrases.iter().find_map(|phrase| {
            let length = phrase.split(' ').count();
            let here = self.rest().get(..length)?;
            (joined(here) == *phrase).then_some(length)
        });
        self.at += length.unwrap_or_default();
        length.is_some()
    }

    fn say(&mut self, said: Said) {
        self.said.push(said);
    }

    /// The longest thing that stands here. Of equal ones a quoted colour word goes first, then the language, then the journal.
    fn thing(&self) -> Result<Option<(usize, Thing)>> {
        let rest = self.rest();
        let quoted = |n: &usize| rest[0].opens && rest[n - 1].closes;
        let own = |n: usize| self.names.own(&joined(&rest[..n]));
        let lengths = || (1..=rest.len().min(super::names::LONGEST_NAME)).rev();
        if let Some(word) = lengths().filter(quoted).find_map(|n| Some((n, own(n)?))) {
            return Ok(Some((word.0, Thing::Own(word.1.to_owned()))));
        }
        for n in lengths() {
            let phrase = joined(&rest[..n]);
            let is_whole = !rest[..n - 1].iter().any(|word| word.ends);
            let known = (is_whole && n <= LONGEST_PHRASE)
                .then(|| meaning(&phrase))
                .flatten();
            let column = self.names.column(&phrase);
            let found = match (known, own(n), column) {
                (Some(Meaning::Family(_)) | None, Some(word), _) => Thing::Own(word.to_owned()),
                (None, _, Some(column)) => Thing::Column(column),
                (Some(known), _, Some(column)) if known.yields() => Thing::Column(column),
                (Some(_), _, Some(_)) => return Err(refusal::word_or_column(&phrase)),
                (Some(known), Some(_), _) if known != Meaning::Filler => {
                    return Err(refusal::word_or_colour(&phrase));
                }
                (Some(known), _, None) => Thing::Meaning(known),
                (None, None, None) => match (self.names.value(&phrase), self.named(&rest[..n])) {
                    (Some((column, value)), _) => Thing::Value(column, value),
                    (None, Some(name)) => Thing::Name(name),
                    (None, None) => match self.value_of_pieces(n) {
                        Some((column, value)) => Thing::Value(column, value),
                        None => continue,
                    },
                },
            };
            let found = match (found, self.value_of_pieces(n)) {
                (Thing::Meaning(Meaning::Unclear(_)), Some((column, value))) => {
                    Thing::Value(column, value)
                }
                (found, _) => found,
            };
            return Ok(Some((n, found)));
        }
        Ok(None)
    }

    /// `very good pieces`, `pieces so-so`: a text of one column of words, where it says of pieces what they are.
    fn value_of_pieces(&self, length: usize) -> Option<(Factor, String)> {
        let are = |word: &&Word| {
            let text = word.text.as_str();
            !matches!(
                text,
                "are" | "is" | "were" | "was" | "that" | "which" | "came" | "out"
            )
        };
        let before = self.words[..self.at].iter().rev().find(are);
        let behind = self.words.get(self.at + length);
        let of_pieces =
            |word: Option<&Word>| word.is_some_and(|word| PIECES.contains(&word.text.as_str()));
        (of_pieces(before) || of_pieces(behind))
            .then(|| self.names.only_value(&joined(&self.rest()[..length])))
            .flatten()
    }

    /// A name that may stand by itself; numbers may not.
    fn named(&self, words: &[Word]) -> Option<Name> {
        let is_number = words.iter().all(|word| word.text.parse::<f64>().is_ok());
        self.names.name(words).filter(|_| !is_number)
    }

    fn take(&mut self, length: usize, thing: Thing) -> Result<()> {
        let phrase = joined(&self.rest()[..length]);
        match thing {
            Thing::Meaning(Meaning::Family(_)) if self.is_open(length) => {
                Err(refusal::plant_or_colour(&phrase))
            }
            Thing::Meaning(Meaning::Family(_)) if self.is_plant(length) => {
                let name = self.names.name(&self.rest()[..length]);
                self.at += length;
                name.map_or(Ok(()), |name| self.alone(name))
            }
            Thing::Meaning(Meaning::Narrow(narrowing)) => self.narrowed(length, narrowing, &phrase),
            Thing::Meaning(Meaning::By(factor)) => {
                self.at += length;
                self.factor(factor, phrase)
            }
            Thing::Meaning(Meaning::Print) => self.print(length),
            Thing::Meaning(Meaning::Heating(heat)) if self.is_heated(length) => {
                self.at += length;
                self.say(Said::Filter(Filter::Is(Factor::Heat, heat.to_owned())));
                Ok(())
            }
            Thing::Meaning(meaning) => {
                self.at += length;
                self.say(Said::Word(meaning, phrase));
                Ok(())
            }
            Thing::Own(word) => {
                self.at += length;
                self.say(Said::Colours(Colours::Own(word)));
                Ok(())
            }
            Thing::Column(column) => {
                self.at += length;
                self.factor(column, phrase)
            }
            Thing::Value(column, value) => {
                self.at += length;
                self.say(Said::Filter(Filter::Is(column, value)));
                Ok(())
            }
            Thing::Name(name) => {
                self.at += length;
                self.alone(name)
            }
        }
    }

    /// `with steaming`, `a simmer above 88 C`: a kind of heat that narrows and is not compared.
    fn is_heated(&self, length: usize) -> bool {
        let before = self
            .at
            .checked_sub(1)
            .map(|at| self.words[at].text.as_str());
        let behind = amount(&self.words[self.at + length..]);
        matches!(
            before,
            Some("with" | "using" | "in" | "by" | "when" | "after")
        ) || behind.is_some_and(|amount| amount.is_told)
    }

    /// `olive pieces`: a colour that is the name of a plant as well, before the word for pieces.
    fn is_open(&self, length: usize) -> bool {
        let behind = self.rest().get(length);
        behind.is_some_and(|word| PIECES.contains(&word.text.as_str())) && self.is_name_too(length)
    }

    fn is_name_too(&self, length: usize) -> bool {
        let name = self.names.name(&self.rest()[..length]);
        name.is_some_and(|name| !name.is_plural && name.can_be(Kind::is_used))
    }

    /// A name that no word introduces.
    fn alone(&mut self, name: Name) -> Result<()> {
        if let Some(status) = name.written(|kind| kind == Kind::Status) {
            self.say(Said::Filter(Filter::Is(Factor::Status, status.to_owned())));
            return Ok(());
        }
        if self.skip(&["free"]) {
            return self.leave_out(&name);
        }
        if let Some(mordant) = name.written(Kind::is_mordant).map(str::to_owned)
            && self.bath(&mordant)?
        {
            return Ok(());
        }
        if self.next_is(&PIECES) && !name.can_be(|kind| kind == Kind::Piece) {
            self.say(Said::Filter(
                match (name.written(Kind::is_cloth), name.written(Kind::is_used)) {
                    (Some(cloth), None) => Filter::On(cloth.to_owned()),
                    (None, Some(used)) => Filter::With(used.to_owned()),
                    _ => return Err(refusal::alone(&name)),
                },
            ));
            return Ok(());
        }
        if name.can_be(Kind::is_used) || name.can_be(Kind::is_cloth) {
            self.skip_kind();
        }
        if self.are_prints_of(&name) {
            return Ok(());
        }
        self.say(Said::Name(name));
        Ok(())
    }
}
