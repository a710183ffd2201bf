//! What came of photos that were taken in, in words and colours.

use super::shown::{self, Band};
use super::trouble::{Outcome, Trouble};
use crate::error::Error;
use crate::journal::record::Photo;
use crate::words::Own;
use askama::Template;

/// What came of one photo.
pub(super) enum Came {
    /// It is new, and measured.
    New(Photo),
    /// The journal knew it.
    Known(Photo),
    /// It is no good: its name, and why.
    Refused(String, String),
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"{% for came in all %}{% match came %}{% when Came::Refused(name, why) %}<li class="refused"><p><strong>Refused: {{ name }}</strong></p><p>{{ why }}</p></li>
{% when Came::New(photo) %}{{ self.measured(photo, "")|safe }}
{% when Came::Known(photo) %}{{ self.measured(photo, "known already")|safe }}
{% endmatch %}{% endfor %}"##
)]
struct Arrived<'a> {
    all: &'a [Came],
    own: &'a [Own],
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<li><a href="/photo/{{ id }}">
<figure class="ground"><img src="/picture/{{ id }}/small" alt="" decoding="async">
{% if !bands.is_empty() %}<svg class="strip" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
{% for band in bands %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="8" fill="{{ band.srgb }}"/>
{% endfor %}</svg>{% endif %}</figure>
<strong>{{ piece }}</strong> <span class="state">{{ state }}</span>{% if !note.is_empty() %} <span class="soft">{{ note }}</span>{% endif %}
<span class="line soft">{{ name }}</span>
<span class="line">{{ words }}</span></a>
{% if let Some(caution) = caution %}<p class="line">! {{ caution }}</p>{% endif %}</li>"##
)]
struct Measured<'a> {
    id: i64,
    piece: &'a str,
    state: String,
    name: &'a str,
    note: &'a str,
    words: String,
    bands: Vec<Band>,
    caution: Option<String>,
}

impl Arrived<'_> {
    fn measured<'b>(&self, photo: &'b Photo, note: &'b str) -> Measured<'b> {
        let swatches = &photo.reading.swatches;
        let words: Vec<String> = shown::in_words(swatches, self.own)
            .into_iter()
            .take(3)
            .collect();
        Measured {
            id: photo.id.unwrap_or_default(),
            piece: photo.piece.as_deref().unwrap_or("Of which piece?"),
            state: shown::state(photo),
            name: photo.file.as_deref().unwrap_or_default(),
            note,
            words: match words.is_empty() {
                true => "no cloth found".to_owned(),
                false => words.join(", "),
            },
            bands: shown::strip(swatches),
            caution: first_caution(photo),
        }
    }
}

/// What the reader must know first; that paper and ink are assumed is the same for every photo.
fn first_caution(photo: &Photo) -> Option<String> {
    let mut cautions = photo.reading.cautions.iter();
    let first = cautions.find(|caution| caution.code != "paper-assumed")?;
    Some(shown::advice(&first.text))
}

/// What came of some photos, as items of a list; `own` are the studio's colour words.
pub(super) fn told_all(all: &[Came], own: &[Own]) -> Outcome<String> {
    Arrived { all, own }.render().map_err(|_| unwritten())
}

/// How many came, in words.
pub(super) fn told(new: usize, known: usize, refused: usize) -> String {
    let mut parts = vec![format!(
        "{} new and measured",
        shown::count(new, "photo", "photos")
    )];
    if known > 0 {
        parts.push(format!("{known} known already"));
    }
    if refused > 0 {
        parts.push(format!("{refused} refused"));
    }
    format!("{}.", parts.join(", "))
}

fn unwritten() -> Trouble {
    Trouble::from(Error::machine(
        "There is no memory left to write the page; close other programs.",
    ))
}
