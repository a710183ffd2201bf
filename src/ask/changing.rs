//! Drying and washing, from what the journal holds.

use super::shown::shown;
use crate::change::{self, DryingReport, WashingReport};
use crate::error::Result;
use crate::journal::Journal;
use crate::reading::State;

/// How much lighter the pieces with these codes dried, and all of them together; all pieces where no code is named.
///
/// # Errors
/// A journal that cannot be read.
pub fn drying(journal: &Journal, codes: &[String]) -> Result<DryingReport> {
    let shown = shown(journal, codes, &[State::Wet, State::Dry])?;
    Ok(change::drying(&shown))
}

/// How far the pieces with these codes changed in washing; all pieces where no code is named.
///
/// # Errors
/// A journal that cannot be read.
pub fn washing(journal: &Journal, codes: &[String]) -> Result<WashingReport> {
    let states = [State::Dry, State::Washed, State::Worn];
    Ok(change::washing(&shown(journal, codes, &states)?))
}
