//! Which bath a soak was in, in words.

use super::strange_soak;
use crate::journal::record::{Bath, BathAge, Soak, Soaked, bath_age, named};

/// The age and strength of the bath that a soak of a round made at `made` was in, or why that is not known though the soak names
/// it; `None` where nothing is known of a bath.
pub fn bath_told(baths: &[Bath], soak: &Soak, made: Option<&str>) -> Option<String> {
    let age = bath_age(baths, Soaked::of(soak, made));
    age.map(|age| told(&age)).or_else(|| {
        let bath = named(baths, soak.bath.as_deref()?)?;
        strange_soak(bath, soak, made).map(|caution| caution.text)
    })
}

fn told(age: &BathAge) -> String {
    let days = |days: i32| format!("{days} {}", if days == 1 { "day" } else { "days" });
    let change = age
        .days_since_change
        .map(|since| format!(", topped up or diluted {} before", days(since)));
    let strength = age.grams_per_litre.map(|strength| {
        let strength = format!("{strength:.2}");
        format!(
            "; by what was put in, {} g/L, less what cloth took out",
            strength.trim_end_matches('0').trim_end_matches('.')
        )
    });
    format!(
        "{}, {} old{}{}",
        age.bath,
        days(age.days),
        change.unwrap_or_default(),
        strength.unwrap_or_default()
    )
}
