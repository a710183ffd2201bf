//! What can be said of the first group against the others, in numbers and in words.

use super::compare::{Compared, Gathered};
use super::language::{Factor, Measure, Order, Question};
use crate::error::capital;
use crate::stats::{self, Contrast, Spread, pots_needed};
use serde::Serialize;
use std::cmp::Ordering;

/// The leader against the group it is hardest to tell apart from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Verdict {
    /// The first group.
    pub leader: String,
    /// The group against which the leader's p-value is largest.
    pub over: String,
    /// Mean of the leader less that of `over`, in the measure's unit; below 0 where the lowest comes first.
    pub difference: f64,
    /// Lower end of its 95 % interval; `None` where there is too little to say.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// The largest of the leader's p-values against each other group; `None` where one cannot be had.
    pub p: Option<f64>,
    /// Whether all those p-values are below 5 % (all must be rejected, so no further correction is due) and the difference would
    /// remain had all else been alike.
    pub holds: bool,
    /// How many more pots of each of the two would settle a difference as large as this one in four of five cases; `None`
    /// where it holds, where that cannot be told, or where it would take more than 50.
    pub more_pots: Option<usize>,
    /// The same in words, for a craftsperson.
    pub text: String,
}

/// Says what `compared` shows; `None` where there are fewer than two groups. `otherwise`: with all else alike little of the
/// difference would be left, so it does not hold, whatever chance says.
pub fn verdict(
    question: &Question,
    (measure, order, by): (Measure, Order, &Factor),
    compared: &Compared,
    otherwise: bool,
) -> Option<Verdict> {
    let (leader, others) = compared.groups.split_first()?;
    // Where nothing was compared, the next in order stands for all.
    let (place, contrast) = compared.hardest().unwrap_or((1, None));
    let over = compared.groups.get(place)?;
    // The comparison allows for what pots did; where it turns the order of the means round, nothing holds.
    let ahead = |c: &Contrast| order.best_first(c.value, 0.0) == Ordering::Less;
    let apart = stats::holds(&compared.against) && compared.against.iter().flatten().all(ahead);
    let holds = apart && !otherwise;
    let words = Words {
        beaten: beaten(compared),
        question,
        measure,
        order,
        by,
        leader,
        over,
        others: others.len(),
    };
    let difference = contrast
        .as_ref()
        .map_or(leader.mean - over.mean, |c| c.value);
    let more_pots = contrast
        .filter(|c| !holds && ahead(c))
        .and_then(|contrast| more_pots(&contrast, leader, over));
    Some(Verdict {
        leader: leader.label.clone(),
        over: over.label.clone(),
        difference,
        low: contrast.as_ref().map(|c| c.low),
        high: contrast.as_ref().map(|c| c.high),
        p: contrast.as_ref().map(|c| c.p),
        holds,
        more_pots,
        text: match &contrast {
            Some(contrast) if holds => words.it_holds(contrast),
            contrast => words.it_does_not_hold(contrast.is_some(), apart, more_pots),
        },
    })
}

/// The groups that the leader stands clear of, each a claim of its own.
fn beaten(compared: &Compared) -> Vec<&str> {
    let others = compared.groups[1..].iter().zip(&compared.against);
    let told: Vec<(&str, f64)> = others
        .filter_map(|(group, contrast)| Some((group.label.as_str(), contrast.as_ref()?.p)))
        .collect();
    let p: Vec<f64> = told.iter().map(|(_, p)| *p).collect();
    let claims = told.iter().zip(stats::holm(&p));
    claims
        .filter(|(_, p)| *p < stats::LEVEL)
        .map(|((label, _), _)| *label)
        .collect()
}

/// More pots of each than these nobody boils for one question.
const WORTH: usize = 50;
/// So likely the further pots are to settle it.
const POWER: f64 = 0.8;

/// How many more pots of each would show the difference, where pots go on scattering as they do now: the error of the
/// comparison tells what one pot of each is worth, whether they share pots or not.
fn more_pots(contrast: &Contrast, leader: &Gathered, over: &Gathered) -> Option<usize> {
    let pots = (leader.pots.len(), over.pots.len());
    let between = contrast.error / (1.0 / pots.0 as f64 + 1.0 / pots.1 as f64).sqrt();
    let spread = Spread {
        between,
        within: 0.0,
    };
    let more = pots_needed(contrast.value, &spread, 0.0, 1.0, pots, POWER, WORTH)?;
    Some(more.max(1))
}

struct Words<'w> {
    /// The groups that the leader stands clear of.
    beaten: Vec<&'w str>,
    question: &'w Question,
    measure: Measure,
    order: Order,
    by: &'w Factor,
    leader: &'w Gathered,
    over: &'w Gathered,
    others: usize,
}

impl Words<'_> {
    fn it_holds(&self, contrast: &Contrast) -> String {
        let also = match self.others {
            1 => String::new(),
            _ => format!(" It stands clear of every other {} as well.", self.by),
        };
        let span = |value: f64| self.measure.show_difference(value.abs());
        let (near, far) = match contrast.value < 0.0 {
            true => (contrast.high, contrast.low),
            false => (contrast.low, contrast.high),
        };
        format!(
            "{}: {}. The difference is likely between {} and {}.{also}",
            capital(&self.claim()),
            self.means(),
            span(near),
            span(far),
        )
    }

    fn it_does_not_hold(&self, compared: bool, apart: bool, more: Option<usize>) -> String {
        let shown = |group: &Gathered| self.measure.show(group.mean);
        if self.by.is_one_event() && shown(self.leader) == shown(self.over) {
            return format!(
                "No difference shows: {} and {} both come to {}.",
                self.by.one(&self.leader.label),
                self.by.one(&self.over.label),
                shown(self.leader)
            );
        }
        if self.by.is_one_event() {
            return format!(
                "{}: {} against {} for {}. What happened once cannot tell chance from cause: this is an order, not a proof.",
                capital(&self.claim()),
                self.measure.show(self.leader.mean),
                self.measure.show(self.over.mean),
                self.by.one(&self.over.label),
            );
        }
        let why = match compared {
            _ if self.leader.pots.len() < 2 => {
                "that rests on one pot, and one pot proves nothing: do it again in another"
                    .to_owned()
            }
            false if self.over.pots.len() < 2 => format!(
                "{} was seen in one pot only, which may have been any pot: do it again in another",
                self.by.one(&self.over.label)
            ),
            false if (self.leader.mean - self.over.mean).abs() < 1e-9 => {
                "they are alike".to_owned()
            }
            false => "there are too few pots to tell: more of each would".to_owned(),
            true if apart => {
                "what else differed between them may be the cause, as told below: try them alike in all else".to_owned()
            }
            true => format!(
                "pots of the same kind differ about as much among themselves, so it may be chance: {}",
                match more {
                    Some(1) =>
                        "if the difference is real, about one more pot of each would show it"
                            .to_owned(),
                    Some(more) => format!(
                        "if the difference is real, about {more} more pots of each would show it"
                    ),
                    None =>
                        "a difference so small would take more pots than are worth it".to_owned(),
                }
            ),
        };
        let clear: Vec<String> = self.beaten.iter().map(|label| self.by.one(label)).collect();
        let (so_far, clear) = match clear.is_empty() {
            true => ("Nothing can be told apart yet. So far", String::new()),
            false => (
                "It is not settled which comes first. So far",
                format!(" It does stand clear of {}.", clear.join(", ")),
            ),
        };
        format!(
            "{so_far} {}: {}; but {why}.{clear}",
            self.claim(),
            self.means()
        )
    }

    /// `alum > iron gave the warmest yellows`.
    fn claim(&self) -> String {
        let who = self.by.one(&self.leader.label);
        let best = self.question.superlative(self.measure, self.order);
        let colours = self.question.of_colours();
        match (self.measure, &self.question.colours) {
            (Measure::Lightening, None) => format!("{who} lightened {best} on drying"),
            (Measure::Lightening, Some(_)) => {
                format!("{who} lightened {best} on drying in its {colours}")
            }
            (Measure::Fading, None) => format!("{who} changed {best} in washing"),
            (Measure::Fading, Some(_)) => {
                format!("{who} changed {best} in washing in its {colours}")
            }
            (Measure::Share, Some(family)) => format!("{who} gave the {best} {}", family.name()),
            _ => format!("{who} gave the {best} {colours}"),
        }
    }

    /// `warmth 0.84 (5 pots) against 0.53 for alum (4 pots)`.
    fn means(&self) -> String {
        let name = match self.measure {
            Measure::Lightening | Measure::Share | Measure::Fading | Measure::Number => {
                "on average"
            }
            measure => measure.name(),
        };
        let pots = |group: &Gathered| match group.pots.len() {
            1 => "1 pot".to_owned(),
            many => format!("{many} pots"),
        };
        format!(
            "{name} {} ({}) against {} for {} ({})",
            self.measure.show(self.leader.mean),
            pots(self.leader),
            self.measure.show(self.over.mean),
            self.by.one(&self.over.label),
            pots(self.over),
        )
    }
}
