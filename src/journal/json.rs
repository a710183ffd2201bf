//! The values in an export's JSON, read strictly, and refused in plain words.

use super::valid::{Verdict, Wrong};
use crate::error::{is_unruly, short, visible};
use serde::de::{DeserializeOwned, Error as _, MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::value::RawValue;
use serde_json::{Map, Value};
use std::collections::HashSet;
use std::fmt;

/// What texts may hold beside letters.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Texts {
    /// Nothing: names and sentences, which stand in one line.
    Lines,
    /// Line breaks and tabs: what a studio writes.
    Prose,
    /// Anything: a file of its own.
    Files,
}

/// One value of an export; what is null counts as left out.
///
/// # Errors
/// A name that stands twice in one place, a text with characters that act on the screen, and what JSON cannot say.
pub(super) fn value(raw: &RawValue, texts: Texts) -> Result<Value, Wrong> {
    let Once(value) = serde_json::from_str(raw.get()).map_err(|error| {
        let told = error.to_string();
        let (told, _) = told.rsplit_once(" at line ").unwrap_or((&told, ""));
        match told.strip_prefix(TWICE) {
            Some(name) => Wrong::new("", format!("tells “{}” twice in one place", short(name))),
            None if told.starts_with("recursion") => Wrong::new("", "is nested too deep"),
            None if told.starts_with("number out of range") => {
                Wrong::new("", "holds a number too large to be right")
            }
            None => Wrong::new("", format!("cannot be read ({})", visible(told))),
        }
    })?;
    check_texts(&value, texts)?;
    Ok(value)
}

/// Refuses texts, and names of values, that hold what acts on a screen instead of standing there.
fn check_texts(value: &Value, texts: Texts) -> Verdict {
    let breaks = |c: char| texts == Texts::Prose && matches!(c, '\n' | '\r' | '\t');
    let barred = |text: &str| text.chars().any(|c| is_unruly(c) && !breaks(c));
    let wrong = |text: &str| {
        let what = format!(
            "is “{}”, which holds a character that acts on the screen instead of standing there",
            short(text)
        );
        Err(Wrong::new("", what))
    };
    match value {
        _ if texts == Texts::Files => Ok(()),
        Value::String(text) if barred(text) => wrong(text),
        Value::Array(entries) => {
            let mut entries = entries.iter().enumerate();
            entries.try_for_each(|(index, entry)| {
                check_texts(entry, texts).map_err(|wrong| wrong.below(&format!("[{index}]")))
            })
        }
        Value::Object(fields) => fields
            .iter()
            .try_for_each(|(name, field)| match barred(name) {
                true => wrong(name),
                false => check_texts(field, texts).map_err(|wrong| wrong.below(name)),
            }),
        _ => Ok(()),
    }
}

/// How an error begins that tells of a name that stands twice; the name follows.
const TWICE: &str = "twice: ";

/// A value in which no name stands twice, without what is null.
struct Once(Value);

impl<'de> Deserialize<'de> for Once {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_any(Names)
    }
}

struct Names;

impl<'de> Visitor<'de> for Names {
    type Value = Once;

    fn expecting(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str("a value")
    }

    fn visit_bool<E>(self, value: bool) -> Result<Once, E> {
        Ok(Once(value.into()))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Once, E> {
        Ok(Once(value.into()))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Once, E> {
        Ok(Once(value.into()))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Once, E> {
        Ok(Once(value.into()))
    }

    fn visit_str<E>(self, value: &str) -> Result<Once, E> {
        Ok(Once(value.into()))
    }

    fn visit_unit<E>(self) -> Result<Once, E> {
        Ok(Once(Value::Null))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Once, A::Error> {
        let mut entries = Vec::new();
        while let Some(Once(entry)) = list.next_element()? {
            entries.push(entry);
        }
        Ok(Once(entries.into()))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Once, A::Error> {
        let (mut fields, mut names) = (Map::new(), HashSet::new());
        while let Some((name, Once(field))) = map.next_entry::<String, Once>()? {
            if !names.insert(name.clone()) {
                return Err(A::Error::custom(format!("{TWICE}{name}")));
            }
            if !field.is_null() {
                fields.insert(name, field);
            }
        }
        Ok(Once(fields.into()))
    }
}

/// Reads one value, or says where it does not fit and what must stand there.
pub(super) fn fitting<T: DeserializeOwned>(value: &Value) -> Result<T, Wrong> {
    serde_path_to_error::deserialize(value).map_err(|e| {
        let at = match e.path().to_string() {
            path if path == "." => String::new(),
            path => path,
        };
        Wrong::new(at, plain(&e.inner().to_string()))
    })
}

/// What a reader of JSON says is wrong, in words for people.
fn plain(told: &str) -> String {
    let (found, wanted) = told.split_once(", expected ").unwrap_or((told, ""));
    let must = match wanted_in_words(wanted) {
        Some(wanted) => format!(", but must be {wanted}"),
        None => " and does not fit".to_owned(),
    };
    if let Some(name) = found.strip_prefix("missing field ") {
        return format!("lacks “{}”", name.trim_matches('`'));
    }
    if let Some(word) = found.strip_prefix("unknown variant ") {
        return format!("is “{}”{must}", short(word.trim_matches('`')));
    }
    if let Some(many) = found.strip_prefix("invalid length ") {
        let wanted = wanted
            .rsplit(' ')
            .next()
            .and_then(|last| last.parse::<usize>().ok());
        return match wanted {
            Some(wanted) => format!("has {many} values, but must have {wanted}"),
            None => format!("has {many} values, which are too many"),
        };
    }
    match found
        .strip_prefix("invalid type: ")
        .or_else(|| found.strip_prefix("invalid value: "))
    {
        Some(value) => format!("is {}{must}", found_in_words(value)),
        None => format!("does not fit ({})", visible(found)),
    }
}

/// A value as a reader of JSON names it: `string "x"`, `integer `5``, `map`.
fn found_in_words(value: &str) -> String {
    let quoted = |kind: &str| {
        value
            .strip_prefix(kind)
            .map(|rest| short(rest.trim_matches(['`', '"'])))
    };
    if let Some(text) = quoted("string ") {
        return format!("“{text}”");
    }
    let number = ["integer ", "floating point ", "boolean "]
        .into_iter()
        .find_map(quoted);
    number.unwrap_or_else(|| {
        match value {
            "map" => "a group of values",
            "sequence" => "a list",
            "null" | "unit value" => "empty",
            other => other,
        }
        .to_owned()
    })
}

/// What a reader of JSON expected; `None` where its words would not help.
fn wanted_in_words(wanted: &str) -> Option<String> {
    let named: Vec<&str> = wanted.split('`').skip(1).step_by(2).collect();
    if let [all @ .., last] = &named[..] {
        let or = if all.is_empty() { "" } else { " or " };
        return Some(format!("{}{or}{last}", all.join(", ")));
    }
    let words = match wanted {
        "a string" | "string" => "text",
        "f64" | "f32" => "a number",
        "u8" | "u32" | "u64" | "usize" => "a whole number from 0 up",
        "i64" => "a whole number",
        "a boolean" => "true or false",
        "a sequence" => "a list",
        "a map" => "a group of values",
        _ if wanted.starts_with("struct ") => "a group of values",
        _ => {
            let many = wanted.rsplit(' ').next()?.parse::<usize>().ok()?;
            return Some(format!("a list of {many}"));
        }
    };
    Some(words.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::record::{Photo, Round, Soak};

    #[track_caller]
    fn check<T: DeserializeOwned + std::fmt::Debug>(json: &str, wanted: &str) {
        let raw: &RawValue = serde_json::from_str(json).unwrap();
        let found = value(raw, Texts::Lines).and_then(|value| fitting::<T>(&value));
        assert_eq!(found.expect_err(json).told(), wanted, "{json}");
    }

    #[test]
    fn what_does_not_fit_is_said_in_plain_words() {
        check::<Photo>(
            r#"{"state":"moist"}"#,
            "state is “moist”, but must be wet, dry, washed or worn",
        );
        check::<Photo>(r#"{"piece":5}"#, "piece is 5, but must be text");
        check::<Photo>(
            r#"{"washes":-1}"#,
            "washes is -1, but must be a whole number from 0 up",
        );
        check::<Photo>(
            r#"{"washes":1.5}"#,
            "washes is 1.5, but must be a whole number from 0 up",
        );
        check::<Soak>(
            r#"{"unit":"pinch"}"#,
            "unit is “pinch”, but must be % wof or g/L",
        );
        check::<Soak>(
            r#"{"strength":"two"}"#,
            "strength is “two”, but must be a number",
        );
        check::<Soak>(r#"{"bath":["a"]}"#, "bath is a list, but must be text");
        check::<Soak>(
            r#"{"bath":{"a":1}}"#,
            "bath is a group of values, but must be text",
        );
        check::<Round>(r#"{}"#, " lacks “round”");
    }

    #[test]
    fn no_name_stands_twice() {
        check::<Photo>(
            r#"{"told":{"a":1,"a":null}}"#,
            " tells “a” twice in one place",
        );
    }
}
