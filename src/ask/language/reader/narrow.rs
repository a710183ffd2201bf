//! Words that a name of the journal follows: `with walnut`, `on silk`, `printed by birch`.

use super::{Reader, Thing};
use crate::ask::language::filter::Filter;
use crate::ask::language::kind::Kind;
use crate::ask::language::names::Name;
use crate::ask::language::number::amount;
use crate::ask::language::said::Said;
use crate::ask::language::terms::{Factor, Part};
use crate::ask::language::vocabulary::{DETERMINERS, LONGEST_PHRASE, Meaning, Narrowing};
use crate::ask::language::words::{joined, words};
use crate::ask::language::{date, refusal, target};
use crate::error::Result;

impl Reader<'_> {
    /// A word that a name follows.
    pub(super) fn narrowed(
        &mut self,
        length: usize,
        narrowing: Narrowing,
        phrase: &str,
    ) -> Result<()> {
        let start = self.at;
        self.at += length;
        while self.next_is(&DETERMINERS) {
            self.at += 1;
        }
        match narrowing {
            Narrowing::NearTo => {
                let (length, to) = target::target(self.rest(), self.names, phrase)?;
                self.at += length;
                self.say(Said::Target(to));
                return Ok(());
            }
            Narrowing::Column => {
                let column = (1..=self.rest().len().min(LONGEST_PHRASE))
                    .rev()
                    .find_map(|n| Some((n, self.names.column(&joined(&self.rest()[..n]))?)));
                let (length, column) =
                    column.ok_or_else(|| refusal::no_such_column(self.rest(), self.names))?;
                self.at += length;
                return self.factor(column, phrase.to_owned());
            }
            _ => {}
        }
        let fits = |kind: Kind| follows(narrowing, kind);
        if narrowing != Narrowing::Without && narrowing != Narrowing::WithOrWithout {
            let here = self.at;
            self.skip(&["plant", "plants", "mordant", "mordants", "cloth", "fabric"]);
            let is_named = self.names.longest(self.rest(), fits).is_some();
            // “Prints by mordant” compares; “prints by the plant walnut” names.
            if narrowing == Narrowing::PrintedBy && !is_named {
                self.at = here;
            }
        }
        if narrowing == Narrowing::Without && self.without_mordant() {
            return Ok(());
        }
        let Some((length, name)) = self.names.longest(self.rest(), fits) else {
            if narrowing == Narrowing::Without
                && self.rest().is_empty()
                && let Some(name) = self.without_it()
            {
                self.say(Said::By(Factor::With(name)));
                return Ok(());
            }
            return self.no_name(start, narrowing, phrase);
        };
        let colour = self.thing()?.filter(|(_, thing)| {
            matches!(thing, Thing::Meaning(Meaning::Family(_)) | Thing::Own(_))
        });
        match colour {
            Some((other, _)) if other > length => return self.no_name(start, narrowing, phrase),
            Some((other, _)) if other == length && name.is_plural => {
                return Err(refusal::plant_or_colour(&name.said));
            }
            _ => {}
        }
        self.at += length;
        match narrowing {
            Narrowing::StrengthOf | Narrowing::AgeOf => {
                let mordant = name.written(fits).unwrap_or_default().to_owned();
                if narrowing == Narrowing::StrengthOf {
                    return self.factor(Factor::Strength(mordant), phrase.to_owned());
                }
                self.skip(&["bath", "baths"]);
                self.factor(Factor::BathAge(Some(mordant)), phrase.to_owned())
            }
            Narrowing::PrintedBy => {
                self.skip_kind();
                let plant = name.written(fits).map(str::to_owned);
                self.say(Said::Part(Part::Print(plant)));
                Ok(())
            }
            Narrowing::WithOrWithout => {
                self.skip_kind();
                let used = name.written(fits).unwrap_or_default().to_owned();
                self.say(Said::By(Factor::With(used)));
                Ok(())
            }
            Narrowing::Without => self.leave_out(&name),
            _ => self.take_in(narrowing, name),
        }
    }

    /// `without mordant`: cloth on which the journal says that there was none. Whether that stood there.
    fn without_mordant(&mut self) -> bool {
        let here = self.at;
        if !self.skip(&["mordant", "mordants", "mordanting"]) {
            return false;
        }
        if self.names.longest(self.rest(), Kind::is_mordant).is_some() {
            return false;
        }
        let none = self.names.name(&words("none", |_| false));
        match none
            .as_ref()
            .and_then(|none| none.written(Kind::is_mordant))
        {
            Some(none) => self.say(Said::Filter(Filter::With(none.to_owned()))),
            None => self.at = here,
        }
        none.is_some()
    }

    /// `without iron`, and `or tannin` behind it.
    pub(super) fn leave_out(&mut self, name: &Name) -> Result<()> {
        let used = |name: &Name| name.written(Kind::is_used).map(str::to_owned);
        let used = used(name).ok_or_else(|| refusal::alone(name))?;
        self.skip_kind();
        if self.skip(&["or with it", "than with it", "or with", "than with"]) {
            self.say(Said::By(Factor::With(used)));
            return Ok(());
        }
        self.say(Said::Filter(Filter::Without(used)));
        let before = self.at;
        if self.skip(&["or", "nor", "and", "or without", "and without"]) {
            if let Some((length, next)) = self.names.longest(self.rest(), Kind::is_used) {
                self.at += length;
                return self.leave_out(&next);
            }
            self.at = before;
        }
        Ok(())
    }

    /// `with walnut` or `on silk`, and what may hang on to it.
    pub(super) fn take_in(&mut self, narrowing: Narrowing, name: Name) -> Result<()> {
        let fits = |kind: Kind| follows(narrowing, kind);
        let before = self.at;
        if name.can_be(Kind::is_used) && self.skip_kind() && self.is_told_number() {
            self.at = before;
        }
        let withouts = [
            "or without it",
            "than without it",
            "and without it",
            "or without",
            "than without",
            "and without",
            "or not",
        ];
        let used = name.written(Kind::is_used).map(str::to_owned);
        if let Some(used) = &used {
            let here = self.at;
            if self.skip(&withouts) {
                if self.names.longest(self.rest(), Kind::is_used).is_none() {
                    self.say(Said::By(Factor::With(used.clone())));
                    return Ok(());
                }
                self.at = here;
            }
        }
        let own = |word: &str| match narrowing {
            Narrowing::On => format!("{word} on"),
            Narrowing::For => format!("{word} for"),
            _ => format!("{word} with"),
        };
        let here = self.at;
        // A cloth is of one fibre, so “silk and wool” are two to choose from.
        let joints = ["or", "than", "versus", "vs", "and"];
        let many = if used.is_some() { 4 } else { 5 };
        for word in &joints[..many] {
            if (self.skip(&[&own(word)]) || self.skip(&[word]))
                && let Some((length, other)) = self.names.longest(self.rest(), fits)
            {
                self.at += length;
                self.skip_kind();
                self.say(Said::Name(name));
                self.say(Said::Word(Meaning::Against, (*word).to_owned()));
                self.say(Said::Name(other));
                return Ok(());
            }
            self.at = here;
        }
        match (used, name.written(Kind::is_cloth)) {
            (Some(used), None) => self.used(used, name.can_be(Kind::is_mordant))?,
            (None, Some(cloth)) => self.say(Said::Filter(Filter::On(cloth.to_owned()))),
            _ => return Err(refusal::alone(&name)),
        }
        let here = self.at;
        if self.skip(&[&own("and"), "and"]) {
            if let Some((length, other)) = self.names.longest(self.rest(), fits) {
                self.at += length;
                return self.take_in(narrowing, other);
            }
            self.at = here;
        }
        Ok(())
    }

    pub(super) fn is_told_number(&self) -> bool {
        amount(self.rest()).is_some_and(|amount| amount.is_told)
    }

    /// Something that was used; of a mordant, its strength may follow.
    pub(super) fn used(&mut self, used: String, is_mordant: bool) -> Result<()> {
        if is_mordant && self.bath(&used)? {
            return Ok(());
        }
        self.skip_kind();
        self.say(Said::Filter(Filter::With(used)));
        Ok(())
    }

    /// No name follows: a word such as `with` may stand before something else that is known; a denial may not.
    pub(super) fn no_name(
        &mut self,
        start: usize,
        narrowing: Narrowing,
        phrase: &str,
    ) -> Result<()> {
        let fits = |kind: Kind| follows(narrowing, kind);
        let known = match self.thing()? {
            Some((_, Thing::Name(name))) => match narrowing {
                Narrowing::For | Narrowing::PrintedBy => true,
                _ => {
                    return Err(refusal::misplaced(
                        phrase,
                        &name,
                        narrowing == Narrowing::Without,
                    ));
                }
            },
            Some((_, Thing::Meaning(Meaning::Narrow(_)))) | None => false,
            Some(_) => true,
        };
        let number = date::made(self.rest(), self.today).is_some() || self.is_told_number();
        let bare = matches!(narrowing, Narrowing::With | Narrowing::On | Narrowing::For)
            && (known || number);
        if narrowing == Narrowing::PrintedBy {
            let print =
                start + usize::from(matches!(phrase.split(' ').next(), Some("in" | "on" | "of")));
            // “printed by layer”, “prints by mordant”, “prints from 2025”: the word stands by itself.
            if known || number || date::made(&self.words[print + 1..], self.today).is_some() {
                self.at = print;
                return self.print(1);
            }
        }
        if bare {
            self.say(Said::Word(Meaning::Filler, phrase.to_owned()));
            return Ok(());
        }
        Err(refusal::no_such_name(phrase, self.rest(), self.names, fits))
    }
}

fn follows(narrowing: Narrowing, kind: Kind) -> bool {
    match narrowing {
        Narrowing::With | Narrowing::Without | Narrowing::WithOrWithout => kind.is_used(),
        Narrowing::On => kind.is_cloth(),
        Narrowing::For => kind.is_used() || kind.is_cloth(),
        Narrowing::PrintedBy => kind == Kind::Plant,
        Narrowing::StrengthOf | Narrowing::AgeOf => kind == Kind::Soak,
        Narrowing::NearTo => kind == Kind::Piece,
        Narrowing::Column => false,
    }
}
