use super::strip;
use crate::change::{Alone, Drying, DryingReport, Range};
use std::io::{self, Write};

/// How much lighter each piece dried, then all together; with `whole` also how else its colours changed.
pub(in crate::cli) fn drying(
    out: &mut dyn Write,
    colour: bool,
    report: &DryingReport,
    whole: bool,
) -> io::Result<()> {
    if report.pieces.is_empty() {
        return writeln!(
            out,
            "No piece here has been photographed wet or dry yet; ingest photos of both."
        );
    }
    for piece in &report.pieces {
        writeln!(out, "{}", line(piece))?;
        if colour && !piece.matched.is_empty() {
            strips(out, piece)?;
        }
        if whole {
            rest(out, piece)?;
        }
    }
    let said: Vec<_> = report
        .pieces
        .iter()
        .map(|piece| (&piece.piece[..], &piece.cautions[..]))
        .collect();
    super::gathered(out, &said)?;
    if report.pieces.len() > 1
        && let Some(told) = report.all.in_words()
    {
        writeln!(out, "{told}")?;
    }
    match report.pieces.iter().any(|piece| piece.lightening.is_some()) {
        true => writeln!(
            out,
            "L* runs from 0, black, to 100, white; a step of 1 is just seen side by side."
        ),
        false => Ok(()),
    }
}

/// Wet above dry, each colour over what it became.
fn strips(out: &mut dyn Write, piece: &Drying) -> io::Result<()> {
    let moves = || piece.matched.iter();
    let wet = strip(moves().map(|m| (m.wet, m.share)));
    let dry = strip(moves().map(|m| (m.dry, m.share)));
    writeln!(out, "    wet {wet}\n    dry {dry}")
}

/// How chroma and hue changed, and which colours have no partner.
fn rest(out: &mut dyn Write, piece: &Drying) -> io::Result<()> {
    let of = |name: &str, range: Option<Range>, number: fn(f64) -> String| {
        let Range { value, low, high } = range?;
        let ends = low.zip(high);
        let ends =
            ends.map(|(low, high)| format!(" (between {} and {})", number(low), number(high)));
        Some(format!(
            "{name} {}{}",
            number(value),
            ends.unwrap_or_default()
        ))
    };
    let (change, distance) = (|n: f64| format!("{n:+.1}"), |n: f64| format!("{n:.1}"));
    let parts = [
        of("chroma, how strong the colours are:", piece.chroma, change),
        of("hue, degrees from red towards yellow:", piece.hue, change),
        of("in all, CIEDE2000:", piece.de00, distance),
    ];
    for part in parts.into_iter().flatten() {
        writeln!(out, "        {part}")?;
    }
    alone(out, &piece.alone, ["wet", "dry"])
}

/// Colours that have no partner, a line each.
pub(super) fn alone(out: &mut dyn Write, all: &[Alone], words: [&str; 2]) -> io::Result<()> {
    for Alone { before, lab, share } in all {
        writeln!(
            out,
            "        no partner: {:.0} % {} of L* {:.1} a* {:.1} b* {:.1}",
            100.0 * share,
            words[usize::from(!before)],
            lab.l,
            lab.a,
            lab.b
        )?;
    }
    Ok(())
}

/// Whether it dried lighter or darker, with the range counted that way.
fn way(lightening: f64, range: Option<(f64, f64)>) -> (&'static str, Option<(f64, f64)>) {
    match lightening < 0.0 {
        true => ("darker", range.map(|(low, high)| (-high, -low))),
        false => ("lighter", range),
    }
}

/// How much lighter one piece dried, in a line.
pub(in crate::cli) fn line(piece: &Drying) -> String {
    let Some(lightening) = piece.lightening else {
        let missing = |code: &str| piece.cautions.iter().any(|c| c.code == code);
        let why = if missing("no-wet-photo") {
            "no wet photo, so drying cannot be told"
        } else if missing("no-dry-photo") {
            "no dry photo, so drying cannot be told"
        } else {
            "drying was not measured"
        };
        return format!("{:<7} {why}", piece.piece);
    };
    let (way, range) = way(lightening, piece.low.zip(piece.high));
    let range = range.map(|(low, high)| format!("  between {low:.1} and {high:.1}"));
    let told = match format!("{:.1}", lightening.abs()).as_str() {
        "0.0" => "dried as light as it was wet, as far as this can tell".to_owned(),
        number => format!("dried {number:>4} L* {way}"),
    };
    format!("{:<7} {told}{}", piece.piece, range.unwrap_or_default())
}
