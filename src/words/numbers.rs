//! A colour said in numbers.

use crate::colour::Lab;
use crate::error::{Error, Result, short};

/// Reads `L,a,b`: L\* 0 to 100, a\* and b\* -128 to 127.
///
/// # Errors
/// Anything else, with an example of what is meant.
pub fn lab_from_text(text: &str) -> Result<Lab> {
    let numbers: Vec<f64> = text
        .split(',')
        .filter_map(|part| part.trim().parse().ok())
        .collect();
    match numbers[..] {
        [l, a, b] if text.split(',').count() == 3 && in_range(l, a, b) => Ok(Lab::new(l, a, b)),
        _ => Err(Error::caller(format!(
            "“{}” is not a colour; write L* (0 to 100), a* and b* (-128 to 127) with commas between, such as “95.5,0.3,-1.2”.",
            short(text)
        ))),
    }
}

fn in_range(l: f64, a: f64, b: f64) -> bool {
    (0.0..=100.0).contains(&l) && [a, b].iter().all(|v| (-128.0..=127.0).contains(v))
}
