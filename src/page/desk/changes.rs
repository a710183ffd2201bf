//! Drying and washing of all pieces, each with its colours before and after.

use crate::ask;
use crate::change::Match;
use crate::error::{Caution, few};
use crate::page::frame::{self, Place};
use crate::page::house::House;
use crate::page::shown::{self, Band};
use crate::page::trouble::Outcome;
use askama::Template;
use axum::extract::State;
use axum::response::Response;
use std::sync::Arc;

/// So many cautions lie open; more of them are opened by a touch.
const OPEN: usize = 4;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>{{ heading }}</h1><p><a href="/desk">Back to the desk</a></p></header>
{% if changes.is_empty() %}<p class="empty">{{ none }}</p>{% else %}
{% if !all.is_empty() %}<p class="answer">{{ all }}</p>{% endif %}
<p class="soft">{{ scale }} In each pair of strips stands {{ words.0 }} above, {{ words.1 }} below, every colour over what became of it. What changed most comes first.</p>{% endif %}
{% if !cautions.is_empty() %}<details class="minded"{% if cautions.len() <= OPEN %} open{% endif %}><summary>To mind with these numbers ({{ cautions.len() }})</summary>
<ul class="cautions">{% for caution in cautions %}<li>{{ caution }}</li>{% endfor %}</ul></details>{% endif %}
{% if !changes.is_empty() %}<ul class="changes" id="changes">{% for change in changes %}<li>
<h2><a href="/piece/{{ change.code|urlencode_strict }}">{{ change.code }}</a></h2>
<p>{{ change.text }}</p>
{% if !change.before.is_empty() %}<div class="ground pair">
<svg class="strip" viewBox="0 0 100 8" preserveAspectRatio="none" role="img" aria-label="Colours {{ words.0 }}">{% for band in change.before %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="8" fill="{{ band.srgb }}"/>{% endfor %}</svg>
<svg class="strip" viewBox="0 0 100 8" preserveAspectRatio="none" role="img" aria-label="The same colours {{ words.1 }}">{% for band in change.after %}<rect x="{{ band.from }}" width="{{ band.wide }}" height="8" fill="{{ band.srgb }}"/>{% endfor %}</svg>
</div>{% endif %}
</li>
{% endfor %}</ul>{% endif %}"##
)]
struct Changes {
    heading: &'static str,
    /// All pieces together, in a sentence; empty where that is not told.
    all: String,
    /// What the numbers are.
    scale: String,
    none: &'static str,
    words: (&'static str, &'static str),
    cautions: Vec<String>,
    /// What changed most first.
    changes: Vec<Change>,
}

/// What became of one piece.
struct Change {
    code: String,
    text: String,
    /// How much that is, for the order.
    much: f64,
    before: Vec<Band>,
    after: Vec<Band>,
}

fn most_first(changes: impl Iterator<Item = Change>) -> Vec<Change> {
    let mut changes: Vec<Change> = changes.collect();
    changes.sort_by(|one, other| other.much.total_cmp(&one.much));
    changes
}

pub(super) async fn drying(State(house): State<Arc<House>>) -> Outcome<Response> {
    let report = house.with(|journal| ask::drying(journal, &[])).await?;
    let changes = report.pieces.iter().filter_map(|piece| {
        let moved = piece.matched.iter();
        Some(Change {
            code: piece.piece.clone(),
            text: shown::dried(piece)?,
            much: piece.lightening?.abs(),
            before: shown::bands(moved.clone().map(|one: &Match| (one.wet, one.share))),
            after: shown::bands(moved.map(|one| (one.dry, one.share))),
        })
    });
    let page = Changes {
        heading: "How much lighter pieces dried",
        all: report.all.in_words().unwrap_or_default(),
        scale: "L* runs from 0, black, to 100, white; a step of 1 is just seen side by side."
            .to_owned(),
        none: "No piece has been photographed both wet and dry yet.",
        words: ("wet", "dry"),
        cautions: gathered(report.pieces.iter().map(|it| (&*it.piece, &*it.cautions))),
        changes: most_first(changes),
    };
    Ok(frame::page(Place::Desk, page.heading, &[], &page))
}

pub(super) async fn washing(State(house): State<Arc<House>>) -> Outcome<Response> {
    let report = house.with(|journal| ask::washing(journal, &[])).await?;
    let changes = report.pieces.iter().filter_map(|piece| {
        let moved = piece.matched.iter();
        Some(Change {
            code: piece.piece.clone(),
            text: format!("{}.", shown::graded(piece)?),
            much: piece.de_f?,
            before: shown::bands(moved.clone().map(|one| (one.before, one.share))),
            after: shown::bands(moved.map(|one| (one.after, one.share))),
        })
    });
    let page = Changes {
        heading: "How they stood washing",
        all: String::new(),
        scale: format!(
            "Grades: 5 is no change and 1 a great one; in brackets the range in which a grade lies in 19 of 20 cases. What is graded is the {}.",
            report.scale
        ),
        none: "No piece has been photographed both dry and washed yet.",
        words: ("before", "after"),
        cautions: gathered(report.pieces.iter().map(|it| (&*it.piece, &*it.cautions))),
        changes: most_first(changes),
    };
    Ok(frame::page(Place::Desk, page.heading, &[], &page))
}

/// What must be known of the pieces, each sentence once, with the pieces it is about where that is not all of them.
fn gathered<'a>(pieces: impl Iterator<Item = (&'a str, &'a [Caution])>) -> Vec<String> {
    let mut all: Vec<&str> = Vec::new();
    let mut about: Vec<(String, Vec<&str>)> = Vec::new();
    for (code, cautions) in pieces {
        // A piece that was washed several times comes as often, one after the other.
        if all.last() != Some(&code) {
            all.push(code);
        }
        for sentence in cautions.iter().map(said) {
            match about.iter_mut().find(|(known, _)| *known == sentence) {
                Some((_, codes)) if codes.last() == Some(&code) => {}
                Some((_, codes)) => codes.push(code),
                None => about.push((sentence, vec![code])),
            }
        }
    }
    let told = |(sentence, codes): (String, Vec<&str>)| match codes.len() == all.len() {
        true => sentence,
        false => format!("{}: {sentence}", few(&codes)),
    };
    about.into_iter().map(told).collect()
}

/// A caution's sentence; of one that names its piece and photo, the same for all.
fn said(caution: &Caution) -> String {
    match caution.code.as_str() {
        "washes-unknown" => "Nobody said how often it had been washed when it was photographed: say it with “What it shows” on the photo's page.".to_owned(),
        _ => shown::advice(&caution.text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caution_is_told_once_with_its_pieces() {
        let one = |code: &str, text: &str| Caution::new(code, text);
        let unknown = |piece: &str| {
            let text = format!("Nobody said how often {piece} had been washed.");
            one("washes-unknown", &text)
        };
        let paper = one("paper-bright", "The paper is too bright.");
        let cautions = [
            vec![paper.clone(), unknown("LB001")],
            vec![paper.clone()],
            vec![paper, unknown("LB002")],
        ];
        let pieces = ["LB001", "LB002", "LB002"].into_iter();
        let told = gathered(pieces.zip(cautions.iter().map(|it| &it[..])));
        assert_eq!(told.len(), 2, "{told:?}");
        assert_eq!(told[0], "The paper is too bright.");
        assert!(told[1].starts_with("Nobody said how often it"), "{told:?}");
        let other = [("LB003", &cautions[1][..]), ("LB004", &[][..])];
        assert_eq!(
            gathered(other.into_iter()),
            ["LB003: The paper is too bright."]
        );
    }
}
