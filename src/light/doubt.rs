//! How far a corrected cloth colour may be from the truth, by shifting one cause at a time.

use super::tone::Triple;
use crate::colour::{CameraRgb, de00};
use crate::reading::Correction;

/// What a camera's own colour matrix leaves after balance, CIEDE2000: 0.7 to 2.0 on the mean of 400 computed dyed cloths,
/// for the two measured cameras of colour-science 0.4.7, a matrix fitted to the 24 patches of ISO 17321-1 under D65, and
/// daylight of D50, D65 and D75 (twelve of the cloths are in `testdata/published/cloth-by-camera.csv`).
pub(super) const MATRIX: f64 = 1.3;

/// Light that differs between the tag and the cloth, beyond what its fall over the tag foretells: 3 % in 36 computed
/// photos, which is 1 in L\* for light cloth.
pub(super) const PLACE: f64 = 1.0;

/// Cloth as photographed by the white of the paper: undyed, straw, rust, olive, grey and near black.
const CLOTH: [Triple; 6] = [
    [0.80, 0.72, 0.58],
    [0.68, 0.52, 0.20],
    [0.45, 0.20, 0.08],
    [0.32, 0.30, 0.14],
    [0.35, 0.33, 0.32],
    [0.10, 0.08, 0.08],
];

/// The mean CIEDE2000 difference that a `shifted` correction makes to cloth under paper that is `white` as photographed.
pub(super) fn moved(white: Triple, correction: &Correction, shifted: &Correction) -> f64 {
    let differences = CLOTH.map(|cloth| {
        let [r, g, b] = [0, 1, 2].map(|c| (cloth[c] * white[c]) as f32);
        let pixel = CameraRgb { r, g, b };
        de00(correction.to_lab(pixel), shifted.to_lab(pixel))
    });
    differences.iter().sum::<f64>() / CLOTH.len() as f64
}

/// Independent doubts together: the root of the sum of squares.
pub(super) fn together(parts: impl IntoIterator<Item = f64>) -> f64 {
    parts
        .into_iter()
        .map(|part| part * part)
        .sum::<f64>()
        .sqrt()
}
