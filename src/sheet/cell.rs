//! Single cells: numbers, whole numbers, dates, words. What is wrong comes back as the end of a sentence.

use std::ops::RangeInclusive;

/// What a sheet says of a value.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Told<T> {
    /// No such column, or a cell that could not be read: leave the value alone.
    #[default]
    Silent,
    /// An empty cell: the value is not known.
    Cleared,
    /// The value.
    Value(T),
}

impl<T> Told<T> {
    /// Brings `target` to what was told.
    pub fn set(self, target: &mut Option<T>) {
        match self {
            Self::Silent => {}
            Self::Cleared => *target = None,
            Self::Value(value) => *target = Some(value),
        }
    }

    pub fn value(&self) -> Option<&T> {
        match self {
            Self::Value(value) => Some(value),
            Self::Silent | Self::Cleared => None,
        }
    }
}

/// How the sheet writes decimals; spreadsheet programs that separate cells by semicolons write a decimal comma.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Decimals {
    /// `1,250` may be a thousand or one and a quarter; `1.250` is one and a quarter.
    Point,
    /// `1,250` is one and a quarter; `1.250` may be a thousand.
    Comma,
}

/// A number as people write it, with a decimal point or comma, without unit.
pub(super) fn number(text: &str, decimals: Decimals) -> Result<f64, String> {
    let plain = text.replace('\u{2212}', "-");
    let unsigned = plain.strip_prefix(['-', '+']).unwrap_or(&plain);
    let no_number = || {
        format!("“{text}” is not a number; write the number alone, without unit, or leave it empty")
    };
    if !unsigned.starts_with(|c: char| c.is_ascii_digit())
        || !unsigned
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, '.' | ','))
    {
        return Err(no_number());
    }
    let mut parts = unsigned.split(['.', ',']);
    let (whole, rest) = (parts.next().unwrap_or_default(), parts.next());
    if parts.next().is_some() || rest.is_some_and(str::is_empty) {
        return Err(no_number());
    }
    let doubtful = match decimals {
        Decimals::Point => ',',
        Decimals::Comma => '.',
    };
    if rest.is_some_and(|r| r.len() == 3)
        && (1..=3).contains(&whole.len())
        && !whole.starts_with('0')
        && unsigned.contains(doubtful)
    {
        return Err(format!(
            "“{text}” can be read in two ways; write thousands without a mark, or another number of decimals"
        ));
    }
    plain.replace(',', ".").parse().map_err(|_| no_number())
}

/// A number within `range`, both ends included.
pub(super) fn number_in(
    text: &str,
    decimals: Decimals,
    range: &RangeInclusive<f64>,
) -> Result<f64, String> {
    let value = number(text, decimals)?;
    within(value, range).map(|()| value)
}

/// Whether `value` lies in `range`.
pub(super) fn within(value: f64, range: &RangeInclusive<f64>) -> Result<(), String> {
    if range.contains(&value) {
        return Ok(());
    }
    Err(format!(
        "{value} is outside {} to {}; correct it or leave it empty",
        range.start(),
        range.end()
    ))
}

/// A counting number from 1 to `most`.
pub(super) fn count(text: &str, most: u32) -> Result<u32, String> {
    text.parse()
        .ok()
        .filter(|n| (1..=most).contains(n))
        .ok_or_else(|| {
            format!("“{text}” is not a whole number from 1 to {most}; correct it or leave it empty")
        })
}

/// A date, `YYYY-MM-DD`; other forms are refused, since 03/05 is March to some and May to others.
pub(super) fn date(text: &str) -> Result<String, String> {
    let shape = |(at, c): (usize, char)| match at {
        4 | 7 => c == '-',
        _ => c.is_ascii_digit(),
    };
    if text.len() != 10 || !text.chars().enumerate().all(shape) {
        return Err(format!(
            "“{text}” is not a date of the form 2026-05-03; write the year first, then month and day"
        ));
    }
    let date: jiff::civil::Date = text.parse().map_err(|_| {
        format!("there is no day “{text}” in the calendar; write the day that was meant")
    })?;
    if !(1900..=2200).contains(&date.year()) {
        return Err(format!(
            "the year of “{text}” cannot be right; write it with all four digits"
        ));
    }
    Ok(date.to_string())
}

/// Words with single spaces between them.
pub(super) fn tidy(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[track_caller]
    fn check(text: &str, decimals: Decimals, expected: Option<f64>) {
        assert_eq!(number(text, decimals).ok(), expected, "{text}");
    }

    #[test]
    fn numbers() {
        for decimals in [Decimals::Point, Decimals::Comma] {
            check("12", decimals, Some(12.0));
            check("34,72", decimals, Some(34.72));
            check("34.72", decimals, Some(34.72));
            check("−3", decimals, Some(-3.0));
            check("0,125", decimals, Some(0.125));
            check("0.125", decimals, Some(0.125));
            check("1,250.5", decimals, None);
            for text in [
                "", "NaN", "inf", "1e3", "12 cm", "1.", ".5", "1..2", "twelve", "--1", "0x1f", "१२",
            ] {
                check(text, decimals, None);
            }
        }
        check("1,250", Decimals::Point, None);
        check("1,250", Decimals::Comma, Some(1.25));
        check("1.250", Decimals::Comma, None);
        check("1.250", Decimals::Point, Some(1.25));
    }

    /// ISO 8601 calendar dates; the leap years of 2000, 2024 and 1900 are those of the Gregorian calendar.
    #[test]
    fn dates() {
        for good in ["2026-05-03", "2024-02-29", "2000-02-29"] {
            assert_eq!(date(good).as_deref(), Ok(good));
        }
        for bad in [
            "03/05/2026",
            "2026-5-3",
            "3 May 2026",
            "2026-02-30",
            "1900-02-29",
            "20260503",
            "2026-05-03T10:00",
            "0026-05-03",
            "2026-13-01",
            "２０２６-05-03",
        ] {
            assert!(date(bad).is_err(), "{bad}");
        }
    }

    proptest! {
        #[test]
        fn printed_numbers_are_read_back(value in -1e6..1e6_f64) {
            prop_assert_eq!(number(&value.to_string(), Decimals::Point), Ok(value));
        }

        #[test]
        fn no_text_brings_it_down(text in ".*") {
            let _ = (number(&text, Decimals::Comma), date(&text), count(&text, 9));
        }
    }
}
