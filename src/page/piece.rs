//! One piece: its photos in time with what changed between them, its bundle and settings, what to do with it next.

use super::frame::{self, Place};
use super::house::House;
use super::shown::{self, Band};
use super::standing::{Done, Form};
use super::trouble::{Outcome, Trouble};
use crate::ask;
use crate::care;
use crate::error::{Caution, Result};
use crate::journal::record::{self, Bath, Photo, Piece, Setting};
use crate::journal::{Degrees, Journal};
use crate::sheet;
use crate::words::Own;
use askama::Template;
use axum::extract::{Path, Query, State};
use axum::response::Response;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head">
<h1>{{ piece.code }}</h1>
<p class="soft">{{ about }}</p>
{% if !told.is_empty() %}<p id="told" role="status" tabindex="-1">{{ told }}</p>{% endif %}
<p class="deeds">
<a class="button" href="/market/notes?pieces={{ piece.code|urlencode_strict }}" id="note">Note for a customer</a>
<a class="button quiet" href="/market/tags.pdf?pieces={{ piece.code|urlencode_strict }}" id="tag">Its tag</a>
<a class="button quiet" href="/pot/bundle?like={{ piece.code|urlencode_strict }}" id="like">Bundle one like it</a>
</p>
</header>
{% if seen.is_empty() %}<p class="empty">There is no photo of {{ piece.code }} yet. <a href="/line">Take one in</a>, with its tag in the picture.</p>{% else %}
<section aria-labelledby="in-time">
<h2 id="in-time">In time</h2>
{% for change in changes %}<p class="change">{{ change }}</p>
{% endfor %}<ol class="stages">
{% for seen in seen %}<li>
<a href="/photo/{{ seen.id }}" class="stage">
<span class="state">{{ seen.state }}</span> <span class="soft">{{ seen.taken }}</span>
<figure class="ground">
<img src="/picture/{{ seen.id }}/piece" alt="{{ piece.code }} {{ seen.state }}" loading="lazy" decoding="async">
{% if !seen.bands.is_empty() %}<svg class="strip" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
{% for band in seen.bands %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="8" fill="{{ band.srgb }}"/>
{% endfor %}</svg>{% endif %}
</figure>
<span class="more">Colours, outline, mend</span>
</a>
<ul class="words">{% for word in seen.words %}<li>{{ word.told }}{% if !word.beneath.is_empty() %} <span class="soft">{{ word.beneath }}</span>{% endif %}{% if !word.is.is_empty() %} <em>{{ word.is }}</em>{% endif %}</li>{% endfor %}</ul>
<p class="soft">{{ seen.light }}</p>
</li>
{% endfor %}</ol>
</section>{% endif %}
{% for round in rounds %}<section aria-labelledby="round-{{ loop.index }}">
<h2 id="round-{{ loop.index }}">{{ round.heading }}{% if let Some(bundle) = round.bundle %}, <a href="/pot/bundle/{{ bundle|urlencode_strict }}">bundle {{ bundle }}</a>{% endif %}{{ round.place }}</h2>
<dl class="settings">
{% for (name, value) in round.settings %}<div><dt>{{ name }}</dt><dd>{{ value }}</dd></div>
{% endfor %}</dl>
</section>
{% endfor %}{% if rounds.is_empty() %}<section aria-labelledby="how"><h2 id="how">How it was made</h2>
<p>Nothing is written down of it yet: no mordant, no plant, no pot. Written down as a layer of its bundle, {{ piece.code }} can be asked about at the Desk, and says in which salts and plants it lay.</p>
<p class="deeds"><a class="button quiet" href="/pot">To its bundle, in Pot</a></p></section>
{% endif %}{{ standing|safe }}
{% if !cautions.is_empty() || !always.is_empty() %}<section aria-labelledby="care">
<h2 id="care">When you work with these</h2>
<ul class="cautions">{% for caution in cautions %}<li>{{ caution.text }}</li>{% endfor %}</ul>
{% if !always.is_empty() %}<details><summary>What holds for every salt, pot and plant</summary><ul class="cautions">{% for caution in always %}<li>{{ caution.text }}</li>{% endfor %}</ul></details>{% endif %}
</section>{% endif %}"##
)]
struct Whole {
    piece: Piece,
    /// Cloth, status and price.
    about: String,
    /// What was done just now.
    told: String,
    seen: Vec<Seen>,
    changes: Vec<String>,
    rounds: Vec<Round>,
    standing: Form,
    cautions: Vec<Caution>,
    /// Those that hold for every salt, pot and plant.
    always: Vec<Caution>,
}

/// A photo of the piece.
struct Seen {
    id: i64,
    state: String,
    taken: String,
    bands: Vec<Band>,
    words: Vec<Word>,
    light: &'static str,
}

/// A colour in words.
struct Word {
    /// Its share and its name.
    told: String,
    /// The standard's name, where the studio has its own.
    beneath: String,
    /// What it was said to be.
    is: String,
}

/// A round with its settings as people read them.
struct Round {
    heading: String,
    bundle: Option<String>,
    /// Pot and layer.
    place: String,
    settings: Vec<(String, String)>,
}

/// The page of one piece.
pub(super) async fn piece(
    State(house): State<Arc<House>>,
    Path(code): Path<String>,
    Query(done): Query<Done>,
) -> Outcome<Response> {
    let whole = house
        .with_trouble(move |journal| {
            let piece = journal.piece(&code)?;
            let piece = piece.ok_or_else(|| {
                Trouble::not_there(format!(
                    "No piece is called {code}; look for it on the shelf."
                ))
            })?;
            Ok(whole(journal, piece, &done)?)
        })
        .await?;
    Ok(frame::page(Place::Shelf, &whole.piece.code, &[], &whole))
}

fn whole(journal: &Journal, piece: Piece, done: &Done) -> Result<Whole> {
    let mut photos = journal.photos_of(&piece.code)?;
    photos.sort_by(|one, other| (&one.taken, one.state).cmp(&(&other.taken, other.state)));
    let codes = std::slice::from_ref(&piece.code);
    let dried = ask::drying(journal, codes)?.pieces;
    let washed = ask::washing(journal, codes)?.pieces;
    let (studio, baths) = (journal.studio()?, journal.baths()?);
    let (degrees, own) = (Degrees::of(&studio), ask::own_words(&studio));
    let always = care::always();
    let (always, cautions): (Vec<_>, _) = sheet::cautions(&piece)
        .into_iter()
        .partition(|caution| always.contains(caution));
    Ok(Whole {
        about: about(&piece),
        told: done.told(&piece),
        seen: photos
            .iter()
            .filter_map(|photo| seen(photo, &own))
            .collect(),
        changes: dried
            .iter()
            .filter_map(shown::dried)
            .chain(washed.iter().filter_map(shown::washed))
            .collect(),
        rounds: piece
            .rounds
            .iter()
            .map(|one| round(one, &baths, degrees))
            .collect(),
        standing: Form::of(&piece),
        cautions,
        always,
        piece,
    })
}

fn about(piece: &Piece) -> String {
    let parts = [
        Some(shown::cloth(piece)).filter(|cloth| !cloth.is_empty()),
        piece.status.clone(),
        piece
            .price
            .map(|price| format!("price {}", shown::number(price))),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" · ")
}

fn seen(photo: &Photo, own: &[Own]) -> Option<Seen> {
    let words = shown::named(&photo.reading.swatches, own).into_iter();
    Some(Seen {
        id: photo.id?,
        state: shown::state(photo),
        taken: shown::taken(photo),
        bands: shown::strip(&photo.reading.swatches),
        words: words.take(4).map(word).collect(),
        light: shown::light(photo),
    })
}

fn word(named: shown::Named<'_>) -> Word {
    Word {
        told: format!("{} {}", shown::percent(named.share), named.word),
        beneath: named.beneath.unwrap_or_default().to_owned(),
        is: named.is,
    }
}

fn round(round: &record::Round, baths: &[Bath], degrees: Degrees) -> Round {
    let heading = [Some(format!("Round {}", round.round)), round.made.clone()];
    let place = [
        round.pot.as_ref().map(|pot| format!(", pot {pot}")),
        round.layer.map(|layer| format!(", layer {layer}")),
    ];
    let made = round.made.as_deref();
    let ages = round
        .soaks
        .iter()
        .filter_map(|soak| sheet::bath_told(baths, soak, made));
    let mut settings = vec![
        ("mordant".to_owned(), sheet::print_mordant(&round.soaks)),
        ("baths".to_owned(), ages.collect::<Vec<_>>().join("; ")),
        ("plants".to_owned(), sheet::print_plants(&round.plants)),
        ("heat".to_owned(), heat(round, degrees)),
    ];
    settings.extend(round.settings.iter().map(|(name, value)| {
        let value = match value {
            Setting::Number(number) => shown::number(*number),
            Setting::Text(text) => text.clone(),
        };
        (name.replace('_', " "), value)
    }));
    settings.retain(|(_, value)| !value.is_empty());
    Round {
        heading: heading.into_iter().flatten().collect::<Vec<_>>().join(", "),
        bundle: round.bundle.clone(),
        place: place.into_iter().flatten().collect(),
        settings,
    }
}

fn heat(round: &record::Round, degrees: Degrees) -> String {
    let Some(heat) = &round.heat else {
        return String::new();
    };
    let warm = match (heat.low_c, heat.high_c) {
        (Some(low), Some(high)) if low != high => Some(degrees.show_range(low, high)),
        (low, high) => low.or(high).map(|only| degrees.show(only)),
    };
    let parts = [
        heat.kind.map(|kind| kind.word().to_owned()),
        warm,
        heat.minutes
            .map(|minutes| format!("{} min", shown::number(minutes))),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}
