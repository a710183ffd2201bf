//! Things that are set against each other.

use super::Reader;
use crate::ask::language::filter::Filter;
use crate::ask::language::kind::Kind;
use crate::ask::language::names::Name;
use crate::ask::language::said::Said;
use crate::ask::language::terms::Factor;
use crate::ask::language::vocabulary::Meaning;
use crate::ask::language::words::words;

impl Reader<'_> {
    /// `pieces with iron … than pieces with alum`: the two names are set against each other and narrow nothing.
    pub(super) fn set_against(&mut self) {
        let says = |said: &Said| {
            !matches!(
                said,
                Said::Word(Meaning::Filler | Meaning::By(Factor::Piece), _)
                    | Said::Word(Meaning::Pieces | Meaning::Print, _)
                    | Said::By(Factor::Piece)
            )
        };
        let is_against = |said: &Said| matches!(said, Said::Word(Meaning::Against, _));
        let joints: Vec<usize> = (0..self.said.len())
            .filter(|&at| is_against(&self.said[at]))
            .collect();
        let Some(&first) = joints.first() else {
            return;
        };
        let is_name = |said: &Said| matches!(said, Said::Name(_));
        let is_filter = |said: &Said| matches!(said, Said::Filter(_));
        if self.said[..first].iter().any(is_name) {
            return;
        }
        let Some(before) = self.said[..first].iter().rposition(is_filter) else {
            return;
        };
        let behind = |joint: &usize| {
            let next = self.said[joint + 1..].iter().position(says)?;
            Some(joint + 1 + next)
        };
        let Some(one) = self.set_alone(before) else {
            return;
        };
        // A bare name belongs to it only where it names the same kind of thing: “pot P1 or P2”.
        let fits = |at: usize, name: &Name| {
            !is_name(&self.said[at])
                || one
                    .kinds
                    .iter()
                    .any(|(kind, _)| name.can_be(|k| k == *kind))
        };
        let others: Vec<(usize, Name)> = joints
            .iter()
            .filter_map(behind)
            .filter_map(|at| Some((at, self.set_alone(at)?)))
            .filter(|(at, name)| fits(*at, name))
            .collect();
        if others.is_empty() {
            return;
        }
        self.said[before] = Said::Name(one);
        for (at, name) in others {
            self.said[at] = Said::Name(name);
        }
    }

    /// What narrows, or a name, as a name by itself.
    fn set_alone(&self, at: usize) -> Option<Name> {
        match &self.said[at] {
            Said::Filter(filter @ (Filter::With(name) | Filter::On(name))) => {
                let mut name = self.names.name(&words(name, |_| false))?;
                let is_used = matches!(filter, Filter::With(_));
                name.kinds.retain(|(kind, _)| kind.is_used() == is_used);
                Some(name)
            }
            Said::Filter(Filter::Is(Factor::Pot, name)) => self.one_of(name, Kind::Pot),
            Said::Filter(Filter::Is(Factor::Bundle, name)) => self.one_of(name, Kind::Bundle),
            Said::Name(name) => Some(name.clone()),
            _ => None,
        }
    }

    /// The name of a pot or a bundle by itself.
    fn one_of(&self, name: &str, kind: Kind) -> Option<Name> {
        let mut name = self.names.name(&words(name, |_| false))?;
        name.kinds.retain(|(known, _)| *known == kind);
        (!name.kinds.is_empty()).then_some(name)
    }

    /// `pieces with iron … than pieces without`: the name before is meant.
    pub(super) fn without_it(&mut self) -> Option<String> {
        let against = self
            .said
            .iter()
            .any(|said| matches!(said, Said::Word(Meaning::Against, _)));
        let with = self
            .said
            .iter()
            .rposition(|said| matches!(said, Said::Filter(Filter::With(_))));
        let place = with.filter(|_| against)?;
        self.said
            .retain(|said| !matches!(said, Said::Word(Meaning::Against, _)));
        match self.said.remove(place) {
            Said::Filter(Filter::With(name)) => Some(name),
            _ => None,
        }
    }

    /// Whether a colour here is a plant: it is asked what it does, or is set against another plant.
    pub(super) fn is_plant(&self, length: usize) -> bool {
        if !self.is_name_too(length) {
            return false;
        }
        let does = matches!(self.said.last(), Some(Said::Word(Meaning::Does, _)));
        let against = matches!(
            self.said.last(),
            Some(Said::Word(Meaning::Against | Meaning::And, _))
        ) && self.said.iter().any(|said| matches!(said, Said::Name(_)));
        let name_at = |at: usize| {
            let words = self.words.get(at..).unwrap_or_default();
            self.names.longest(words, Kind::is_used).is_some()
        };
        let behind = self.at + length;
        let joint = |at: usize, joints: &[&str]| {
            self.words
                .get(at)
                .is_some_and(|word| joints.contains(&word.text.as_str()))
        };
        let beside = joint(behind, &["or", "and", "than", "versus", "vs"]) && name_at(behind + 1);
        let than = (behind + 1..self.words.len())
            .any(|at| joint(at, &["than"]) && name_at(at + 1) && !name_at(at - 1));
        does || against || beside || than
    }
}
