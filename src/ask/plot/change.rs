use super::super::answer::{Answer, Evidence};
use super::super::slope::Slope;
use super::axis::{Axis, BELOW, title};
use super::{EDGE, GROUND, Head, INK, QUIET, SMALL, WIDTH, dot, stroke, text};
use crate::draw::{Anchor, Drawing, Rgb8, wrapped};
use std::collections::BTreeMap;

const HEIGHT: f64 = 88.0;
/// Where the line may lie.
const BAND: Rgb8 = Rgb8::new(206, 206, 204);

/// Every piece over its setting, pieces of a pot joined, with the straight line through all and the two within which it lies.
pub fn draw(answer: &Answer, head: &Head, slope: &Slope) -> Drawing {
    let measure = answer.asked().wanted.measure();
    let (mut page, top) = head.page(HEIGHT + BELOW + 14.0);
    let (left, right, top) = (EDGE + 12.0, WIDTH - EDGE, top + 6.0);
    let across = Axis::over(slope.range, left, right);
    let values: Vec<f64> = answer.evidence.iter().map(|e| e.value).collect();
    let up = Axis::over(values, top + HEIGHT, top);
    page.rectangle([left, top], [right - left, HEIGHT], GROUND);
    let by = answer
        .asked()
        .wanted
        .by()
        .map_or_else(String::new, ToString::to_string);
    let by = slope
        .unit
        .map_or_else(|| by.clone(), |unit| format!("{by} ({unit})"));
    across.draw_below(&mut page, [top, top + HEIGHT], &by, None);
    up.draw_beside(&mut page, [left, right], measure.map_or("", title), measure);
    let middle = [across.at(slope.middle[0]), up.at(slope.middle[1])];
    let line = |slope_of: f64| {
        slope.range.map(|x| {
            let value = slope.middle[1] + slope_of * (x - slope.middle[0]);
            up.cut(middle, [across.at(x), up.at(value)], value)
        })
    };
    if let Some((low, high)) = slope.low.zip(slope.high) {
        let ([a, b], [c, d]) = (line(low), line(high));
        for wing in [[a, c, middle], [b, d, middle]] {
            page.polygon(&wing, Some(BAND), None);
        }
    }
    for places in by_pot(answer, &across, &up) {
        let joined: Vec<[f64; 2]> = places.iter().map(|(place, _)| *place).collect();
        if joined.len() > 1 {
            page.line(&joined, stroke(QUIET, 0.15));
        }
        for (place, piece) in places {
            dot(&mut page, place, piece.lab);
        }
    }
    page.line(&line(slope.value), stroke(INK, 0.8));
    let note = "Each dot is a piece in the mean of its colours; thin lines join the pieces of a pot, and pots of one setting stand side by side. Heavy line: the change; dark wings: its 95 % interval.";
    let notes = wrapped(note, SMALL, false, right - EDGE);
    for (n, line) in notes.iter().enumerate() {
        let y = top + HEIGHT + BELOW + 5.0 + n as f64 * 1.4 * SMALL;
        page.text(text(line, [EDGE, y], SMALL, Anchor::Start).quiet());
    }
    page
}

/// How far apart pots of one setting stand, mm: they would lie on one another.
const APART: f64 = 1.8;
/// How wide all pots of one setting stand at most, mm.
const WIDEST: f64 = 14.0;

/// A piece and where it stands.
type Placed<'a> = ([f64; 2], &'a Evidence);

/// The pieces of each pot, from left to right and from the top; pots that begin at one setting stand side by side.
fn by_pot<'a>(answer: &'a Answer, across: &Axis, up: &Axis) -> Vec<Vec<Placed<'a>>> {
    let mut pots: BTreeMap<&str, Vec<Placed>> = BTreeMap::new();
    for piece in &answer.evidence {
        if let Some(x) = piece.setting {
            let pot = piece.pot.as_deref().unwrap_or(&piece.piece);
            let place = [across.at(x), up.at(piece.value)];
            pots.entry(pot).or_default().push((place, piece));
        }
    }
    let mut beside: BTreeMap<u64, Vec<Vec<Placed>>> = BTreeMap::new();
    for mut places in pots.into_values() {
        places.sort_by(|(a, _), (b, _)| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
        beside
            .entry(places[0].0[0].to_bits())
            .or_default()
            .push(places);
    }
    for pots in beside.values_mut() {
        let apart = APART.min(WIDEST / pots.len() as f64);
        let middle = 0.5 * (pots.len() as f64 - 1.0);
        for (n, places) in pots.iter_mut().enumerate() {
            let shift = apart * (n as f64 - middle);
            places.iter_mut().for_each(|(place, _)| place[0] += shift);
        }
    }
    beside.into_values().flatten().collect()
}
