//! Market: what is printed for customers, and the tags that hang in the photos.

mod chosen;
mod notes;

use super::frame::{self, Place};
use super::house::House;
use super::pot::bundles::{Bundle, bundles};
use super::shown;
use super::trouble::Outcome;
use crate::draw;
use crate::tag::{self, Page, Payload, SheetOptions};
use askama::Template;
use axum::Router;
use axum::extract::{Query, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use chosen::Chosen;
use std::sync::Arc;

/// Pieces that are offered to be ticked, and bundles to be taken as a whole: the newest.
const OFFERED: usize = 24;
const BUNDLES: usize = 6;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Market</h1></header>
{% if !rolls.is_empty() %}<section aria-labelledby="bundles" class="first">
<h2 id="bundles">Notes of a whole bundle</h2>
<ul class="codes">{% for (name, count) in rolls %}<li><a class="button quiet" href="/market/notes?pieces={{ name|urlencode_strict }}">{{ name }} <span class="soft">{{ count }}</span></a></li>{% endfor %}</ul>
</section>{% endif %}
<form method="get" action="/market/notes" id="chosen">
<section aria-labelledby="which">
<h2 id="which">Notes, or tags, of pieces</h2>
{% if !offered.is_empty() %}<fieldset><legend>The newest pieces</legend><div class="chips" id="newest">
{% for code in offered %}<label><input type="checkbox" name="pieces" value="{{ code }}">{{ code }}</label>
{% endfor %}</div></fieldset>{% endif %}
<p class="field"><label for="pieces">{% if offered.is_empty() %}Pieces or a bundle{% else %}Others, or a bundle{% endif %} <span class="soft">(codes with spaces between, or a bundle's name)</span></label><input id="pieces" name="pieces" value="{{ pieces }}" autocapitalize="characters" autocomplete="off" placeholder="LB007 LB008"></p>
<p class="deeds"><button id="notes">Notes for customers</button></p>
</section>
<section aria-labelledby="tags">
<h2 id="tags">Their tags, to hang in the photos</h2>
<p class="soft">Print at full size on matte paper without brightener, and do not laminate: the paper is the white by which colours are measured.</p>
<fieldset><legend>Paper</legend><div class="chips">
<label><input type="radio" name="paper" value="a4" checked>A4</label>
<label><input type="radio" name="paper" value="letter">Letter</label>
<label><input type="checkbox" name="states" value="yes">with the cards wet, dry, washed, worn</label>
</div></fieldset>
<p class="deeds"><button class="quiet" formaction="/market/tags.pdf" id="tags-pdf">Tags as PDF</button></p>
</section>
</form>"##
)]
struct Market {
    /// Names of bundles, with how many pieces each holds.
    rolls: Vec<(String, String)>,
    offered: Vec<String>,
    pieces: String,
}

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(Place::Market.path(), get(market))
        .route("/market/notes", get(notes::notes))
        .route("/market/note/{code}", get(notes::alone))
        .route("/market/cards", post(notes::cards))
        .route("/market/cover", post(notes::cover))
        .route("/market/strip", post(notes::strip))
        .route("/market/file", post(notes::file))
        .route("/market/words", post(notes::words))
        .route("/market/tags.pdf", get(tags))
}

async fn market(
    State(house): State<Arc<House>>,
    Query(chosen): Query<Chosen>,
) -> Outcome<Response> {
    let market = house.with(move |journal| {
        let pieces = journal.pieces()?;
        let roll = |bundle: &Bundle| {
            let count = shown::count(bundle.layers.len(), "piece", "pieces");
            (bundle.name.to_owned(), count)
        };
        Ok(Market {
            rolls: bundles(&pieces).iter().take(BUNDLES).map(roll).collect(),
            offered: journal.shelf(&[], 0, OFFERED)?.codes,
            pieces: chosen.pieces.join(" "),
        })
    });
    Ok(frame::page(Place::Market, "Market", &[], &market.await?))
}

async fn tags(State(house): State<Arc<House>>, Query(chosen): Query<Chosen>) -> Outcome<Response> {
    let pdf = house.with(move |journal| {
        // Tags are printed before the journal knows their pieces.
        let meant = chosen.meant(journal)?;
        let codes = meant.codes.into_iter().chain(meant.left_out);
        let labels: Vec<Payload> = codes.map(Payload::Piece).collect();
        let options = SheetOptions {
            page: match chosen.paper.as_str() {
                "letter" => Page::Letter,
                _ => Page::A4,
            },
            states: chosen.states,
        };
        draw::pdf(&tag::sheet(&labels, options)?)
    });
    let headers = [
        (CONTENT_TYPE, "application/pdf"),
        (CONTENT_DISPOSITION, "inline; filename=\"tags.pdf\""),
    ];
    Ok((headers, pdf.await?).into_response())
}
