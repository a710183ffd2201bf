//! Settings, and the numbers and names behind them.

use super::{Reader, Thing};
use crate::ask::language::filter::Filter;
use crate::ask::language::kind::Kind;
use crate::ask::language::number::{Amount, amount};
use crate::ask::language::refusal;
use crate::ask::language::said::Said;
use crate::ask::language::terms::Factor;
use crate::ask::language::vocabulary::Meaning;
use crate::error::Result;

impl Reader<'_> {
    /// A number and its bounds, of `factor` or of what its unit tells.
    pub(super) fn bounded(&mut self, amount: &Amount, factor: Option<Factor>) -> Result<()> {
        let bound = amount.bound(factor);
        // What stands behind a number without a unit may be a unit that is not known.
        if bound.is_err() && self.at < self.words.len() && matches!(self.thing(), Ok(None)) {
            self.not_understood(1);
        }
        let (factor, bound) = bound?;
        self.say(Said::Filter(Filter::Number(factor, bound)));
        Ok(())
    }

    /// A setting: with a number or a name behind it, it narrows; else it is what is compared.
    pub(super) fn factor(&mut self, factor: Factor, phrase: String) -> Result<()> {
        if self.is_apart() {
            self.say(Said::By(factor));
            return Ok(());
        }
        let before = self.at;
        self.skip(&["is", "was", "are", "were"]);
        let number = amount(self.rest());
        if let Some(amount) = number {
            let alone = amount
                .alone()
                .filter(|_| matches!(factor, Factor::Layer | Factor::Round));
            let holds_numbers = self.names.is_number(&factor);
            if let Some(number) = alone {
                self.at += amount.length;
                self.say(Said::Filter(Filter::Is(factor, number.to_string())));
                return Ok(());
            }
            if holds_numbers {
                self.at += amount.length;
                return self.bounded(&amount, Some(factor));
            }
        }
        self.at = before;
        let fits = |kind: Kind| kind_of(&factor, kind);
        let Some((length, name)) = self.names.longest(self.rest(), fits) else {
            let number = self
                .rest()
                .first()
                .is_some_and(|word| word.text.contains(|c: char| c.is_ascii_digit()));
            if number
                && matches!(factor, Factor::Pot | Factor::Bundle | Factor::Piece)
                && self.thing()?.is_none()
            {
                return Err(refusal::no_such_name(
                    &phrase,
                    self.rest(),
                    self.names,
                    fits,
                ));
            }
            self.say(Said::By(factor));
            return Ok(());
        };
        match self.thing()? {
            Some((other, Thing::Meaning(_) | Thing::Own(_))) if other > length => {
                self.say(Said::By(factor));
                return Ok(());
            }
            Some((other, Thing::Meaning(Meaning::Family(_)) | Thing::Own(_)))
                if other == length =>
            {
                return Err(refusal::plant_or_colour(&name.said));
            }
            Some((other, Thing::Meaning(_))) if other == length => {
                self.say(Said::By(factor));
                return Ok(());
            }
            _ => {}
        }
        self.at += length;
        let written = name.written(fits).unwrap_or_default().to_owned();
        self.say(match factor {
            Factor::Plant | Factor::Mordant | Factor::Soak => return self.used(written, false),
            Factor::Fibre | Factor::Weave => Said::Filter(Filter::On(written)),
            // Several pieces are compared; one alone is what others are near to, or a slip.
            Factor::Piece => Said::Name(name),
            factor => Said::Filter(Filter::Is(factor, written)),
        });
        Ok(())
    }

    /// What may stand behind a mordant and is about its bath: `strength`, `bath age`, a number in % or of days.
    pub(super) fn bath(&mut self, mordant: &str) -> Result<bool> {
        let before = self.at;
        if self.is_apart() {
            return Ok(false);
        }
        let factor = if self.skip(&["bath age", "bath's age"]) {
            Factor::BathAge(Some(mordant.to_owned()))
        } else if self.skip(&["strength", "strengths", "concentration"]) {
            Factor::Strength(mordant.to_owned())
        } else {
            let bath = self.skip(&["bath", "baths"]);
            let amount = amount(self.rest()).filter(|amount| amount.is_told);
            let factor = match amount.as_ref() {
                Some(amount) if bath && amount.is_days() => {
                    Factor::BathAge(Some(mordant.to_owned()))
                }
                Some(amount) if amount.is_strength() => Factor::Strength(mordant.to_owned()),
                _ => {
                    self.at = before;
                    return Ok(false);
                }
            };
            if let Some(amount) = amount {
                self.at += amount.length;
                self.bounded(&amount, Some(factor))?;
            }
            return Ok(true);
        };
        self.factor(factor, mordant.to_owned())?;
        Ok(true)
    }
}

fn kind_of(factor: &Factor, kind: Kind) -> bool {
    match factor {
        Factor::Mordant | Factor::Soak => kind.is_mordant(),
        Factor::Plant => kind == Kind::Plant,
        Factor::Pot => kind == Kind::Pot,
        Factor::Bundle => kind == Kind::Bundle,
        Factor::Fibre => kind == Kind::Fibre,
        Factor::Weave => kind == Kind::Weave,
        Factor::Piece => kind == Kind::Piece,
        Factor::Status => kind == Kind::Status,
        _ => false,
    }
}
