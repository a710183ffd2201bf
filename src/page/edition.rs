//! What a form was based on. A form carries the edition of what it was made from; who saves onto another edition is told, and
//! shown both, so that of two people nobody loses anything unseen.

use super::frame;
use super::trouble::{Outcome, Trouble};
use super::unknown::Unknown;
use crate::journal::record::Photo;
use crate::reading::SET_ASIDE;
use askama::Template;
use axum::http::StatusCode;
use axum::response::Response;
use std::hash::{DefaultHasher, Hash, Hasher};

/// The edition of a photo: other where anything that a person can change is other.
pub(super) fn of(photo: &Photo) -> String {
    let marks = photo
        .reading
        .swatches
        .iter()
        .map(|swatch| (swatch.part, &swatch.plant));
    let all = format!(
        "{} {} {:?} {:?} {:?} {:?} {:?}",
        photo.earlier.len(),
        photo.reading.has_caution(SET_ASIDE),
        photo.piece,
        photo.state,
        photo.washes,
        photo.told,
        marks.collect::<Vec<_>>()
    );
    of_text(&all)
}

/// The edition of anything that a text tells whole.
pub(super) fn of_text(all: &str) -> String {
    let mut hasher = DefaultHasher::new();
    all.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// What came of a change.
pub(super) enum Changed {
    /// It is made.
    Made,
    /// It was based on something that is no more.
    Overtaken(Overtaken),
    /// It names a piece that is not there; nothing is changed before that is said to be meant.
    Unknown(Unknown),
}

impl Changed {
    /// The same, where something else is told of what is there.
    pub(super) fn saying(self, there: String) -> Self {
        match self {
            Self::Overtaken(both) => Self::Overtaken(Overtaken { there, ..both }),
            other => other,
        }
    }
}

/// A change that came too late.
#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Somebody was quicker</h1></header>
<p>While you had this open, it was changed. Nothing of yours is saved yet.</p>
<div class="both" id="both">
{% for (heading, parts) in self.sides() %}<section><h2>{{ heading }}</h2><ul>
{% for (part, differs) in parts %}<li>{% if differs %}<mark>{{ part }}</mark> <span class="soft">differs</span>{% else %}{{ part }}{% endif %}</li>
{% endfor %}</ul></section>
{% endfor %}</div>
<p>“Put mine in its place” writes all of the second list, so what differs in the first is gone then. “Keep what is there” leaves the first.</p>
<form method="post" action="{{ action }}" class="deeds">
{% for (name, value) in fields %}<input type="hidden" name="{{ name }}" value="{{ value }}">
{% endfor %}<button id="mine">Put mine in its place</button>
<a class="button quiet" href="{{ back }}" id="theirs">Keep what is there</a>
</form>"##
)]
pub(super) struct Overtaken {
    /// What is there now, in words.
    pub there: String,
    /// What was to be saved, in words.
    pub yours: String,
    /// Where the form goes.
    pub action: String,
    /// Its fields, with today's edition.
    pub fields: Vec<(&'static str, String)>,
    /// Where one looks at what is there.
    pub back: String,
}

impl Overtaken {
    /// What is there and what was to be saved, part by part, and whether the other side lacks that part.
    fn sides(&self) -> [(&'static str, Vec<(&str, bool)>); 2] {
        let [there, yours] = [&self.there, &self.yours].map(|text| parts(text));
        let marked = |one: &[&'_ str], other: &[&str]| -> Vec<bool> {
            one.iter().map(|part| !other.contains(part)).collect()
        };
        let (here, mine) = (marked(&there, &yours), marked(&yours, &there));
        [
            ("Now it says", there.into_iter().zip(here).collect()),
            (
                "With yours it would say",
                yours.into_iter().zip(mine).collect(),
            ),
        ]
    }
}

/// The parts of a list in words.
fn parts(text: &str) -> Vec<&str> {
    text.split("; ").flat_map(|part| part.split(", ")).collect()
}

/// The answer: on to `next`, or both sides shown.
pub(super) fn answer(changed: Changed, next: &str) -> Outcome<Response> {
    use axum::response::{IntoResponse, Redirect};
    match changed {
        Changed::Made => Ok(Redirect::to(next).into_response()),
        Changed::Overtaken(both) => {
            let mut response = frame::page(None, "Somebody was quicker", &[], &both);
            *response.status_mut() = StatusCode::CONFLICT;
            Ok(response)
        }
        Changed::Unknown(asked) => Ok(frame::page(None, "A new piece?", &[], &asked)),
    }
}

/// A photo that is not there any more.
pub(super) fn gone() -> Trouble {
    Trouble::not_there("That photo is not in the journal; look for its piece on the shelf.")
}
