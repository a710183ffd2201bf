//! Which piece a photo shows, said by a hand; and a code that no piece has yet, asked back once.

use super::edition::{self, Changed, answer};
use super::house::House;
use super::mend::{Next, in_words, overtaken};
use super::trouble::{Outcome, Trouble};
use super::unknown::Unknown;
use crate::error::{Error, check_code, known_code, slips};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{State as PieceState, WASHES};
use axum::Form;
use axum::extract::{Path, State};
use axum::response::Response;
use serde::Deserialize;
use std::sync::Arc;

/// What a photo shows.
#[derive(Debug, Deserialize)]
pub(super) struct Shows {
    based_on: String,
    /// The code that was written.
    #[serde(default)]
    piece: String,
    /// The code on the button that was touched, which counts before what was written; a piece of it may be new.
    #[serde(default)]
    take: String,
    #[serde(default)]
    state: String,
    #[serde(default)]
    washes: String,
    /// Where to go on, where that is not the photo's page.
    #[serde(default)]
    next: String,
}

/// That a photo shows no piece that is known.
#[derive(Debug, Deserialize)]
pub(super) struct Aside {
    based_on: String,
    /// `aside` where it is to wait for none, `wait` where it is to wait for one.
    deed: String,
    #[serde(default)]
    next: String,
}

/// Says which piece a photo shows, and as what.
pub(super) async fn shows(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Shows>,
) -> Outcome<Response> {
    let next = Next::of(&form.next, id, "shows");
    let changed = house
        .change(move |journal| claim(journal, id, &form))
        .await?;
    answer(changed, &next.done())
}

/// Says that a photo shows no piece that is known.
pub(super) async fn aside(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Aside>,
) -> Outcome<Response> {
    let next = Next::of(&form.next, id, "shows");
    let changed = house.change(move |journal| set_aside(journal, id, &form));
    answer(changed.await?, &next.done())
}

fn claim(journal: &mut Journal, id: i64, form: &Shows) -> Outcome<Changed> {
    let photo = journal.photo(id)?.ok_or_else(edition::gone)?;
    let state = PieceState::from_word(&form.state);
    // Of a wet or dry piece the number in the field is left over from before.
    let washed = state.is_some_and(PieceState::is_washed);
    let washes = washes(form.washes.trim())?.filter(|_| washed);
    let codes = journal.codes()?;
    let written = match form.take.is_empty() {
        true => form.piece.trim(),
        false => form.take.trim(),
    };
    check_code(written)?;
    let known = known_code(written, &codes);
    if edition::of(&photo) != form.based_on {
        let mut yours = photo.clone();
        yours.piece = Some(known.unwrap_or(written).to_owned());
        yours.state = state.or(photo.state);
        let washed = yours.state.is_some_and(PieceState::is_washed);
        yours.washes = washes.or(photo.washes).filter(|_| washed);
        let yours = in_words(&yours, None);
        return Ok(overtaken(&photo, id, "shows", yours, fields(form)));
    }
    match known {
        None if form.take.is_empty() => Ok(Changed::Unknown(unknown(id, written, &codes, form))),
        known => {
            journal.claim(id, known.unwrap_or(written), state, washes)?;
            Ok(Changed::Made)
        }
    }
}

/// The fields of a form but for what it was based on.
fn fields(form: &Shows) -> Vec<(&'static str, String)> {
    let all = [
        ("piece", &form.piece),
        ("take", &form.take),
        ("state", &form.state),
        ("washes", &form.washes),
        ("next", &form.next),
    ];
    let said = all.into_iter().filter(|(_, value)| !value.is_empty());
    said.map(|(name, value)| (name, value.clone())).collect()
}

/// So many codes that are written nearly the same are offered.
const NEAR: usize = 3;

fn unknown(id: i64, written: &str, codes: &[String], form: &Shows) -> Unknown {
    let code = in_their_capitals(written, codes);
    let lower = code.to_lowercase();
    let mut near: Vec<(usize, &String)> = codes
        .iter()
        .map(|known| (slips(&known.to_lowercase(), &lower), known))
        .filter(|(slips, _)| *slips <= 2)
        .collect();
    near.sort();
    let mut fields = fields(form);
    fields.retain(|(name, _)| *name != "piece");
    fields.push(("based_on", form.based_on.clone()));
    Unknown {
        near: near
            .into_iter()
            .take(NEAR)
            .map(|(_, known)| known.clone())
            .collect(),
        code,
        action: format!("/photo/{id}/shows"),
        fields,
        back: Next::of(&form.next, id, "shows").back(),
    }
}

/// A code in capitals, where all that are known are: a keyboard on a desk begins no word with one.
fn in_their_capitals(code: &str, known: &[String]) -> String {
    let are = known.iter().all(|code| *code == code.to_uppercase());
    match are && !known.is_empty() {
        true => code.to_uppercase(),
        false => code.to_owned(),
    }
}

fn set_aside(journal: &mut Journal, id: i64, form: &Aside) -> Outcome<Changed> {
    let photo = journal.photo(id)?.ok_or_else(edition::gone)?;
    if edition::of(&photo) != form.based_on {
        let yours = Photo {
            piece: None,
            ..photo.clone()
        };
        let fields = vec![("deed", form.deed.clone()), ("next", form.next.clone())];
        let yours = in_words(&yours, None);
        return Ok(overtaken(&photo, id, "aside", yours, fields));
    }
    journal.unclaim(id, form.deed == "aside")?;
    Ok(Changed::Made)
}

/// How often a piece was washed; `None` where nothing is written.
pub(super) fn washes(text: &str) -> Outcome<Option<u32>> {
    if text.is_empty() {
        return Ok(None);
    }
    let number = text.parse().ok().filter(|number| WASHES.contains(number));
    match number {
        Some(number) => Ok(Some(number)),
        None => Err(Trouble::from(Error::caller(format!(
            "“{text}” is not how often a piece was washed: write a number from 1 to 500."
        )))),
    }
}
