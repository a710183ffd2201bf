//! Line: photos taken in, and what waits for a hand.

use super::arrive;
use super::frame::{self, Place};
use super::house::House;
use super::progress::News;
use super::share::secret;
use super::shown;
use super::trouble::Outcome;
use super::waits::Waits;
use crate::reading::State as PieceState;
use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::HeaderMap;
use axum::response::sse::{KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use serde::Deserialize;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Line</h1></header>
<form id="photos" method="post" action="/line/photos/{{ batch }}" enctype="multipart/form-data" data-progress="/line/progress/{{ batch }}"{% if let Some(watched) = watched %} data-watched="{{ watched }}" data-seen="{{ seen }}" data-of="{{ of }}"{% endif %} class="take">
<fieldset><legend>The pieces are</legend><div class="chips">
<label><input type="radio" name="state" value="" checked>as card or name says</label>
{% for state in PieceState::ALL %}<label><input type="radio" name="state" value="{{ state.word() }}">{{ state.word() }}</label>
{% endfor %}</div>
<p class="field washes"><label for="washes">How often washed <span class="soft">(if not in the name)</span></label><input id="washes" name="washes" inputmode="numeric" maxlength="3"></p></fieldset>
{% if !charts.is_empty() %}<p class="field"><label for="in-them">A chart lies in them <span class="soft">(one on a card is found by itself)</span></label><select id="in-them" name="chart"><option value="">none, or on a card</option>{% for (hash, name) in charts %}<option value="{{ hash }}">{{ name }}</option>{% endfor %}</select></p>{% endif %}
<div class="doors">
<p><label class="door" for="camera"><svg viewBox="0 0 24 24" aria-hidden="true"><path d="M3 8h4l2-3h6l2 3h4v11H3zM12 10a3.5 3.5 0 1 0 0 7 3.5 3.5 0 0 0 0-7z"/></svg>Take a photo</label><input id="camera" name="photos" type="file" accept="image/*" capture="environment"></p>
<p><label class="door" for="files"><svg viewBox="0 0 24 24" aria-hidden="true"><path d="M4 5h16v14H4zM4 16l5-5 4 4 2-2 5 5M15.5 9h.01"/></svg>Choose photos, or drop them here</label><input id="files" name="photos" type="file" accept="image/*,.heic,.heif" multiple></p>
</div>
<button id="send">Take them in</button>
</form>
<div id="progress"{% if watched.is_none() %} hidden{% endif %}><progress id="bar" max="1" value="0" aria-label="Photos measured"></progress></div>
<p id="news" role="status">{{ news }}</p>
<ol id="refused" aria-label="Photos that were refused">{{ refused|safe }}</ol>
<div id="waits">
{% if waits.is_empty() && arrived.is_empty() && refused.is_empty() %}<p class="empty">Nothing waits for a hand.</p>{% endif %}
{{ waits|safe }}
</div>
<details id="came"{% if arrived.is_empty() %} hidden{% endif %}{% if !folded %} open{% endif %}><summary>What came</summary>
<ol id="arrived" class="arrived" aria-label="Photos that came">{{ arrived|safe }}</ol></details>"##
)]
struct Line {
    /// Where the next photos go.
    batch: String,
    /// The progress of photos that still come.
    watched: Option<String>,
    /// How many of them were told of, and how many were sent.
    seen: usize,
    of: usize,
    arrived: String,
    refused: String,
    /// Whether what came is folded away: it is much, and something waits.
    folded: bool,
    news: String,
    waits: Waits,
    /// Charts that are known, by hash and name.
    charts: Vec<(String, String)>,
}

/// Results up to this number are shown beneath what waits; more are folded away.
const FEW: usize = 6;

/// What is looked at.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Looked {
    /// Photos that were sent together.
    batch: String,
    /// How many they were.
    of: usize,
    /// The photo to which something was done just now.
    done: Option<i64>,
}

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(Place::Line.path(), get(line))
        // Each photo has a limit of its own, and there is one on their number.
        .route(
            "/line/photos/{batch}",
            post(arrive::photos).layer(DefaultBodyLimit::disable()),
        )
        .route("/line/progress/{batch}", get(progress))
}

async fn line(State(house): State<Arc<House>>, Query(looked): Query<Looked>) -> Outcome<Response> {
    let batch = house.batches.known(&looked.batch);
    let told = batch.as_ref().map(|batch| batch.told()).unwrap_or_default();
    let of_kind = |kind| {
        let of_kind = told.iter().filter(move |told| told.kind == kind);
        of_kind.map(|told| told.html.as_str()).collect::<Vec<_>>()
    };
    let (arrived, refused) = (of_kind(News::Photo), of_kind(News::Refused));
    let (seen, done) = (arrived.len() + refused.len(), of_kind(News::Done));
    let charts = house.with(|journal| journal.charts()).await?;
    let waits = house
        .with(move |journal| Waits::of(journal, looked.done))
        .await?;
    let line = Line {
        batch: secret()?,
        watched: (batch.is_some() && done.is_empty())
            .then(|| format!("/line/progress/{}", looked.batch)),
        seen,
        of: looked.of,
        folded: arrived.len() > FEW && !waits.is_empty(),
        arrived: arrived.concat(),
        refused: refused.concat(),
        news: match (done.first(), &batch) {
            (Some(done), _) => ended(done, seen, looked.of),
            (None, Some(_)) => format!("{seen} of {} done", looked.of.max(seen)),
            (None, None) => String::new(),
        },
        waits,
        charts: charts
            .into_iter()
            .map(|chart| (chart.hash, chart.name))
            .collect(),
    };
    Ok(frame::page(Place::Line, "Line", &["line.js"], &line))
}

/// What came of all photos, and how many of them never came: leaving the page breaks the sending off.
fn ended(done: &str, seen: usize, of: usize) -> String {
    match of.saturating_sub(seen) {
        0 => done.to_owned(),
        left => format!(
            "{done} {} when this page was left or loaded anew: send them again, those that came are known.",
            shown::count(left, "photo was not sent yet", "photos were not sent yet")
        ),
    }
}

/// How much of the news was seen already.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct After {
    seen: usize,
}

async fn progress(
    State(house): State<Arc<House>>,
    Path(batch): Path<String>,
    Query(after): Query<After>,
    headers: HeaderMap,
) -> Response {
    let last = headers
        .get("last-event-id")
        .and_then(|id| id.to_str().ok()?.parse::<usize>().ok());
    let events = house
        .batches
        .named(&batch)
        .events(last.map_or(after.seen, |last| last.saturating_add(1)));
    Sse::new(events)
        .keep_alive(KeepAlive::default())
        .into_response()
}
