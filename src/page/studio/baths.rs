//! Mordant baths that live on: how old each is, and what was done to it.

use super::super::edition;
use super::super::frame::{self, Place};
use super::super::house::House;
use super::super::shown;
use super::super::trouble::{Outcome, Trouble};
use crate::error::{Error, Kind, Result};
use crate::journal::Journal;
use crate::journal::record::{Bath, BathEvent, BathWork};
use crate::sheet::{self, Row, Table};
use askama::Template;
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use axum::{Form, Router};
use jiff::civil::Date;
use serde::Deserialize;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Baths</h1><p><a href="/studio">Back to Studio</a></p></header>
{% if !told.is_empty() %}<ul role="status" class="cautions" id="told">{% for line in told %}<li>{{ line }}</li>{% endfor %}</ul>{% endif %}
{% if baths.is_empty() %}<p class="empty">No bath is written down yet. A bath that you use for weeks grows older and weaker; told here, its age stands with every cloth that went in.</p>{% else %}
<ul class="such" id="baths">{% for bath in baths %}<li><details><summary><strong>{{ bath.name }}</strong> {{ bath.mordant }} <span class="soft">{{ bath.age }}</span></summary>
<ul>{% for (event, exact) in bath.events %}<li class="line"><span>{{ event }}</span>
<form method="post" action="/studio/baths/back"><input type="hidden" name="bath" value="{{ bath.name }}"><input type="hidden" name="event" value="{{ exact }}"><button class="quiet" aria-label="Take back: {{ bath.name }}, {{ event }}">Take back</button></form></li>{% endfor %}</ul></details></li>{% endfor %}</ul>{% endif %}
<section aria-labelledby="add"><h2 id="add">What was done to a bath</h2>
{% if !refused.is_empty() %}<div class="refused" role="alert"><p><strong>Not written down.</strong></p><ul>{% for why in refused %}<li>{{ why }}</li>{% endfor %}</ul></div>{% endif %}
<form method="post" action="/studio/baths" autocomplete="off" class="roll">
<div class="facts">
<p class="field"><label for="bath">Bath <span class="soft">(the name on its lid)</span></label><input id="bath" name="bath" required list="names" value="{{ typed.bath }}" placeholder="A1"></p>
<p class="field"><label for="on">Day</label><input id="on" name="on" type="date" required value="{{ typed.on }}"></p>
<p class="field"><label for="mordant">Mordant <span class="soft">(if the bath is new)</span></label><input id="mordant" name="mordant" list="mordants" value="{{ typed.mordant }}" autocapitalize="none"></p></div>
<fieldset><legend>It was</legend><div class="chips">{% for work in BathWork::ALL %}<label><input type="radio" name="event" value="{{ work.word() }}" required{% if typed.event == work.word() %} checked{% endif %}>{{ work.word() }}</label>
{% endfor %}</div></fieldset>
<div class="facts">
<p class="field"><label for="litres">Water that went in, L</label><input id="litres" name="litres" inputmode="decimal" value="{{ typed.litres }}"></p>
<p class="field"><label for="grams">Mordant that went in, g</label><input id="grams" name="grams" inputmode="decimal" value="{{ typed.grams }}"></p>
<p class="field"><label for="remarks">Remarks</label><input id="remarks" name="remarks" value="{{ typed.remarks }}"></p></div>
<p class="deeds"><button id="write">Write it down</button></p>
<datalist id="names">{% for bath in baths %}<option value="{{ bath.name }}">{% endfor %}</datalist>
<datalist id="mordants">{% for name in mordants %}<option value="{{ name }}">{% endfor %}</datalist>
</form>
</section>"##
)]
struct Baths {
    baths: Vec<Shown>,
    mordants: Vec<String>,
    typed: Typed,
    told: Vec<String>,
    refused: Vec<String>,
}

/// A bath as it is shown.
struct Shown {
    name: String,
    mordant: String,
    age: String,
    /// In words, and their editions.
    events: Vec<(String, String)>,
}

/// What was done to a bath, as it is typed.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
struct Typed {
    bath: String,
    on: String,
    mordant: String,
    event: String,
    litres: String,
    grams: String,
    remarks: String,
}

pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route("/studio/baths", get(baths).post(write))
        .route("/studio/baths/back", post(take_back))
}

/// The baths that are alive, in a line.
pub(super) fn told(baths: &[Bath], today: Date) -> String {
    let alive = baths.iter().filter(|bath| bath.age(today).is_some());
    let names: Vec<String> = alive
        .map(|bath| format!("{} {}", bath.name, bath.mordant))
        .collect();
    match names.is_empty() {
        true => "none is in use".to_owned(),
        false => names.join(", "),
    }
}

async fn baths(State(house): State<Arc<House>>) -> Outcome<Response> {
    let today = (house.today)();
    let page = house.with(move |journal| Baths::of(journal, today)).await?;
    Ok(frame::page(Place::Studio, "Baths", &[], &page))
}

async fn write(State(house): State<Arc<House>>, Form(typed): Form<Typed>) -> Outcome<Response> {
    let today = (house.today)();
    let page = house.change(move |journal| {
        Ok(match sheet::enter_bath_events(journal, &typed.table()) {
            Ok(entered) => {
                let news = match entered.new.is_empty() && entered.changed.is_empty() {
                    true => format!(
                        "That stood there already: {}, {} on {}.",
                        typed.bath, typed.event, typed.on
                    ),
                    false => format!(
                        "Written down: {}, {} on {}.",
                        typed.bath, typed.event, typed.on
                    ),
                };
                let cautions = entered
                    .cautions
                    .iter()
                    .map(|caution| shown::advice(&caution.text));
                Baths {
                    told: std::iter::once(news).chain(cautions).collect(),
                    ..Baths::of(journal, today)?
                }
            }
            Err(error) if matches!(error.kind(), Kind::File | Kind::Caller) => Baths {
                refused: refusals(&error),
                typed,
                ..Baths::of(journal, today)?
            },
            Err(error) => return Err(error.into()),
        })
    });
    let page = page.await?;
    let status = match page.refused.is_empty() {
        true => StatusCode::OK,
        false => StatusCode::BAD_REQUEST,
    };
    Ok((status, frame::page(Place::Studio, "Baths", &[], &page)).into_response())
}

/// What is to be taken back: a bath's name, and the edition of what was done to it.
#[derive(Deserialize)]
struct Back {
    bath: String,
    event: String,
}

async fn take_back(State(house): State<Arc<House>>, Form(back): Form<Back>) -> Outcome<Response> {
    let today = (house.today)();
    let page = house.change(move |journal| {
        let baths = journal.baths()?;
        let mut events = baths
            .into_iter()
            .filter(|bath| bath.name == back.bath)
            .flat_map(|bath| bath.events);
        let event = events.find(|event| edition_of(event) == back.event);
        let event = event.ok_or_else(|| {
            Trouble::not_there(format!(
                "Of bath {} that is not written any more; look at it again.",
                back.bath
            ))
        })?;
        journal.take_back(&back.bath, &event)?;
        let told = format!("Taken back: {}, {}.", back.bath, in_words(&event));
        Ok(Baths {
            told: vec![told],
            ..Baths::of(journal, today)?
        })
    });
    Ok(frame::page(Place::Studio, "Baths", &[], &page.await?))
}

/// What tells one thing that was done to a bath from all others.
fn edition_of(event: &BathEvent) -> String {
    edition::of_text(&format!("{event:?}"))
}

/// What was done to a bath, in a line.
fn in_words(event: &BathEvent) -> String {
    let parts = [
        Some(format!("{} {}", event.on, event.what.word())),
        event.litres.map(|litres| format!("{litres} L")),
        event.grams.map(|grams| format!("{grams} g")),
        event.remarks.clone(),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What a sheet of one row was refused for.
fn refusals(error: &Error) -> Vec<String> {
    let reasons = sheet::reasons(error);
    let plain = |reason: &String| {
        let told = reason
            .strip_prefix("Row 1, column ")
            .or(reason.strip_prefix("Row 1: "));
        crate::error::capital(told.unwrap_or(reason))
    };
    reasons.iter().map(plain).collect()
}

impl Typed {
    /// A bath sheet of one row.
    fn table(&self) -> Table {
        let columns = [
            ("bath", &self.bath),
            ("on", &self.on),
            ("mordant", &self.mordant),
            ("event", &self.event),
            ("litres", &self.litres),
            ("grams", &self.grams),
            ("remarks", &self.remarks),
        ];
        let row = Row::new(1, columns.map(|(_, value)| value.clone()));
        Table::filled("this bath", &columns.map(|(name, _)| name), vec![row])
    }
}

impl Baths {
    fn of(journal: &Journal, today: Date) -> Result<Self> {
        let baths = journal.baths()?;
        let mut mordants: Vec<String> = baths.iter().map(|bath| bath.mordant.clone()).collect();
        mordants.sort();
        mordants.dedup();
        let shown = baths
            .iter()
            .map(|bath| (bath.age(today).is_none(), Shown::of(bath, today)));
        let mut shown: Vec<(bool, Shown)> = shown.collect();
        // Those that are in use come first.
        shown.sort_by_key(|(gone, _)| *gone);
        Ok(Self {
            baths: shown.into_iter().map(|(_, shown)| shown).collect(),
            mordants,
            typed: Typed {
                on: today.to_string(),
                ..Typed::default()
            },
            told: Vec::new(),
            refused: Vec::new(),
        })
    }
}

impl Shown {
    fn of(bath: &Bath, today: Date) -> Self {
        let events = bath
            .events
            .iter()
            .map(|event| (in_words(event), edition_of(event)));
        Self {
            name: bath.name.clone(),
            mordant: bath.mordant.clone(),
            age: age(bath, today),
            events: events.collect(),
        }
    }
}

/// How old a bath is, and how strong by what went in.
fn age(bath: &Bath, today: Date) -> String {
    let Some(age) = bath.age(today) else {
        return match bath.events.iter().any(|event| event.what == BathWork::Made) {
            true => "not in use".to_owned(),
            false => "age not known: when it was made is not written".to_owned(),
        };
    };
    let days = |days: i32| match days {
        0 => "today".to_owned(),
        1 => "1 day ago".to_owned(),
        many => format!("{many} days ago"),
    };
    let parts = [
        Some(format!("made {}", days(age.days))),
        age.days_since_change
            .map(|change| format!("topped up or diluted {}", days(change))),
        age.grams_per_litre
            .map(|strength| format!("{} g/L by what went in", shown::number(strength))),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}
