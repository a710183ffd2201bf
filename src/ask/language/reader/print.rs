//! `Print`, which is what is measured, or what a plant or a mordant does.

use super::Reader;
use crate::ask::language::filter::Filter;
use crate::ask::language::kind::Kind;
use crate::ask::language::names::Name;
use crate::ask::language::said::Said;
use crate::ask::language::terms::{Factor, Part};
use crate::ask::language::vocabulary::{Meaning, meaning};
use crate::ask::language::words::{Word, joined};
use crate::error::Result;

impl Reader<'_> {
    /// `print`, `prints`, `printed` or `leaf prints`.
    pub(super) fn print(&mut self, length: usize) -> Result<()> {
        let phrase = joined(&self.rest()[..length]);
        let asks = |word: &str| matches!(word, "which" | "what" | "whose");
        if length > 1 && self.word_before().is_some_and(asks) {
            self.at += 1;
            return self.factor(Factor::Plant, phrase);
        }
        let measured = match phrase.as_str() {
            "printed" => !self.acts() && self.is_colour(self.at + length),
            _ => !self.acts() || !self.is_verb(&phrase, length),
        };
        self.at += length;
        self.say(match measured {
            true => Said::Part(Part::Print(None)),
            false => Said::Word(Meaning::Print, phrase),
        });
        Ok(())
    }

    /// `walnut prints`, where prints are measured: of that plant alone, or of all pieces with that mordant. Where two are set against
    /// each other, their names say more.
    pub(super) fn are_prints_of(&mut self, name: &Name) -> bool {
        let measured =
            self.next_is(&["print", "prints"]) && !self.is_verb(&self.words[self.at].text, 1);
        let against =
            |word: &Word| meaning(&word.text).is_some_and(|meaning| meaning == Meaning::Against);
        if !measured || self.words.iter().any(against) {
            return false;
        }
        let plant = name.written(|kind| kind == Kind::Plant);
        let mordant = name.written(Kind::is_mordant);
        match (plant, mordant) {
            (Some(plant), None) => self.say(Said::Part(Part::Print(Some(plant.to_owned())))),
            (None, Some(mordant)) => {
                self.say(Said::Filter(Filter::With(mordant.to_owned())));
                self.say(Said::Part(Part::Print(None)));
            }
            _ => return false,
        }
        self.at += 1;
        true
    }

    fn word_before(&self) -> Option<&str> {
        let at = self.at.checked_sub(1)?;
        Some(self.words[at].text.as_str())
    }

    /// Whether a plant or a mordant stands directly before, and owns nothing: `which plant`, `does iron`.
    fn acts(&self) -> bool {
        let owns = |word: &str| word.ends_with("'s") || word.ends_with("s'");
        let before = self.at.checked_sub(1).map(|at| &self.words[at]);
        if before.is_none_or(|word| owns(&word.written) || word.ends) {
            return false;
        }
        match self.said.last() {
            Some(Said::By(factor)) => {
                matches!(factor, Factor::Plant | Factor::Mordant | Factor::Soak)
            }
            Some(Said::Name(name)) => name.can_be(Kind::is_used),
            Some(Said::Filter(filter)) => matches!(filter, Filter::With(_)),
            _ => false,
        }
    }

    /// Whether it is a verb behind what could be its subject: no other verb claims that, and what it prints, or how, follows.
    fn is_verb(&self, phrase: &str, length: usize) -> bool {
        let stand = |known: &[&str]| {
            let before = self.words[..self.at].iter();
            before
                .rev()
                .take_while(|word| !word.ends)
                .any(|word| known.contains(&word.text.as_str()))
        };
        let claimed = match phrase {
            "prints" => stand(&["is", "are", "was", "were", "do", "does", "did"]),
            _ => stand(&["is", "are", "was", "were"]),
        };
        let behind = self
            .words
            .get(self.at + length)
            .map(|word| word.text.as_str());
        let stops = matches!(
            behind,
            Some(
                "or" | "than"
                    | "versus"
                    | "vs"
                    | "and"
                    | "is"
                    | "are"
                    | "was"
                    | "were"
                    | "have"
                    | "has"
                    | "by"
            )
        );
        let asked = stand(&["do", "does", "did"]);
        !claimed && !stops && (behind.is_some() || asked)
    }

    /// Whether a colour stands there, or a word for some.
    fn is_colour(&self, at: usize) -> bool {
        let Some(word) = self.words.get(at) else {
            return false;
        };
        let known = meaning(&word.text);
        let any = [
            "colour", "colours", "color", "colors", "shade", "shades", "tone", "tones",
        ];
        matches!(known, Some(Meaning::Family(_)))
            || self.names.own(&word.text).is_some()
            || any.contains(&word.text.as_str())
    }
}
