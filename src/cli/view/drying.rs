use crate::change::{Drying, DryingReport};
use crate::error::Caution;
use std::io::{self, Write};

/// How much lighter each piece dried, then all together.
pub(in crate::cli) fn drying(out: &mut dyn Write, report: &DryingReport) -> io::Result<()> {
    for piece in &report.pieces {
        writeln!(out, "{}", line(piece))?;
    }
    gathered(out, &report.pieces)?;
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

/// Each caution once, with the pieces it is about where that is not all of them.
fn gathered(out: &mut dyn Write, pieces: &[Drying]) -> io::Result<()> {
    let mut about: Vec<(&Caution, Vec<&str>)> = Vec::new();
    for piece in pieces {
        for caution in &piece.cautions {
            match about
                .iter_mut()
                .find(|(known, _)| known.text == caution.text)
            {
                Some((_, codes)) => codes.push(&piece.piece),
                None => about.push((caution, vec![&piece.piece])),
            }
        }
    }
    for (caution, codes) in about {
        let which = if codes.len() == pieces.len() {
            String::new()
        } else {
            format!("{}: ", codes.join(", "))
        };
        writeln!(
            out,
            "{}",
            super::wrapped(&format!("{which}{}", caution.text), "  ! ", "    ")
        )?;
    }
    Ok(())
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
    let way = if lightening < 0.0 {
        "darker"
    } else {
        "lighter"
    };
    let range = piece
        .low
        .zip(piece.high)
        .map(|(low, high)| format!("  between {low:.1} and {high:.1}"));
    format!(
        "{:<8}dried {:>4.1} L* {way}{}",
        piece.piece,
        lightening.abs(),
        range.unwrap_or_default()
    )
}
