//! Colour charts that light is measured by, and the cards that they are glued on.

use super::super::frame::{self, Place};
use super::super::house::House;
use super::super::one_file::one_file;
use super::super::shown;
use super::super::trouble::{Outcome, Trouble};
use crate::draw;
use crate::error::{Kind, Result};
use crate::intake::{chart_file, record_card};
use crate::journal::Journal;
use crate::journal::record::{Card, ChartFile};
use crate::measure::Chart;
use crate::tag::{self, Page};
use askama::Template;
use axum::Router;
use axum::extract::{DefaultBodyLimit, Multipart, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use serde::Deserialize;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Charts and cards</h1><p><a href="/studio">Back to Studio</a></p></header>
<p class="soft">A chart of known colours in the picture gives truer colours than a tag alone. Glued on a card of your own it is found by the card's code.</p>
{% if !told.is_empty() %}<div role="status" id="told">{% for line in told %}<p>{{ line }}</p>{% endfor %}</div>{% endif %}
{% if !cards.is_empty() %}<section aria-labelledby="cards"><h2 id="cards">Cards</h2>
<ul class="such">{% for card in cards %}<li><p><strong>{{ card.name }}</strong> <span class="soft">{{ card.chart }}; {% if card.learnt %}where the chart lies on it is known{% else %}no photo has shown it yet{% endif %}</span></p>
<p class="deeds"><a class="button quiet" href="/studio/charts/card.pdf?name={{ card.name|urlencode_strict }}&#38;paper=a4">Print it on A4</a> <a class="button quiet" href="/studio/charts/card.pdf?name={{ card.name|urlencode_strict }}&#38;paper=letter">on Letter</a></p></li>{% endfor %}</ul></section>{% endif %}
{% if !charts.is_empty() %}<section aria-labelledby="charts"><h2 id="charts">Charts</h2>
<ul id="known">{% for chart in charts %}<li>{{ chart }}</li>{% endfor %}</ul>
<p class="soft">Take photos in at Line with the chart chosen there; or say on a photo's own page where its four corners are.</p></section>{% endif %}
<section aria-labelledby="add"><h2 id="add">Another chart</h2>
{% if let Some(why) = refused %}<div class="refused" role="alert"><p><strong>Not kept.</strong></p><p>{{ why }}</p></div>{% endif %}
<form method="post" action="/studio/charts" enctype="multipart/form-data" autocomplete="off">
<p class="field"><label for="chart">The chart's own file <span class="soft">(CGATS.17 text: the colours of its patches; it comes with the chart)</span></label><input id="chart" type="file" name="chart" accept=".txt,.cgats,.cie,text/plain" required></p>
<p class="field"><label for="card">A name for the card it is glued on <span class="soft">(leave it empty for a chart that lies loose)</span></label><input id="card" name="card" maxlength="32" autocapitalize="none" placeholder="yard"></p>
<p class="deeds"><button id="keep">Keep it</button></p></form></section>"##
)]
#[derive(Default)]
struct Charts {
    cards: Vec<Shown>,
    charts: Vec<String>,
    told: Vec<String>,
    refused: Option<String>,
}

/// A card as it is shown.
struct Shown {
    name: String,
    chart: String,
    learnt: bool,
}

/// A card to be printed.
#[derive(Debug, Deserialize)]
struct Printed {
    name: String,
    #[serde(default)]
    paper: String,
}

pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(
            "/studio/charts",
            get(charts).post(keep).layer(DefaultBodyLimit::disable()),
        )
        .route("/studio/charts/card.pdf", get(print))
}

/// What there is, in a line.
pub(super) fn told(charts: &[ChartFile], cards: &[Card]) -> String {
    match charts.is_empty() {
        true => "none; light is measured by the tags".to_owned(),
        false => format!(
            "{}, {}",
            shown::count(charts.len(), "chart", "charts"),
            shown::count(cards.len(), "card", "cards")
        ),
    }
}

async fn charts(State(house): State<Arc<House>>) -> Outcome<Response> {
    let page = house.with(|journal| Charts::of(journal)).await?;
    Ok(frame::page(Place::Studio, "Charts and cards", &[], &page))
}

async fn keep(State(house): State<Arc<House>>, parts: Multipart) -> Outcome<Response> {
    let came = one_file(&house, parts, "the chart's file").await?;
    let (file, name) = (came.file.clone(), came.field("card").to_owned());
    let page = house.change(move |journal| {
        let read = chart_file(&file).and_then(|(file, text)| {
            let chart = Chart::parse(&text, &file)?;
            match name.as_str() {
                "" => drop(journal.keep_chart(&file, &text)?),
                name => record_card(journal, name, &file, &text)?,
            }
            Ok(chart)
        });
        Ok(match read {
            Ok(chart) => Charts {
                told: news(&chart, &name),
                ..Charts::of(journal)?
            },
            Err(error) if matches!(error.kind(), Kind::File | Kind::Caller) => Charts {
                refused: Some(shown::advice(&error.to_string())),
                ..Charts::of(journal)?
            },
            Err(error) => return Err(error.into()),
        })
    });
    let page = page.await?;
    drop(came);
    let status = match page.refused {
        None => StatusCode::OK,
        Some(_) => StatusCode::BAD_REQUEST,
    };
    let page = frame::page(Place::Studio, "Charts and cards", &[], &page);
    Ok((status, page).into_response())
}

/// What was kept, and what to do next.
fn news(chart: &Chart, card: &str) -> Vec<String> {
    let Chart { rows, columns, .. } = chart;
    let kept = format!("Kept: {}, {rows} rows of {columns}.", chart.name);
    let next = match card {
        "" => "Choose it at Line when you take photos in that show it.".to_owned(),
        card => format!(
            "Print card {card} at actual size on matte paper, glue the chart into the frame, both flat on one stiff board, and take a photo in that shows it: that first photo teaches where the chart lies."
        ),
    };
    let cautions = chart.cautions.iter();
    let cautions = cautions.map(|caution| shown::advice(&caution.text));
    [kept, next].into_iter().chain(cautions).collect()
}

async fn print(
    State(house): State<Arc<House>>,
    Query(wanted): Query<Printed>,
) -> Outcome<Response> {
    let name = wanted.name;
    let card = house.with_trouble(move |journal| {
        let known = journal.cards()?.into_iter().find(|card| card.name == name);
        known.ok_or_else(|| {
            Trouble::not_there(format!(
                "No card is called {name}; Charts and cards lists those there are."
            ))
        })
    });
    let paper = match wanted.paper.as_str() {
        "letter" => Page::Letter,
        _ => Page::A4,
    };
    let pdf = draw::pdf(&[tag::card(&card.await?.name, paper)?])?;
    let headers = [
        (CONTENT_TYPE, "application/pdf"),
        (CONTENT_DISPOSITION, "inline; filename=\"card.pdf\""),
    ];
    Ok((headers, pdf).into_response())
}

impl Charts {
    fn of(journal: &Journal) -> Result<Self> {
        let charts = journal.charts()?;
        let chart_of = |card: &Card| {
            let chart = charts.iter().find(|chart| chart.hash == card.chart);
            chart.map(|chart| chart.name.clone()).unwrap_or_default()
        };
        let cards = journal.cards()?.into_iter().map(|card| Shown {
            chart: chart_of(&card),
            learnt: card.corners.is_some(),
            name: card.name,
        });
        Ok(Self {
            cards: cards.collect(),
            charts: charts.into_iter().map(|chart| chart.name).collect(),
            ..Self::default()
        })
    }
}
