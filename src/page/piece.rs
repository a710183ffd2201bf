//! One piece: its photos in time with what changed between them, its bundle and settings, what to do with it next.

use super::frame::{self, Place};
use super::house::House;
use super::shown::{self, Band};
use super::trouble::{Outcome, Trouble};
use crate::ask;
use crate::error::{Caution, Result};
use crate::journal::record::{Photo, Piece, Setting};
use crate::journal::{Degrees, Journal};
use crate::sheet;
use askama::Template;
use axum::extract::{Path, State};
use axum::response::Response;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head">
<h1>{{ piece.code }}</h1>
<p class="soft">{{ about }}</p>
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
<ul class="words">{% for word in seen.words %}<li>{{ word }}</li>{% endfor %}</ul>
<p class="soft">{{ seen.light }}</p>
</li>
{% endfor %}</ol>
</section>{% endif %}
{% for round in rounds %}<section>
<h2>{{ round.heading }}</h2>
<dl class="settings">
{% for (name, value) in round.settings %}<div><dt>{{ name }}</dt><dd>{{ value }}</dd></div>
{% endfor %}</dl>
</section>
{% endfor %}{% if let Some(remarks) = piece.remarks %}<section><h2>Remarks</h2><p>{{ remarks }}</p></section>{% endif %}
{% if !cautions.is_empty() %}<section>
<h2>When you work with these</h2>
<ul class="cautions">{% for caution in cautions %}<li>{{ caution.text }}</li>{% endfor %}</ul>
</section>{% endif %}"##
)]
struct Whole {
    piece: Piece,
    /// Cloth, status and price.
    about: String,
    seen: Vec<Seen>,
    changes: Vec<String>,
    rounds: Vec<Round>,
    cautions: Vec<Caution>,
}

/// A photo of the piece.
struct Seen {
    id: i64,
    state: String,
    taken: String,
    bands: Vec<Band>,
    words: Vec<String>,
    light: &'static str,
}

/// A round with its settings as people read them.
struct Round {
    heading: String,
    settings: Vec<(String, String)>,
}

/// The page of one piece.
pub(super) async fn piece(
    State(house): State<Arc<House>>,
    Path(code): Path<String>,
) -> Outcome<Response> {
    let whole = house
        .with_trouble(move |journal| {
            let piece = journal.piece(&code)?;
            let piece = piece.ok_or_else(|| {
                Trouble::not_there(format!(
                    "No piece is called {code}; look for it on the shelf."
                ))
            })?;
            Ok(whole(journal, piece)?)
        })
        .await?;
    Ok(frame::page(Place::Shelf, &whole.piece.code, &[], &whole))
}

fn whole(journal: &Journal, piece: Piece) -> Result<Whole> {
    let mut photos = journal.photos_of(&piece.code)?;
    photos.sort_by(|one, other| (&one.taken, one.state).cmp(&(&other.taken, other.state)));
    let codes = std::slice::from_ref(&piece.code);
    let dried = ask::drying(journal, codes)?.pieces;
    let washed = ask::washing(journal, codes)?.pieces;
    let degrees = Degrees::of(&journal.studio()?);
    Ok(Whole {
        about: about(&piece),
        seen: photos.iter().filter_map(seen).collect(),
        changes: dried
            .iter()
            .filter_map(shown::dried)
            .chain(washed.iter().filter_map(shown::washed))
            .collect(),
        rounds: piece.rounds.iter().map(|one| round(one, degrees)).collect(),
        cautions: sheet::cautions(&piece),
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

fn seen(photo: &Photo) -> Option<Seen> {
    let words = shown::in_words(&photo.reading.swatches);
    Some(Seen {
        id: photo.id?,
        state: shown::state(photo),
        taken: shown::taken(photo),
        bands: shown::strip(&photo.reading.swatches),
        words: words.into_iter().take(4).collect(),
        light: shown::light(photo),
    })
}

fn round(round: &crate::journal::record::Round, degrees: Degrees) -> Round {
    let named =
        |name: &str, value: &Option<String>| value.as_ref().map(|it| format!("{name} {it}"));
    let heading = [
        Some(format!("Round {}", round.round)),
        round.made.clone(),
        named("bundle", &round.bundle),
        named("pot", &round.pot),
        round.layer.map(|layer| format!("layer {layer}")),
    ];
    let mut settings = vec![
        ("mordant".to_owned(), sheet::print_mordant(&round.soaks)),
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
        settings,
    }
}

fn heat(round: &crate::journal::record::Round, degrees: Degrees) -> String {
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
