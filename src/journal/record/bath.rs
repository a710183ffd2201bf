//! Mordant baths that live on: made, topped up, diluted, thrown out, and how old one was when a cloth went in.

use super::Soak;
use crate::error::{is_invisible, known_code};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use std::ops::RangeInclusive;

/// A mordant solution that lives on and changes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Bath {
    /// Its name, as written on its lid: `A1`; see [`Bath::check_name`].
    pub name: String,
    /// The salt or tannin in it, lower case: `alum`; empty where it is not known.
    #[serde(default)]
    pub mordant: String,
    /// What was done to it, in order of time.
    #[serde(default)]
    pub events: Vec<BathEvent>,
}

/// What was done to a bath on one day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct BathEvent {
    /// Date, `YYYY-MM-DD`.
    pub on: String,
    /// What was done.
    pub what: BathWork,
    /// Water that went in with it, litres.
    #[serde(default)]
    pub litres: Option<f64>,
    /// Salt that went in with it, g.
    #[serde(default)]
    pub grams: Option<f64>,
    /// Anything the studio wrote.
    #[serde(default)]
    pub remarks: Option<String>,
}

/// What can be done to a bath.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum BathWork {
    /// Salt and water were put together; a name that is made again after it was thrown out is a new bath.
    #[serde(rename = "made")]
    Made,
    /// Salt was added, with or without water.
    #[serde(rename = "topped up")]
    ToppedUp,
    /// Water was added.
    #[serde(rename = "diluted")]
    Diluted,
    /// It was thrown out.
    #[serde(rename = "discarded")]
    Discarded,
}

impl BathWork {
    /// Everything that can be done, in the order of a bath's life.
    pub const ALL: [Self; 4] = [Self::Made, Self::ToppedUp, Self::Diluted, Self::Discarded];

    /// The word for it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Made => "made",
            Self::ToppedUp => "topped up",
            Self::Diluted => "diluted",
            Self::Discarded => "discarded",
        }
    }
}

/// How old a bath was when a cloth went in.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BathAge {
    /// The bath's name.
    pub bath: String,
    /// Days since it was made; 0 on that day.
    pub days: i32,
    /// Days since it was last topped up or diluted; `None` where it never was.
    pub days_since_change: Option<i32>,
    /// How strong it is by what was put in, g/L. What the cloth took out is not known, so the truth is lower; `None` where an
    /// amount was not written.
    pub grams_per_litre: Option<f64>,
}

/// The most that a bath can hold, g/L: nothing that is used as a mordant dissolves better. Common practice, no source.
const MOST_G_PER_L: f64 = 2_000.0;

impl Bath {
    /// No studio fills more at once, litres.
    pub const LITRES: RangeInclusive<f64> = 0.0..=10_000.0;
    /// No studio puts in more at once, g.
    pub const GRAMS: RangeInclusive<f64> = 0.0..=1_000_000.0;

    /// Whether `events`, in order of time, can be the life of a bath: nothing is done to it before it is made or after it is
    /// thrown out, it is thrown out before it is made anew, and what goes in dissolves. Where it was made need not be told.
    ///
    /// # Errors
    /// The place of the event that cannot be, and the end of a sentence about it.
    pub fn check_life(events: &[BathEvent]) -> Result<(), (usize, String)> {
        let mut made: Option<usize> = None;
        let mut alive = !events.iter().any(|event| event.what == BathWork::Made);
        for (at, event) in events.iter().enumerate() {
            let begins = event.what == BathWork::Made;
            let when = format!("is {} on {}", event.what.word(), event.on);
            if begins && made.is_some() && alive {
                return Err((
                    at,
                    format!(
                        "{when}, when it was made before and not thrown out; tell before that when it was discarded, or take one of the two out"
                    ),
                ));
            }
            if !begins && !alive {
                return Err((
                    at,
                    format!(
                        "{when}, when it was not yet made or already thrown out; correct that day, or the day on which it was made"
                    ),
                ));
            }
            if begins {
                made = Some(at);
            }
            alive = event.what != BathWork::Discarded;
            check_amounts(&events[made.unwrap_or(at)..=at])
                .map_err(|what| (at, format!("{when} with {what}")))?;
        }
        Ok(())
    }

    /// Whether `name` can be that of a bath: 1 to 32 letters that can be seen, and none that sheets set off soaks with. The
    /// error says what is wrong with it, as the end of a sentence.
    pub fn check_name(name: &str) -> Result<(), String> {
        let marks = |c: &char| matches!(c, ',' | ';' | '>' | '[' | ']') || is_invisible(*c);
        if name.is_empty() || name.trim() != name || name.chars().count() > 32 {
            return Err(format!(
                "“{}” cannot be a bath's name; choose one of 1 to 32 letters, such as A1",
                name.escape_debug()
            ));
        }
        match name.chars().find(marks) {
            Some(mark) => Err(format!(
                "“{}” cannot be a bath's name, since it holds “{}”; choose one such as A1",
                name.escape_debug(),
                mark.escape_debug()
            )),
            None => Ok(()),
        }
    }

    /// Whether `mordant` can be what it holds.
    pub fn may_hold(&self, mordant: &str) -> bool {
        self.mordant.is_empty() || self.mordant == mordant
    }

    /// How old it is on `day`; `None` where it is not alive then. On the day on which it is thrown out it still is.
    pub fn age(&self, day: Date) -> Option<BathAge> {
        let dated = |event: &BathEvent| Some((event.on.parse::<Date>().ok()?, event.clone()));
        let mut past: Vec<(Date, BathEvent)> = self.events.iter().filter_map(dated).collect();
        past.retain(|(on, _)| *on <= day);
        past.sort_by_key(|(on, _)| *on);
        let made = past.iter().rposition(|(_, e)| e.what == BathWork::Made)?;
        let life = &past[made..];
        if life
            .iter()
            .any(|(on, e)| e.what == BathWork::Discarded && *on < day)
        {
            return None;
        }
        let days = |on: &Date| day.since(*on).map(|span| span.get_days()).ok();
        let change = life
            .iter()
            .rfind(|(_, e)| matches!(e.what, BathWork::ToppedUp | BathWork::Diluted));
        Some(BathAge {
            bath: self.name.clone(),
            days: days(&life[0].0)?,
            days_since_change: change.and_then(|(on, _)| days(on)),
            grams_per_litre: strength(life.iter().map(|(_, event)| event)),
        })
    }
}

/// Whether the last thing that was done to a bath, from its making on, went in with amounts that can be.
fn check_amounts(life: &[BathEvent]) -> Result<(), String> {
    let Some(last) = life.last() else {
        return Ok(());
    };
    for (amount, most, unit) in [
        (last.litres, Bath::LITRES, "L"),
        (last.grams, Bath::GRAMS, "g"),
    ] {
        if let Some(amount) = amount.filter(|amount| !most.contains(amount)) {
            return Err(format!(
                "{amount} {unit}, which no studio does; correct that amount"
            ));
        }
    }
    let alone = last.what == BathWork::Made && last.litres == Some(0.0) && last.grams > Some(0.0);
    // Where its making is not told, it may have held any water.
    let whole = life[0].what == BathWork::Made;
    match strength(life.iter()).filter(|strength| whole && *strength > MOST_G_PER_L) {
        Some(strength) => Err(format!(
            "{strength:.0} g in each litre, which does not dissolve; correct the grams or the litres"
        )),
        None if alone => Err("salt and no water; correct the litres".to_owned()),
        None => Ok(()),
    }
}

/// Grams a litre of all that was put in; an amount that is left empty when a bath is topped up or diluted is none, unless both are.
fn strength<'a>(life: impl Iterator<Item = &'a BathEvent>) -> Option<f64> {
    let (mut grams, mut litres) = (0.0, 0.0);
    for event in life {
        match (event.what, event.grams, event.litres) {
            (BathWork::Discarded, ..) => {}
            (BathWork::Made, salt, water) => (grams, litres) = (salt?, water?),
            (_, None, None) | (BathWork::Diluted, _, None) => return None,
            (_, salt, water) => {
                grams += salt.unwrap_or(0.0);
                litres += water.unwrap_or(0.0);
            }
        }
    }
    (litres > 0.0).then(|| grams / litres)
}

/// A soak, as far as it tells which bath it was in.
#[derive(Clone, Copy, Debug)]
pub struct Soaked<'a> {
    /// The salt or tannin, lower case.
    pub mordant: &'a str,
    /// The bath's name, where the studio told.
    pub bath: Option<&'a str>,
    /// Its date, or else the round's, `YYYY-MM-DD`.
    pub on: Option<&'a str>,
}

impl<'a> Soaked<'a> {
    /// A soak of a round made at `made`.
    pub fn of(soak: &'a Soak, made: Option<&'a str>) -> Self {
        Self {
            mordant: &soak.mordant,
            bath: soak.bath.as_deref(),
            on: soak.on.as_deref().or(made),
        }
    }
}

/// The bath a soak was in, and its age on the soak's day: the bath that the soak names, else the only one of its mordant that was
/// alive on that day. `None` where that is not known, more than one may be meant, or the one that is named holds another mordant.
pub fn bath_age(baths: &[Bath], soaked: Soaked) -> Option<BathAge> {
    let day: Date = soaked.on?.parse().ok()?;
    if let Some(name) = soaked.bath {
        return named(baths, name)
            .filter(|bath| bath.may_hold(soaked.mordant))?
            .age(day);
    }
    let mut alive = baths
        .iter()
        .filter(|bath| !bath.mordant.is_empty() && bath.mordant == soaked.mordant)
        .filter_map(|bath| bath.age(day));
    alive.next().filter(|_| alive.next().is_none())
}

/// The bath of that name, in whatever capitals.
pub fn named<'a>(baths: &'a [Bath], name: &str) -> Option<&'a Bath> {
    let names: Vec<String> = baths.iter().map(|bath| bath.name.clone()).collect();
    let name = known_code(name, &names)?;
    baths.iter().find(|bath| bath.name == name)
}

#[cfg(test)]
mod tests;
