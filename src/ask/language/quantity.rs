//! The words for numbers, their units and days.

use super::terms::Factor;
use super::unit::Unit;

/// How a number bounds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// The number does not count.
    Above,
    /// The number counts.
    AtLeast,
    /// The number does not count.
    Below,
    /// The number counts.
    AtMost,
    /// The number alone.
    Exactly,
    /// Two numbers follow; both count.
    Between,
}

/// How days bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// From its first day on.
    Since,
    /// From the day after its last.
    After,
    /// To the day before its first.
    Before,
    /// To its last day.
    Until,
    /// From its first day to its last.
    In,
    /// From the first's first day to the second's last.
    Between,
}

use Limit::*;

/// What bounds a number, and the setting it is about where the words tell.
const LIMITS: &[(&str, Limit, Option<Factor>)] = &[
    (
        "above | over | more than | greater than | higher than | beyond",
        Above,
        None,
    ),
    ("hotter than", Above, Some(Factor::SimmerTemperature)),
    ("longer than", Above, Some(Factor::SimmerTime)),
    ("heavier than", Above, Some(Factor::Weight)),
    ("older than", Above, None),
    ("stronger than", Above, None),
    (
        "at least | no less than | not less than | not below | not under",
        AtLeast,
        None,
    ),
    (
        "below | under | less than | lower than | younger than | weaker than",
        Below,
        None,
    ),
    (
        "cooler than | colder than",
        Below,
        Some(Factor::SimmerTemperature),
    ),
    ("shorter than", Below, Some(Factor::SimmerTime)),
    ("lighter than", Below, Some(Factor::Weight)),
    (
        "at most | up to | no more than | not more than | not above | not over",
        AtMost,
        None,
    ),
    ("at | of | for | exactly", Exactly, None),
    ("between | from", Between, None),
];

/// The units by their words.
const UNITS: &[(&str, Unit)] = &[
    (
        "c | °c | ºc | celsius | degrees c | degrees celsius | degree c | ° c",
        Unit::Celsius,
    ),
    (
        "f | °f | ºf | fahrenheit | degrees f | degrees fahrenheit | degree f | ° f",
        Unit::Fahrenheit,
    ),
    ("min | mins | minute | minutes", Unit::Minutes),
    ("h | hr | hrs | hour | hours", Unit::Hours),
    (
        "gsm | g/m2 | g/m² | grams per square metre | grams per square meter | g per m2",
        Unit::GramsPerSquareMetre,
    ),
    ("momme | mommes", Unit::Momme),
    ("day | days", Unit::Days),
    ("week | weeks", Unit::Weeks),
    (
        "% wof | % | percent | per cent | percent wof | % of fibre",
        Unit::PercentOfFibre,
    ),
    (
        "g/l | grams per litre | grams per liter | g per l | g per litre",
        Unit::GramsPerLitre,
    ),
];

/// Numbers in words.
const NUMBERS: [&str; 13] = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
];

/// What bounds days.
const REACHES: &[(&str, Reach)] = &[
    (
        "since | from | since start of | starting in | starting from | starting",
        Reach::Since,
    ),
    ("after | later than | after end of", Reach::After),
    ("before | earlier than | until start of", Reach::Before),
    (
        "until | till | up to | until end of | up to end of | till end of",
        Reach::Until,
    ),
    (
        "in | during | of | on | in year | of year | in month of | for",
        Reach::In,
    ),
    ("between", Reach::Between),
];

/// The months, and their abbreviations.
pub const MONTHS: [(&str, &str); 12] = [
    ("January", "jan"),
    ("February", "feb"),
    ("March", "mar"),
    ("April", "apr"),
    ("May", "may"),
    ("June", "jun"),
    ("July", "jul"),
    ("August", "aug"),
    ("September", "sep"),
    ("October", "oct"),
    ("November", "nov"),
    ("December", "dec"),
];

/// The meteorological seasons of the northern half and the month each begins with.
pub const SEASONS: [(&str, i8); 4] = [("spring", 3), ("summer", 6), ("autumn", 9), ("winter", 12)];

/// The longest phrase here, in words.
pub const LONGEST: usize = 4;

/// What bounds a number.
pub fn limit(phrase: &str) -> Option<(Limit, Option<Factor>)> {
    let row = LIMITS.iter().find(|row| names(row.0, phrase))?;
    Some((row.1, row.2.clone()))
}

/// The unit of this word.
pub fn unit(phrase: &str) -> Option<Unit> {
    UNITS
        .iter()
        .find(|row| names(row.0, phrase))
        .map(|row| row.1)
}

/// What bounds days.
pub fn reach(phrase: &str) -> Option<Reach> {
    REACHES
        .iter()
        .find(|row| names(row.0, phrase))
        .map(|row| row.1)
}

/// The number of this word, zero to twelve.
pub fn number(word: &str) -> Option<f64> {
    NUMBERS
        .iter()
        .position(|known| *known == word)
        .map(|n| n as f64)
}

/// The month of this word, 1 to 12.
pub fn month(word: &str) -> Option<i8> {
    let same = |(name, short): &(&str, &str)| {
        name.to_lowercase() == word || *short == word || (*short == "sep" && word == "sept")
    };
    let place = MONTHS.iter().position(same)?;
    i8::try_from(place + 1).ok()
}

/// The season of this word, by its place in [`SEASONS`].
pub fn season(word: &str) -> Option<usize> {
    let word = if word == "fall" { "autumn" } else { word };
    SEASONS.iter().position(|(name, _)| *name == word)
}

/// All months, for finding near ones.
pub fn months() -> impl Iterator<Item = String> {
    MONTHS.iter().map(|(name, _)| name.to_lowercase())
}

fn names(phrases: &str, phrase: &str) -> bool {
    phrases.split(" | ").any(|known| known == phrase)
}
