//! The studio's own values: paper and ink, the unit of temperatures, and the habits that plans are reckoned with.

use super::super::edition::{self, Changed, Overtaken};
use super::super::frame::{self, Place};
use super::super::house::House;
use super::super::trouble::Outcome;
use crate::error::{Kind, Result};
use crate::journal::record::Studio;
use crate::journal::{Degrees, Habit, Journal, wof_name};
use crate::{measure, sheet};
use askama::Template;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use axum::{Form, Router};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Paper and ink</h1><p><a href="/studio">Back to Studio</a></p></header>
{% if let Some(why) = refused %}<div class="refused" role="alert"><p><strong>Nothing is saved yet.</strong></p><p>{{ why }}</p></div>{% endif %}
{% if saved %}<div role="status" id="saved"><p><strong>Saved.</strong></p>{% if anew %}<p>Photos measured before now keep the old paper and ink until they are measured again.</p><form method="post" action="/studio/again"><p class="deeds"><button>Measure all again</button></p></form>{% endif %}</div>{% endif %}
<form method="post" action="/studio/values" autocomplete="off">
<input type="hidden" name="based_on" value="{{ based_on }}">
<p class="soft">Measure the paper and the ink of your printed tags once with an instrument, or take them from the paper's data sheet: all colours become surer by it. An empty field stands for what is assumed.</p>
<div class="facts wider">
<p class="field"><label for="paper">Paper, L*,a*,b*</label><input id="paper" name="paper" value="{{ self.get("paper") }}" placeholder="96,0,0 assumed"></p>
<p class="field"><label for="ink">Ink, L*,a*,b*</label><input id="ink" name="ink" value="{{ self.get("ink") }}" placeholder="25,0,0 assumed"></p></div>
<fieldset><legend>Temperatures in</legend><div class="chips">
<label><input type="radio" name="unit" value="C"{% if !self.fahrenheit() %} checked{% endif %}>°C</label>
<label><input type="radio" name="unit" value="F"{% if self.fahrenheit() %} checked{% endif %}>°F</label></div></fieldset>
<section aria-labelledby="habits"><h2 id="habits">Habits that plans are reckoned with</h2><div class="facts wider">
{% for habit in Habit::ALL %}<p class="field"><label for="{{ habit.name() }}">{{ habit.meaning() }}</label><input id="{{ habit.name() }}" name="{{ habit.name() }}" inputmode="decimal" value="{{ self.get(habit.name()) }}" placeholder="{{ habit.assumed() }} assumed"></p>
{% endfor %}</div></section>
<section aria-labelledby="strengths"><h2 id="strengths">How strong you always take a mordant, % of the weight of fibre</h2><div class="facts">
{% for (mordant, value) in self.strengths() %}<p class="field"><label for="wof-{{ loop.index0 }}">{{ mordant }}</label><input type="hidden" name="mordant" value="{{ mordant }}"><input id="wof-{{ loop.index0 }}" name="strength" inputmode="decimal" value="{{ value }}"></p>
{% endfor %}<p class="field"><label for="new-mordant">Another mordant</label><input id="new-mordant" name="mordant" autocapitalize="none"></p>
<p class="field"><label for="new-strength">Its strength, %</label><input id="new-strength" name="strength" inputmode="decimal"></p></div></section>
<p class="deeds last"><button id="save">Save</button></p></form>"##
)]
struct Values {
    values: Studio,
    based_on: String,
    refused: Option<String>,
    saved: bool,
    anew: bool,
}

/// What was just saved.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Saved {
    saved: String,
}

pub(super) fn routes() -> Router<Arc<House>> {
    Router::new().route("/studio/values", get(values).post(save))
}

/// Paper, ink and unit in a line.
pub(super) fn told(studio: &Studio) -> String {
    let own = |name: &str, usual: &str| match studio.get(name) {
        Some(value) => format!("{name} {value}"),
        None => format!("{name} assumed at {usual}"),
    };
    format!(
        "{}; {}; {}",
        own("paper", "96,0,0"),
        own("ink", "25,0,0"),
        Degrees::of(studio).sign()
    )
}

async fn values(State(house): State<Arc<House>>, Query(saved): Query<Saved>) -> Outcome<Response> {
    let studio = house.with(|journal| journal.studio()).await?;
    let page = Values {
        saved: !saved.saved.is_empty(),
        anew: saved.saved == "paper",
        ..Values::of(studio.clone(), edition_of(&studio))
    };
    Ok(frame::page(Place::Studio, "Paper and ink", &[], &page))
}

/// What came of saving.
enum Done {
    /// Saved; paper or ink among it.
    Saved(bool),
    Refused(Values),
    Overtaken(Overtaken),
}

async fn save(
    State(house): State<Arc<House>>,
    Form(fields): Form<Vec<(String, String)>>,
) -> Outcome<Response> {
    Ok(
        match house.change(move |journal| kept(journal, &fields)).await? {
            Done::Saved(anew) => {
                let what = if anew { "paper" } else { "values" };
                let next = format!("/studio/values?saved={what}");
                edition::answer(Changed::Made, &next)?
            }
            Done::Refused(page) => {
                let page = frame::page(Place::Studio, "Paper and ink", &[], &page);
                (StatusCode::BAD_REQUEST, page).into_response()
            }
            Done::Overtaken(both) => edition::answer(Changed::Overtaken(both), "/studio/values")?,
        },
    )
}

fn edition_of(studio: &Studio) -> String {
    edition::of_text(&format!("{studio:?}"))
}

fn kept(journal: &mut Journal, fields: &[(String, String)]) -> Outcome<Done> {
    let now = journal.studio()?;
    let typed = typed(fields);
    let based_on = fields.iter().find(|(name, _)| name == "based_on");
    let based_on = based_on.map_or("", |(_, value)| value);
    let changed: BTreeMap<&String, Option<&String>> = typed
        .iter()
        .map(|(name, value)| (name, value.as_ref()))
        .filter(|(name, value)| now.get(*name) != *value)
        .collect();
    if based_on != edition_of(&now) && !changed.is_empty() {
        return Ok(Done::Overtaken(both(&now, fields, &changed)));
    }
    let mut next = now;
    for (name, value) in &changed {
        match value {
            Some(value) => next.insert((*name).clone(), (*value).clone()),
            None => next.remove(*name),
        };
    }
    match check(&next, &changed) {
        Ok(()) => {}
        Err(error) if error.kind() == Kind::Caller => {
            return Ok(Done::Refused(Values {
                // The sentence knows the words of the command.
                refused: Some(error.to_string().replace("set wof alum 12", "alum 12")),
                ..Values::of(next, based_on.to_owned())
            }));
        }
        Err(error) => return Err(error.into()),
    }
    for (name, value) in &changed {
        journal.set(name, value.map(String::as_str))?;
    }
    let anew = changed
        .keys()
        .any(|name| *name == "paper" || *name == "ink");
    Ok(Done::Saved(anew))
}

/// What was typed, by the names under which the journal keeps it; `None` where a field is empty.
fn typed(fields: &[(String, String)]) -> BTreeMap<String, Option<String>> {
    let single = |name: &str| {
        name == "paper" || name == "ink" || Habit::ALL.iter().any(|habit| habit.name() == name)
    };
    let mut typed = BTreeMap::new();
    let mut mordant = "";
    for (name, value) in fields {
        let value = value.trim();
        let told = Some(value.to_owned()).filter(|value| !value.is_empty());
        match name.as_str() {
            "mordant" => mordant = value,
            "strength" if !mordant.is_empty() || told.is_some() => {
                typed.insert(wof_name(mordant), told);
            }
            // °C is what is assumed without a word.
            "unit" => drop(typed.insert(name.clone(), told.filter(|unit| unit != "C"))),
            known if single(known) => drop(typed.insert(name.clone(), told)),
            _ => {}
        }
    }
    typed
}

/// Whether all values together make sense, and those that are new.
fn check(studio: &Studio, changed: &BTreeMap<&String, Option<&String>>) -> Result<()> {
    let value = |name: &str| studio.get(name).map(String::as_str);
    measure::references(value("paper"), value("ink"))?;
    sheet::check_studio(studio)?;
    changed
        .iter()
        .try_for_each(|(name, value)| sheet::check_strength(name, value.map(String::as_str)))
}

fn both(
    now: &Studio,
    fields: &[(String, String)],
    changed: &BTreeMap<&String, Option<&String>>,
) -> Overtaken {
    let line = |(name, value): (&String, Option<&String>)| {
        format!("{name} {}", value.map_or("as assumed", String::as_str))
    };
    let words = |lines: Vec<String>| lines.join("; ");
    // Only what is different is brought along, under the names of the form.
    let mut all = vec![("based_on", edition_of(now))];
    for (name, value) in fields {
        let known = ["paper", "ink", "unit", "mordant", "strength"]
            .into_iter()
            .chain(Habit::ALL.map(Habit::name))
            .find(|known| known == name);
        all.extend(known.map(|known| (known, value.clone())));
    }
    Overtaken {
        there: words(
            changed
                .keys()
                .map(|name| line((name, now.get(*name))))
                .collect(),
        ),
        yours: words(
            changed
                .iter()
                .map(|(name, value)| line((name, *value)))
                .collect(),
        ),
        action: "/studio/values".to_owned(),
        fields: all,
        back: "/studio/values".to_owned(),
    }
}

impl Values {
    fn of(values: Studio, based_on: String) -> Self {
        Self {
            values,
            based_on,
            refused: None,
            saved: false,
            anew: false,
        }
    }

    fn get(&self, name: &str) -> &str {
        self.values.get(name).map_or("", String::as_str)
    }

    fn fahrenheit(&self) -> bool {
        Degrees::of(&self.values) == Degrees::Fahrenheit
    }

    fn strengths(&self) -> Vec<(&str, &str)> {
        self.values
            .iter()
            .filter_map(|(name, value)| Some((name.strip_prefix("wof ")?, value.as_str())))
            .collect()
    }
}
