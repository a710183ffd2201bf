//! Colour words of the studio's own.

use super::super::frame::{self, Place};
use super::super::house::House;
use super::super::shown;
use super::super::trouble::Outcome;
use crate::ask;
use crate::colour::lab_to_hex;
use crate::error::{Error, Kind, Result};
use crate::journal::Journal;
use crate::journal::record::Studio;
use crate::note;
use crate::words::{Family, Own};
use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Form, Router};
use jiff::civil::Date;
use serde::Deserialize;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Colour words</h1><p><a href="/studio">Back to Studio</a></p></header>
<p class="soft">A word is a middle and how far from it a colour may be. Where several reach a colour, the one with the nearest middle counts. Questions at the Desk know them.</p>
{% if !told.is_empty() %}<ul role="status" class="cautions" id="told">{% for line in told %}<li>{{ line }}</li>{% endfor %}</ul>{% endif %}
{% if words.is_empty() %}<p class="empty">There are none of your own yet.</p>{% else %}<ul class="colours" id="words">{% for word in words %}<li>
<svg class="blob" viewBox="0 0 48 48" aria-hidden="true"><rect class="surround" width="48" height="48"/><rect x="6" y="6" width="36" height="36" fill="{{ self.srgb(word) }}"/></svg>
<div><p><strong>{{ word.name }}</strong></p><p class="soft">L* {{ self.number(word.lab.l) }}, a* {{ self.number(word.lab.a) }}, b* {{ self.number(word.lab.b) }}, within {{ word.within }}</p>
<form method="post" action="/studio/words/drop"><button class="quiet" name="name" value="{{ word.name }}" aria-label="Drop {{ word.name }}">Drop it</button></form></div></li>{% endfor %}</ul>{% endif %}
<section aria-labelledby="add"><h2 id="add">Name a colour</h2>
{% if let Some(why) = refused %}<div class="refused" role="alert"><p>{{ why }}</p></div>{% endif %}
<form method="post" action="/studio/words" class="facts">
<p class="field"><label for="name">Word</label><input id="name" name="name" required maxlength="40" value="{{ typed.name }}" placeholder="rust" autocapitalize="none"></p>
<p class="field"><label for="middle">A piece that shows it, or L*,a*,b*</label><input id="middle" name="middle" required value="{{ typed.middle }}" placeholder="LB007 or 45,32,40" autocomplete="off"></p>
<p class="field"><label for="within">Within <span class="soft">(1 is just seen, 5 another colour)</span></label><input id="within" name="within" inputmode="decimal" value="{{ typed.within }}"></p>
<p class="deeds"><button id="add-word">Name it</button></p></form></section>
<p class="soft">The standard's, which every question knows: {{ families }}.</p>"##
)]
struct Words {
    words: Vec<Own>,
    told: Vec<String>,
    refused: Option<String>,
    typed: Typed,
    families: String,
}

/// A word as it is typed.
#[derive(Clone, Debug, Deserialize)]
struct Typed {
    name: String,
    middle: String,
    within: String,
}

#[derive(Debug, Deserialize)]
struct Dropped {
    name: String,
}

/// The word that was just dropped.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Gone {
    dropped: String,
}

pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route("/studio/words", get(words).post(name))
        .route("/studio/words/drop", post(drop_word))
}

/// The words there are, in a line.
pub(super) fn told(studio: &Studio) -> String {
    let names: Vec<String> = ask::own_words(studio)
        .into_iter()
        .map(|word| word.name)
        .collect();
    match names.is_empty() {
        true => "none yet".to_owned(),
        false => names.join(", "),
    }
}

async fn words(State(house): State<Arc<House>>, Query(gone): Query<Gone>) -> Outcome<Response> {
    let told = match gone.dropped.is_empty() {
        true => Vec::new(),
        false => vec![format!("“{}” is dropped.", gone.dropped)],
    };
    let page = house.with(move |journal| Words::of(journal, told)).await?;
    Ok(frame::page(Place::Studio, "Colour words", &[], &page))
}

async fn name(State(house): State<Arc<House>>, Form(typed): Form<Typed>) -> Outcome<Response> {
    let today = (house.today)();
    let page = house.change(move |journal| {
        Ok(match named(journal, &typed, today) {
            Ok(told) => Words::of(journal, told)?,
            Err(error) if error.kind() == Kind::Caller => Words {
                refused: Some(shown::advice(&error.to_string())),
                typed,
                ..Words::of(journal, Vec::new())?
            },
            Err(error) => return Err(error.into()),
        })
    });
    let page = page.await?;
    let status = match page.refused {
        None => StatusCode::OK,
        Some(_) => StatusCode::BAD_REQUEST,
    };
    Ok((
        status,
        frame::page(Place::Studio, "Colour words", &[], &page),
    )
        .into_response())
}

async fn drop_word(
    State(house): State<Arc<House>>,
    Form(dropped): Form<Dropped>,
) -> Outcome<Redirect> {
    let word = house
        .change(move |journal| Ok(ask::drop_colour_word(journal, &dropped.name)?))
        .await?;
    let Ok(name) = askama::filters::urlencode_strict(&word.name);
    Ok(Redirect::to(&format!("/studio/words?dropped={name}")))
}

/// Names a colour, and tells what to know of that.
fn named(journal: &mut Journal, typed: &Typed, today: Date) -> Result<Vec<String>> {
    let within = typed.within.trim().replace(',', ".");
    let within = within.parse().map_err(|_| {
        Error::caller(format!(
            "“{within}” is not how far a colour may be; write a number such as 5."
        ))
    })?;
    let named = ask::name_colour(journal, &typed.name, typed.middle.trim(), within, today)?;
    let name = &named.word.name;
    let mut told = vec![format!("“{name}” is named.")];
    told.extend(note::never_said(name));
    told.extend(named.told);
    Ok(told)
}

impl Words {
    fn of(journal: &Journal, told: Vec<String>) -> Result<Self> {
        Ok(Self {
            words: ask::own_words(&journal.studio()?),
            told,
            refused: None,
            typed: Typed {
                name: String::new(),
                middle: String::new(),
                within: "5".to_owned(),
            },
            families: Family::ALL.map(Family::plural).join(", "),
        })
    }

    fn srgb(&self, word: &Own) -> String {
        lab_to_hex(word.lab)
    }

    fn number(&self, value: &f64) -> String {
        format!("{value:.1}")
    }
}
