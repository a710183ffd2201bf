//! Market: what is printed for customers, and the tags that hang in the photos.

use super::frame::{self, Place};
use super::guard::NOTE_POLICY;
use super::house::House;
use super::shown;
use super::trouble::{Outcome, Trouble};
use crate::draw;
use crate::error::Result;
use crate::journal::Journal;
use crate::note::{self, Batch, Language, Note, Options, Paper};
use crate::tag::{self, Page, Payload, SheetOptions};
use askama::Template;
use axum::extract::{Path, Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_SECURITY_POLICY, CONTENT_TYPE};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Form, Router};
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
    source = r##"<header class="head"><h1>{{ heading }}</h1><p><a href="/market">Other pieces</a> · {% if german %}<a href="/market/notes?pieces={{ pieces|urlencode_strict }}" hreflang="en">in English</a>{% else %}<a href="/market/notes?pieces={{ pieces|urlencode_strict }}&#38;lang=de" hreflang="de">in German</a>{% endif %}</p></header>
{% if !written.is_empty() %}<form method="post" action="/market/cards" class="take" id="print">
<input type="hidden" name="pieces" value="{{ written }}"><input type="hidden" name="lang" value="{{ lang }}">
<fieldset><legend>Cards to print</legend><div class="chips">
<label><input type="radio" name="paper" value="a6" checked>A6, both sides</label>
<label><input type="radio" name="paper" value="a4">four on A4</label>
<label><input type="radio" name="paper" value="letter">four on Letter</label></div></fieldset>
<p class="deeds"><button id="cards">Cards as PDF</button></p>
<p class="soft">What is printed, fetched or marked as used keeps its words: later notes of the piece say the same until you take other words.</p>
</form>{% endif %}
{% for written in notes %}<section aria-labelledby="note-{{ loop.index0 }}">
<h2 id="note-{{ loop.index0 }}"><a href="/piece/{{ written.code|urlencode_strict }}">{{ written.code }}</a></h2>
{% match written.note %}{% when Ok(text) %}<p class="deeds"><a class="button" href="/market/note/{{ written.code|urlencode_strict }}{% if german %}?lang=de{% endif %}">Look at it, and print it</a></p>
<p class="field"><label for="short-{{ loop.index0 }}">To copy into a shop listing</label><textarea id="short-{{ loop.index0 }}" rows="6" readonly lang="{{ lang }}">{{ text.short }}</textarea></p>
<details><summary>The whole note as text</summary><p class="field"><label for="text-{{ loop.index0 }}">To send with the piece</label><textarea id="text-{{ loop.index0 }}" rows="12" readonly lang="{{ lang }}">{{ text.long }}</textarea></p></details>
<form method="post" action="/market/words"><input type="hidden" name="pieces" value="{{ written.code }}"><input type="hidden" name="lang" value="{{ lang }}">
<p class="deeds"><button class="quiet" formaction="/market/strip">Its colours as a picture</button>
{% if text.is_new %}<button class="quiet" name="take" value="these">I have used these words</button>{% endif %}
{% if text.differs %}<button class="quiet" name="take" value="today">Take today’s words</button>{% endif %}</p></form>
{% when Err(why) %}<p>{{ why }}</p>{% endmatch %}
{% if !written.cautions.is_empty() %}<ul class="cautions">{% for caution in written.cautions %}<li>{{ caution }}</li>{% endfor %}</ul>{% endif %}
</section>
{% endfor %}"##
)]
struct Notes {
    heading: String,
    notes: Vec<Written>,
    /// The codes as they are asked for.
    pieces: String,
    lang: &'static str,
    german: bool,
    /// Those of them that have a note.
    written: String,
}

/// A note in words.
struct Words {
    short: String,
    long: String,
    /// Whether these words were not kept yet.
    is_new: bool,
    /// Whether today's would be others than those that were kept.
    differs: bool,
}

/// The note of one piece as text, or why there is none.
struct Written {
    code: String,
    note: std::result::Result<Words, String>,
    cautions: Vec<String>,
}

/// Which pieces are meant, and how tags are printed.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Chosen {
    pieces: String,
    paper: String,
    states: String,
    lang: String,
    take: String,
}

impl Chosen {
    fn options(&self) -> Options {
        Options {
            language: match self.lang.as_str() {
                "de" => Language::German,
                _ => Language::English,
            },
            reissue: self.take == "today",
        }
    }

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
        .route("/market/cards", post(cards))
        .route("/market/strip", post(strip))
        .route("/market/words", post(words))
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
    let (codes, options) = (chosen.codes(), chosen.options());
    let heading = shown::count(codes.len(), "note", "notes");
    let pieces = codes.join(" ");
    let notes = house.with(move |journal| {
        codes
            .into_iter()
            .map(|code| written(journal, code, &options))
            .collect::<Result<Vec<Written>>>()
    });
    let notes = notes.await?;
    let with_note = notes.iter().filter(|written| written.note.is_ok());
    let with_note: Vec<&str> = with_note.map(|written| written.code.as_str()).collect();
    let page = Notes {
        heading,
        written: with_note.join(" "),
        notes,
        pieces,
        lang: options.language.tag(),
        german: options.language == Language::German,
    };
    Ok(frame::page(Place::Market, "Notes", &[], &page))
}

/// A note as its own page, made to be printed.
async fn note_page(
    State(house): State<Arc<House>>,
    Path(code): Path<String>,
    Query(chosen): Query<Chosen>,
) -> Outcome<Response> {
    let html = house.with_trouble(move |journal| {
        let note = composed(journal, &code, &chosen.options())?.ok_or_else(|| no_piece(&code))?;
        Ok(note.html()?)
    });
    let headers = [
        (CONTENT_TYPE, "text/html; charset=utf-8"),
        (CONTENT_SECURITY_POLICY, NOTE_POLICY),
    ];
    Ok((headers, html.await?).into_response())
}

/// The notes asked for, their words kept from now on, and what is made of them.
async fn issued<T: Send + 'static>(
    house: &House,
    chosen: Chosen,
    make: impl FnOnce(&[Note]) -> Result<T> + Send + 'static,
) -> Outcome<T> {
    let today = (house.today)();
    let made = house.change(move |journal| {
        let options = chosen.options();
        let notes = chosen
            .codes()
            .into_iter()
            .map(|code| composed(journal, &code, &options)?.ok_or_else(|| no_piece(&code)));
        let notes = notes.collect::<Outcome<Vec<Note>>>()?;
        if notes.is_empty() {
            return Err(Trouble::not_there("Name the pieces first, by their codes."));
        }
        let made = make(&notes)?;
        note::issue(journal, &notes, today)?;
        Ok(made)
    });
    made.await
}

async fn cards(State(house): State<Arc<House>>, Form(chosen): Form<Chosen>) -> Outcome<Response> {
    let paper = match chosen.paper.as_str() {
        "a4" => Paper::A4,
        "letter" => Paper::Letter,
        _ => Paper::A6,
    };
    let pdf = issued(&house, chosen, move |notes| {
        note::pdf(notes, &Batch::default(), paper)
    })
    .await?;
    let headers = [
        (CONTENT_TYPE, "application/pdf"),
        (CONTENT_DISPOSITION, "inline; filename=\"cards.pdf\""),
    ];
    Ok((headers, pdf).into_response())
}

/// The colours of the first piece as a picture to post.
async fn strip(State(house): State<Arc<House>>, Form(chosen): Form<Chosen>) -> Outcome<Response> {
    let png = issued(&house, chosen, |notes| notes[0].png()).await?;
    let headers = [
        (CONTENT_TYPE, "image/png"),
        (CONTENT_DISPOSITION, "attachment; filename=\"colours.png\""),
    ];
    Ok((headers, png).into_response())
}

/// Words that were used are kept, or today's taken in the place of those that were.
async fn words(State(house): State<Arc<House>>, Form(chosen): Form<Chosen>) -> Outcome<Redirect> {
    let codes = chosen.codes().join(" ");
    let lang = chosen.options().language.tag();
    issued(&house, chosen, |_| Ok(())).await?;
    let Ok(pieces) = askama::filters::urlencode_strict(&codes);
    Ok(Redirect::to(&format!(
        "/market/notes?pieces={pieces}&lang={lang}"
    )))
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
fn written(journal: &Journal, code: String, options: &Options) -> Result<Written> {
    let composed = composed(journal, &code, options).and_then(|note| {
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
            note: Ok(Words {
                short: note.short(),
                long: note.text(),
                is_new: note.issued.is_none(),
                differs: note.cautions.iter().any(|c| c.code == note::WORDS_ISSUED),
            }),
        },
        Err(error) if error.kind() == crate::error::Kind::Caller => Written {
            code,
            note: Err(shown::advice(&error.to_string())),
            cautions: Vec::new(),
        },
        Err(error) => return Err(error),
    })
}

fn composed(journal: &Journal, code: &str, options: &Options) -> Result<Option<Note>> {
    let piece = journal.piece(code)?;
    piece
        .map(|piece| note::of_piece(journal, &piece, options))
        .transpose()
}

fn no_piece(code: &str) -> Trouble {
    Trouble::not_there(format!(
        "No piece is called {code}; look for it on the shelf."
    ))
}
