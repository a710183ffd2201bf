//! Shelf: the pieces as they look.

use super::frame::{self, Place};
use super::house::House;
use super::shown::{self, Band};
use super::trouble::Outcome;
use crate::ask;
use crate::colour::Lab;
use crate::error::Result;
use crate::journal::record::Piece;
use crate::journal::{self, Journal, Shade};
use crate::note;
use crate::words::Own;
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
<p>Nothing stands here yet. Three steps lead to the first piece:</p>
<ol class="steps">
<li><strong>Print a tag</strong> for each piece. It hangs in every photo: it says which piece it is, and shows what white is in that light. <a href="/market#tags">Tags, in Market</a></li>
<li><strong>Write the bundle down</strong>, so that you know later what gave which colour. <a href="/pot">Pot</a></li>
<li><strong>Photograph the piece</strong> with its tag, wet and again dry, and take the photos in. <a href="/line">Line</a></li>
</ol>
</div>{% else %}<div class="empty"><p>No piece has “{{ words }}” with it. Words are codes, cloth, mordants, plants, colours, bundles, months, or wet, dry, washed and worn.</p>
<p class="deeds"><a class="button quiet" href="/">All pieces</a></p></div>{% endif %}{% else %}
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
<span class="line soft"{% if !piece.standard.is_empty() %} title="{{ piece.standard }}"{% endif %}>{{ piece.words }}</span>
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
    /// The standard's words, where the studio has its own.
    standard: String,
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
    let own = ask::own_words(&journal.studio()?);
    let page = sought.page.max(1);
    let found = found(journal, &sought.words, &own, page)?;
    let pieces = journal.pieces_coded(&found.codes)?;
    let words = sought.words.trim().to_owned();
    Ok(Shelf {
        told: match words.is_empty() {
            true => shown::count(found.count, "piece", "pieces"),
            false => format!("{} found", shown::count(found.count, "piece", "pieces")),
        },
        words,
        pieces: pieces
            .iter()
            .map(|piece| standing(journal, piece, &own))
            .collect::<Result<_>>()?,
        page,
        last: found.count.div_ceil(MOST),
    })
}

/// A page of the pieces with which these words stand; the studio's own colour words count as well.
fn found(journal: &Journal, text: &str, own: &[Own], page: usize) -> Result<journal::Shelf> {
    type Holds<'a> = Box<dyn Fn(Lab, Option<f64>) -> bool + 'a>;
    let named = |word: &'_ Own| {
        let name = word.name.clone();
        move |lab, doubt| shown::own_word(own, lab, doubt).is_some_and(|word| word.name == name)
    };
    let holds: Vec<Holds> = own
        .iter()
        .map(|word| Box::new(named(word)) as Holds)
        .collect();
    let shades: Vec<Shade> = own
        .iter()
        .zip(&holds)
        .map(|(word, holds)| Shade {
            name: &word.name,
            holds,
        })
        .collect();
    let skip = (page - 1).saturating_mul(MOST);
    journal.find_shelf(&sought(text), &shades, skip, MOST)
}

/// The words of a line as it is typed, or copied from the shelf: mordants in a row, `tannin > alum`, are one.
fn sought(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut row = false;
    for word in text.replace('>', " > ").split_whitespace() {
        let word = word.trim_matches(|c| matches!(c, ',' | ';' | '·'));
        match words.last_mut() {
            _ if word.is_empty() => {}
            _ if word == ">" => row = true,
            Some(last) if row => *last = format!("{last} > {word}"),
            _ => words.push(word.to_owned()),
        }
        row &= word == ">";
    }
    words
}

fn standing(journal: &Journal, piece: &Piece, own: &[Own]) -> Result<Standing> {
    let photos = journal.photos_of(&piece.code)?;
    let photo = note::telling(piece, &photos).or(photos.last());
    let swatches = photo.map_or(&[][..], |photo| &photo.reading.swatches);
    let words = |own: &[Own]| {
        let words = shown::in_words(swatches, own).into_iter().take(3);
        words.collect::<Vec<_>>().join(", ")
    };
    let (words, standard) = (words(own), words(&[]));
    Ok(Standing {
        code: piece.code.clone(),
        photo: photo.and_then(|photo| photo.id),
        bands: shown::strip(swatches),
        state: photo.map(shown::state).unwrap_or_default(),
        made_with: made_with(piece),
        standard: Some(standard)
            .filter(|standard| *standard != words)
            .unwrap_or_default(),
        words,
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

#[cfg(test)]
mod tests {
    use super::sought;

    #[test]
    fn what_stands_on_the_shelf_can_be_typed_as_it_stands() {
        for (text, words) in [
            ("alum, walnut", &["alum", "walnut"][..]),
            (
                "tannin > alum · walnut, birch",
                &["tannin > alum", "walnut", "birch"],
            ),
            ("tannin>alum >iron silk", &["tannin > alum > iron", "silk"]),
            (" > alum >", &["alum"]),
            ("> ,", &[]),
        ] {
            assert_eq!(sought(text), words, "{text}");
        }
    }
}
