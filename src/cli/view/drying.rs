use crate::change::{Drying, DryingReport, Lightening};
use std::io::{self, Write};

/// How much lighter each piece dried, then all together.
pub(in crate::cli) fn drying(out: &mut dyn Write, report: &DryingReport) -> io::Result<()> {
    if report.pieces.is_empty() {
        return writeln!(
            out,
            "No piece here has been photographed wet or dry yet; ingest photos of both."
        );
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
    match report.pieces.len() {
        1 => Ok(()),
        _ => together(out, &report.all),
    }
}

/// The mean of several pieces; one alone has none.
fn together(out: &mut dyn Write, all: &Lightening) -> io::Result<()> {
    let Some(mean) = all.mean else {
        return Ok(());
    };
    if all.pieces == 1 {
        return writeln!(
            out,
            "Only one of these pieces was photographed both wet and dry, so there is no average yet."
        );
    }
    let (way, range) = way(mean, all.low.zip(all.high));
    let sure = match range {
        Some((low, high)) => {
            format!("; the mean lies between {low:.1} and {high:.1}, as far as these pots tell")
        }
        None => String::new(),
    };
    let count = super::count(all.pieces, "piece", "pieces");
    writeln!(
        out,
        "On average {count} dried {:.1} L* {way}{sure}.",
        mean.abs()
    )
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
        let missing = if piece.wet.is_none() {
            "no wet photo"
        } else {
            "no dry photo"
        };
        return format!("{:<8}{missing}, so drying cannot be told", piece.piece);
    };
    let (way, range) = way(lightening, piece.low.zip(piece.high));
    let range = range.map(|(low, high)| format!("  between {low:.1} and {high:.1}"));
    format!(
        "{:<8}dried {:>4.1} L* {way}{}",
        piece.piece,
        lightening.abs(),
        range.unwrap_or_default()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(all: Lightening, told: &str) {
        let mut out = Vec::new();
        together(&mut out, &all).unwrap();
        assert_eq!(String::from_utf8(out).unwrap(), told);
    }

    #[test]
    fn a_mean_is_told_of_several_pieces_alone() {
        let of = |pieces, mean, range: Option<(f64, f64)>| Lightening {
            pieces,
            mean: Some(mean),
            low: range.map(|(low, _)| low),
            high: range.map(|(_, high)| high),
        };
        check(Lightening::default(), "");
        check(
            of(1, 5.0, None),
            "Only one of these pieces was photographed both wet and dry, so there is no average yet.\n",
        );
        check(
            of(2, 5.0, None),
            "On average 2 pieces dried 5.0 L* lighter.\n",
        );
        check(
            of(3, -1.0, Some((-3.0, 1.0))),
            "On average 3 pieces dried 1.0 L* darker; the mean lies between -1.0 and 3.0, as far as these pots tell.\n",
        );
    }
}
