//! Numbers on the command line.

use std::fmt::Display;
use std::ops::RangeInclusive;
use std::str::FromStr;

/// Reads a number within `range`, or says what is wanted: “how often it was washed is a whole number from 1 to 500”.
pub(super) fn number<T>(
    what: &'static str,
    range: RangeInclusive<T>,
) -> impl Fn(&str) -> Result<T, String> + Clone + Send + Sync + 'static
where
    T: FromStr + PartialOrd + Display + Clone + Send + Sync + 'static,
{
    move |text| {
        let read = text.trim().parse().ok();
        read.filter(|number| range.contains(number)).ok_or_else(|| {
            // A range of whole numbers ends in one that reads so; a fraction is none of them.
            let whole = if "0.5".parse::<T>().is_err() {
                "whole "
            } else {
                ""
            };
            format!(
                "{what} is a {whole}number from {} to {}",
                range.start(),
                range.end()
            )
        })
    }
}

/// How often a piece was washed.
pub(super) fn washes(text: &str) -> Result<u32, String> {
    number("how often a piece was washed", crate::reading::WASHES)(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(found: Result<impl Display, String>, wanted: Result<&str, &str>) {
        let found = found.map(|number| number.to_string());
        assert_eq!(found.as_deref().map_err(String::as_str), wanted);
    }

    #[test]
    fn numbers_have_their_range() {
        let wrong = "how often a piece was washed is a whole number from 1 to 500";
        for text in [
            "0",
            "-1",
            "1.5",
            "501",
            "4000000000",
            "5000000000",
            "two",
            "",
        ] {
            check(washes(text), Err(wrong));
        }
        check(washes("500"), Ok("500"));
        let near = number("how near counts", 0.1..=100.0);
        for text in ["0", "-3", "100.1", "inf", "nan", "near"] {
            check(
                near(text),
                Err("how near counts is a number from 0.1 to 100"),
            );
        }
        check(near("2.5"), Ok("2.5"));
    }
}
