//! Market: what is printed for customers, and the tags that hang in the photos.

use super::frame::{self, Place};
use super::guard::NOTE_POLICY;
use super::house::House;
use super::shown;
use super::trouble::{Outcome, Trouble};
use crate::draw;
use crate::error::Result;
use crate::journal::Journal;
use crate::note::{self, Note, Options};
use crate::tag::{self, Page, Payload, SheetOptions};
use askama::Template;
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use serde::Deserialize;
use std::sync::Arc;

/// Pieces that are offered: the newest.
const OFFERED: usize = 48;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Market</h1></header>
<form method="get" action="/market/notes" id="chosen">
<p class="field"><label for="pieces">Pieces <span class="soft">(codes with spaces between)</span></label><input id="pieces" name="pieces" value="{{ pieces }}" required autocapitalize="characters" autocomplete="off" placeholder="LB007 LB008"></p>
<p class="deeds"><button id="notes">Notes for customers</button></p>
<section aria-labelledby="tags">
<h2 id="tags">Tags to hang in the photos</h2>
<p class="soft">Print at full size on matte paper without brightener, and do not laminate: the paper is the white by which colours are measured.</p>
<fieldset><legend>Paper</legend><div class="chips">
<label><input type="radio" name="paper" value="a4" checked>A4</label>
<label><input type="radio" name="paper" value="letter">Letter</label>
<label><input type="checkbox" name="states" value="yes">with the cards wet, dry, washed, worn</label>
</div></fieldset>
<p class="deeds"><button class="quiet" formaction="/market/tags.pdf" id="tags-pdf">Tags as PDF</button></p>
</section>
</form>
{% if !offered.is_empty() %}<section aria-labelledby="newest">
<h2 id="newest">The newest pieces</h2>
<ul class="codes">{% for code in offered %}<li><a class="button quiet" href="/market/notes?pieces={{ code|urlencode_strict }}">{{ code }}</a></li>{% endfor %}</ul>
</section>{% endif %}"##
)]
struct Market {
    pieces: String,
    offered: Vec<String>,
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>{{ heading }}</h1><p><a href="/market">Other pieces</a></p></header>
{% for written in notes %}<section aria-labelledby="note-{{ loop.index0 }}">
<h2 id="note-{{ loop.index0 }}"><a href="/piece/{{ written.code|urlencode_strict }}">{{ written.code }}</a></h2>
{% match written.note %}{% when Ok(text) %}<p class="deeds"><a class="button" href="/market/note/{{ written.code|urlencode_strict }}">Look at it, and print it</a></p>
<p class="field"><label for="text-{{ loop.index0 }}">To copy into a shop listing</label><textarea id="text-{{ loop.index0 }}" rows="12" readonly>{{ text }}</textarea></p>
{% when Err(why) %}<p>{{ why }}</p>{% endmatch %}
{% if !written.cautions.is_empty() %}<ul class="cautions">{% for caution in written.cautions %}<li>{{ caution }}</li>{% endfor %}</ul>{% endif %}
</section>
{% endfor %}"##
)]
struct Notes {
    heading: String,
    notes: Vec<Written>,
}

/// The note of one piece as text, or why there is none.
struct Written {
    code: String,
    note: std::result::Result<String, String>,
    cautions: Vec<String>,
}

/// Which pieces are meant, and how tags are printed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Chosen {
    pieces: String,
    paper: String,
    states: String,
}

impl Chosen {
    fn codes(&self) -> Vec<String> {
        let parts = self
            .pieces
            .split(|c: char| c.is_whitespace() || c == ',' || c == ';');
        parts
            .filter(|code| !code.is_empty())
            .map(str::to_owned)
            .collect()
    }
}

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(Place::Market.path(), get(market))
        .route("/market/notes", get(notes))
        .route("/market/note/{code}", get(note_page))
        .route("/market/tags.pdf", get(tags))
}

async fn market(
    State(house): State<Arc<House>>,
    Query(chosen): Query<Chosen>,
) -> Outcome<Response> {
    let offered = house
        .with(|journal| Ok(journal.shelf(&[], 0, OFFERED)?.codes))
        .await?;
    let market = Market {
        pieces: chosen.codes().join(" "),
        offered,
    };
    Ok(frame::page(Place::Market, "Market", &[], &market))
}

async fn notes(State(house): State<Arc<House>>, Query(chosen): Query<Chosen>) -> Outcome<Response> {
    let codes = chosen.codes();
    let heading = shown::count(codes.len(), "note", "notes");
    let notes = house.with(move |journal| {
        codes
            .into_iter()
            .map(|code| written(journal, code))
            .collect()
    });
    let page = Notes {
        heading,
        notes: notes.await?,
    };
    Ok(frame::page(Place::Market, "Notes", &[], &page))
}

/// A note as its own page, made to be printed.
async fn note_page(State(house): State<Arc<House>>, Path(code): Path<String>) -> Outcome<Response> {
    let html = house.with_trouble(move |journal| {
        let note = composed(journal, &code)?.ok_or_else(|| no_piece(&code))?;
        Ok(note.html()?)
    });
    let headers = [
        (CONTENT_TYPE, "text/html; charset=utf-8"),
        (CONTENT_SECURITY_POLICY, NOTE_POLICY),
    ];
    Ok((headers, html.await?).into_response())
}

async fn tags(State(house): State<Arc<House>>, Query(chosen): Query<Chosen>) -> Outcome<Response> {
    let pdf = house.with(move |_| {
        let labels: Vec<Payload> = chosen.codes().into_iter().map(Payload::Piece).collect();
        let options = SheetOptions {
            page: match chosen.paper.as_str() {
                "letter" => Page::Letter,
                _ => Page::A4,
            },
            states: !chosen.states.is_empty(),
        };
        draw::pdf(&tag::sheet(&labels, options)?)
    });
    let headers = [
        (CONTENT_TYPE, "application/pdf"),
        (CONTENT_DISPOSITION, "inline; filename=\"tags.pdf\""),
    ];
    Ok((headers, pdf.await?).into_response())
}

/// A piece without a photo has no note; that is told in its place, and the others are written.
fn written(journal: &Journal, code: String) -> Result<Written> {
    let composed = composed(journal, &code).and_then(|note| {
        note.ok_or_else(|| crate::error::Error::caller(no_piece(&code).to_string()))
    });
    Ok(match composed {
        Ok(note) => Written {
            code,
            cautions: note
                .cautions
                .iter()
                .map(|caution| shown::advice(&caution.text))
                .collect(),
            note: Ok(note.text()),
        },
        Err(error) if error.kind() == crate::error::Kind::Caller => Written {
            code,
            note: Err(shown::advice(&error.to_string())),
            cautions: Vec::new(),
        },
        Err(error) => return Err(error),
    })
}

fn composed(journal: &Journal, code: &str) -> Result<Option<Note>> {
    let piece = journal.piece(code)?;
    piece
        .map(|piece| note::of_piece(journal, &piece, &Options::default()))
        .transpose()
}

fn no_piece(code: &str) -> Trouble {
    Trouble::not_there(format!(
        "No piece is called {code}; look for it on the shelf."
    ))
}
