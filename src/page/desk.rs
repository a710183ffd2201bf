//! Desk: questions in plain words, and what stands behind the answers; drying and washing of all pieces.

mod changes;

use super::frame::{self, Place};
use super::house::House;
use super::shown::{self, Band};
use super::trouble::Outcome;
use crate::ask::{self, Answer, Evidence, Found, Group, Shade};
use crate::error::{Error, Kind, Result, capital};
use crate::journal::{Degrees, Journal};
use askama::Template;
use axum::Router;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use jiff::civil::Date;
use serde::Deserialize;
use std::sync::Arc;

/// Questions of each kind, to begin with.
const SUCH: [&str; 7] = [
    "Which mordant gave the warmest yellows?",
    "Which plant gave the darkest browns?",
    "Does iron make it darker?",
    "How does simmer time change lightness?",
    "Which mordant faded least?",
    "How many pieces have yellows?",
    "What should I try next for warm yellows?",
];

/// Groups in the table, and of each so many pieces as evidence.
const GROUPS: usize = 15;
const EXAMPLES: usize = 2;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head">
<h1>Desk</h1>
<form method="get" action="/desk" class="seek" id="ask">
<label for="q" class="unseen">Your question</label>
<input id="q" name="q" type="search" value="{{ question }}" placeholder="Which mordant gave the warmest yellows?" autocomplete="off" required>
<button>Ask</button>
</form>
</header>
{% if let Some(told) = trouble %}<p class="answer" role="alert" id="not-understood">{{ told }}</p>{% endif %}
{% if let Some(told) = told %}<article aria-labelledby="answer">
<h2 id="answer" class="answer">{{ told.sentence }}</h2>
<p class="soft">Read as: {{ told.reading }}.</p>
{% if let Some(plot) = told.plot %}<figure class="plot"><p class="push" aria-hidden="true">Push the picture sideways to see all of it →</p><div class="sheet" tabindex="0" role="region" aria-label="The answer as a picture, which can be pushed sideways"><div role="img" aria-label="The same as a picture; what stands below holds its numbers">{{ plot|safe }}</div></div></figure>{% endif %}
{% if !told.rows.is_empty() %}<div class="wide" tabindex="0" role="region" aria-label="The groups as a table"><table id="groups" class="cards" role="table">
<thead role="rowgroup"><tr role="row">{% for name in told.header %}<th scope="col" role="columnheader">{{ name }}</th>{% endfor %}</tr></thead>
<tbody role="rowgroup">{% for row in told.rows %}<tr role="row">{% for cell in row %}{% if loop.first %}<th scope="row" role="rowheader">{{ cell }}</th>{% else %}<td role="cell" data-name="{{ told.header[loop.index0] }}">{{ cell }}</td>{% endif %}{% endfor %}</tr>
{% endfor %}</tbody></table></div>{% endif %}
{% if !told.proofs.is_empty() %}<h3>{{ told.proofs_heading }}</h3>
{% if told.is_next %}<p class="soft">First stands what may better the best so far by most: how good it is expected to be, how unsure that still is, and how likely the colour comes at all are weighed together. So something never tried can stand before what is known to be good.</p>{% endif %}
<ul class="proofs" id="evidence">{% for proof in told.proofs %}<li>
{% if !proof.bands.is_empty() %}<span class="ground"><svg class="strip" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">{% for band in proof.bands %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="8" fill="{{ band.srgb }}"/>{% endfor %}</svg></span>{% endif %}
<span>{% if let Some(code) = proof.code %}<a href="/piece/{{ code|urlencode_strict }}">{{ code }}</a> {% endif %}{{ proof.text }}</span></li>
{% endfor %}</ul>{% endif %}
{% if told.is_next && !told.proofs.is_empty() %}<p>Lay two cloths of each mordant into that pot, not next to one another, and the same plants on all. Do it again in a second pot: one pot proves nothing. Before you soak, <a href="/studio/sheets#plan">plan it</a>: that tells grams, litres and days, with the cautions for each salt and for hot water.</p>{% endif %}
{% if !told.cautions.is_empty() %}<ul class="cautions">{% for caution in told.cautions %}<li>{{ caution }}</li>{% endfor %}</ul>{% endif %}
{% if told.has_table %}<p class="deeds"><a class="button quiet" href="/desk/evidence.csv?q={{ question|urlencode_strict }}" download>The pieces behind it, as a table</a></p>{% endif %}
</article>{% endif %}
<section aria-labelledby="such">
<h2 id="such">You could ask</h2>
<ul class="such">{% for such in SUCH %}<li><a href="/desk?q={{ such|urlencode_strict }}">{{ such }}</a></li>{% endfor %}</ul>
</section>
<section aria-labelledby="changes">
<h2 id="changes">What changed</h2>
<p class="deeds"><a class="button quiet" href="/desk/drying" id="drying">How much lighter pieces dried</a> <a class="button quiet" href="/desk/washing" id="washing">How they stood washing</a></p>
</section>"##
)]
struct Desk {
    question: String,
    trouble: Option<String>,
    told: Option<Told>,
}

/// An answer, ready to be shown.
struct Told {
    sentence: String,
    reading: String,
    plot: Option<String>,
    header: Vec<String>,
    rows: Vec<Vec<String>>,
    proofs_heading: &'static str,
    /// Whether they are recipes to try, whose order needs a word.
    is_next: bool,
    proofs: Vec<Proof>,
    cautions: Vec<String>,
    has_table: bool,
}

/// A piece, or a recipe, behind an answer.
struct Proof {
    code: Option<String>,
    text: String,
    bands: Vec<Band>,
}

/// What is asked.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
struct Asked {
    q: String,
}

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route(Place::Desk.path(), get(desk))
        .route("/desk/evidence.csv", get(evidence))
        .route("/desk/drying", get(changes::drying))
        .route("/desk/washing", get(changes::washing))
}

async fn desk(State(house): State<Arc<House>>, Query(asked): Query<Asked>) -> Outcome<Response> {
    let question = asked.q.trim().to_owned();
    let mut desk = Desk {
        question: question.clone(),
        trouble: None,
        told: None,
    };
    if !question.is_empty() {
        let today = (house.today)();
        let work = move |journal: &mut Journal| Ok(answered(journal, &question, today));
        match house.with(work).await? {
            Ok(told) => desk.told = Some(told),
            Err(error) if error.kind() == Kind::Caller => desk.trouble = Some(not_read(&error)),
            Err(error) => return Err(error.into()),
        }
    }
    let mut response = frame::page(Place::Desk, "Desk", &[], &desk);
    if desk.trouble.is_some() {
        *response.status_mut() = StatusCode::BAD_REQUEST;
    }
    Ok(response)
}

/// Why a question was not read, with the questions below in place of the terminal's help.
fn not_read(error: &Error) -> String {
    let told = error.to_string();
    match told.split_once("`filemot ask --help`") {
        Some((words, _)) => format!("{words}Below stands a question of each kind."),
        None => told,
    }
}

/// The pieces behind an answer, for one's own analysis.
async fn evidence(
    State(house): State<Arc<House>>,
    Query(asked): Query<Asked>,
) -> Outcome<Response> {
    let today = (house.today)();
    let table = house.with(move |journal| {
        // As for other programs, temperatures stay in °C.
        ask::of_journal(journal, &asked.q, Degrees::Celsius, today)?.csv()
    });
    let headers = [
        (CONTENT_TYPE, "text/csv; charset=utf-8"),
        (CONTENT_DISPOSITION, "attachment; filename=\"evidence.csv\""),
    ];
    Ok((headers, table.await?).into_response())
}

fn answered(journal: &Journal, question: &str, today: Date) -> Result<Told> {
    let degrees = Degrees::of(&journal.studio()?);
    let answer = ask::of_journal(journal, question, degrees, today)?;
    let plot = match ask::plot_alone(&answer) {
        Ok(plot) => Some(plot.svg()),
        // There is nothing to draw of a count, or where no piece answers.
        Err(error) if error.kind() == Kind::Caller => None,
        Err(error) => return Err(error),
    };
    let (header, rows) = table(&answer);
    let (proofs_heading, proofs) = proofs(&answer);
    Ok(Told {
        sentence: answer.sentence(),
        reading: answer.reading(),
        plot,
        header,
        rows,
        proofs_heading,
        is_next: matches!(answer.found, Found::Next { .. }),
        proofs,
        cautions: answer
            .cautions
            .iter()
            .map(|caution| shown::advice(&caution.text))
            .collect(),
        has_table: !answer.evidence.is_empty(),
    })
}

/// Groups as a table: its header and its rows.
fn table(answer: &Answer) -> (Vec<String>, Vec<Vec<String>>) {
    let Found::Groups { groups, .. } = &answer.found else {
        return Default::default();
    };
    let adjusted = groups.iter().any(|group| group.adjusted.is_some());
    let by = answer.read_as.by.clone().unwrap_or_default();
    let mut header = vec![by, answer.read_as.measure.to_owned()];
    header.extend(["95 % between", "pieces", "pots"].map(str::to_owned));
    if adjusted {
        header.push("had all else been alike".to_owned());
    }
    let rows = groups
        .iter()
        .take(GROUPS)
        .map(|group| row(answer, group, adjusted));
    (header, rows.collect())
}

fn row(answer: &Answer, group: &Group, adjusted: bool) -> Vec<String> {
    let between = match group.low.zip(group.high) {
        Some((low, high)) => format!("{} and {}", answer.show(low), answer.show(high)),
        None if group.pots == 1 => "one pot: unknown".to_owned(),
        None => "unknown".to_owned(),
    };
    let pieces = match group.pieces == group.of_pieces {
        true => group.pieces.to_string(),
        false => format!("{} of {}", group.pieces, group.of_pieces),
    };
    let mut row = vec![
        group.value.clone(),
        answer.show(group.mean),
        between,
        pieces,
        group.pots.to_string(),
    ];
    if adjusted {
        let alike = group.adjusted.map(|mean| answer.show(mean));
        row.push(alike.unwrap_or_else(|| "unknown".to_owned()));
    }
    row
}

/// What stands behind an answer, with a heading.
fn proofs(answer: &Answer) -> (&'static str, Vec<Proof>) {
    match &answer.found {
        Found::Groups { groups, .. } => {
            let best = groups
                .iter()
                .take(GROUPS)
                .flat_map(|group| answer.examples(&group.value).take(EXAMPLES));
            let proofs = best.map(|piece| proof(answer, piece)).collect();
            ("The pieces that show it best", proofs)
        }
        Found::Slope { .. } => {
            let shown = answer
                .evidence
                .iter()
                .filter(|piece| !piece.colours.is_empty());
            let proofs = shown.map(|piece| proof(answer, piece)).collect();
            ("Pieces behind it", proofs)
        }
        Found::Nearest { nearest, .. } => {
            let near = nearest.iter().map(|near| Proof {
                code: Some(near.piece.clone()),
                text: format!(
                    "{:.1} away (CIEDE2000): {}",
                    near.de00,
                    near.settings.name()
                ),
                bands: shades(&near.colours),
            });
            ("The nearest pieces", near.collect())
        }
        Found::Next { next, rolls, .. } => {
            let tries = next.iter().map(|one| Proof {
                code: None,
                text: format!(
                    "{}: about {} ({} to {} in 19 of 20 cases). {}.",
                    capital(&one.settings.name()),
                    answer.show(one.expected),
                    answer.show(one.low),
                    answer.show(one.high),
                    capital(&one.why)
                ),
                bands: Vec::new(),
            });
            let rolls = rolls.iter().enumerate().map(|(n, roll)| Proof {
                code: None,
                text: format!(
                    "A pot that compares them, roll {}: {}",
                    n + 1,
                    roll.join("; ")
                ),
                bands: Vec::new(),
            });
            ("Worth trying", tries.chain(rolls).collect())
        }
        Found::Count { .. } => ("", Vec::new()),
    }
}

fn proof(answer: &Answer, piece: &Evidence) -> Proof {
    let pot = piece.pot.as_ref().map(|pot| format!(", pot {pot}"));
    let group = match piece.group.is_empty() {
        true => String::new(),
        false => format!("{}: ", piece.group),
    };
    Proof {
        code: Some(piece.piece.to_string()),
        text: format!(
            "{group}{}{}",
            answer.show(piece.value),
            pot.unwrap_or_default()
        ),
        bands: shades(&piece.colours),
    }
}

fn shades(colours: &[Shade]) -> Vec<Band> {
    shown::bands(colours.iter().map(|shade| (shade.lab, shade.share)))
}
