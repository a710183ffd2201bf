//! A note as plain text: whole, and short enough for a shop's listing.

use super::sentences::colours;
use super::{Key, Messages, Note};
use std::fmt::Write;

/// Letters in a line.
const WIDTH: usize = 72;

/// Letters that a short text has at most.
pub const SHORT: usize = 500;

/// Rather than go without what the piece is, a short text tells only so many colours.
const SHORT_COLOURS: usize = 3;

/// A rest below this is told as traces, and below the least not at all.
const TRACES: f64 = 0.03;
const LEAST_REST: f64 = 0.005;

impl Note {
    /// The note as plain text, no line longer than 72 letters unless a single word is.
    pub fn text(&self) -> String {
        let messages = Messages::of(self.language);
        let mut text = format!("{}\n{}\n", self.code, "=".repeat(self.code.chars().count()));
        if !self.cloth.is_empty() {
            text.push_str(&wrapped(&self.cloth));
        }
        let _ = write!(text, "\n{}", wrapped(&self.sentence));
        for warning in &self.warnings {
            let warning = messages.fill(Key::PleaseNote, [("warning", warning.as_str().into())]);
            let _ = write!(text, "\n{}", wrapped(&warning));
        }
        let heading = messages.say(Key::HeadingColours);
        let _ = write!(text, "\n{heading}\n\n{}", self.table(&messages));
        for (heading, sentences) in self.sections(&messages) {
            let _ = write!(text, "\n{heading}\n{}", wrapped(&sentences));
        }
        let _ = writeln!(text, "\n{:>WIDTH$}", messages.say(Key::WrittenWith));
        text
    }

    /// The note in 500 letters at most, for a shop's listing. Warnings, screens and fading always have their room, and the colours,
    /// if need be only the largest; then what the piece is, which plants printed it and when it was made.
    pub fn short(&self) -> String {
        let messages = Messages::of(self.language);
        let screens = [messages.say(Key::ScreensShort), self.fading.clone()];
        let around = |cloth: &str, looks: String| {
            let front = [cloth.to_owned(), looks].into_iter();
            let front = front.chain(self.warnings.iter().cloned());
            front.filter(|part| !part.is_empty()).collect::<Vec<_>>()
        };
        let fits = |parts: &Vec<String>| letters(parts) + letters(&screens) <= SHORT + 1;
        let cloth = match self.cloth.is_empty() {
            true => String::new(),
            false => format!("{}.", self.cloth),
        };
        let all = self.colours.len();
        let few = SHORT_COLOURS.min(all);
        let with = (few..=all).rev().map(|number| (cloth.as_str(), number));
        let without = (0..=all).rev().map(|number| ("", number));
        let mut parts = with
            .chain(without)
            .map(|(cloth, number)| around(cloth, self.looks(number, &messages)))
            .find(fits)
            .unwrap_or_default();
        for sentence in &self.short {
            parts.push(sentence.clone());
            if !fits(&parts) {
                parts.pop();
            }
        }
        parts.extend(screens);
        parts.join(" ")
    }

    /// The sentence of the largest colours; empty for none.
    fn looks(&self, number: usize, messages: &Messages) -> String {
        match number {
            0 => String::new(),
            all if all == self.colours.len() => self.sentence.clone(),
            some => {
                let looks = colours(&self.colours[..some], messages);
                messages.fill(Key::Sentence, [("colours", looks.into())])
            }
        }
    }

    /// How much of the cloth has none of the colours told, and what to call it; `None` where that is nothing.
    pub(super) fn rest_told(&self, messages: &Messages) -> Option<[String; 2]> {
        let size = if self.rest < TRACES { "traces" } else { "more" };
        let words = messages.fill(Key::Rest, [("size", size.into())]);
        (self.rest >= LEAST_REST).then(|| [messages.percent(self.rest), words])
    }

    fn table(&self, messages: &Messages) -> String {
        let words = self.colours.iter().map(|c| c.word.chars().count());
        let wide = words.max().unwrap_or(0);
        let mut table = String::new();
        for colour in &self.colours {
            let (share, numbers) = (messages.percent(colour.share), colour.numbers(messages));
            let _ = writeln!(table, "{share:>9}  {:<wide$}  {numbers}", colour.word);
            if let Some(beneath) = &colour.beneath {
                let _ = writeln!(table, "{:>9}  {beneath}", "");
            }
        }
        if let Some([share, rest]) = self.rest_told(messages) {
            let _ = writeln!(table, "{share:>9}  {rest}");
        }
        table
    }
}

/// Letters of these parts, each with the gap behind it.
fn letters(parts: &[String]) -> usize {
    parts.iter().map(|part| part.chars().count() + 1).sum()
}

/// Lines of at most [`WIDTH`] letters, each with its end.
fn wrapped(text: &str) -> String {
    let (mut lines, mut used) = (String::new(), 0);
    let gap = |c: char| c.is_whitespace() && c != '\u{a0}';
    for word in text.split(gap).filter(|word| !word.is_empty()) {
        let long = word.chars().count();
        if used > 0 && used + 1 + long > WIDTH {
            lines.push('\n');
            used = 0;
        } else if used > 0 {
            lines.push(' ');
            used += 1;
        }
        lines.push_str(word);
        used += long;
    }
    lines.push('\n');
    lines
}
