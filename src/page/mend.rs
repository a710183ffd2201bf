//! What a hand mends in a photo, and is measured or kept at once.

use super::edition::{self, Changed, Overtaken, answer};
use super::house::House;
use super::shown;
use super::trouble::{Outcome, Trouble};
use crate::error::Error;
use crate::intake::{self, Saying, Telling};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{Part, State as PieceState, WASHES};
use axum::Form;
use axum::extract::{Path, State};
use axum::response::Response;
use serde::Deserialize;
use std::sync::Arc;

/// What a photo shows.
#[derive(Debug, Deserialize)]
pub(super) struct Shows {
    based_on: String,
    piece: String,
    #[serde(default)]
    state: String,
    #[serde(default)]
    washes: String,
    /// Where to go on, where that is not the photo's page.
    #[serde(default)]
    next: String,
}

/// Where something is.
#[derive(Debug, Deserialize)]
pub(super) struct Corners {
    based_on: String,
    #[serde(default)]
    corners: String,
    #[serde(default)]
    chart: String,
    /// Anything where what was told is taken back.
    #[serde(default)]
    back: String,
    #[serde(default)]
    next: String,
}

/// What a colour is.
#[derive(Debug, Deserialize)]
pub(super) struct Mark {
    based_on: String,
    place: usize,
    is: String,
}

/// Says which piece a photo shows, and as what.
pub(super) async fn shows(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Shows>,
) -> Outcome<Response> {
    let next = next(&form.next, format!("/photo/{id}"));
    let changed = house
        .change(move |journal| claim(journal, id, &form))
        .await?;
    answer(changed, &next)
}

/// Says where the piece is, and measures.
pub(super) async fn outline(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Corners>,
) -> Outcome<Response> {
    let next = next(&form.next, format!("/photo/{id}"));
    let changed = house.change(move |journal| {
        let outline = match form.back.is_empty() {
            true => Saying::This(form.corners.clone()),
            false => Saying::Back,
        };
        let telling = Telling {
            outline,
            ..Telling::default()
        };
        measure(journal, id, &form, "outline", &telling)
    });
    answer(changed.await?, &next)
}

/// Says where a chart is, and measures.
pub(super) async fn chart(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Corners>,
) -> Outcome<Response> {
    let changed = house.change(move |journal| {
        let telling = told_of_chart(journal, &form)?;
        measure(journal, id, &form, "chart", &telling)
    });
    answer(changed.await?, &format!("/photo/{id}"))
}

/// Says what a colour is.
pub(super) async fn colour(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Mark>,
) -> Outcome<Response> {
    let next = format!("/photo/{id}#colour-{}", form.place);
    let changed = house
        .change(move |journal| mark(journal, id, &form))
        .await?;
    answer(changed, &next)
}

/// A place of this page, so that no form sends anybody elsewhere.
fn next(asked: &str, usual: String) -> String {
    // Browsers take "\\" for "/", and leave out what cannot be seen.
    let odd = |c: char| c == '\\' || c.is_control();
    let own = asked.starts_with('/') && !asked.starts_with("//") && !asked.contains(odd);
    if own { asked.to_owned() } else { usual }
}

fn claim(journal: &mut Journal, id: i64, form: &Shows) -> Outcome<Changed> {
    let photo = journal.photo(id)?.ok_or_else(edition::gone)?;
    let state = PieceState::from_word(&form.state);
    let washed = matches!(state, Some(PieceState::Washed | PieceState::Worn));
    // Of a wet or dry piece the number in the field is left over from before.
    let washes = washes(form.washes.trim())?.filter(|_| washed);
    if edition::of(&photo) != form.based_on {
        let yours = Photo {
            piece: Some(form.piece.clone()),
            state: state.or(photo.state),
            washes,
            ..Photo::default()
        };
        let fields = vec![
            ("piece", form.piece.clone()),
            ("state", form.state.clone()),
            ("washes", form.washes.clone()),
        ];
        return Ok(overtaken(&photo, id, "shows", in_words(&yours), fields));
    }
    journal.claim(id, form.piece.trim(), state, washes)?;
    Ok(Changed::Made)
}

/// How often a piece was washed; `None` where nothing is written.
pub(super) fn washes(text: &str) -> Outcome<Option<u32>> {
    if text.is_empty() {
        return Ok(None);
    }
    let number = text.parse().ok().filter(|number| WASHES.contains(number));
    match number {
        Some(number) => Ok(Some(number)),
        None => Err(Trouble::from(Error::caller(format!(
            "“{text}” is not how often a piece was washed: write a number from 1 to 500."
        )))),
    }
}

fn told_of_chart(journal: &Journal, form: &Corners) -> Outcome<Telling> {
    if !form.back.is_empty() {
        return Ok(Telling {
            chart: Saying::Back,
            corners: Saying::Back,
            ..Telling::default()
        });
    }
    let known = journal
        .charts()?
        .into_iter()
        .find(|chart| chart.hash == form.chart);
    let chart = known.ok_or_else(|| {
        Trouble::not_there("That chart is not in the journal; choose one of those that are.")
    })?;
    let numbers: Option<Vec<f64>> = form
        .corners
        .split([',', ' ', '\n', '\r'])
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().ok().filter(|number: &f64| number.is_finite()))
        .collect();
    let corners = match numbers.as_deref() {
        Some(&[a, b, c, d, e, f, g, h]) => [[a, b], [c, d], [e, f], [g, h]],
        _ => {
            return Err(Error::caller(
                "A chart has four corners: write each as x,y, from patch A1 clockwise, such as “80,529 624,545 613,913 69,896”.",
            )
            .into());
        }
    };
    Ok(Telling {
        chart: Saying::This((chart.name, chart.text)),
        corners: Saying::This(corners),
        ..Telling::default()
    })
}

fn measure(
    journal: &mut Journal,
    id: i64,
    form: &Corners,
    what: &'static str,
    telling: &Telling,
) -> Outcome<Changed> {
    let photo = journal.photo(id)?.ok_or_else(edition::gone)?;
    if edition::of(&photo) != form.based_on {
        let yours = match form.back.is_empty() {
            true => format!("the {what} at {}", form.corners),
            false => format!("the {what} you gave is taken back"),
        };
        let fields = vec![
            ("corners", form.corners.clone()),
            ("chart", form.chart.clone()),
            ("back", form.back.clone()),
        ];
        return Ok(overtaken(&photo, id, what, yours, fields));
    }
    let done = intake::remeasure(journal, std::slice::from_ref(&photo), telling, &|| ())?;
    match done.left.into_iter().next() {
        Some(why) => Err(Error::file(why).into()),
        None => Ok(Changed::Made),
    }
}

fn mark(journal: &mut Journal, id: i64, form: &Mark) -> Outcome<Changed> {
    let photo = journal.photo(id)?.ok_or_else(edition::gone)?;
    let (part, plant) = match form.is.split_once(':') {
        _ if form.is == "ground" => (Some(Part::Ground), None),
        Some(("print", plant)) => (Some(Part::Print), Some(plant)),
        _ if form.is == "print" => (Some(Part::Print), None),
        _ => (None, None),
    };
    if edition::of(&photo) != form.based_on {
        let yours = match form.is.split_once(':') {
            Some((_, plant)) => format!("a colour is the print of {plant}"),
            None if form.is.is_empty() => "what was said of a colour is taken back".to_owned(),
            None => format!("a colour is {}", form.is),
        };
        let fields = vec![("place", form.place.to_string()), ("is", form.is.clone())];
        return Ok(overtaken(&photo, id, "colour", yours, fields));
    }
    journal.mark(id, form.place, part, plant)?;
    Ok(Changed::Made)
}

/// Both sides of a change that came too late.
fn overtaken(
    photo: &Photo,
    id: i64,
    what: &str,
    yours: String,
    mut fields: Vec<(&'static str, String)>,
) -> Changed {
    fields.push(("based_on", edition::of(photo)));
    Changed::Overtaken(Overtaken {
        there: in_words(photo),
        yours,
        action: format!("/photo/{id}/{what}"),
        fields,
        back: format!("/photo/{id}"),
    })
}

/// What a photo shows, and how many colours were measured in it, in words.
fn in_words(photo: &Photo) -> String {
    let piece = photo.piece.as_deref().unwrap_or("no piece yet");
    let colours = photo.reading.swatches.len();
    let measured = match colours {
        0 => String::new(),
        _ => format!(
            ", measured {}, {}",
            shown::count(photo.earlier.len() + 1, "time", "times"),
            shown::count(colours, "colour", "colours")
        ),
    };
    let outline = if photo.told.outline.is_some() {
        ", outline drawn by hand"
    } else {
        ""
    };
    format!("{piece}, {}{measured}{outline}", shown::state(photo))
}
