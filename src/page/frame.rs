//! What every page has around it: head, the way to the six places, and the words that say where one stands.

use askama::Template;
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use std::fmt::Display;

/// Where a person stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Place {
    Shelf,
    Pot,
    Line,
    Desk,
    Market,
    Studio,
}

impl Place {
    const ALL: [Self; 6] = [
        Self::Shelf,
        Self::Pot,
        Self::Line,
        Self::Desk,
        Self::Market,
        Self::Studio,
    ];

    /// Where it is found.
    pub(super) fn path(self) -> &'static str {
        match self {
            Self::Shelf => "/",
            Self::Pot => "/pot",
            Self::Line => "/line",
            Self::Desk => "/desk",
            Self::Market => "/market",
            Self::Studio => "/studio",
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Shelf => "Shelf",
            Self::Pot => "Pot",
            Self::Line => "Line",
            Self::Desk => "Desk",
            Self::Market => "Market",
            Self::Studio => "Studio",
        }
    }

    /// What one does there, in a few words.
    fn about(self) -> &'static str {
        match self {
            Self::Shelf => "your pieces as they look",
            Self::Pot => "write down a bundle, foresee a wet piece",
            Self::Line => "take photos in, mend what waits for a hand",
            Self::Desk => "ask what gave which colours",
            Self::Market => "notes, tags and cards to print",
            Self::Studio => "your paper, words and backups",
        }
    }

    /// Its sign, drawn in a square of 24: strokes only.
    fn sign(self) -> &'static str {
        match self {
            Self::Shelf => "M3 20h18M5 20V9h5v11M10 20V5h4v15M14 20l3-12 4 1-3 11",
            Self::Pot => {
                "M4 10h16v6a4 4 0 0 1-4 4H8a4 4 0 0 1-4-4zM2 10h20M9 6c-1-1 1-2 0-4M15 6c-1-1 1-2 0-4"
            }
            Self::Line => "M2 5c6 2 14 2 20 0M6 6v13c2 1 4 1 6 0V6.5M12 6.5V15c2 1 4 1 6 0V6",
            Self::Desk => "M4 20V4h10l6 6v10zM14 4v6h6M8 14h8M8 17h5",
            Self::Market => "M3 12 12 3h8v8l-9 9zM16.5 7.5h.01",
            Self::Studio => "M4 7h9M17 7h3M4 17h3M11 17h9M15 4.5v5M9 14.5v5",
        }
    }
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>{{ title }} · Filemot</title>
<link rel="stylesheet" href="/files/page.css">
<link rel="icon" href="/files/sign.svg" type="image/svg+xml">
{% for script in scripts %}<script src="/files/{{ script }}" type="module"></script>
{% endfor %}</head>
<body>
<a class="skip" href="#main">To the page itself</a>
<nav aria-label="Places" class="places">
<ul>
{% for place in Place::ALL %}<li><a href="{{ place.path() }}" id="to-{{ place.name()|lower }}"{% if here.as_ref() == Some(place) %} aria-current="page"{% endif %}>
<svg viewBox="0 0 24 24" aria-hidden="true"><path d="{{ place.sign() }}"/></svg>
<span class="name">{{ place.name() }}</span>
<span class="about">{{ place.about() }}</span>
</a></li>
{% endfor %}</ul>
</nav>
<main id="main" tabindex="-1">
{{ body|safe }}
</main>
</body>
</html>
"##
)]
struct Frame<'a, B: Display> {
    title: &'a str,
    here: Option<Place>,
    scripts: &'a [&'a str],
    body: &'a B,
}

/// A page with its body, which has been made safe already; `scripts` are names of the page's own files.
pub(super) fn page(
    here: impl Into<Option<Place>>,
    title: &str,
    scripts: &[&str],
    body: &impl Display,
) -> Response {
    let frame = Frame {
        title,
        here: here.into(),
        scripts,
        body,
    };
    match frame.render() {
        Ok(html) => {
            let kind = (CONTENT_TYPE, "text/html; charset=utf-8");
            ([kind, (CACHE_CONTROL, "private, no-cache")], html).into_response()
        }
        // Only writing to memory can fail here.
        Err(_) => StatusCode::INTERNAL_SERVER_ERROR.into_response(),
    }
}
