//! Measure again: all kept photos, with today's method, paper and ink.

use super::super::anew::Run;
use super::super::house::House;
use super::super::shown;
use super::super::trouble::Outcome;
use crate::error::Error;
use crate::intake::{self, Telling};
use askama::Template;
use axum::Router;
use axum::extract::State;
use axum::response::Redirect;
use axum::routing::post;
use std::sync::Arc;
use std::sync::atomic::Ordering;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<section id="again" aria-labelledby="again-head"><h2 id="again-head">Measure again</h2>
<p class="soft">All kept photos, with today's method, paper and ink. The readings so far stay beneath.</p>
{% if let Some((done, all)) = going %}<p role="status">Measuring: {{ done }} of {{ all }}. You may go on with other things.</p>
<progress max="{{ all }}" value="{{ done }}" aria-label="Photos measured again"></progress><p><a href="/studio#again">How far is it now?</a></p>
{% else %}{% if !told.is_empty() %}<ul role="status">{% for line in told %}<li>{{ line }}</li>{% endfor %}</ul>{% endif %}
<form method="post" action="/studio/again"><p class="deeds"><button class="quiet" id="measure-again">Measure all again</button></p></form>{% endif %}</section>"##
)]
struct Again {
    going: Option<(usize, usize)>,
    told: Vec<String>,
}

pub(super) fn routes() -> Router<Arc<House>> {
    Router::new().route("/studio/again", post(again))
}

/// How far it is, and the button.
pub(super) fn section(house: &House) -> Outcome<String> {
    let last = house.anew.last();
    let told = last.as_ref().map(|run| run.ended()).unwrap_or_default();
    let going = last.filter(|_| told.is_empty());
    let numbers = |run: Arc<Run>| {
        (
            run.done.load(Ordering::Relaxed),
            run.all.load(Ordering::Relaxed).max(1),
        )
    };
    let again = Again {
        going: going.map(numbers),
        told,
    };
    again.render().map_err(|_| {
        Error::machine("There is no memory left to write the page; close other programs.").into()
    })
}

async fn again(State(house): State<Arc<House>>) -> Redirect {
    if let Some(run) = house.anew.begin() {
        tokio::spawn(measure(Arc::clone(&house), run));
    }
    Redirect::to("/studio#again")
}

async fn measure(house: Arc<House>, run: Arc<Run>) {
    // The house lives as long as the program, and nobody closes this.
    let _turn = house.measuring.acquire().await.ok();
    let counted = Arc::clone(&run);
    let done = house
        .with(move |journal| {
            let photos = journal.photos()?;
            counted.all.store(photos.len(), Ordering::Relaxed);
            intake::remeasure(journal, &photos, &Telling::default(), &|| counted.step())
        })
        .await;
    run.end(match done {
        Ok(done) => {
            let all = shown::count(done.measured, "photo is", "photos are");
            let left = done
                .left
                .iter()
                .map(|why| format!("Left as it was: {}", shown::advice(why)));
            std::iter::once(format!("{all} measured again."))
                .chain(left)
                .collect()
        }
        Err(trouble) => vec![trouble.to_string()],
    });
}
