//! An answer in a sentence or two.

use super::answer::{Answer, Found};

impl Answer {
    /// The answer in a sentence or two.
    pub fn sentence(&self) -> String {
        match &self.found {
            Found::Groups { verdict: Some(verdict), .. } => verdict.text.clone(),
            Found::Groups { groups, .. } => match groups.as_slice() {
                [only] => format!(
                    "There is nothing to compare: only {} has an answer, {} in {}.",
                    self.asked().wanted.by().map_or_else(|| only.value.clone(), |by| by.one(&only.value)),
                    self.show(only.mean),
                    pots(only.pots)
                ),
                _ => NOTHING.to_owned(),
            },
            Found::Slope { text, .. } => text.clone(),
            Found::Nearest { nearest, .. } => match nearest.as_slice() {
                [] => NOTHING.to_owned(),
                [first, ..] => format!("{} is nearest, {:.1} ΔE00 away: {}.", first.piece, first.de00, how_far(first.de00)),
            },
            Found::Count { count: n, of } if n == of => format!("{}.", pieces(*n)),
            Found::Count { count: n, of } => {
                let photographed = format!("of {of} photographed {}", self.read_as.state);
                format!("{} {photographed}.", pieces(*n))
            }
            Found::Next { next, best, best_expected, .. } => match (next.first(), best, best_expected) {
                (Some(first), Some(best), Some(so_far)) if first.settings == *best => format!(
                    "Nothing promises more than the best so far, {}, at {}: repeat it in another pot to be surer of it.",
                    best.name(),
                    self.show(*so_far)
                ),
                (Some(first), Some(best), Some(so_far)) => format!(
                    "Try {}: it may come out at {} to {}, where the best so far, {}, stands at {}.",
                    first.settings.name(),
                    self.show(first.low),
                    self.show(first.high),
                    best.name(),
                    self.show(*so_far)
                ),
                _ => "There is too little in the journal to say what to try next: it takes pieces of at least two different makings in three pots.".to_owned(),
            },
        }
    }
}

const NOTHING: &str = "No piece in the journal answers that.";

/// What a difference means to the eye (common practice, no source).
fn how_far(de00: f64) -> &'static str {
    match de00 {
        ..1.5 => "hardly to be told apart",
        ..4.0 => "near, and seen side by side",
        ..8.0 => "akin, and seen at once",
        _ => "another colour",
    }
}

fn pieces(n: usize) -> String {
    if n == 1 {
        "1 piece".to_owned()
    } else {
        format!("{n} pieces")
    }
}

fn pots(n: usize) -> String {
    if n == 1 {
        "1 pot".to_owned()
    } else {
        format!("{n} pots")
    }
}
