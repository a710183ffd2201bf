//! The references in a photo, to be shown.

use super::WORKING_SIDE;
use super::known::Known;
use super::light::Place;
use crate::picture::{Photograph, Polygon};
use crate::tag::{self, Payload};

/// A place in a photo that says something of its light, its piece or its state.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Its corners, in pixels of the upright photo.
    pub corners: Polygon,
    /// What it is: `tag LB007`, `card wet`, `chart`.
    pub word: String,
}

/// The tags and cards in a photo, and the chart where one is `known` to be there and is found.
pub fn marks(photo: &Photograph, known: &Known<'_>) -> Vec<Mark> {
    let sightings = tag::find(photo);
    let word = |payload: &Payload| match payload {
        Payload::Piece(code) => format!("tag {code}"),
        Payload::State(name) | Payload::Card(name) => format!("card {name}"),
    };
    let seen = sightings.iter().map(|sighting| Mark {
        corners: sighting.paper().to_vec(),
        word: word(&sighting.payload),
    });
    let small = photo.reduced(photo.step_to(WORKING_SIDE));
    let chart = Place::of(photo, &small, &sightings, known, &mut Vec::new());
    let chart = chart.map(|place| Mark {
        corners: place.area(),
        word: "chart".to_owned(),
    });
    seen.chain(chart).collect()
}
