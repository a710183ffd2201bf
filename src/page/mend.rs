//! What a hand mends in a photo, and is measured or kept at once.

use super::edition::{self, Changed, Overtaken, answer};
use super::house::House;
use super::shown;
use super::trouble::{Outcome, Trouble};
use crate::colour::lab_to_hex;
use crate::error::Error;
use crate::intake::{self, Saying, Telling};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{Part, Swatch};
use axum::Form;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::Response;
use serde::Deserialize;
use std::sync::Arc;

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
    /// Where it stands among the photo's colours, from 0.
    place: usize,
    /// The colour itself, `#b08a4e`: measured anew, another one may stand there.
    #[serde(default)]
    colour: String,
    is: String,
}

/// Says where the piece is, and measures.
pub(super) async fn outline(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Corners>,
) -> Outcome<Response> {
    let next = Next::of(&form.next, id, "outline");
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
    answer(changed.await?, &next.done())
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
    answer(changed.await?, &Next::of("", id, "chart").done())
}

/// Says what a colour is.
pub(super) async fn colour(
    State(house): State<Arc<House>>,
    Path(id): Path<i64>,
    Form(form): Form<Mark>,
) -> Outcome<Response> {
    let part = format!("colour-{}", form.place);
    let next = Next::of("", id, &part).at(part.clone());
    let changed = house
        .change(move |journal| mark(journal, id, &form))
        .await?;
    answer(changed, &next.done())
}

/// Where a form leads on to.
pub(super) struct Next {
    /// The page it came from.
    page: String,
    /// What is told there as done.
    done: String,
    /// What is looked at there.
    part: String,
}

impl Next {
    /// On to the page that a form asks for, else to that of the photo `id`, where `what` is told as done.
    pub(super) fn of(asked: &str, id: i64, what: &str) -> Self {
        // Browsers take "\\" for "/", and leave out what cannot be seen.
        let odd = |c: char| matches!(c, '\\' | '?' | '#') || c.is_control();
        let own = asked.starts_with('/') && !asked.starts_with("//") && !asked.contains(odd);
        let (page, done) = match own {
            true => (asked.to_owned(), id.to_string()),
            false => (format!("/photo/{id}"), what.to_owned()),
        };
        Self {
            page,
            done,
            part: "told".to_owned(),
        }
    }

    /// Where that is looked at instead of what is told.
    fn at(self, part: String) -> Self {
        Self { part, ..self }
    }

    /// The address after the deed.
    pub(super) fn done(&self) -> String {
        let Self { page, done, part } = self;
        format!("{page}?done={done}#{part}")
    }

    /// The address where nothing was done.
    pub(super) fn back(self) -> String {
        self.page
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
        let mut yours = photo.clone();
        match what {
            "chart" => yours.told.chart = form.back.is_empty().then(String::new),
            _ => yours.told.outline = form.back.is_empty().then(Vec::new),
        }
        let mut yours = in_words(&yours, None);
        if form.back.is_empty() {
            yours.push_str(&format!(", the {what} as you drew it just now"));
        }
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
    let (part, plant) = said(&form.is)?;
    let place = place_of(&photo, form)?;
    if edition::of(&photo) != form.based_on {
        let mut yours = photo.clone();
        if let Some(swatch) = yours.reading.swatches.get_mut(place) {
            (swatch.part, swatch.plant) = (part, plant.map(str::to_owned));
        }
        let fields = vec![
            ("place", place.to_string()),
            ("colour", form.colour.clone()),
            ("is", form.is.clone()),
        ];
        let [there, yours] = [&photo, &yours].map(|photo| in_words(photo, Some(place)));
        let told = overtaken(&photo, id, "colour", yours, fields);
        return Ok(told.saying(there));
    }
    journal.mark(id, place, part, plant)?;
    Ok(Changed::Made)
}

/// No plant has a longer name, characters.
const LONGEST_PLANT: usize = 100;

/// What a button says that a colour is: `ground`, `print`, `print:walnut`, or nothing.
fn said(is: &str) -> Outcome<(Option<Part>, Option<&str>)> {
    match is.split_once(':').unwrap_or((is, "")) {
        ("", "") => Ok((None, None)),
        ("ground", "") => Ok((Some(Part::Ground), None)),
        ("print", "") => Ok((Some(Part::Print), None)),
        ("print", plant) if plant.chars().count() <= LONGEST_PLANT => {
            Ok((Some(Part::Print), Some(plant)))
        }
        _ => Err(Error::caller(
            "A colour is ground, or print of a plant; touch one of its buttons.",
        )
        .into()),
    }
}

/// Where the colour that was meant stands now.
fn place_of(photo: &Photo, form: &Mark) -> Outcome<usize> {
    if form.colour.is_empty() {
        return Ok(form.place);
    }
    let is_meant = |swatch: &Swatch| lab_to_hex(swatch.lab) == form.colour;
    let swatches = &photo.reading.swatches;
    if swatches.get(form.place).is_some_and(is_meant) {
        return Ok(form.place);
    }
    let found = swatches.iter().position(is_meant);
    found.ok_or_else(|| {
        Trouble::new(
            StatusCode::CONFLICT,
            "This photo was measured anew, and that colour is not among its colours any more; look at it again, and say it of those it has now.",
        )
    })
}

/// Both sides of a change that came too late.
pub(super) fn overtaken(
    photo: &Photo,
    id: i64,
    what: &str,
    yours: String,
    mut fields: Vec<(&'static str, String)>,
) -> Changed {
    fields.push(("based_on", edition::of(photo)));
    Changed::Overtaken(Overtaken {
        there: in_words(photo, None),
        yours,
        action: format!("/photo/{id}/{what}"),
        fields,
        back: format!("/photo/{id}"),
    })
}

/// All that a hand can change in a photo, in words; of its colours the one at `place`.
pub(super) fn in_words(photo: &Photo, place: Option<usize>) -> String {
    let told = |told: bool, what: &str| match told {
        true => format!("{what} given by hand"),
        false => format!("no {what} given by hand"),
    };
    let colour = place.and_then(|place| Some((place, photo.reading.swatches.get(place)?)));
    let colour = colour.map(|(place, swatch)| {
        let is = shown::part(swatch);
        let is = if is.is_empty() { "nothing said" } else { &is };
        format!("colour {}: {is}", place + 1)
    });
    let piece = photo.piece.as_ref();
    let parts = [
        Some(piece.map_or_else(|| "no piece".to_owned(), |code| format!("piece {code}"))),
        Some(shown::state(photo)),
        Some(told(photo.told.outline.is_some(), "outline")),
        Some(told(photo.told.chart.is_some(), "chart")),
        colour,
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}
