//! What the words of a question say, put together into one question.

use super::filter::Filter;
use super::kind::Kind;
use super::names::{Name, Names};
use super::question::{Colours, Question, Target, Wanted};
use super::refusal;
use super::said::Said;
use super::terms::{Factor, Measure, Order, Part};
use super::vocabulary::Meaning;
use crate::error::{Error, Result};
use crate::reading::State;

/// What has been found so far; each of these may be said once.
#[derive(Default)]
pub struct Found {
    measure: Option<Measure>,
    order: Option<Order>,
    /// `most` or `least`, waiting for its noun.
    amount: Option<(Order, String)>,
    /// `reddest`.
    towards: Option<String>,
    colours: Option<Colours>,
    part: Option<Part>,
    by: Option<Factor>,
    state: Option<State>,
    filters: Vec<Filter>,
    names: Vec<Name>,
    /// `or`, `than`, `and` between names.
    against: Option<String>,
    and: bool,
    changes: bool,
    does: bool,
    rising: bool,
    count: bool,
    pieces: bool,
    next: bool,
    /// `steaming`, `simmering`: the kinds of heat that stand by themselves.
    heats: Vec<&'static str>,
    target: Option<Target>,
}

impl Found {
    /// Takes in one more thing.
    pub fn take(&mut self, said: Said) -> Result<()> {
        match said {
            Said::Filter(filter) => {
                if !self.filters.contains(&filter) {
                    self.filters.push(filter);
                }
                Ok(())
            }
            Said::Colours(colours) => self.colours(colours),
            Said::Part(part) => once(&mut self.part, part, Part::to_string, "part of the cloth"),
            Said::By(factor) => self.by(factor),
            Said::Name(name) => {
                self.names.push(name);
                Ok(())
            }
            Said::Target(target) => once(&mut self.target, target, Target::to_string, "goal"),
            Said::Word(meaning, phrase) => self.word(meaning, phrase),
        }
    }

    fn word(&mut self, meaning: Meaning, phrase: String) -> Result<()> {
        match meaning {
            Meaning::Filler | Meaning::Print | Meaning::Narrow(_) => {}
            Meaning::Amount(order) => self.amount = Some((order, phrase)),
            Meaning::Best(measure, order) => return self.best(measure, order),
            Meaning::Towards(order) => {
                self.towards = Some(phrase);
                return self.best(Measure::Hue, order);
            }
            Meaning::Name(measure) => {
                if let Some((order, _)) = self.amount.take() {
                    self.order(measure, in_order(measure, order))?;
                }
                return self.measure(measure);
            }
            Meaning::Family(family) => return self.colours(Colours::Family(family)),
            Meaning::By(factor) => return self.by(factor),
            Meaning::Rising(factor) => {
                self.rising = true;
                return self.by(factor);
            }
            Meaning::In(state) => {
                return once(&mut self.state, state, |s| s.word().to_owned(), "state");
            }
            Meaning::On(part) => return self.take(Said::Part(part)),
            Meaning::Heated(heat) => {
                return self.take(Said::Filter(Filter::Is(Factor::Heat, heat.to_owned())));
            }
            Meaning::Against => self.against = Some(phrase),
            Meaning::And => self.and = true,
            Meaning::Changes => self.changes = true,
            Meaning::Does => self.does = true,
            Meaning::Pieces => self.pieces = true,
            Meaning::Heating(heat) => {
                self.heats.push(heat);
                return self.by(Factor::Heat);
            }
            Meaning::Count => self.count = true,
            Meaning::Next => self.next = true,
            Meaning::Denial => return Err(refusal::denial(&phrase)),
            Meaning::Unclear(advice) => {
                return Err(Error::caller(format!(
                    "“{phrase}” could mean several things; {advice}."
                )));
            }
        }
        Ok(())
    }

    fn by(&mut self, factor: Factor) -> Result<()> {
        once(&mut self.by, factor, Factor::to_string, "comparison")
    }

    fn colours(&mut self, colours: Colours) -> Result<()> {
        if let Some((order, _)) = self.amount.take() {
            self.measure(Measure::Share)?;
            self.order(Measure::Share, order)?;
        }
        once(&mut self.colours, colours, Colours::to_string, "colour")
    }

    fn best(&mut self, measure: Measure, order: Order) -> Result<()> {
        let turned = matches!(self.amount.take(), Some((Order::Lowest, _)));
        let order = if turned { order.reversed() } else { order };
        if let (Some(known), Some(first)) = (self.measure, self.order)
            && (known, first) != (measure, order)
        {
            return Err(two_measures((known, first), (measure, order)));
        }
        self.measure(measure)?;
        self.order(measure, order)
    }

    fn measure(&mut self, measure: Measure) -> Result<()> {
        once(
            &mut self.measure,
            measure,
            |m| m.name().to_owned(),
            "measure",
        )
    }

    fn order(&mut self, measure: Measure, order: Order) -> Result<()> {
        match self.order {
            Some(known) if known != order => Err(two_measures((measure, known), (measure, order))),
            _ => {
                self.order = Some(order);
                Ok(())
            }
        }
    }

    /// The one question that was asked.
    pub fn question(mut self, names: &Names) -> Result<Question> {
        self.settle_amount()?;
        self.settle_names()?;
        let wanted = self.wanted(names)?;
        let measure = match wanted {
            Wanted::Compare { measure, .. }
            | Wanted::Slope { measure, .. }
            | Wanted::Next { measure, .. } => Some(measure),
            Wanted::Nearest { .. } | Wanted::Count { .. } => None,
        };
        self.check_colours(measure)?;
        Ok(Question {
            state: self.state(measure)?,
            wanted,
            colours: self.colours,
            part: self.part,
            filters: self.filters,
        })
    }

    /// `faded … the most`: the amount belongs to the measure that was named before it.
    fn settle_amount(&mut self) -> Result<()> {
        let Some((amount, word)) = self.amount.take() else {
            return Ok(());
        };
        match (self.measure, self.order) {
            (Some(measure), None) => {
                self.order = Some(in_order(measure, amount));
                Ok(())
            }
            _ => Err(Error::caller(format!(
                "“{word}” does not say of what: name a colour (“most yellow”), or warmth, lightness, chroma (the strength of a colour), colours, lightening or fading."
            ))),
        }
    }

    /// Names by themselves: two set against each other are compared, one of which is asked what it does is compared with its absence.
    fn settle_names(&mut self) -> Result<()> {
        let names = std::mem::take(&mut self.names);
        match names.as_slice() {
            [] => match self.against.take() {
                Some(_) if self.heats.iter().any(|heat| *heat != self.heats[0]) => Ok(()),
                Some(word) => Err(refusal::nothing_against(&word)),
                None => Ok(()),
            },
            [one] => self.one_name(one),
            [first, ..] if self.against.is_none() && !self.and => Err(refusal::alone(first)),
            several => self.several_names(several),
        }
    }

    fn one_name(&mut self, name: &Name) -> Result<()> {
        if let Some(word) = &self.against {
            return Err(refusal::nothing_against(word));
        }
        let acts = (self.does || self.changes) && self.by.is_none();
        match name.written(Kind::is_used).filter(|_| acts) {
            Some(written) => self.by(Factor::With(written.to_owned())),
            None => Err(refusal::alone(name)),
        }
    }

    fn several_names(&mut self, names: &[Name]) -> Result<()> {
        let all_are = |kind: Kind| names.iter().all(|name| name.can_be(|k| k == kind));
        let mut kinds: Vec<Kind> = COMPARED
            .iter()
            .map(|c| c.0)
            .filter(|&kind| all_are(kind))
            .collect();
        if kinds.contains(&Kind::Sequence) && !matches!(self.by, Some(Factor::Soak)) {
            kinds.retain(|kind| *kind != Kind::Soak);
        }
        let factors: Vec<&Factor> = COMPARED
            .iter()
            .filter(|c| kinds.contains(&c.0))
            .map(|c| &c.1)
            .collect();
        let factor = match (&self.by, factors.as_slice()) {
            (Some(by), of) if of.contains(&by) => by.clone(),
            (Some(_), _) => return Err(refusal::alternatives(names)),
            (None, [one]) => (*one).clone(),
            (None, []) => return Err(refusal::not_of_one_kind(names)),
            (None, of) => return Err(refusal::of_several_kinds(names, of)),
        };
        let kind = COMPARED.iter().find(|c| c.1 == factor).map(|c| c.0);
        let written = names
            .iter()
            .filter_map(|name| name.written(|k| Some(k) == kind));
        let mut values: Vec<String> = Vec::new();
        for value in written {
            if !values.iter().any(|known| known == value) {
                values.push(value.to_owned());
            }
        }
        if values.len() < 2 {
            return Err(refusal::nothing_against(&names[0].said));
        }
        self.by = Some(factor.clone());
        self.filters.push(Filter::Among(factor, values));
        Ok(())
    }

    fn wanted(&mut self, names: &Names) -> Result<Wanted> {
        let compares = self.by.as_ref().is_some_and(|by| *by != Factor::Piece);
        if let Some(to) = self.target.take() {
            return match (compares || self.count || self.next, self.measure) {
                (false, None) => Ok(Wanted::Nearest { to }),
                _ => Err(Error::caller(
                    "What is nearest in colour is asked for by itself, not with a comparison, a count or a measure: leave the rest out, or ask one question for each.",
                )),
            };
        }
        if self.count {
            return self.counted();
        }
        let measure = self
            .measure
            .ok_or_else(|| refusal::no_measure(self.by.as_ref()))?;
        let order = self.order.unwrap_or(measure.most());
        if self.next {
            return match &self.by {
                None => Ok(Wanted::Next { measure, order }),
                Some(by) => Err(Error::caller(format!(
                    "What to try next is chosen among all settings, so leave “{by}” out, or ask which {by} came out best so far."
                ))),
            };
        }
        // “The darkest piece with iron” compares pieces, where nothing else is said to be compared or to act.
        let pieces = self.pieces && !self.changes && !self.does && !self.rising;
        let by = self.by.take().or(pieces.then_some(Factor::Piece));
        let by = by.ok_or_else(refusal::no_comparison)?;
        Ok(
            match (self.changes || self.rising) && names.is_number(&by) {
                true => Wanted::Slope { measure, by },
                false => Wanted::Compare { measure, order, by },
            },
        )
    }

    fn counted(&self) -> Result<Wanted> {
        if let Some(measure) = self.measure {
            return Err(Error::caller(format!(
                "How many pieces is asked of a colour or a setting; {} has no limit from which a piece would count. Ask, for example, how many pieces have yellows, or which pieces are {}.",
                measure.name(),
                measure.superlative(self.order.unwrap_or(measure.most()))
            )));
        }
        match &self.by {
            None => Ok(Wanted::Count {
                seen: self.colours.is_some() || self.part.is_some() || self.state.is_some(),
            }),
            Some(by) => Err(Error::caller(format!(
                "Pieces are counted all together and not by {by}: name one, as in “how many pieces in pot P3”, and ask one question for each."
            ))),
        }
    }

    fn check_colours(&self, measure: Option<Measure>) -> Result<()> {
        if measure == Some(Measure::Share) && self.colours.is_none() {
            return Err(Error::caller(
                "The question asks for a share but not of which colour: say, for example, “the largest share of yellow”.",
            ));
        }
        let Some(word) = &self.towards else {
            return Ok(());
        };
        match &self.colours {
            Some(colours) if colours.are_between_red_and_green() => Ok(()),
            _ => Err(Error::caller(format!(
                "“{word}” can be told among oranges, browns, yellows, olives and yellow greens: name one of them, or ask for a share of the cloth, “most red”."
            ))),
        }
    }

    fn state(&self, measure: Option<Measure>) -> Result<State> {
        match (measure, self.state) {
            (Some(Measure::Lightening), Some(State::Washed | State::Worn)) => Err(Error::caller(
                "Lightening is from wet to dry, so it cannot be asked of washed or worn pieces: leave that word out.",
            )),
            (Some(Measure::Fading), Some(State::Wet | State::Dry | State::Worn)) => {
                Err(Error::caller(
                    "Fading is from dry to washed, so it cannot be asked of pieces in another state: leave that word out.",
                ))
            }
            (Some(Measure::Lightening), _) => Ok(State::Dry),
            (Some(Measure::Fading), _) => Ok(State::Washed),
            (_, state) => Ok(state.unwrap_or(State::Dry)),
        }
    }
}

/// The kinds of names that can be set against each other, and the setting whose values they are.
const COMPARED: [(Kind, Factor); 8] = [
    (Kind::Sequence, Factor::Mordant),
    (Kind::Soak, Factor::Soak),
    (Kind::Plant, Factor::Plant),
    (Kind::Fibre, Factor::Fibre),
    (Kind::Weave, Factor::Weave),
    (Kind::Pot, Factor::Pot),
    (Kind::Bundle, Factor::Bundle),
    (Kind::Piece, Factor::Piece),
];

/// The end of a measure that an amount means: the most even cloth has the lowest value.
fn in_order(measure: Measure, amount: Order) -> Order {
    match amount {
        Order::Highest => measure.most(),
        Order::Lowest => measure.most().reversed(),
    }
}

fn two_measures(one: (Measure, Order), other: (Measure, Order)) -> Error {
    let say = |(measure, order): (Measure, Order)| {
        format!("{} ({} first)", measure.name(), measure.first(order))
    };
    more_than_one("measure", &say(one), &say(other))
}

fn more_than_one(what: &str, one: &str, other: &str) -> Error {
    Error::caller(format!(
        "The question names more than one {what}, {one} and {other}: ask one question for each."
    ))
}

/// Fills `slot`; the same again is fine, something else is two questions in one.
fn once<T: PartialEq>(
    slot: &mut Option<T>,
    value: T,
    say: impl Fn(&T) -> String,
    what: &str,
) -> Result<()> {
    match slot {
        Some(known) if *known != value => Err(more_than_one(what, &say(known), &say(&value))),
        _ => {
            *slot = Some(value);
            Ok(())
        }
    }
}
