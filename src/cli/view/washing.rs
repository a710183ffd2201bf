use super::drying::alone;
use super::strip;
use crate::change::{Grade, Washing, WashingReport};
use crate::error::Caution;
use crate::reading::State;
use std::io::{self, Write};

/// How far each piece changed in washing; `codes` are those that were asked for, none for all.
pub(in crate::cli) fn washing(
    out: &mut dyn Write,
    colour: bool,
    report: &WashingReport,
    codes: &[String],
) -> io::Result<()> {
    let seen = |code: &String| report.pieces.iter().any(|found| found.piece == *code);
    for code in codes.iter().filter(|code| !seen(code)) {
        writeln!(
            out,
            "{code:<7} no photo of it washed or worn, so its change cannot be told"
        )?;
    }
    if report.pieces.is_empty() {
        return match codes.is_empty() {
            true => writeln!(
                out,
                "No piece here has been photographed washed or worn yet; wash one as your customers will, dry it, take its photo, and ingest it with --washes 1."
            ),
            false => Ok(()),
        };
    }
    for found in &report.pieces {
        writeln!(out, "{}", line(found))?;
        if colour && !found.matched.is_empty() {
            let colours = || found.matched.iter();
            let before = strip(colours().map(|c| (c.before, c.share)));
            let after = strip(colours().map(|c| (c.after, c.share)));
            writeln!(out, " before {before}\n  after {after}")?;
        }
        if !codes.is_empty() {
            each(out, found)?;
        }
    }
    cautions(out, &report.pieces)?;
    let scale = format!(
        "Grades: 5 is no change, 1 a great one; ΔE_F is how large the change is, {}. What is graded is the {}.",
        bands(),
        report.scale
    );
    writeln!(out, "{}", super::wrapped(&scale, "", ""))
}

/// What must be known of all of them; that nobody counted the washes of several pieces is one line.
fn cautions(out: &mut dyn Write, all: &[Washing]) -> io::Result<()> {
    let uncounted = |found: &Washing| found.cautions.iter().any(|c| c.code == UNCOUNTED);
    let pieces: Vec<&str> = (all.iter())
        .filter(|found| uncounted(found))
        .map(|found| &found.piece[..])
        .collect();
    let many = pieces.len() > 1;
    let each = |found: &Washing| -> Vec<Caution> {
        let told = |c: &&Caution| !(many && c.code == UNCOUNTED);
        found.cautions.iter().filter(told).cloned().collect()
    };
    let kept: Vec<_> = all.iter().map(|found| (found, each(found))).collect();
    let said: Vec<_> = (kept.iter())
        .map(|(found, cautions)| (&found.piece[..], &cautions[..]))
        .collect();
    super::gathered(out, &said)?;
    if !many {
        return Ok(());
    }
    let text = format!(
        "{}: nobody said how often each had been washed when it was photographed: say it with “filemot claim PHOTO PIECE --washes N”.",
        pieces.join(", ")
    );
    writeln!(out, "{}", super::wrapped(&text, "  ! ", "    "))
}

/// Where the grades begin and end: `below 0.40 grade 5, from 11.60 on grade 1`.
fn bands() -> String {
    let ends = Grade::bands().filter_map(|(grade, from, to)| match to {
        Some(to) if grade == Grade::BEST => Some(format!("below {to:.2} grade {grade}")),
        None => Some(format!("from {from:.2} on grade {grade}")),
        _ => None,
    });
    ends.collect::<Vec<_>>().join(", ")
}

/// One piece after so many washes, in a line.
fn line(found: &Washing) -> String {
    let washes = |washes: u32| super::count(washes as usize, "wash", "washes");
    let after = match (found.state, found.washes) {
        (State::Worn, Some(number)) => format!("worn, after {}", washes(number)),
        (_, Some(number)) => format!("after {}", washes(number)),
        (state, None) => state.word().to_owned(),
    };
    let head = format!("{:<7} {after}", found.piece);
    let (Some(grade), Some(de_f)) = (found.grade, found.de_f) else {
        return format!("{head}: not measured");
    };
    let span = found.de_f_low.zip(found.de_f_high);
    let span = span.map(|(low, high)| format!(" (between {low:.1} and {high:.1})"));
    format!(
        "{head}: grade {}, ΔE_F {de_f:.1}{}",
        graded(grade, found.grade_low, found.grade_high),
        span.unwrap_or_default()
    )
}

/// A grade with its range.
fn graded(grade: Grade, low: Option<Grade>, high: Option<Grade>) -> String {
    match low.zip(high) {
        Some((low, high)) if low != high => format!("{grade} (from {low} to {high})"),
        _ => grade.to_string(),
    }
}

/// Code of the caution that nobody said how often a piece had been washed; of several pieces it is told once.
const UNCOUNTED: &str = "washes-unknown";

/// The least share of the cloth that is told: less comes from shares that are read a little apart.
const TOLD: f64 = 0.01;

/// Each colour and its grade.
fn each(out: &mut dyn Write, found: &Washing) -> io::Result<()> {
    for colour in found.matched.iter().filter(|c| c.share >= TOLD) {
        writeln!(
            out,
            "        {:>3.0} %  L* {:.1} a* {:.1} b* {:.1} became L* {:.1} a* {:.1} b* {:.1}: grade {}, ΔE_F {:.1}",
            100.0 * colour.share,
            colour.before.l,
            colour.before.a,
            colour.before.b,
            colour.after.l,
            colour.after.a,
            colour.after.b,
            graded(colour.grade, colour.grade_low, colour.grade_high),
            colour.de_f
        )?;
    }
    alone(out, &found.alone, ["before", "after"])
}
