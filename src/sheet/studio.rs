//! The studio's own values that sheets and plans are reckoned with: whether they make sense.

use crate::care;
use crate::error::{Error, Result};
use crate::journal::record::Studio;
use crate::journal::{Degrees, check_habit};

/// Whether the studio's unit, habits and usual strengths are such.
///
/// # Errors
/// The caller's, for the first that is not.
pub fn check_studio(studio: &Studio) -> Result<()> {
    for (name, value) in studio {
        if let Some(Err(wanted)) = check_habit(name, value) {
            return Err(Error::caller(format!(
                "“{value}” cannot be {name}; write {wanted}."
            )));
        }
    }
    let unit = studio.get("unit");
    unit.map_or(Ok(()), |unit| Degrees::from_word(unit).map(|_| ()))
}

/// Whether a usual strength that is told now under its name among the studio's values is one that a plan may always take; any
/// other name is passed over.
///
/// # Errors
/// The caller's, where it is not.
pub fn check_strength(name: &str, value: Option<&str>) -> Result<()> {
    let (Some(mordant), Some(value)) = (name.strip_prefix("wof "), value) else {
        return Ok(());
    };
    let percent = value.trim().parse().unwrap_or_default();
    care::check_usual(mordant, percent).map_err(Error::caller)
}
