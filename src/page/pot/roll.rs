//! A bundle written down, layer by layer, and changed later.

use super::super::edition::{self, Changed, Overtaken};
use super::super::frame::{self, Place};
use super::super::house::House;
use super::super::trouble::{Outcome, Trouble};
use super::bundles::{Bundle, bundles, path};
use super::deed::{Done, does};
use super::form::Form;
use super::known::Known;
use super::refusals::refusals;
use super::roll_view::{Beside, Roll, Written};
use crate::error::{Kind, Result};
use crate::journal::record::{Piece, Round};
use crate::journal::{Degrees, Journal};
use crate::sheet::{self, Entered, Moved, Table};
use axum::Form as Sent;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use jiff::civil::Date;
use serde::Deserialize;
use std::sync::Arc;

/// What a new bundle is to be like.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Like {
    /// A piece's code; else it is like the last bundle.
    like: String,
}

/// A new bundle, as the last one was, or of one piece as another was made.
pub(super) async fn new(
    State(house): State<Arc<House>>,
    Query(wanted): Query<Like>,
) -> Outcome<Response> {
    let today = (house.today)();
    let roll = house.with_trouble(move |journal| {
        let pieces = journal.pieces()?;
        let beside = Beside::of(journal, &pieces, today)?;
        let bundles = bundles(&pieces);
        let known = Known::of(&pieces, &bundles);
        let bare = Round::default();
        let (like, old) = match wanted.like.as_str() {
            "" => {
                let last = last(journal, &bundles)?;
                let name = last.map(|last| last.name.to_owned());
                (name, last.map(|last| Form::of(last, beside.degrees)))
            }
            code => {
                let piece = known.piece(code).ok_or_else(|| no_piece(code))?;
                let alone = Bundle::of_piece(piece, &bare);
                let form = Form::of(&alone, beside.degrees);
                (Some(piece.code.clone()), Some(form))
            }
        };
        let form = Form::like(old.as_ref(), today, &known);
        Ok(Roll::new(form, beside).like(like.unwrap_or_default()))
    });
    Ok(shown(&roll.await?, StatusCode::OK))
}

fn no_piece(code: &str) -> Trouble {
    Trouble::not_there(format!(
        "No piece is called {code}; look for it on the shelf."
    ))
}

/// The bundle that was written down last.
pub(super) fn last<'b, 'a>(
    journal: &Journal,
    bundles: &'b [Bundle<'a>],
) -> Result<Option<&'b Bundle<'a>>> {
    let name = journal.last_bundle()?;
    let named = |bundle: &&Bundle<'_>| name.as_deref() == Some(bundle.name);
    Ok(bundles.iter().find(named).or(bundles.first()))
}

/// A bundle of the journal, to be changed.
pub(super) async fn known(
    State(house): State<Arc<House>>,
    Path(name): Path<String>,
) -> Outcome<Response> {
    let today = (house.today)();
    let roll = house.with_trouble(move |journal| {
        let pieces = journal.pieces()?;
        let beside = Beside::of(journal, &pieces, today)?;
        let form = there(&pieces, &name, beside.degrees).ok_or_else(|| {
            Trouble::not_there(format!(
                "No bundle is called {name}; Pot lists those there are."
            ))
        })?;
        Ok(Roll::new(form, beside))
    });
    Ok(shown(&roll.await?, StatusCode::OK))
}

/// A touch on a bundle, or the bundle to be written.
pub(super) async fn touched(
    State(house): State<Arc<House>>,
    Sent(fields): Sent<Vec<(String, String)>>,
) -> Outcome<Response> {
    let deed = fields.iter().rfind(|(name, _)| name == "deed");
    let deed = deed.map(|(_, value)| value.clone()).unwrap_or_default();
    let mut form = Form::read(&fields);
    let today = (house.today)();
    if deed == "write" {
        return Ok(
            match house
                .change(move |journal| write(journal, form, today))
                .await?
            {
                Wrote::Down(written) => frame::page(Place::Pot, "Written down", &[], &written),
                Wrote::Refused(status, roll) => shown(&roll, status),
                Wrote::Overtaken(both) => edition::answer(Changed::Overtaken(both), "/pot")?,
            },
        );
    }
    let roll = house.with(move |journal| {
        let pieces = journal.pieces()?;
        let known = Known::of(&pieces, &bundles(&pieces));
        let done: Done = does(&mut form, &deed, &known);
        Ok(Roll::new(form, Beside::of(journal, &pieces, today)?).after(done))
    });
    Ok(shown(&roll.await?, StatusCode::OK))
}

fn shown(roll: &Roll, status: StatusCode) -> Response {
    let mut page = frame::page(Place::Pot, &roll.heading(), &["pot.js"], roll);
    *page.status_mut() = status;
    page
}

/// What came of writing a bundle.
enum Wrote {
    Down(Written),
    /// What was typed, with why it cannot be.
    Refused(StatusCode, Box<Roll>),
    Overtaken(Overtaken),
}

/// The bundle of that name as the journal has it, with its edition.
fn there(pieces: &[Piece], name: &str, degrees: Degrees) -> Option<Form> {
    let bundles = bundles(pieces);
    let bundle: &Bundle<'_> = bundles.iter().find(|bundle| bundle.name == name)?;
    let mut form = Form::of(bundle, degrees);
    form.based_on = edition::of_text(&format!("{form:?}"));
    Some(form)
}

fn write(journal: &mut Journal, form: Form, today: Date) -> Outcome<Wrote> {
    let pieces = journal.pieces()?;
    let beside = Beside::of(journal, &pieces, today)?;
    let degrees = beside.degrees;
    let refused = |status, form, why| {
        let roll = Roll::new(form, beside).refused(why);
        Ok(Wrote::Refused(status, Box::new(roll)))
    };
    let bundles = bundles(&pieces);
    let known = Known::of(&pieces, &bundles);
    let now = there(&pieces, &form.of, degrees);
    let table = form.table(degrees, &known, now.as_ref());
    let is_new = form.of.is_empty();
    match &now {
        Some(now) if now.based_on != form.based_on => {
            return Ok(Wrote::Overtaken(both(now, &form)));
        }
        None if !is_new => {
            return Err(Trouble::not_there(format!(
                "Bundle {} is not in the journal any more; Pot lists those there are.",
                form.of
            )));
        }
        _ => {}
    }
    let moved = now.map(|now| form.moved(&now)).unwrap_or_default();
    let taken = taken(&form, &known, &moved);
    // Sent twice, by a wet finger or a slow network, it is there already and nothing is changed.
    let twice =
        is_new && known.bundles.contains(&form.bundle.as_str()) && is_there(&pieces, &table)?;
    if !twice && !taken.is_empty() {
        return refused(StatusCode::CONFLICT, form, taken);
    }
    if form.bundle.is_empty() || form.layers.is_empty() && is_new {
        let why = "A bundle needs a name and at least one layer.".to_owned();
        return refused(StatusCode::BAD_REQUEST, form, vec![why]);
    }
    match sheet::enter_bundle(journal, &table, &moved) {
        Ok(entered) => {
            let left: Vec<String> = moved.into_iter().map(|moved| moved.piece).collect();
            journal.drop_bare(&left)?;
            Ok(Wrote::Down(written(&form, entered)))
        }
        Err(error) if matches!(error.kind(), Kind::File | Kind::Caller) => {
            refused(StatusCode::BAD_REQUEST, form, refusals(&error))
        }
        Err(error) => Err(error.into()),
    }
}

/// Whether the journal says all that the sheet does.
fn is_there(pieces: &[Piece], table: &Table) -> Result<bool> {
    match sheet::plan_changes(pieces, table) {
        Ok((put, _)) => Ok(put.is_empty()),
        Err(error) if error.kind() == Kind::File => Ok(false),
        Err(error) => Err(error),
    }
}

/// What would be written over that is there already and is not `moved`, a sentence each.
fn taken(form: &Form, known: &Known<'_>, moved: &[Moved]) -> Vec<String> {
    let mut told = Vec::new();
    if form.bundle != form.of && known.bundles.contains(&form.bundle.as_str()) {
        told.push(format!(
            "There is a bundle {} already: open it in Pot to change it, or give this one another name.",
            form.bundle
        ));
    }
    for layer in form.layers.iter().filter(|layer| !layer.stays()) {
        let (code, round) = layer.is();
        let Some(piece) = known.piece(code) else {
            continue;
        };
        let stays = |one: &&Round| {
            let mut moved = moved.iter();
            one.round == round
                && !moved.any(|moved| moved.piece == piece.code && moved.round == round)
        };
        if let Some(old) = piece.rounds.iter().find(stays) {
            let of = old
                .bundle
                .as_ref()
                .map(|bundle| format!(", in bundle {bundle}"));
            told.push(format!(
                "{} went through round {round} already{}: if it is bundled again, make it round {}; else take another code.",
                piece.code,
                of.unwrap_or_default(),
                piece.rounds.last().map_or(1, |last| last.round) + 1
            ));
        }
    }
    told
}

fn both(now: &Form, yours: &Form) -> Overtaken {
    let mut fields = Form {
        based_on: now.based_on.clone(),
        ..yours.clone()
    }
    .fields();
    fields.push(("deed", "write".to_owned()));
    Overtaken {
        there: now.in_words(),
        yours: yours.in_words(),
        action: "/pot/bundle".to_owned(),
        fields,
        back: path(&now.of),
    }
}

fn written(form: &Form, entered: Entered) -> Written {
    Written {
        bundle: form.bundle.clone(),
        codes: form.layers.iter().map(|layer| layer.code.clone()).collect(),
        changes: entered.changed.iter().map(ToString::to_string).collect(),
        new: entered.new,
        cautions: entered
            .cautions
            .iter()
            .map(|caution| super::super::shown::advice(&caution.text))
            .collect(),
    }
}
