//! Sheets: a table of pieces or baths entered, and a plan made of what a sheet intends.

use super::super::frame::{self, Place};
use super::super::house::House;
use super::super::one_file::one_file;
use super::super::shown;
use super::super::trouble::{Outcome, Trouble};
use crate::draw;
use crate::error::{Error, Kind, Result};
use crate::journal::Journal;
use crate::sheet::{self, Entered, Known, Plan, Subject};
use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Multipart, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use serde::Deserialize;
use std::path::Path;
use std::sync::Arc;

/// So many pieces are planned at once.
const MOST: u32 = 500;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Sheets and plans</h1><p><a href="/studio">Back to Studio</a></p></header>
{% if let Some(entered) = entered %}<div role="status" id="entered"><p><strong>{{ entered.told }}</strong></p>
{% if !entered.changes.is_empty() %}<details{% if entered.changes.len() < 7 %} open{% endif %}><summary>What is different now</summary><ul>{% for change in entered.changes %}<li>{{ change }}</li>{% endfor %}</ul></details>{% endif %}
{% if !entered.cautions.is_empty() %}<h2>Please mind</h2><ul class="cautions">{% for caution in entered.cautions %}<li>{{ caution }}</li>{% endfor %}</ul>{% endif %}</div>{% endif %}
{% if !refused.is_empty() %}<div class="refused" role="alert" id="refused"><p><strong>The sheet {{ file }} was not taken; nothing of it is saved.</strong></p><ul>{% for why in refused %}<li>{{ why }}</li>{% endfor %}</ul></div>{% endif %}
<section aria-labelledby="enter" class="first"><h2 id="enter">Enter a sheet</h2>
<p class="soft">A table of pieces, or of baths, from a spreadsheet (.csv or .xlsx). It lands entirely or not at all; entered again after an edit, what changed is updated and listed.</p>
<form method="post" action="/studio/sheet" enctype="multipart/form-data"><p class="field"><label for="sheet">The sheet</label><input id="sheet" type="file" name="sheet" accept=".csv,.xlsx,text/csv" required></p>
<p class="deeds"><button id="enter-sheet">Enter it</button> <a class="button quiet" href="/studio/example.csv" download>A filled example</a> <a class="button quiet" href="/studio/blank.csv" download>An empty sheet</a></p></form></section>
<section aria-labelledby="plan"><h2 id="plan">Plan what a sheet intends</h2>
<p class="soft">Grams, litres and days in the order of work, to print and tick off. Nothing of it is stored.</p>
<form method="post" action="/studio/plan" enctype="multipart/form-data"><p class="field"><label for="intended">A sheet of intended pieces</label><input id="intended" type="file" name="sheet" accept=".csv,.xlsx,text/csv" required></p>
<p class="deeds"><button name="deed" value="pdf" id="plan-pdf">Plan as PDF</button> <button class="quiet" name="deed" value="text" id="plan-text">Look at it here</button></p></form>
<h3>Or as a piece was made</h3>
<form method="get" action="/studio/plan" class="facts">
<p class="field"><label for="like">Piece</label><input id="like" name="like" required maxlength="32" placeholder="LB007" autocapitalize="characters" autocomplete="off"></p>
<p class="field"><label for="pieces">How many new ones</label><input id="pieces" name="pieces" type="number" min="1" max="500" value="1"></p>
<p class="deeds"><button name="deed" value="pdf">Plan as PDF</button> <button class="quiet" name="deed" value="text">Look at it here</button></p></form></section>"##
)]
#[derive(Default)]
struct Sheets {
    entered: Option<Told>,
    file: String,
    refused: Vec<String>,
}

/// What a sheet brought.
struct Told {
    told: String,
    changes: Vec<String>,
    cautions: Vec<String>,
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>The plan</h1><p><a href="/studio/sheets">Back to sheets and plans</a></p></header>
<p class="answer">{{ plan.title() }}</p>
{% if !plan.left_open.is_empty() %}<section aria-labelledby="open"><h2 id="open">Left open</h2><ul class="cautions">{% for open in plan.left_open %}<li>{{ shown::advice(open) }}</li>{% endfor %}</ul></section>{% endif %}
<section aria-labelledby="before"><details{% if plan.cautions.len() < 5 %} open{% endif %}><summary id="before">Before you begin: {{ plan.cautions.len() }} things to mind</summary><ul class="cautions">{% for caution in plan.cautions %}<li>{{ caution.text }}</li>{% endfor %}</ul></details></section>
{% if let Some(all) = plan.weighed() %}<section aria-labelledby="weigh"><h2 id="weigh">To weigh out in all</h2><p>{{ all }}</p></section>{% endif %}
{% for day in plan.days %}<section aria-labelledby="day-{{ loop.index0 }}"><h2 id="day-{{ loop.index0 }}">{{ day.heading() }}</h2>
<ol class="work">{% for step in day.steps %}<li><label><input type="checkbox"> <span><strong>{{ step.what }}</strong> {{ step.pieces_in_words() }}{% if let Some(amounts) = step.amounts() %}<br>{{ amounts }}{% endif %}{% for note in step.notes %}<br><span class="soft">{{ note }}</span>{% endfor %}</span></label></li>{% endfor %}</ol></section>
{% endfor %}<section aria-labelledby="reckoned"><h2 id="reckoned">Reckoned with</h2><ul>{% for one in plan.reckoned_with %}<li>{{ shown::advice(one) }}</li>{% endfor %}</ul></section>"##
)]
struct Planned {
    plan: Plan,
}

/// A plan for pieces as one was made.
#[derive(Debug, Deserialize)]
struct Like {
    like: String,
    #[serde(default)]
    pieces: String,
    #[serde(default)]
    deed: String,
}

pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(
            "/studio/sheets",
            get(async || page(StatusCode::OK, &Sheets::default())),
        )
        .route(
            "/studio/sheet",
            post(enter).layer(DefaultBodyLimit::disable()),
        )
        .route(
            "/studio/plan",
            get(plan_like).post(plan).layer(DefaultBodyLimit::disable()),
        )
        .route(
            "/studio/example.csv",
            get(async || csv("example-sheet.csv", sheet::example())),
        )
        .route(
            "/studio/blank.csv",
            get(async || csv("blank-sheet.csv", sheet::blank())),
        )
}

fn page(status: StatusCode, sheets: &Sheets) -> Response {
    (
        status,
        frame::page(Place::Studio, "Sheets and plans", &[], sheets),
    )
        .into_response()
}

fn csv(name: &str, text: &'static str) -> Response {
    let kept = format!("attachment; filename=\"{name}\"");
    let headers = [
        (CONTENT_TYPE, "text/csv; charset=utf-8".to_owned()),
        (CONTENT_DISPOSITION, kept),
    ];
    (headers, text).into_response()
}

async fn enter(State(house): State<Arc<House>>, parts: Multipart) -> Outcome<Response> {
    let came = one_file(&house, parts, "a sheet").await?;
    let file = name_of(&came.file);
    let path = came.file.clone();
    let sheets = house.change(move |journal| {
        Ok(match sheet::enter(journal, &path) {
            Ok(entered) => Sheets {
                entered: Some(Told::of(&entered)),
                ..Sheets::default()
            },
            Err(error) => refused(file, error)?,
        })
    });
    let sheets = sheets.await?;
    drop(came.folder);
    Ok(page(sheets.status(), &sheets))
}

async fn plan(State(house): State<Arc<House>>, parts: Multipart) -> Outcome<Response> {
    let came = one_file(&house, parts, "a sheet").await?;
    let (file, deed) = (name_of(&came.file), came.field("deed").to_owned());
    let path = came.file.clone();
    let plan = house.with(move |journal| {
        Ok(planned(journal, |known| {
            sheet::plan_sheet(known, &sheet::read(&path)?)
        }))
    });
    let plan = plan.await?;
    drop(came.folder);
    match plan {
        Ok(plan) => given(plan, &deed),
        Err(error) => {
            let sheets = refused(file, error)?;
            Ok(page(sheets.status(), &sheets))
        }
    }
}

async fn plan_like(State(house): State<Arc<House>>, Query(like): Query<Like>) -> Outcome<Response> {
    let number = match like.pieces.trim() {
        "" => 1,
        text => text
            .parse()
            .ok()
            .filter(|number| (1..=MOST).contains(number))
            .ok_or_else(|| {
                Error::caller(format!(
                    "“{text}” is not how many pieces to plan for: write a number from 1 to {MOST}."
                ))
            })?,
    };
    let code = like.like.trim().to_owned();
    let plan = house.with_trouble(move |journal| {
        let piece = journal.piece(&code)?.ok_or_else(|| {
            Trouble::not_there(format!(
                "No piece is called {code}; look for it on the shelf."
            ))
        })?;
        Ok(planned(journal, |known| {
            Ok(sheet::plan_like(known, &piece, number))
        })?)
    });
    given(plan.await?, &like.deed)
}

/// A plan by what the journal knows.
fn planned(journal: &Journal, plan: impl FnOnce(Known<'_>) -> Result<Plan>) -> Result<Plan> {
    let (pieces, baths, studio) = (journal.pieces()?, journal.baths()?, journal.studio()?);
    plan(Known {
        pieces: &pieces,
        baths: &baths,
        studio: &studio,
    })
}

fn given(plan: Plan, deed: &str) -> Outcome<Response> {
    if deed == "text" {
        return Ok(frame::page(
            Place::Studio,
            "The plan",
            &[],
            &Planned { plan },
        ));
    }
    let pdf = draw::pdf(&sheet::plan_pages(&plan))?;
    let headers = [
        (CONTENT_TYPE, "application/pdf"),
        (CONTENT_DISPOSITION, "inline; filename=\"plan.pdf\""),
    ];
    Ok((headers, pdf).into_response())
}

fn name_of(file: &Path) -> String {
    file.file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

/// The page with why a sheet was not taken; trouble that is not the sheet's goes on.
fn refused(file: String, error: Error) -> Outcome<Sheets> {
    match error.kind() {
        Kind::File | Kind::Caller => Ok(Sheets {
            file,
            refused: sheet::reasons(&error),
            ..Sheets::default()
        }),
        _ => Err(error.into()),
    }
}

impl Sheets {
    fn status(&self) -> StatusCode {
        match self.refused.is_empty() {
            true => StatusCode::OK,
            false => StatusCode::BAD_REQUEST,
        }
    }
}

impl Told {
    fn of(entered: &Entered) -> Self {
        let (one, many) = match entered.about {
            Subject::Pieces => ("new piece", "new pieces"),
            Subject::Baths => ("new bath", "new baths"),
        };
        Self {
            told: format!(
                "{}, {}, {} unchanged.",
                shown::count(entered.new.len(), one, many),
                shown::count(entered.changed.len(), "change", "changes"),
                entered.unchanged
            ),
            changes: entered.changed.iter().map(ToString::to_string).collect(),
            cautions: entered
                .cautions
                .iter()
                .map(|caution| shown::advice(&caution.text))
                .collect(),
        }
    }
}
