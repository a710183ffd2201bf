//! Pictures of a photo in true light, as files that hold nothing else of it.

use super::overlay::corrected_or_as_it_is;
use super::picture::{in_true_light, jpeg};
use crate::error::Result;
use crate::picture::Photograph;
use crate::reading::Reading;

/// The piece of a photo in true light, cut to the cloth, as a JPEG whose longer side has at most `side` pixels; `None` where the
/// reading knows no outline or no light.
///
/// # Errors
/// The machine's, where there is no memory for it.
pub fn piece_seen(photo: &Photograph, reading: &Reading, side: usize) -> Result<Option<Vec<u8>>> {
    let seen = in_true_light(photo, reading, side);
    seen.map(|seen| jpeg(&seen)).transpose()
}

/// The whole photo, upright, in true light where that is known, as a JPEG whose longer side has at most `side` pixels.
///
/// # Errors
/// As [`piece_seen`].
pub fn photo_seen(photo: &Photograph, reading: &Reading, side: usize) -> Result<Vec<u8>> {
    let seen = corrected_or_as_it_is(photo, reading, photo.step_to(side));
    jpeg(&seen)
}
