//! A plan as text, and the lines that text and page share.

use super::step::{Day, Plan, Step, grams, litres};
use jiff::civil::{Date, Weekday};

/// Width of a line, in letters.
const WIDTH: usize = 80;

/// The plan as plain text, to read on a screen or to print.
pub fn text(plan: &Plan) -> String {
    let mut lines = vec![plan.title(), String::new(), "Before you begin".to_owned()];
    for caution in &plan.cautions {
        lines.extend(indented(&caution.text, "  ! "));
    }
    if !plan.left_open.is_empty() {
        lines.extend([String::new(), "Left open".to_owned()]);
        lines.extend(plan.left_open.iter().flat_map(|one| indented(one, "  ? ")));
    }
    if let Some(all) = plan.weighed() {
        lines.extend([String::new(), "To weigh out in all".to_owned()]);
        lines.extend(indented(&all, "  "));
    }
    for day in &plan.days {
        lines.extend([String::new(), day.heading()]);
        lines.extend(day.steps.iter().flat_map(of_step));
    }
    lines.extend([String::new(), "Reckoned with".to_owned()]);
    lines.extend(
        plan.reckoned_with
            .iter()
            .flat_map(|one| indented(one, "  - ")),
    );
    lines.join("\n") + "\n"
}

fn of_step(step: &Step) -> Vec<String> {
    let mut lines = indented(
        &format!("{}: {}", step.what, step.pieces_in_words()),
        "  [ ] ",
    );
    if let Some(amounts) = step.amounts() {
        lines.extend(indented(&amounts, "      "));
    }
    lines.extend(step.notes.iter().flat_map(|note| indented(note, "      ")));
    lines
}

impl Plan {
    /// `Plan for 4 pieces, 214 g of dry cloth, 1 not weighed`.
    pub fn title(&self) -> String {
        let pieces = match self.pieces {
            1 => "1 piece".to_owned(),
            number => format!("{number} pieces"),
        };
        match (self.cloth_g > 0.0, self.not_weighed.len()) {
            (true, 0) => format!("Plan for {pieces}, {} of dry cloth", grams(self.cloth_g)),
            (true, unknown) => format!(
                "Plan for {pieces}, {} of dry cloth, {unknown} not weighed",
                grams(self.cloth_g)
            ),
            (false, _) => format!("Plan for {pieces}"),
        }
    }

    /// All that is weighed out, in one line.
    pub fn weighed(&self) -> Option<String> {
        let all = self
            .weigh
            .iter()
            .map(|one| format!("{} {}", one.what, grams(one.grams)));
        let all: Vec<String> = all.collect();
        (!all.is_empty()).then(|| all.join(" · "))
    }
}

impl Day {
    /// `Friday 2026-05-01`, `Day 3`.
    pub fn heading(&self) -> String {
        let date = self
            .date
            .as_deref()
            .and_then(|date| date.parse::<Date>().ok());
        match (date, self.day) {
            (Some(date), _) => format!("{} {date}", weekday(date)),
            (None, day) => format!("Day {}", day.unwrap_or(1)),
        }
    }
}

impl Step {
    /// Its pieces, and their dry weight where it matters.
    pub fn pieces_in_words(&self) -> String {
        let pieces = self.pieces.join(", ");
        match (self.cloth_g, self.not_weighed.join(", ")) {
            (Some(cloth), none) if none.is_empty() => format!("{pieces} ({})", grams(cloth)),
            (Some(cloth), unknown) => format!("{pieces} ({} without {unknown})", grams(cloth)),
            (None, none) if none.is_empty() => pieces,
            (None, _) => format!("{pieces} (not weighed)"),
        }
    }

    /// What goes into the vessel: `2.5 L of water · alum 10.2 g`.
    pub fn amounts(&self) -> Option<String> {
        let weigh = self
            .weigh
            .iter()
            .map(|one| format!("{} {}", one.what, grams(one.grams)));
        let parts: Vec<String> = self.litres.map(litres).into_iter().chain(weigh).collect();
        (!parts.is_empty()).then(|| parts.join(" · "))
    }
}

fn weekday(date: Date) -> &'static str {
    match date.weekday() {
        Weekday::Monday => "Monday",
        Weekday::Tuesday => "Tuesday",
        Weekday::Wednesday => "Wednesday",
        Weekday::Thursday => "Thursday",
        Weekday::Friday => "Friday",
        Weekday::Saturday => "Saturday",
        Weekday::Sunday => "Sunday",
    }
}

fn indented(text: &str, first: &str) -> Vec<String> {
    let room = (WIDTH - first.len()) as f64;
    let later = " ".repeat(first.len());
    let lines = wrapped(text, room, |line| line.chars().count() as f64);
    let indent = |(n, line): (usize, String)| match n {
        0 => format!("{first}{line}"),
        _ => format!("{later}{line}"),
    };
    lines.into_iter().enumerate().map(indent).collect()
}

/// Words in lines that `measure` as no wider than `room`; a word that is wider stands alone.
pub(super) fn wrapped(text: &str, room: f64, measure: impl Fn(&str) -> f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match longer.filter(|line| measure(line) <= room) {
            Some(longer) => {
                lines.pop();
                lines.push(longer);
            }
            None => lines.push(word.to_owned()),
        }
    }
    lines
}
