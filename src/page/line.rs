//! Line: photos taken in, and what waits for a hand.

use super::arrive;
use super::edition;
use super::frame::{self, Place};
use super::house::House;
use super::progress::News;
use super::share::secret;
use super::shown;
use super::trouble::Outcome;
use crate::error::Result;
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{State as PieceState, TAKEN_AS_DRY};
use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::HeaderMap;
use axum::response::sse::{KeepAlive, Sse};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use serde::Deserialize;
use std::sync::Arc;

/// Photos of each kind that are shown waiting.
const WAITING: usize = 12;

/// Code of the caution that the piece's edge could not be told with confidence.
const DOUBTFUL: &str = "outline-doubtful";

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Line</h1></header>
<form id="photos" method="post" action="/line/photos/{{ batch }}" enctype="multipart/form-data" data-progress="/line/progress/{{ batch }}" class="take">
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
<div id="progress" hidden><progress id="bar" max="1" value="0" aria-label="Photos measured"></progress></div>
<p id="news" role="status">{% if let Some(done) = done %}{{ done|safe }}{% endif %}</p>
<ol id="arrived" class="arrived" aria-label="Photos that came">{{ arrived|safe }}</ol>
<div id="waits">
{% if waits.is_empty() %}{% if done.is_none() %}<p class="empty">Nothing waits for a hand.</p>{% endif %}{% else %}
{% for wait in waits %}<section aria-labelledby="{{ wait.id }}">
<h2 id="{{ wait.id }}">{{ wait.heading }}</h2>
<p class="soft">{{ wait.advice }}</p>
<ul class="waiting">
{% for photo in wait.photos %}<li id="photo-{{ photo.id }}">
<a href="/photo/{{ photo.id }}"><figure class="ground"><img src="/picture/{{ photo.id }}/small" alt="{{ photo.name }}" loading="lazy" decoding="async"></figure></a>
<p class="name">{{ photo.name }}</p>
{% if wait.id == "unclaimed" %}<form method="post" action="/photo/{{ photo.id }}/shows" class="one">
<input type="hidden" name="based_on" value="{{ photo.edition }}"><input type="hidden" name="next" value="/line#unclaimed">
<label for="piece-{{ photo.id }}" class="unseen">Piece of {{ photo.name }}</label><input id="piece-{{ photo.id }}" name="piece" list="codes" required maxlength="32" placeholder="LB007" autocapitalize="characters" autocomplete="off">
<button>It is this</button></form>
{% else if wait.id == "state" %}<form method="post" action="/photo/{{ photo.id }}/shows" class="chips" aria-label="What {{ photo.piece }} is in {{ photo.name }}">
<input type="hidden" name="based_on" value="{{ photo.edition }}"><input type="hidden" name="next" value="/line#state"><input type="hidden" name="piece" value="{{ photo.piece }}">
{% for state in PieceState::ALL %}<button class="chip" name="state" value="{{ state.word() }}">{{ state.word() }}</button>
{% endfor %}</form>
{% else %}<form method="post" action="/photo/{{ photo.id }}/outline" class="one">
<input type="hidden" name="based_on" value="{{ photo.edition }}"><input type="hidden" name="next" value="/line#outlines"><input type="hidden" name="corners" value="{{ photo.outline }}">
<a class="button" href="/photo/{{ photo.id }}#outline">Mend it</a> <button class="quiet">It lies right</button></form>{% endif %}
</li>
{% endfor %}</ul>
{% if wait.more > 0 %}<p class="soft">and {{ wait.more }} more, shown as these are done.</p>{% endif %}
</section>
{% endfor %}{% endif %}
</div>
<datalist id="codes">{% for code in codes %}<option value="{{ code }}">{% endfor %}</datalist>"##
)]
struct Line {
    batch: String,
    arrived: String,
    done: Option<String>,
    waits: Vec<Wait>,
    codes: Vec<String>,
    /// Charts that are known, by hash and name.
    charts: Vec<(String, String)>,
}

/// Photos that wait for the same word.
struct Wait {
    id: &'static str,
    heading: String,
    advice: &'static str,
    photos: Vec<Waiting>,
    more: usize,
}

struct Waiting {
    id: i64,
    name: String,
    piece: String,
    edition: String,
    outline: String,
}

/// Which batch is looked at.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Looked {
    batch: String,
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
    let seen = match looked.batch.is_empty() {
        true => Vec::new(),
        false => house.batches.named(&looked.batch).told(),
    };
    let html = |kind| {
        let of_kind = seen.iter().filter(move |told| told.kind == kind);
        of_kind.map(|told| told.html.as_str()).collect::<Vec<_>>()
    };
    let arrived = html(News::Photo).concat();
    let done = html(News::Done).first().map(|done| (*done).to_owned());
    let (waits, codes) = house.with(waiting).await?;
    let charts = house.with(|journal| journal.charts()).await?;
    let line = Line {
        batch: secret()?,
        arrived,
        done,
        waits,
        codes,
        charts: charts
            .into_iter()
            .map(|chart| (chart.hash, chart.name))
            .collect(),
    };
    Ok(frame::page(Place::Line, "Line", &["line.js"], &line))
}

async fn progress(
    State(house): State<Arc<House>>,
    Path(batch): Path<String>,
    headers: HeaderMap,
) -> Response {
    let last = headers
        .get("last-event-id")
        .and_then(|id| id.to_str().ok()?.parse::<usize>().ok());
    let events = house
        .batches
        .named(&batch)
        .events(last.map_or(0, |last| last.saturating_add(1)));
    Sse::new(events)
        .keep_alive(KeepAlive::default())
        .into_response()
}

fn waiting(journal: &mut Journal) -> Result<(Vec<Wait>, Vec<String>)> {
    let kinds = [
        (
            "unclaimed",
            journal.unclaimed_newest(WAITING)?,
            ["photo without a piece", "photos without a piece"],
            "No tag was readable and no name told; say which piece each shows.",
        ),
        (
            "state",
            journal.cautioned(TAKEN_AS_DRY, WAITING)?,
            ["photo taken as dry", "photos taken as dry"],
            "Nothing said whether these are wet, dry or washed. Touch what each is.",
        ),
        (
            "outlines",
            journal.cautioned(DOUBTFUL, WAITING)?,
            ["doubtful outline", "doubtful outlines"],
            "Where the piece ends could not be told with confidence. Look, and mend what is wrong.",
        ),
    ];
    let wait =
        |(id, (count, photos), [one, many], advice): (_, (usize, Vec<Photo>), [&str; 2], _)| {
            let photos: Vec<Waiting> = photos.iter().filter_map(one_waiting).collect();
            Wait {
                id,
                heading: shown::count(count, one, many),
                advice,
                more: count - photos.len(),
                photos,
            }
        };
    let waits = kinds
        .into_iter()
        .map(wait)
        .filter(|wait| !wait.photos.is_empty());
    Ok((waits.collect(), journal.shelf(&[], 0, 60)?.codes))
}

fn one_waiting(photo: &Photo) -> Option<Waiting> {
    let point = |[x, y]: &[f64; 2]| format!("{x},{y}");
    Some(Waiting {
        id: photo.id?,
        name: photo.file.clone().unwrap_or_default(),
        piece: photo.piece.clone().unwrap_or_default(),
        edition: edition::of(photo),
        outline: shown::outline(photo)
            .iter()
            .map(point)
            .collect::<Vec<_>>()
            .join(" "),
    })
}
