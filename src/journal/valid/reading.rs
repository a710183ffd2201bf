use super::{Verdict, Wrong, amount, number};
use crate::colour::Lab;
use crate::error::short;
use crate::reading::{Reading, Swatch};

/// Whether a reading can be kept as it is.
pub(in crate::journal) fn reading(reading: &Reading) -> Verdict {
    if let Some(light) = &reading.light {
        amount("light.residual", light.residual)?;
        for patch in &light.patches {
            amount("light.patches.de00", Some(patch.de00))?;
        }
        for part in light
            .doubt
            .iter()
            .flat_map(|d| [d.common, d.grey, d.chroma])
        {
            amount("light.doubt", Some(part))?;
        }
        if let Some(correction) = &light.correction {
            let mut numbers = [correction.flare, correction.gain]
                .into_iter()
                .chain(correction.matrix)
                .chain(correction.roots)
                .flatten()
                .chain([correction.tone.strength, correction.tone.shoulder])
                .chain(correction.fall.middle)
                .chain([correction.fall.level, correction.fall.bend])
                .chain(correction.fall.slope);
            numbers.try_for_each(|value| number("light.correction", Some(value)))?;
        }
    }
    let mut corners = reading.outline.iter().flatten().flatten();
    corners.try_for_each(|value| number("outline", Some(*value)))?;
    for (index, one) in reading.swatches.iter().enumerate() {
        swatch(one).map_err(|wrong| wrong.below(&format!("swatches[{index}]")))?;
    }
    let whole: f64 = reading.swatches.iter().map(|swatch| swatch.share).sum();
    // Shares made elsewhere may be rounded to two digits.
    if !reading.swatches.is_empty() && (whole - 1.0).abs() > 0.05 {
        return Err(Wrong::new(
            "swatches",
            format!("have shares that sum to {whole:.3} instead of 1"),
        ));
    }
    Ok(())
}

fn swatch(swatch: &Swatch) -> Verdict {
    lab(swatch.lab).and(share(swatch.share))?;
    if let Some(level) = swatch.word_level
        && !(1..=3).contains(&level)
    {
        return Err(Wrong::new(
            "word_level",
            format!("is {level}, but must be 1, 2 or 3"),
        ));
    }
    if let Some(srgb) = &swatch.srgb
        && crate::colour::hex_to_lab(srgb).is_none()
    {
        return Err(Wrong::new(
            "srgb",
            format!("is “{}”, but must look like #b08a4e", short(srgb)),
        ));
    }
    amount("doubt", swatch.doubt)
}

pub(super) fn lab(lab: Lab) -> Verdict {
    let Lab { l, a, b, .. } = lab;
    // Wide on purpose: a badly judged light gives odd colours, whose cautions say so, and they must come back from an export.
    match (-10.0..=300.0).contains(&l) && a.abs() <= 500.0 && b.abs() <= 500.0 {
        true => Ok(()),
        false => Err(Wrong::new(
            "lab",
            format!("is [{}], which is no colour", figures(lab)),
        )),
    }
}

/// A number as a sentence repeats it; one of very many digits by its power of ten.
pub(in crate::journal) fn figure(number: f64) -> String {
    match number.abs() < 1e9 {
        true => number.to_string(),
        false => format!("{number:e}"),
    }
}

/// A colour as a sentence repeats it.
pub(in crate::journal) fn figures(lab: Lab) -> String {
    [lab.l, lab.a, lab.b].map(figure).join(", ")
}

pub(super) fn share(share: f64) -> Verdict {
    match (0.0..=1.0).contains(&share) {
        true => Ok(()),
        false => Err(Wrong::new(
            "share",
            format!("is {}, but must lie between 0 and 1", figure(share)),
        )),
    }
}
