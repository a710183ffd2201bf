//! The light of a photo from the best reference in it: a chart, else a tag, else a neighbour's light, else a guess.

use super::known::{Card, Known};
use super::{Chart, Corners};
use crate::colour::CameraRgb;
use crate::error::Caution;
use crate::light::{self, Found, Surroundings, chart};
use crate::picture::{Photograph, Picture, Polygon};
use crate::reading::{Basis, Correction, Fall, LIGHT_BORROWED, Light};
use crate::tag::{Payload, Sighting};

/// What a light may change from one photo to the next, taken minutes apart with the same settings: one standard deviation,
/// CIEDE2000. Clouds and the camera's own balance move it. Common practice, no source.
const BORROWED: f64 = 2.0;

/// Where a chart lies in a photo.
pub(super) struct Place<'a> {
    chart: &'a Chart,
    corners: Corners,
    /// The card that it is now known to lie beside: its name, and the corners in modules of its code.
    pub card: Option<(String, Corners)>,
}

impl<'a> Place<'a> {
    /// The chart that is said to be in the photo, else the chart of a card whose code is seen; `None` where neither is found.
    pub fn of(
        photo: &Photograph,
        picture: &Picture<CameraRgb>,
        sightings: &[Sighting],
        known: &Known<'a>,
        cautions: &mut Vec<Caution>,
    ) -> Option<Self> {
        let cards = cards(sightings, known, cautions);
        let told = known.chart.into_iter();
        let charts: Vec<&Chart> = told
            .chain(cards.iter().map(|(_, card)| &card.chart))
            .collect();
        for &chart in &charts {
            let card = cards.iter().copied().find(|(_, card)| card.chart == *chart);
            let corners = told_corners(photo, chart, known, cautions)
                // A place foretold from the code strays with the distance from it, so what is seen counts first.
                .or_else(|| chart::find(photo, picture, chart))
                .or_else(|| foretold(photo, card?));
            if let Some(corners) = corners {
                return Some(Self {
                    chart,
                    corners,
                    card: card.and_then(|(code, card)| learnt(code, card, corners)),
                });
            }
        }
        cautions.extend(charts.first().map(|chart| no_chart(&chart.name)));
        None
    }

    /// What the chart covers with its frame, in pixels of the upright photo.
    pub fn area(&self) -> Polygon {
        chart::area(self.chart, self.corners)
    }
}

/// The cards in the picture that the studio recorded; a caution where there are only others.
fn cards<'a, 's>(
    sightings: &'s [Sighting],
    known: &Known<'a>,
    cautions: &mut Vec<Caution>,
) -> Vec<(&'s Sighting, &'a Card)> {
    let (mut recorded, mut unknown) = (Vec::new(), None);
    for sighting in sightings {
        if let Payload::Card(name) = &sighting.payload {
            match known.cards.iter().find(|card| card.name == *name) {
                Some(card) => recorded.push((sighting, card)),
                None => unknown = Some(name),
            }
        }
    }
    if recorded.is_empty() {
        cautions.extend(unknown.map(|name| card_unknown(name)));
    }
    recorded
}

/// Where the person says that the chart lies, if its colours lie there.
fn told_corners(
    photo: &Photograph,
    chart: &Chart,
    known: &Known<'_>,
    cautions: &mut Vec<Caution>,
) -> Option<Corners> {
    let seated = chart::seated(photo, chart, known.corners?);
    cautions.extend(seated.caution);
    seated.corners
}

/// Where the chart of a card lies by the place of its code, if its colours lie there.
fn foretold(photo: &Photograph, (code, card): (&Sighting, &Card)) -> Option<Corners> {
    let corners = card.corners?.map(|[x, y]| code.point(x, y));
    chart::seated(photo, &card.chart, corners).corners
}

/// The card with where its chart lies, in modules of its code, if that was not known before.
fn learnt(code: &Sighting, card: &Card, mut corners: Corners) -> Option<(String, Corners)> {
    for corner in &mut corners {
        *corner = code.module(*corner)?;
    }
    card.corners.is_none().then(|| (card.name.clone(), corners))
}

/// The light from the best reference. State cards are printed with tags, but may lie anywhere.
pub(super) fn of(
    photo: &Photograph,
    place: Option<&Place<'_>>,
    sightings: &[Sighting],
    known: &Known<'_>,
    around: &Surroundings<'_>,
) -> Found {
    let tags: Vec<&Sighting> = sightings
        .iter()
        .filter(|s| matches!(s.payload, Payload::Piece(_)))
        .collect();
    let by_chart = place.map(|place| chart::light(photo, place.chart, place.corners, around));
    let spoiled = matches!(by_chart, Some(None));
    let mut found = by_chart
        .flatten()
        .or_else(|| light::from_tags(photo, &tags, &known.references, around))
        .or_else(|| borrowed(known.borrowed?))
        .unwrap_or_else(|| light::assumed(around.picture, &photo.encoding.to_xyz));
    if spoiled {
        found.cautions.push(chart_spoiled());
    }
    found
}

fn chart_spoiled() -> Caution {
    Caution::new(
        "chart-poor",
        "The chart was found, but too few of its patches can be used, so the light is not told from it; clean it, lay it out of reflections, and check that it is the file of this chart.",
    )
}

/// A neighbour's light; how it fell over its own photo says nothing of this one.
fn borrowed(neighbour: &Light) -> Option<Found> {
    let correction = neighbour.correction.clone()?;
    let doubt = neighbour.doubt?;
    let reference = match neighbour.basis {
        Basis::Chart => "chart",
        Basis::Tag => "tag",
        Basis::Assumed => return None,
    };
    Some(Found {
        light: Light {
            correction: Some(Correction {
                fall: Fall::default(),
                ..correction
            }),
            ..neighbour.clone()
        },
        doubt: doubt.with(BORROWED),
        cautions: vec![Caution::new(
            LIGHT_BORROWED,
            format!(
                "There is no reference in this picture, so the light is that of a photo taken just before or after with a {reference} in it; lay the {reference} beside the piece in every photo."
            ),
        )],
    })
}

fn no_chart(name: &str) -> Caution {
    Caution::new(
        "chart-not-found",
        format!(
            "The chart of {name} was not found in this picture; lay it flat and whole beside the piece, or say where it is with “--corners”, clockwise from patch A1."
        ),
    )
}

fn card_unknown(name: &str) -> Caution {
    Caution::new(
        "card-unknown",
        format!(
            "The card “{name}” is in this picture, but no chart is recorded for it; say which with “filemot card {name} --chart FILE”, then run “filemot remeasure”."
        ),
    )
}
