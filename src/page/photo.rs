//! One photo: the whole of it with its outline, its colours, and the forms by which a hand mends what was found.

use super::edition;
use super::frame::{self, Place};
use super::house::House;
use super::shown;
use super::trouble::Outcome;
use crate::ask;
use crate::colour::lab_to_hex;
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{Part, SET_ASIDE, State as PieceState, Swatch};
use crate::words::Own;
use askama::Template;
use axum::extract::{Path, Query, State};
use axum::response::Response;
use serde::Deserialize;
use std::collections::BTreeSet;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head">
<h1>{% if let Some(piece) = photo.piece %}<a href="/piece/{{ piece|urlencode_strict }}">{{ piece }}</a>{% else %}{% if aside %}Set aside{% else %}Of which piece?{% endif %}{% endif %}</h1>
<p class="soft"><span class="state">{{ state }}</span> {{ taken }} {{ name }} · {{ light }}</p>
</header>
{% if !told.is_empty() %}<p id="told" role="status" tabindex="-1">{{ told }}</p>{% endif %}
<div class="mend">
<div class="seen">
<figure class="ground whole">
<div class="over"><img src="/picture/{{ id }}/whole" width="{{ width }}" height="{{ height }}" alt="The whole photo{% if !outline.is_empty() %}, the piece's outline drawn over it{% endif %}">
{% if !outline.is_empty() %}<svg viewBox="0 0 {{ width }} {{ height }}" aria-hidden="true"><polygon class="under" points="{{ outline }}"/><polygon points="{{ outline }}"/></svg>{% endif %}</div>
</figure>
{% if !cautions.is_empty() %}<ul class="cautions" id="cautions">{% for caution in cautions %}<li>{{ caution }}</li>{% endfor %}</ul>{% endif %}
</div>
<div class="forms">
<section aria-labelledby="shows">
<h2 id="shows">What it shows</h2>
<form method="post" action="/photo/{{ id }}/shows">
<input type="hidden" name="based_on" value="{{ edition }}">
<p class="field"><label for="piece">Piece</label><input id="piece" name="piece" list="codes" required maxlength="32" autocapitalize="characters" autocomplete="off" value="{{ photo.piece.as_deref().unwrap_or_default() }}"></p>
<datalist id="codes">{% for code in codes %}<option value="{{ code }}">{% endfor %}</datalist>
<fieldset><legend>It is</legend><div class="chips">
{% for one in PieceState::ALL %}<label><input type="radio" name="state" value="{{ one.word() }}"{% if photo.state == Some(*one) %} checked{% endif %}>{{ one.word() }}</label>
{% endfor %}</div></fieldset>
<p class="field"><label for="washes">Washed how often <span class="soft">(where it was)</span></label><input id="washes" name="washes" type="number" min="1" max="500" inputmode="numeric" value="{{ washes }}"></p>
<button id="keep-shows">Keep this</button>
</form>
<form method="post" action="/photo/{{ id }}/aside" class="deeds" aria-label="If it shows no piece that is known">
<input type="hidden" name="based_on" value="{{ edition }}">
{% if photo.piece.is_some() || aside %}<button class="quiet" name="deed" value="wait" id="let-wait">{% if aside %}Let it wait for its piece again{% else %}Another piece: let it wait{% endif %}</button>{% endif %}
{% if !aside %}<button class="quiet" name="deed" value="aside" id="set-aside">No piece of mine: set it aside</button>{% endif %}
</form>
</section>
<section aria-labelledby="colours">
<h2 id="colours">Its colours</h2>
{% if colours.is_empty() %}<p>No cloth was found in this photo: draw its outline.</p>{% else %}
<p class="soft">Say of a colour whether it is the ground between the prints, or a print, and of which plant. It is kept with this photo, and stands on the piece's page.{% if no_plants %} {% if let Some(piece) = photo.piece %}Which plants lay on {{ piece }} is not written down yet; written down in <a href="/pot">Pot</a>, they stand here to be touched.{% else %}Plants stand here to be touched once the photo's piece is known.{% endif %}{% endif %}</p>
<ol class="colours">
{% for colour in colours %}<li id="colour-{{ loop.index0 }}">
<svg class="blob" viewBox="0 0 10 10" aria-hidden="true"><rect class="surround" width="10" height="10"/><rect x="1" y="1" width="8" height="8" fill="{{ colour.srgb }}"/></svg>
<div><strong>{{ colour.share }}</strong> {{ colour.word }}{% if let Some(beneath) = colour.beneath %} <span class="soft">{{ beneath }}</span>{% endif %}<br><span class="soft">{{ colour.numbers }}</span>
<details class="fold"{% if !colour.kept.is_empty() %} open{% endif %}><summary>{% if colour.is.is_empty() %}Ground or print?{% else %}{{ colour.is }}{% endif %}</summary>
{% if !colour.kept.is_empty() %}<p role="status">{{ colour.kept }}</p>{% endif %}
<form method="post" action="/photo/{{ id }}/colour" class="chips" aria-label="What {{ colour.word }} is">
<input type="hidden" name="based_on" value="{{ edition }}"><input type="hidden" name="place" value="{{ loop.index0 }}"><input type="hidden" name="colour" value="{{ colour.srgb }}">
{% for (value, words, said) in colour.choices %}<button class="chip" name="is" value="{{ value }}" aria-pressed="{{ said }}">{{ words }}</button>
{% endfor %}</form></details></div>
</li>
{% endfor %}</ol>{% endif %}
</section>
</div>
</div>
<section aria-labelledby="outline">
<h2 id="outline">Where the piece is</h2>
<form method="post" action="/photo/{{ id }}/outline" data-corners="free" id="outline-form">
<input type="hidden" name="based_on" value="{{ edition }}">
<p>Bring the corners to the cloth's edge: drag them, or choose one and use the arrow keys. Then have it measured.</p>
<div class="board" data-width="{{ width }}" data-height="{{ height }}"><img src="/picture/{{ id }}/whole" width="{{ width }}" height="{{ height }}" alt="" loading="lazy"></div>
<details><summary>The corners as numbers</summary>
<p class="field"><label for="outline-text">Pixels from the top left, x,y, once around</label><textarea id="outline-text" name="corners" rows="4" required>{{ draggable }}</textarea></p></details>
<p class="deeds"><button id="measure-outline">Measure with this outline</button>
{% if photo.told.outline.is_some() %}<button class="quiet" name="back" value="yes" formnovalidate>Take my outline back</button>{% endif %}</p>
</form>
</section>
{% if !charts.is_empty() %}<section aria-labelledby="chart">
<h2 id="chart">Where a colour chart is</h2>
<form method="post" action="/photo/{{ id }}/chart" data-corners="four" id="chart-form">
<input type="hidden" name="based_on" value="{{ edition }}">
<p>If a chart lies in this photo and was not found, put the four corners on the outer corners of its patches: the first at patch A1, then clockwise.</p>
<p class="field"><label for="chart-name">Chart</label><select id="chart-name" name="chart">{% for (hash, name) in charts %}<option value="{{ hash }}"{% if photo.told.chart.as_ref() == Some(hash) %} selected{% endif %}>{{ name }}</option>{% endfor %}</select></p>
<div class="board" data-width="{{ width }}" data-height="{{ height }}"><img src="/picture/{{ id }}/whole" width="{{ width }}" height="{{ height }}" alt="" loading="lazy"></div>
<details><summary>The corners as numbers</summary>
<p class="field"><label for="chart-text">Pixels from the top left, x,y, from A1 clockwise</label><textarea id="chart-text" name="corners" rows="2" required>{{ chart_corners }}</textarea></p></details>
<p class="deeds"><button id="measure-chart">Measure by this chart</button>
{% if photo.told.chart.is_some() %}<button class="quiet" name="back" value="yes" formnovalidate>There is no chart in it</button>{% endif %}</p>
</form>
</section>{% endif %}"##
)]
struct Mending {
    id: i64,
    edition: String,
    name: String,
    state: String,
    taken: String,
    light: &'static str,
    /// What was done just now.
    told: String,
    aside: bool,
    /// Whether no plant can be offered for a print.
    no_plants: bool,
    width: u32,
    height: u32,
    washes: String,
    outline: String,
    /// The outline with no more corners than a hand can move.
    draggable: String,
    chart_corners: String,
    cautions: Vec<String>,
    codes: Vec<String>,
    colours: Vec<Colour>,
    charts: Vec<(String, String)>,
    photo: Photo,
}

/// A colour and what can be said of it.
struct Colour {
    srgb: String,
    share: String,
    word: String,
    /// The standard's word, where the studio has its own.
    beneath: Option<String>,
    numbers: String,
    /// What it was said to be; empty where nothing was said.
    is: String,
    /// What was said of it just now.
    kept: String,
    /// The form's value, the words on the button, and whether it is what is said now.
    choices: Vec<(String, String, bool)>,
}

/// Codes that are offered while one is written.
const OFFERED: usize = 60;

/// What was done just now.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Done {
    done: String,
}

/// The page of one photo.
pub(super) async fn photo(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Query(done): Query<Done>,
) -> Outcome<Response> {
    let mending = house
        .with_trouble(move |journal| mending(journal, id, &done.done))
        .await?;
    let title = mending
        .photo
        .piece
        .clone()
        .unwrap_or_else(|| mending.name.clone());
    Ok(frame::page(Place::Line, &title, &["corners.js"], &mending))
}

fn mending(journal: &mut Journal, id: i64, done: &str) -> Outcome<Mending> {
    let photo = journal.photo(id)?.ok_or_else(edition::gone)?;
    let (width, height) = (photo.width.unwrap_or(1), photo.height.unwrap_or(1));
    let found = shown::outline(&photo);
    let size = [f64::from(width), f64::from(height)];
    let plants = plants(journal, &photo)?;
    let charts = journal.charts()?;
    let own = ask::own_words(&journal.studio()?);
    Ok(Mending {
        id,
        edition: edition::of(&photo),
        name: photo.file.clone().unwrap_or_default(),
        state: shown::state(&photo),
        taken: shown::taken(&photo),
        light: shown::light(&photo),
        told: told(&photo, done),
        aside: photo.reading.has_caution(SET_ASIDE),
        no_plants: plants.is_empty(),
        width,
        height,
        washes: photo
            .washes
            .map(|washes| washes.to_string())
            .unwrap_or_default(),
        outline: points(&found),
        draggable: points(&few(&found, size)),
        chart_corners: points(&photo.told.corners.unwrap_or_else(|| inset(size, 0.3))),
        cautions: cautions(&photo),
        codes: journal.shelf(&[], 0, OFFERED)?.codes,
        colours: photo
            .reading
            .swatches
            .iter()
            .enumerate()
            .map(|(place, swatch)| Colour {
                kept: kept(swatch, done == format!("colour-{place}")),
                ..colour(swatch, &plants, &own)
            })
            .collect(),
        charts: charts
            .into_iter()
            .map(|chart| (chart.hash, chart.name))
            .collect(),
        photo,
    })
}

/// What was done to the photo just now, in a sentence; empty where it is told elsewhere, or nothing was done.
fn told(photo: &Photo, done: &str) -> String {
    let by_hand = |given: bool, hand: &str, found: &str| match given {
        true => hand.to_owned(),
        false => found.to_owned(),
    };
    match done {
        "shows" => format!("Kept. {}", shown::says(photo)),
        "outline" => by_hand(
            photo.told.outline.is_some(),
            "Measured with the outline that you gave.",
            "Measured with the outline that is found without a hand.",
        ),
        "chart" => by_hand(
            photo.told.chart.is_some(),
            "Measured by the chart where you placed it.",
            "Measured without the chart that you placed.",
        ),
        _ => String::new(),
    }
}

/// That what was said of a colour is kept, where that was `just_now`.
fn kept(swatch: &Swatch, just_now: bool) -> String {
    match (just_now, shown::part(swatch)) {
        (false, _) => String::new(),
        (true, is) if is.is_empty() => "Taken back.".to_owned(),
        (true, is) => format!("Kept: {is}."),
    }
}

fn cautions(photo: &Photo) -> Vec<String> {
    let cautions = photo.reading.cautions.iter();
    cautions
        .map(|caution| shown::advice(&caution.text))
        .collect()
}

/// The plants of the photo's piece, and those that were said already.
fn plants(journal: &Journal, photo: &Photo) -> Outcome<BTreeSet<String>> {
    let piece = match &photo.piece {
        Some(code) => journal.piece(code)?,
        None => None,
    };
    let rounds = piece.into_iter().flat_map(|piece| piece.rounds);
    let laid = rounds
        .flat_map(|round| round.plants)
        .map(|plant| plant.name);
    let said = photo
        .reading
        .swatches
        .iter()
        .filter_map(|swatch| swatch.plant.clone());
    Ok(laid.chain(said).filter(|name| !name.is_empty()).collect())
}

fn colour(swatch: &Swatch, plants: &BTreeSet<String>, own: &[Own]) -> Colour {
    let said = |part: Option<Part>, plant: Option<&str>| {
        swatch.part == part && swatch.plant.as_deref() == plant
    };
    let mut choices = vec![
        (
            "ground".to_owned(),
            "ground".to_owned(),
            said(Some(Part::Ground), None),
        ),
        (
            "print".to_owned(),
            "print".to_owned(),
            said(Some(Part::Print), None),
        ),
    ];
    choices.extend(plants.iter().map(|plant| {
        (
            format!("print:{plant}"),
            format!("print of {plant}"),
            said(Some(Part::Print), Some(plant)),
        )
    }));
    if !said(None, None) {
        choices.push((String::new(), "take that back".to_owned(), false));
    }
    let doubt = swatch
        .doubt
        .map(|doubt| format!(", give or take {doubt:.1}"));
    let (word, beneath) = shown::name(swatch, own);
    Colour {
        srgb: lab_to_hex(swatch.lab),
        share: shown::percent(swatch.share),
        word: word.to_owned(),
        beneath: beneath.map(str::to_owned),
        is: shown::part(swatch),
        kept: String::new(),
        numbers: format!(
            "L* {:.1}  a* {:.1}  b* {:.1}{}",
            swatch.lab.l,
            swatch.lab.a,
            swatch.lab.b,
            doubt.unwrap_or_default()
        ),
        choices,
    }
}

/// Corners as an SVG polygon and a person write them, whole pixels.
fn points(corners: &[[f64; 2]]) -> String {
    let point = |[x, y]: &[f64; 2]| format!("{x:.0},{y:.0}");
    corners.iter().map(point).collect::<Vec<_>>().join(" ")
}

/// A rectangle with this part of the photo left around it, clockwise from the top left.
fn inset([width, height]: [f64; 2], margin: f64) -> [[f64; 2]; 4] {
    let [left, top] = [width * margin, height * margin];
    let [right, bottom] = [width - left, height - top];
    [[left, top], [right, top], [right, bottom], [left, bottom]]
}

/// At most this many corners can be told apart under a finger.
const MOVABLE: usize = 12;

/// And none nearer to the next than this part of the photo's longer side: on a phone, 24 pixels (WCAG 2.2, 2.5.8).
const APART: f64 = 0.08;

/// The outline with at most [`MOVABLE`] corners, none of them nearer to the next than [`APART`]: those that lie farthest from the
/// line between their neighbours stay. Where there is none, a rectangle to begin with.
fn few(outline: &[[f64; 2]], size: [f64; 2]) -> Vec<[f64; 2]> {
    if outline.len() < 3 {
        return inset(size, 0.15).to_vec();
    }
    let near = APART * size[0].max(size[1]);
    let mut left = outline.to_vec();
    while left.len() > 4 {
        let count = left.len();
        let at = |n: usize| left[n % count];
        let bulge = |n: usize| area(at(n + count - 1), at(n), at(n + 1));
        let crowded = |n: &usize| {
            let far = |m: usize| (at(m)[0] - at(*n)[0]).hypot(at(m)[1] - at(*n)[1]);
            count > MOVABLE || far(n + 1).min(far(n + count - 1)) < near
        };
        let least = (0..count)
            .filter(crowded)
            .min_by(|a, b| bulge(*a).total_cmp(&bulge(*b)));
        match least {
            Some(least) => drop(left.remove(least)),
            None => break,
        }
    }
    left
}

/// Twice the area of a triangle: what an outline loses without its middle corner (Visvalingam and Whyatt 1993).
fn area(a: [f64; 2], b: [f64; 2], c: [f64; 2]) -> f64 {
    ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])).abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square whose sides are full of needless corners keeps its own four, whichever others stay.
    #[test]
    fn the_corners_that_matter_stay() {
        let side = |n: usize| n as f64 * 10.0;
        let mut outline = Vec::new();
        outline.extend((0..10).map(|n| [side(n), 0.0]));
        outline.extend((0..10).map(|n| [100.0, side(n)]));
        outline.extend((0..10).map(|n| [100.0 - side(n), 100.0]));
        outline.extend((0..10).map(|n| [0.0, 100.0 - side(n)]));
        let left = few(&outline, [100.0, 100.0]);
        assert!((4..=MOVABLE).contains(&left.len()), "{left:?}");
        for (n, [x, y]) in left.iter().enumerate() {
            let [u, v] = left[(n + 1) % left.len()];
            assert!((x - u).hypot(y - v) >= 8.0, "{left:?}");
        }
        for corner in [[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]] {
            assert!(left.contains(&corner), "{corner:?} of {left:?}");
        }
        assert_eq!(few(&[], [200.0, 100.0])[2], [170.0, 85.0]);
    }
}
