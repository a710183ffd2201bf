//! Shelf: the pieces as they look.

use super::frame::{self, Place};
use super::house::House;
use super::shown::{self, Band};
use super::trouble::Outcome;
use crate::error::Result;
use crate::journal::Journal;
use crate::journal::record::Piece;
use crate::note;
use askama::Template;
use axum::extract::{Query, State};
use axum::response::Response;
use serde::Deserialize;
use std::sync::Arc;

/// Pieces on one page: they fill whole rows of two, three, four and six.
const MOST: usize = 48;

/// Which pieces are asked for.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Sought {
    /// Words that must stand with a piece.
    words: String,
    /// The page, from 1.
    page: usize,
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head">
<h1>Shelf</h1>
<form method="get" action="/" role="search" class="seek">
<label for="words" class="unseen">Words that stand with a piece</label>
<input id="words" name="words" type="search" value="{{ words }}" placeholder="alum, walnut, silk, yellow, LB007" autocomplete="off">
<button>Find</button>
</form>
</header>
{% if pieces.is_empty() %}{% if words.is_empty() %}<div class="empty">
<p>Nothing stands here yet.</p>
<p><a class="button" href="/line">Take photos in</a> <a class="button quiet" href="/pot">Write a bundle down</a></p>
</div>{% else %}<p class="empty">No piece has “{{ words }}” with it. <a href="/">All pieces</a></p>{% endif %}{% else %}
<p class="count" role="status">{{ told }}</p>
<ul class="shelf" id="pieces">
{% for piece in pieces %}<li><a href="/piece/{{ piece.code|urlencode_strict }}">
<figure class="ground">
{% if let Some(photo) = piece.photo %}<img src="/picture/{{ photo }}/small" alt="" loading="lazy" decoding="async">
{% else %}<span class="none">no photo yet</span>
{% endif %}{% if !piece.bands.is_empty() %}<svg class="strip" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
{% for band in piece.bands %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="8" fill="{{ band.srgb }}"/>
{% endfor %}</svg>{% endif %}
</figure>
<strong>{{ piece.code }}</strong>{% if !piece.state.is_empty() %} <span class="state">{{ piece.state }}</span>{% endif %}
<span class="line">{{ piece.made_with }}</span>
<span class="line soft">{{ piece.words }}</span>
</a></li>
{% endfor %}</ul>
{% if last > 1 %}<nav class="pages" aria-label="Pages of the shelf">
{% if page > 1 %}<a class="button quiet" rel="prev" href="/?words={{ words|urlencode_strict }}&amp;page={{ page - 1 }}">Newer</a>{% endif %}
<span>{{ page }} of {{ last }}</span>
{% if page < last %}<a class="button quiet" rel="next" href="/?words={{ words|urlencode_strict }}&amp;page={{ page + 1 }}">Older</a>{% endif %}
</nav>{% endif %}{% endif %}"##
)]
struct Shelf {
    words: String,
    told: String,
    pieces: Vec<Standing>,
    page: usize,
    last: usize,
}

/// A piece as it stands on the shelf.
struct Standing {
    code: String,
    photo: Option<i64>,
    bands: Vec<Band>,
    state: String,
    made_with: String,
    words: String,
}

/// The shelf, a page of it.
pub(super) async fn shelf(
    State(house): State<Arc<House>>,
    Query(sought): Query<Sought>,
) -> Outcome<Response> {
    let shelf = house.with(move |journal| laid_out(journal, sought)).await?;
    Ok(frame::page(Place::Shelf, "Shelf", &[], &shelf))
}

fn laid_out(journal: &Journal, sought: Sought) -> Result<Shelf> {
    let words: Vec<String> = sought.words.split_whitespace().map(str::to_owned).collect();
    let page = sought.page.max(1);
    let found = journal.shelf(&words, (page - 1).saturating_mul(MOST), MOST)?;
    let pieces = journal.pieces_coded(&found.codes)?;
    Ok(Shelf {
        words: words.join(" "),
        told: match words.is_empty() {
            true => shown::count(found.count, "piece", "pieces"),
            false => format!("{} found", shown::count(found.count, "piece", "pieces")),
        },
        pieces: pieces
            .iter()
            .map(|piece| standing(journal, piece))
            .collect::<Result<_>>()?,
        page,
        last: found.count.div_ceil(MOST),
    })
}

fn standing(journal: &Journal, piece: &Piece) -> Result<Standing> {
    let photos = journal.photos_of(&piece.code)?;
    let photo = note::telling(piece, &photos).or(photos.last());
    let swatches = photo.map_or(&[][..], |photo| &photo.reading.swatches);
    Ok(Standing {
        code: piece.code.clone(),
        photo: photo.and_then(|photo| photo.id),
        bands: shown::strip(swatches),
        state: photo.map(shown::state).unwrap_or_default(),
        made_with: made_with(piece),
        words: shown::in_words(swatches)
            .into_iter()
            .take(3)
            .collect::<Vec<_>>()
            .join(", "),
    })
}

/// Mordant and plants of the last round in one line.
fn made_with(piece: &Piece) -> String {
    let Some(round) = piece.rounds.last() else {
        return String::new();
    };
    let plants = round.plants.iter().map(|plant| plant.name.as_str());
    let plants = plants
        .filter(|name| !name.is_empty())
        .collect::<Vec<_>>()
        .join(", ");
    [round.mordant(), plants]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" · ")
}
