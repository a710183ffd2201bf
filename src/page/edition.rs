//! What a form was based on. A form carries the edition of what it was made from; who saves onto another edition is told, and
//! shown both, so that of two people nobody loses anything unseen.

use super::frame;
use super::trouble::{Outcome, Trouble};
use crate::journal::record::Photo;
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
        "{} {:?} {:?} {:?} {:?} {:?}",
        photo.earlier.len(),
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
}

/// A change that came too late.
#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Somebody was quicker</h1></header>
<p>While you had this open, it was changed. Nothing of yours is saved yet.</p>
<dl class="settings" id="both">
<div><dt>Now it says</dt><dd>{{ there }}</dd></div>
<div><dt>You say</dt><dd>{{ yours }}</dd></div>
</dl>
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
    }
}

/// A photo that is not there any more.
pub(super) fn gone() -> Trouble {
    Trouble::not_there("That photo is not in the journal; look for its piece on the shelf.")
}
