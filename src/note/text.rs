//! A note as plain text.

use super::Note;
use std::fmt::Write;

/// Letters in a line.
const WIDTH: usize = 72;

impl Note {
    /// The note as plain text, no line longer than 72 letters unless a single word is.
    pub fn text(&self) -> String {
        let mut text = format!("{}\n{}\n", self.code, "=".repeat(self.code.chars().count()));
        for words in [&self.cloth, &self.making] {
            if !words.is_empty() {
                text.push_str(&wrapped(words));
            }
        }
        for warning in &self.warnings {
            let _ = write!(text, "\n{}", wrapped(&format!("Please note: {warning}")));
        }
        let _ = write!(text, "\nColours, largest first\n\n{}", self.table());
        for words in [&self.trust, &self.screens, &self.care] {
            let _ = write!(text, "\n{}", wrapped(words));
        }
        let _ = writeln!(text, "\n{:>WIDTH$}", "Written with Filemot");
        text
    }

    fn table(&self) -> String {
        let words = self.colours.iter().map(|c| c.word.chars().count());
        let wide = words.max().unwrap_or(0);
        let mut table = String::new();
        for colour in &self.colours {
            let lab = colour.lab;
            let _ = writeln!(
                table,
                "{:>10}  {:<wide$}   L* {:>3.0}  a* {:>4.0}  b* {:>4.0}",
                percent(colour.share),
                colour.word,
                lab.l,
                lab.a,
                lab.b
            );
        }
        if self.rest > 0.0 {
            let _ = writeln!(table, "{:>10}  traces of other colours", percent(self.rest));
        }
        table
    }
}

/// A share as people read it: `42 %`, and `under 1 %` for less.
pub fn percent(share: f64) -> String {
    match 100.0 * share {
        small if small < 1.0 => "under 1 %".to_owned(),
        more => format!("{more:.0} %"),
    }
}

/// Lines of at most [`WIDTH`] letters, each with its end.
fn wrapped(text: &str) -> String {
    let (mut lines, mut used) = (String::new(), 0);
    for word in text.split_whitespace() {
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
