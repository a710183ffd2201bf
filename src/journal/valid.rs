//! What may stand in a journal. One rule for photos, sheets and imports: what is once inside can be exported and taken back.

mod reading;

pub(super) use reading::{figure, figures, reading};

use super::colour_words::check_colour_word;
use super::degrees::Degrees;
use super::habits;
use super::record::{
    Bath, BathEvent, Card, ChartFile, Issued, IssuedColour, Photo, Piece, Round, Setting, Standing,
    Told,
};
use crate::error::{Error, check_code, short, visible, why_no_code};
use crate::reading::{State, WASHES};
use reading::{lab, share};

/// A value that is none: where it stands and what is wrong with it, in half a sentence each.
#[derive(Debug)]
pub(super) struct Wrong {
    at: String,
    what: String,
}

pub(super) type Verdict = Result<(), Wrong>;

impl Wrong {
    /// What is wrong, and where.
    pub fn new(at: impl Into<String>, what: impl Into<String>) -> Self {
        Self {
            at: visible(&at.into()),
            what: what.into(),
        }
    }

    /// The same, seen from one level up.
    pub fn below(mut self, parent: &str) -> Self {
        let dot = match self.at.chars().next() {
            None | Some('[') => "",
            Some(_) => ".",
        };
        self.at = format!("{parent}{dot}{}", self.at);
        self
    }

    /// Where it stands and what is wrong.
    pub fn told(&self) -> String {
        format!("{} {}", self.at, self.what)
    }

    /// The error where the value was handed in about `name`.
    pub fn in_hand(self, name: &str) -> Error {
        let Self { at, what } = self;
        Error::caller(format!(
            "{name} was not written to the journal: {at} {what}; correct that, then try again."
        ))
    }

    /// The error where the value stands in an export.
    pub fn in_export(self) -> Error {
        let Self { at, what } = self;
        Error::file(format!(
            "Nothing was imported: in the file, {at} {what}; correct that, then import it again."
        ))
    }
}

/// Whether a value of the studio's own is one that measuring can use; names not known here are kept as they are.
pub(super) fn studio(name: &str, value: &str) -> Verdict {
    let numbers = || value.split(',').map(|part| part.trim().parse::<f64>());
    let colour = || numbers().count() == 3 && numbers().all(|n| n.is_ok_and(f64::is_finite));
    if let Some(wrong) = check_colour_word(name, value) {
        return Err(Wrong::new(short(name), wrong));
    }
    let habit = habits::check(name, value).and_then(Result::err);
    let (good, wanted) = match name {
        "paper" | "ink" => (colour(), "three numbers, L*,a*,b*"),
        "unit" => (Degrees::from_word(value).is_ok(), "C or F"),
        _ => (habit.is_none(), habit.as_deref().unwrap_or_default()),
    };
    match good {
        true => Ok(()),
        false => Err(Wrong::new(
            name,
            format!("is “{}” and must be {wanted}", short(value)),
        )),
    }
}

/// Whether a piece can stand so in the studio.
pub(super) fn standing(said: &Standing) -> Verdict {
    amount("price", said.price)
}

/// Whether a piece can be kept as it is.
pub(super) fn piece(piece: &Piece) -> Verdict {
    code("code", &piece.code)?;
    let sizes = [
        ("gsm", piece.gsm),
        ("dry_g", piece.dry_g),
        ("width_cm", piece.width_cm),
        ("length_cm", piece.length_cm),
    ];
    sizes
        .into_iter()
        .try_for_each(|(at, size)| amount(at, size))?;
    standing(&piece.standing())?;
    for (index, one) in piece.rounds.iter().enumerate() {
        let at = format!("rounds[{index}]");
        if piece.rounds[..index]
            .iter()
            .any(|other| other.round == one.round)
        {
            return Err(Wrong::new(
                at,
                format!("is round {} a second time", one.round),
            ));
        }
        round(one).map_err(|wrong| wrong.below(&at))?;
    }
    Ok(())
}

fn round(round: &Round) -> Verdict {
    if round.round == 0 {
        return Err(Wrong::new("round", "is 0, but the first is 1"));
    }
    date("made", round.made.as_deref())?;
    for (index, soak) in round.soaks.iter().enumerate() {
        amount("strength", soak.strength)
            .and(date("on", soak.on.as_deref()))
            .and(
                soak.bath
                    .as_deref()
                    .map_or(Ok(()), |name| bath_name("bath", name)),
            )
            .map_err(|wrong| wrong.below(&format!("soaks[{index}]")))?;
    }
    if let Some(heat) = &round.heat {
        number("low_c", heat.low_c)
            .and(number("high_c", heat.high_c))
            .and(amount("minutes", heat.minutes))
            .map_err(|wrong| wrong.below("heat"))?;
    }
    for (name, setting) in &round.settings {
        if let Setting::Number(value) = setting {
            number(name, Some(*value)).map_err(|wrong| wrong.below("settings"))?;
        }
    }
    Ok(())
}

fn bath_name(at: &str, name: &str) -> Verdict {
    Bath::check_name(name).map_err(|_| {
        let name = short(name);
        Wrong::new(at, format!("is “{name}”, which cannot be a bath's name"))
    })
}

/// Whether a bath can be kept as it is.
pub(super) fn bath(bath: &Bath) -> Verdict {
    bath_name("name", &bath.name)?;
    for (index, event) in bath.events.iter().enumerate() {
        date("on", Some(&event.on))
            .and(amount("litres", event.litres))
            .and(amount("grams", event.grams))
            .map_err(|wrong| wrong.below(&format!("events[{index}]")))?;
    }
    if !bath.events.is_sorted_by(|one, later| one.on <= later.on) {
        return Err(Wrong::new("events", "are not in order of time"));
    }
    Ok(())
}

/// Whether what was done to a bath can be its life; what an earlier program let pass is no damage.
pub(super) fn life(events: &[BathEvent]) -> Verdict {
    Bath::check_life(events).map_err(|(at, what)| Wrong::new(format!("events[{at}]"), what))
}

/// Whether what a note told can be kept as it is.
pub(super) fn issued(note: &Issued) -> Verdict {
    code("piece", &note.piece)?;
    date("on", Some(&note.on))?;
    hash("photo", note.photo.as_deref())?;
    if note.colours.is_empty() {
        return Err(Wrong::new(
            "colours",
            "are none, but a note tells at least one",
        ));
    }
    for (index, colour) in note.colours.iter().enumerate() {
        issued_colour(colour).map_err(|wrong| wrong.below(&format!("colours[{index}]")))?;
    }
    Ok(())
}

fn issued_colour(colour: &IssuedColour) -> Verdict {
    if colour.word.trim().is_empty() {
        return Err(Wrong::new("word", "is empty"));
    }
    lab(colour.lab)
        .and(share(colour.share))
        .and(amount("doubt", colour.doubt))
}

fn code(at: &str, code: &str) -> Verdict {
    match why_no_code(code) {
        None => Ok(()),
        Some(why) => {
            let code = short(code);
            let what = format!("is “{code}”, which cannot be a piece's code: {why}");
            Err(Wrong::new(at, what))
        }
    }
}

fn hash(at: &str, hash: Option<&str>) -> Verdict {
    let digits = |hash: &str| hash.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
    match hash {
        Some(hash) if hash.len() != 64 || !digits(hash) => {
            Err(Wrong::new(at, "is not 64 hexadecimal digits in lower case"))
        }
        _ => Ok(()),
    }
}

/// Whether a photo can be kept as it is.
pub(super) fn photo(photo: &Photo) -> Verdict {
    hash("hash", photo.hash.as_deref())?;
    if let Some(print) = &photo.print
        && u64::from_str_radix(print, 16).map_or(true, |bits| format!("{bits:016x}") != *print)
    {
        return Err(Wrong::new(
            "print",
            "is not 16 hexadecimal digits in lower case",
        ));
    }
    told(&photo.told)?;
    washes(photo)?;
    if let Some(piece) = &photo.piece {
        code("piece", piece)?;
    }
    if let Some(taken) = &photo.taken
        && taken.parse::<jiff::civil::DateTime>().is_err()
        && taken.parse::<jiff::Timestamp>().is_err()
    {
        let taken = short(taken);
        return Err(Wrong::new(
            "taken",
            format!("is “{taken}”, but must look like 2026-05-01T18:30:00"),
        ));
    }
    let exposure = &photo.exposure;
    amount("seconds", exposure.seconds)
        .and(amount("f_number", exposure.f_number))
        .and(amount("iso", exposure.iso))
        .map_err(|wrong| wrong.below("exposure"))?;
    for (index, earlier) in photo.earlier.iter().enumerate() {
        reading(earlier).map_err(|wrong| wrong.below(&format!("earlier[{index}]")))?;
    }
    reading(&photo.reading)
}

/// Whether the piece of a photo can have been washed so often.
fn washes(photo: &Photo) -> Verdict {
    let Some(washes) = photo.washes else {
        return Ok(());
    };
    if photo.state.is_some_and(|state| state.takes_washes(washes)) {
        return Ok(());
    }
    let of = short(photo.file.as_deref().unwrap_or("a photo without a file"));
    let what = match photo.state.filter(|state| state.is_washed()) {
        Some(_) => format!(
            "is {washes} for {of}, but must lie between {} and {}; leave it out where nobody knows",
            WASHES.start(),
            WASHES.end()
        ),
        None => format!(
            "is {washes} for {of}, whose state is {}: leave it out, or make the state washed or worn",
            photo.state.map_or("not told", State::word)
        ),
    };
    Err(Wrong::new("washes", what))
}

/// Whether what was told about a photo can be kept.
pub(super) fn told(told: &Told) -> Verdict {
    if told
        .outline
        .as_ref()
        .is_some_and(|outline| outline.len() < 3)
    {
        return Err(Wrong::new("told.outline", "has fewer than three corners"));
    }
    let corners = told.corners.iter().flatten();
    let mut all = corners.chain(told.outline.iter().flatten()).flatten();
    all.try_for_each(|value| number("told", Some(*value)))
}

/// Whether charts and cards can be kept, and every card and photo finds its chart.
pub(super) fn references(charts: &[ChartFile], cards: &[Card], photos: &[Photo]) -> Verdict {
    for (index, chart) in charts.iter().enumerate() {
        if blake3::hash(chart.text.as_bytes()).to_hex().as_str() != chart.hash {
            let at = format!("charts[{index}].text");
            return Err(Wrong::new(
                at,
                "does not have the hash that stands beside it",
            ));
        }
    }
    let known = |hash: &str| charts.iter().any(|chart| chart.hash == hash);
    for (index, card) in cards.iter().enumerate() {
        let at = format!("cards[{index}]");
        check_code(&card.name).map_err(|_| Wrong::new(format!("{at}.name"), "cannot be a name"))?;
        if !known(&card.chart) {
            return Err(Wrong::new(format!("{at}.chart"), "is not among the charts"));
        }
        let mut numbers = card.corners.iter().flatten().flatten();
        numbers.try_for_each(|value| number(&format!("{at}.corners"), Some(*value)))?;
    }
    let lost = |photo: &Photo| photo.told.chart.as_deref().is_some_and(|hash| !known(hash));
    match photos.iter().position(lost) {
        Some(index) => Err(Wrong::new(
            format!("photos[{index}].told.chart"),
            "is not among the charts",
        )),
        None => Ok(()),
    }
}

/// Nothing in a studio is larger, in whatever unit; beyond it, sums lose their digits.
const LARGEST: f64 = 1e15;

fn number(at: &str, value: Option<f64>) -> Verdict {
    match value {
        Some(value) if !value.is_finite() => Err(Wrong::new(at, "is not a number")),
        Some(value) if value.abs() > LARGEST => Err(Wrong::new(
            at,
            format!("is {value:e}, which is too large to be right"),
        )),
        _ => Ok(()),
    }
}

fn amount(at: &str, value: Option<f64>) -> Verdict {
    match value {
        Some(value) if value < 0.0 => Err(Wrong::new(
            at,
            format!("is {}, but cannot be below 0", figure(value)),
        )),
        value => number(at, value),
    }
}

fn date(at: &str, value: Option<&str>) -> Verdict {
    match value {
        Some(text) if text.len() != 10 || text.parse::<jiff::civil::Date>().is_err() => {
            let text = short(text);
            Err(Wrong::new(
                at,
                format!("is “{text}”, but must be a date such as 2026-05-01"),
            ))
        }
        _ => Ok(()),
    }
}
