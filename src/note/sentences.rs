//! A piece in a customer's words.

use super::referenced;
use crate::error::{capital, listed};
use crate::journal::record::{Piece, Round};
use crate::reading::{Basis, State};

/// Common practice, no source.
pub const CARE: &str = "Wash it by hand in cool water with a mild soap, on its own the first time, and dry it in the shade. \
     Plant colours are alive to their surroundings: strong sun, lemon juice and washing powder can change them.";

/// Common practice, no source.
pub const SCREENS: &str = "No two screens show a colour alike, and printers differ too: where it matters, go by the names, or \
     by the small numbers (CIELAB under daylight D65), which mean the same everywhere.";

/// Fibre, weave and size: `Silk crepe de chine, 55 × 180 cm (22 × 71 in)`.
pub fn cloth(piece: &Piece, allowed: &mut impl FnMut(&str) -> bool) -> String {
    let stuff: Vec<&str> = [&piece.fibre, &piece.weave]
        .into_iter()
        .filter_map(|field| field.as_deref().map(str::trim))
        .filter(|words| !words.is_empty() && allowed(words))
        .collect();
    let size = match (piece.width_cm, piece.length_cm) {
        (Some(width), Some(length)) => {
            let tenths = |cm: f64| (10.0 * cm).round() / 10.0;
            let inches = |cm: f64| (cm / 2.54).round();
            Some(format!(
                "{} × {} cm ({} × {} in)",
                tenths(width),
                tenths(length),
                inches(width),
                inches(length)
            ))
        }
        _ => None,
    };
    let parts = [Some(stuff.join(" ")).filter(|s| !s.is_empty()), size];
    capital(&parts.into_iter().flatten().collect::<Vec<_>>().join(", "))
}

/// Plants, mordants and date of these rounds in whole sentences.
pub fn making(rounds: &[Round], allowed: &mut impl FnMut(&str) -> bool) -> String {
    let plants = distinct(
        rounds
            .iter()
            .flat_map(|round| &round.plants)
            .map(|plant| plant.name.trim().to_owned())
            .filter(|name| !name.is_empty() && allowed(name)),
    );
    let salts = distinct(
        rounds
            .iter()
            .flat_map(|round| &round.soaks)
            .filter(|soak| allowed(&soak.mordant))
            .filter_map(|soak| mordant(&soak.mordant)),
    );
    let mut said = vec![];
    if !plants.is_empty() {
        said.push(format!(
            "The prints are those of {}, laid on the cloth, rolled up with it and heated until they left their colour.",
            listed(&plants)
        ));
    }
    if !salts.is_empty() {
        said.push(format!(
            "Before that the cloth was soaked in {}, which {} plant colour to the fibre.",
            salts.join(", then in "),
            if salts.len() == 1 { "binds" } else { "bind" }
        ));
    }
    if rounds.len() > 1 {
        said.push(format!(
            "It went through the whole of this {}.",
            times(rounds.len())
        ));
    }
    if let Some(month) = rounds.iter().rev().find_map(made) {
        said.push(format!("Made in {month}."));
    }
    said.join(" ")
}

/// How far to trust the colours: what they were measured from, and how near they are.
///
/// That one or two CIEDE2000 are about the least that an eye sees side by side: common practice, no source.
pub fn trust(basis: Option<Basis>, doubt: Option<f64>, taken: Option<&str>) -> String {
    let when = taken
        .and_then(|t| day(t, "%-d %B %Y"))
        .map_or(String::new(), |day| format!(" of {day}"));
    let source = match basis {
        Some(Basis::Chart) => "in which a chart of known colours lay beside the cloth",
        Some(Basis::Tag) => "in which a printed black and white lay beside the cloth",
        Some(Basis::Assumed) | None => "with nothing of known colour beside the cloth",
    };
    let near = match doubt {
        Some(doubt) => format!(
            "they may be off by about {doubt:.1} steps of CIEDE2000, where one or two are the least that an eye sees side by side"
        ),
        None => "how near they are was not recorded".to_owned(),
    };
    format!("The colours were measured from a photo{when} {source}; {near}.")
}

/// What must be said before the colours are believed. That cloth dries lighter: common practice, no source.
pub fn warnings(state: State, basis: Option<Basis>) -> Vec<String> {
    let state = match state {
        State::Wet => Some(
            "The only photo so far shows the cloth wet. It dries lighter: expect paler colours than these.",
        ),
        State::Worn => Some("The only photo shows the cloth after it was worn."),
        State::Dry | State::Washed => None,
    };
    let light = (!referenced(basis)).then_some(
        "These colours are an estimate: the cloth may be warmer, cooler, lighter or darker than shown.",
    );
    let all = state.into_iter().chain(light);
    all.map(str::to_owned).collect()
}

/// A mordant as a customer would call it; `None` for none at all.
fn mordant(name: &str) -> Option<String> {
    let name = name.trim().to_lowercase();
    let has = |parts: &[&str]| parts.iter().any(|part| name.contains(part));
    let word = |word: &str| name.split(|c: char| !c.is_alphabetic()).any(|w| w == word);
    let plain = if name.is_empty() || name == "none" {
        return None;
    } else if has(&["tannin", "tannic", "gallnut", "oak gall"]) {
        "plant tannin"
    } else if has(&["iron", "ferrous", "ferric"]) {
        "an iron salt"
    } else if has(&["copper", "cupric"]) {
        "a copper salt"
    } else if has(&["titan"]) {
        "a titanium salt"
    } else if word("tin") || has(&["stannous"]) {
        "a tin salt"
    } else if has(&["chrom"]) {
        "a chrome salt"
    } else if has(&["alumin"]) {
        "an aluminium salt"
    } else {
        return Some(name);
    };
    Some(plain.to_owned())
}

fn made(round: &Round) -> Option<String> {
    day(round.made.as_deref()?, "%B %Y")
}

/// A date at the front of `text` in another form; `None` where there is none.
fn day(text: &str, form: &str) -> Option<String> {
    let date: jiff::civil::Date = text.get(..10)?.parse().ok()?;
    Some(date.strftime(form).to_string())
}

fn distinct(words: impl Iterator<Item = String>) -> Vec<String> {
    let mut all = vec![];
    for word in words {
        if !all.contains(&word) {
            all.push(word);
        }
    }
    all
}

fn times(count: usize) -> String {
    match count {
        2 => "twice".to_owned(),
        3 => "three times".to_owned(),
        more => format!("{more} times"),
    }
}
