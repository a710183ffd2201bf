//! Pot: a bundle written down, a wet piece foreseen.

pub(super) mod bundles;
mod deed;
mod form;
mod known;
mod layer;
mod refusals;
mod roll;
mod roll_view;
mod wet;

use super::frame::{self, Place};
use super::house::House;
use super::trouble::Outcome;
use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, State};
use axum::response::Response;
use axum::routing::{get, post};
use bundles::bundles;
use std::sync::Arc;

/// So many bundles are offered to be looked at again.
const OFFERED: usize = 8;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Pot</h1></header>
<section aria-labelledby="start" class="first"><h2 id="start">A bundle</h2>
<p class="soft">{% if let Some(last) = last %}The last one, {{ last }}, is offered again{% if waiting.is_empty() %} with the next codes{% endif %}: touch what is different.{% else %}Layer by layer: what each piece was soaked in, and what was laid on it.{% endif %}{% if !waiting.is_empty() %} Not in a bundle yet, and offered first: {{ waiting.join(", ") }}{% if more > 0 %} and {{ more }} more{% endif %}.{% endif %}</p>
<p class="deeds"><a class="button big" href="/pot/bundle" id="new-bundle">Start a bundle</a></p>
{% if !bundles.is_empty() %}<h3>To look at again, or change</h3>
<ul class="such">{% for bundle in bundles %}<li><a href="/pot/bundle/{{ bundle.name|urlencode_strict }}"><strong>{{ bundle.name }}</strong> <span class="soft">{{ bundle.made }} · {{ bundle.codes }}</span></a></li>
{% endfor %}</ul>{% endif %}
</section>
<section aria-labelledby="wet"><h2 id="wet">What will it look like dry?</h2>
<p class="soft">Photograph a piece while it is wet, drained and with the leaves off, its tag beside it. Nothing is kept unless you say so.</p>
{{ door|safe }}
</section>"##
)]
struct Pot {
    bundles: Vec<Rolled>,
    /// The bundle that was written down last.
    last: Option<String>,
    /// Codes of pieces that wait for their first bundle, and how many more do.
    waiting: Vec<String>,
    more: usize,
    door: String,
}

struct Rolled {
    name: String,
    made: String,
    codes: String,
}

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(Place::Pot.path(), get(pot))
        .route("/pot/bundle", get(roll::new).post(roll::touched))
        .route("/pot/bundle/{name}", get(roll::known))
        .route(
            "/pot/wet",
            get(wet::of_piece)
                .post(wet::photo)
                // One photo, and that has a limit of its own.
                .layer(DefaultBodyLimit::disable()),
        )
        .route("/pot/wet/{name}", get(wet::looked_at))
        .route("/pot/wet/{name}/picture", get(wet::picture))
        .route("/pot/wet/{name}/keep", post(wet::keep))
}

async fn pot(State(house): State<Arc<House>>) -> Outcome<Response> {
    let bundles = house.with(|journal| {
        let pieces = journal.pieces()?;
        let bundles = bundles(&pieces);
        let last = roll::last(journal, &bundles)?.map(|last| last.name.to_owned());
        let waiting = known::waiting(&pieces).map(str::to_owned).collect();
        let rolled = bundles.iter().take(OFFERED).map(|bundle| {
            let codes = bundle.layers.iter().map(|(piece, _)| piece.code.as_str());
            Rolled {
                name: bundle.name.to_owned(),
                made: bundle.made.to_owned(),
                codes: codes.collect::<Vec<_>>().join(", "),
            }
        });
        Ok((rolled.collect(), last, waiting))
    });
    let (bundles, last, mut waiting): (_, _, Vec<String>) = bundles.await?;
    let more = waiting.len().saturating_sub(OFFERED);
    waiting.truncate(OFFERED);
    let page = Pot {
        bundles,
        last,
        waiting,
        more,
        door: wet::door()?,
    };
    Ok(frame::page(Place::Pot, "Pot", &[], &page))
}
