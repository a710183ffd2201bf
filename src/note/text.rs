//! A note as plain text: whole, and short enough for a shop's listing.

use super::{Key, Messages, Note};
use std::fmt::Write;

/// Letters in a line.
const WIDTH: usize = 72;

/// Letters that a short text has at most.
pub const SHORT: usize = 500;

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

    /// The note in 500 letters at most, for a shop's listing: what cannot be left unsaid, then as much else as finds room.
    pub fn short(&self) -> String {
        let messages = Messages::of(self.language);
        let cloth = match self.cloth.is_empty() {
            true => String::new(),
            false => format!("{}.", self.cloth),
        };
        // In the order in which they are read; the number says in which order they are given room.
        let warnings = self.warnings.iter().map(|warning| (0, warning.clone()));
        let parts: Vec<(u8, String)> = [(3, cloth), (1, self.sentence.clone())]
            .into_iter()
            .chain(warnings)
            .chain(self.short.iter().map(|sentence| (4, sentence.clone())))
            .chain([
                (2, messages.say(Key::ScreensShort)),
                (0, self.fading.clone()),
            ])
            .filter(|(_, part)| !part.is_empty())
            .collect();
        let mut order: Vec<usize> = (0..parts.len()).collect();
        order.sort_by_key(|&at| parts[at].0);
        let (mut kept, mut used) = (vec![], 0);
        for at in order {
            let long = parts[at].1.chars().count() + 1;
            if used + long <= SHORT {
                kept.push(at);
                used += long;
            }
        }
        kept.sort_unstable();
        let said: Vec<&str> = kept.iter().map(|&at| parts[at].1.as_str()).collect();
        said.join(" ")
    }

    fn table(&self, messages: &Messages) -> String {
        let words = self.colours.iter().map(|c| c.word.chars().count());
        let wide = words.max().unwrap_or(0);
        let mut table = String::new();
        for colour in &self.colours {
            let (share, doubt) = (messages.percent(colour.share), colour.doubt(messages));
            let numbers = colour.numbers(messages);
            let line = format!("{share:>9}  {:<wide$}  {numbers}  {doubt}", colour.word);
            let _ = writeln!(table, "{}", line.trim_end());
            if let Some(beneath) = &colour.beneath {
                let _ = writeln!(table, "{:>9}  {beneath}", "");
            }
        }
        if self.rest >= 0.005 {
            let (share, rest) = (messages.percent(self.rest), messages.say(Key::Rest));
            let _ = writeln!(table, "{share:>9}  {rest}");
        }
        table
    }
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
