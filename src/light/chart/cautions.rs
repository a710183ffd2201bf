//! What the reader must know of a light told from a chart.

use super::fit::Fitted;
use super::sample::Sample;
use crate::error::Caution;
use crate::reading::Remaining;

/// From here up the chart as a whole does not fit, CIEDE2000: another chart, another file, mixed light.
const POOR: f64 = 3.0;

pub(super) fn cautions(
    samples: &[Sample],
    fitted: &Fitted,
    remaining: &[Remaining],
) -> Vec<Caution> {
    let mut cautions = Vec::new();
    let clipped: Vec<&str> = samples
        .iter()
        .filter(|s| s.clipped)
        .map(|s| s.id.as_str())
        .collect();
    if !clipped.is_empty() {
        cautions.push(Caution::new(
            "chart-clipped",
            format!(
                "{} of the chart {} too bright for the camera to hold and {} left out; take the photo again a little darker.",
                named(&clipped),
                if clipped.len() == 1 { "is" } else { "are" },
                if clipped.len() == 1 { "was" } else { "were" },
            ),
        ));
    }
    let outlying: Vec<&str> = fitted.outlying.iter().map(String::as_str).collect();
    if !outlying.is_empty() {
        cautions.push(Caution::new(
            "chart-patches",
            format!(
                "{} of the chart {} not fit the others and {} left out: look for a reflection, a shadow or dirt there.",
                named(&outlying),
                if outlying.len() == 1 { "does" } else { "do" },
                if outlying.len() == 1 { "was" } else { "were" },
            ),
        ));
    }
    if super::fit::mean_of_kept(remaining) > POOR {
        cautions.push(Caution::new(
            "chart-poor",
            "The chart's colours cannot all be brought to what its file says, so this photo's are doubtful; check that it is the file of this chart, clean it, and photograph it in one light alone.",
        ));
    }
    cautions
}

/// `Patch A1`, `Patches A1 and B2`, `Patches A1, B2 and C3`.
fn named(ids: &[&str]) -> String {
    match ids {
        [one] => format!("Patch {one}"),
        [first @ .., last] => format!("Patches {} and {last}", first.join(", ")),
        [] => String::new(),
    }
}
