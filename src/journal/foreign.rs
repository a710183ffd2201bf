//! What an import may bring, beyond what may stand in a journal: nobody here has looked at what was measured elsewhere.

use super::record::Photo;
use super::valid::{Verdict, Wrong, figure, figures};
use crate::colour::Lab;
use crate::reading::{Reading, Swatch};

/// More colours than this of one cloth are pixels, not colours it is known by; comparing them would take minutes.
const COLOURS: usize = 64;
/// A doubt, or what remains of known references, is a difference between colours; black and white are 100 apart, CIEDE2000.
const FURTHEST: f64 = 100.0;
/// Dyes on cloth stay far within, a\* and b\*.
const STRONGEST: f64 = 200.0;
/// The longest name of a file or folder that a disk takes, letters.
const NAME: usize = 255;
/// The longest way to a file from the folder that was taken in, letters.
const WAY: usize = 4096;
/// The longest code of a caution, letters.
const CODE: usize = 60;
/// The longest sentence of a caution, letters.
const SENTENCE: usize = 1000;

/// Whether a photo of another journal can be taken in.
pub(super) fn photo(photo: &Photo) -> Verdict {
    let file = photo.file.as_deref().unwrap_or_default();
    let parts = file.split(['/', '\\']);
    parts
        .map(|part| length("file", part, NAME))
        .chain([length("file", file, WAY)])
        .collect::<Verdict>()?;
    for (index, earlier) in photo.earlier.iter().enumerate() {
        reading(earlier).map_err(|wrong| wrong.below(&format!("earlier[{index}]")))?;
    }
    reading(&photo.reading)
}

fn reading(reading: &Reading) -> Verdict {
    if reading.swatches.len() > COLOURS {
        let what = format!(
            "holds {} colours, but a photo has at most {COLOURS}",
            reading.swatches.len()
        );
        return Err(Wrong::new("swatches", what));
    }
    let light = reading.light.as_ref();
    if let Some(light) = light {
        let parts = light.doubt.map(|d| [d.common, d.grey]);
        let mut parts = parts.iter().flatten();
        difference("light.residual", light.residual)
            .and(parts.try_for_each(|part| difference("light.doubt", Some(*part))))?;
    }
    // What this program measured in a badly judged light may lie outside: its cautions say so, and it must come back from an export.
    let measured_here = light.is_some_and(|light| light.correction.is_some());
    for (index, one) in reading.swatches.iter().enumerate() {
        swatch(one, measured_here).map_err(|wrong| wrong.below(&format!("swatches[{index}]")))?;
    }
    for (index, caution) in reading.cautions.iter().enumerate() {
        length("code", &caution.code, CODE)
            .and(length("text", &caution.text, SENTENCE))
            .map_err(|wrong| wrong.below(&format!("cautions[{index}]")))?;
    }
    Ok(())
}

fn swatch(swatch: &Swatch, measured_here: bool) -> Verdict {
    difference("doubt", swatch.doubt)?;
    for (at, text) in [("word", &swatch.word), ("plant", &swatch.plant)] {
        length(at, text.as_deref().unwrap_or_default(), NAME)?;
    }
    match measured_here || is_of_cloth(swatch.lab) {
        true => Ok(()),
        false => Err(Wrong::new(
            "lab",
            format!(
                "is [{}], which is no colour of cloth: L* runs from 0, black, to 100, white, and a* and b* stay between -{STRONGEST} and {STRONGEST}",
                figures(swatch.lab)
            ),
        )),
    }
}

fn is_of_cloth(lab: Lab) -> bool {
    (0.0..=100.0).contains(&lab.l) && lab.a.abs() <= STRONGEST && lab.b.abs() <= STRONGEST
}

fn difference(at: &str, value: Option<f64>) -> Verdict {
    match value.filter(|value| *value > FURTHEST) {
        None => Ok(()),
        Some(value) => Err(Wrong::new(
            at,
            format!(
                "is {}, which is too large for a difference between colours: black and white are {FURTHEST} apart",
                figure(value)
            ),
        )),
    }
}

fn length(at: &str, text: &str, most: usize) -> Verdict {
    match text.chars().count() {
        letters if letters > most => Err(Wrong::new(
            at,
            format!("has {letters} letters, but at most {most} fit"),
        )),
        _ => Ok(()),
    }
}
