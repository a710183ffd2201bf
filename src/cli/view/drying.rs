use crate::change::{Drying, DryingReport};
use std::io::{self, Write};

/// How much lighter each piece dried, then all together.
pub(in crate::cli) fn drying(out: &mut dyn Write, report: &DryingReport) -> io::Result<()> {
    if report.pieces.is_empty() {
        return writeln!(
            out,
            "No piece here has been photographed wet or dry yet; ingest photos of both."
        );
    }
    if report.pieces.is_empty() {
        return writeln!(out, "No piece has been photographed wet or dry yet.");
    }
    for piece in &report.pieces {
        writeln!(out, "{}", line(piece))?;
    }
    let said: Vec<_> = report
        .pieces
        .iter()
        .map(|piece| (&piece.piece[..], &piece.cautions[..]))
        .collect();
    super::gathered(out, &said)?;
    let all = &report.all;
    let (Some(mean), true) = (all.mean, report.pieces.len() > 1) else {
        return Ok(());
    };
    let sure = match all.low.zip(all.high) {
        Some((low, high)) => {
            format!("; the mean lies between {low:.1} and {high:.1}, as far as these pots tell")
        }
        None => String::new(),
    };
    let count = super::count(all.pieces, "piece", "pieces");
    writeln!(out, "On average {count} dried {mean:.1} L* lighter{sure}.")
}

/// How much lighter one piece dried, in a line.
pub(in crate::cli) fn line(piece: &Drying) -> String {
    let Some(lightening) = piece.lightening else {
        let missing = if piece.wet.is_none() {
            "no wet photo"
        } else {
            "no dry photo"
        };
        return format!("{:<8}{missing}, so drying cannot be told", piece.piece);
    };
    let range = piece.low.zip(piece.high);
    let (way, range) = match lightening < 0.0 {
        true => ("darker", range.map(|(low, high)| (-high, -low))),
        false => ("lighter", range),
    };
    let range = range.map(|(low, high)| format!("  between {low:.1} and {high:.1}"));
    format!(
        "{:<8}dried {:>4.1} L* {way}{}",
        piece.piece,
        lightening.abs(),
        range.unwrap_or_default()
    )
}
