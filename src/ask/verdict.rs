//! What can be said of the first group against the others, in numbers and in words.

use super::question::Question;
use super::survey::Gathered;
use super::terms::{Factor, Measure};
use crate::error::capital;
use crate::stats::{Comparison, compare};
use serde::Serialize;

/// Below this a difference holds.
const LEVEL: f64 = 0.05;

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
    /// Whether all those p-values are below 5 %: all must be rejected, so no further correction is due.
    pub holds: bool,
    /// The same in words, for a craftsperson.
    pub text: String,
}

/// Compares the first of `groups` with every other; `None` where there are fewer than two.
///
/// Trials are compared by `stats::compare`: pots that hold pieces of both groups count as pairs, the others as independent. A
/// leader seen in one pot only is never compared. Another group of one pot is taken to scatter as the leader does.
pub fn verdict(question: &Question, groups: &[Gathered]) -> Option<Verdict> {
    let (leader, others) = groups.split_first()?;
    // Of others alike in p, the one that comes next counts: it is nearest to the leader.
    let compared = others.iter().rev();
    let compared = compared.map(|other| (other, against(leader, other)));
    let (over, comparison) =
        compared.max_by(|(_, a), (_, b)| p_or_more(a).total_cmp(&p_or_more(b)))?;
    let holds = comparison.is_some_and(|c| c.p < LEVEL);
    let words = Words {
        question,
        leader,
        over,
        others: others.len(),
    };
    Some(Verdict {
        leader: leader.label.clone(),
        over: over.label.clone(),
        difference: leader.estimate.mean - over.estimate.mean,
        low: comparison.map(|c| c.low),
        high: comparison.map(|c| c.high),
        p: comparison.map(|c| c.p),
        holds,
        text: match comparison {
            Some(c) if holds => words.it_holds(c),
            comparison => words.it_does_not_hold(comparison),
        },
    })
}

/// No p-value at all is worse than any.
fn p_or_more(comparison: &Option<Comparison>) -> f64 {
    comparison.map_or(2.0, |c| c.p)
}

fn against(leader: &Gathered, other: &Gathered) -> Option<Comparison> {
    if leader.trials.len() < 2 {
        return None;
    }
    let (mut shared, mut alone) = (Vec::new(), Vec::new());
    for (trial, &value) in &leader.trials {
        match other.trials.get(trial) {
            Some(&also) => shared.push((value, also)),
            None => alone.push(value),
        }
    }
    let others = other
        .trials
        .iter()
        .filter(|(t, _)| !leader.trials.contains_key(*t));
    let others: Vec<f64> = others.map(|(_, &value)| value).collect();
    compare(&shared, &alone, &others)
}

struct Words<'w, 's, 'a> {
    question: &'w Question,
    leader: &'w Gathered<'s, 'a>,
    over: &'w Gathered<'s, 'a>,
    others: usize,
}

impl Words<'_, '_, '_> {
    fn it_holds(&self, comparison: Comparison) -> String {
        let also = match self.others {
            1 => String::new(),
            _ => format!(
                " It stands clear of every other {} as well.",
                self.question.by
            ),
        };
        let span = |value: f64| self.question.measure.show(value.abs());
        let (near, far) = if comparison.difference < 0.0 {
            (comparison.high, comparison.low)
        } else {
            (comparison.low, comparison.high)
        };
        format!(
            "{}: {}. The difference is likely between {} and {}.{also}",
            capital(&self.claim()),
            self.means(),
            span(near),
            span(far),
        )
    }

    fn it_does_not_hold(&self, comparison: Option<Comparison>) -> String {
        let why = match comparison {
            _ if self.question.by.is_one_event() => {
                "what happened once cannot tell chance from cause: this is an order, not a proof"
            }
            _ if self.leader.trials.len() < 2 => {
                "that rests on one pot, and one pot proves nothing: do it again in another"
            }
            None => "there are too few pots to tell: more of each would",
            Some(_) => {
                "pots of the same kind differ about as much among themselves, so it may be chance: more pots of each would tell"
            }
        };
        format!(
            "Nothing can be told apart yet. So far {}: {}; but {why}.",
            self.claim(),
            self.means(),
        )
    }

    /// `alum > iron gave the warmest yellows`.
    fn claim(&self) -> String {
        let Question {
            measure,
            order,
            family,
            by,
            ..
        } = self.question;
        let (who, best) = (subject(by, &self.leader.label), measure.superlative(*order));
        let colours = family.map_or_else(|| "colours".to_owned(), |f| f.plural());
        match (measure, family) {
            (Measure::Lightening, None) => format!("{who} lightened {best} on drying"),
            (Measure::Lightening, Some(_)) => {
                format!("{who} lightened {best} on drying in its {colours}")
            }
            (Measure::Share, Some(family)) => format!("{who} gave the {best} {}", family.name()),
            _ => format!("{who} gave the {best} {colours}"),
        }
    }

    /// `warmth 0.84 (5 pots) against 0.53 for alum (4 pots)`.
    fn means(&self) -> String {
        let measure = self.question.measure;
        let name = match measure {
            Measure::Lightening | Measure::Share => "on average",
            _ => measure.name(),
        };
        let pots = |group: &Gathered| match group.trials.len() {
            1 => "1 pot".to_owned(),
            many => format!("{many} pots"),
        };
        format!(
            "{name} {} ({}) against {} for {} ({})",
            measure.show(self.leader.estimate.mean),
            pots(self.leader),
            measure.show(self.over.estimate.mean),
            subject(&self.question.by, &self.over.label),
            pots(self.over),
        )
    }
}

/// A value of a setting as the subject of a sentence.
fn subject(by: &Factor, value: &str) -> String {
    match by {
        // “None gave the warmest yellows” would say the opposite.
        Factor::Mordant if value == "none" => "cloth without mordant".to_owned(),
        Factor::Mordant | Factor::Plant | Factor::Fibre | Factor::Weave | Factor::Piece => {
            value.to_owned()
        }
        Factor::Heat => format!("{value}ing"),
        Factor::Bundle | Factor::Pot | Factor::Layer | Factor::Column(_) => format!("{by} {value}"),
        Factor::SimmerTemperature => format!("a simmer at {value}"),
        Factor::SimmerTime => format!("a simmer of {value}"),
        Factor::Round => format!("round {value}"),
    }
}
