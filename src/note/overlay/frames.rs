//! Lines around what was found, and words beside them, all of it within the photo.

use super::text;
use crate::draw::{BLACK, Drawing, Stroke, WHITE};
use crate::measure::Mark;

/// How much wider the dark edge is than the light line on it.
const EDGE: f64 = 2.2;

/// A rectangle along the axes: its least and its greatest corner, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Area {
    least: [f64; 2],
    most: [f64; 2],
}

/// The outline of a piece, drawn to be seen from afar.
pub(super) fn outlined(page: &mut Drawing, corners: &[[f64; 2]], photo: [f64; 2]) {
    edged(page, corners, photo, photo[0] / 240.0);
}

/// A thin frame around each reference, with its word on a white ground beside it.
pub(super) fn framed(page: &mut Drawing, marks: &[Mark], photo: [f64; 2]) {
    let mut taken = Vec::new();
    for mark in marks {
        edged(page, &mark.corners, photo, photo[0] / 500.0);
        taken.push(Area::around(&mark.corners));
    }
    let size = 0.024 * photo[0];
    for (index, mark) in marks.iter().enumerate() {
        let mut label = text(&mark.word, size, [0.0, 0.0]);
        let room = [label.width() + size, 1.5 * size];
        let place = beside(&taken[index], room, 0.3 * size, photo, &taken);
        page.rectangle(place.least, room, WHITE);
        label.at = [place.least[0] + 0.5 * size, place.least[1] + 1.1 * size];
        page.text(label);
        taken.push(place);
    }
}

/// A closed light line with a dark edge, which shows on any ground; what lies outside the photo is drawn along its border.
fn edged(page: &mut Drawing, corners: &[[f64; 2]], photo: [f64; 2], width: f64) {
    let inset = EDGE * width / 2.0;
    let within = Area {
        least: [inset; 2],
        most: photo.map(|side| side - inset),
    };
    let corners = within.cut(corners);
    if corners.is_empty() {
        return;
    }
    for (colour, width) in [(BLACK, EDGE * width), (WHITE, width)] {
        page.polygon(&corners, None, Some(Stroke { colour, width }));
    }
}

/// Where a word of the size `room` stands best: above `about`, else below, else beside it, within the photo and over nothing
/// that is `taken`; where no place is free, the one that covers least.
fn beside(about: &Area, room: [f64; 2], gap: f64, photo: [f64; 2], taken: &[Area]) -> Area {
    let [left, top] = about.least;
    let [right, bottom] = about.most;
    let (above, below) = (top - gap - room[1], bottom + gap);
    let (before, after) = (left - gap - room[0], right + gap);
    let (flush, low) = (right - room[0], bottom - room[1]);
    let places = [
        [left, above],
        [flush, above],
        [left, below],
        [flush, below],
        [after, top],
        [after, low],
        [before, top],
        [before, low],
    ];
    let kept = places.map(|[x, y]| Area::at([x, y], room).moved_into(photo));
    let covered = |place: &Area| taken.iter().map(|other| place.shared(other)).sum::<f64>();
    kept.into_iter()
        .min_by(|one, other| covered(one).total_cmp(&covered(other)))
        .unwrap_or_else(|| Area::at([0.0; 2], room))
}

impl Area {
    fn at(least: [f64; 2], size: [f64; 2]) -> Self {
        Self {
            least,
            most: [least[0] + size[0], least[1] + size[1]],
        }
    }

    fn around(corners: &[[f64; 2]]) -> Self {
        let of = |axis: usize, pick: fn(f64, f64) -> f64, from: f64| {
            corners.iter().map(|c| c[axis]).fold(from, pick)
        };
        let (inf, min, max) = (f64::INFINITY, f64::min, f64::max);
        Self {
            least: [of(0, min, inf), of(1, min, inf)],
            most: [of(0, max, -inf), of(1, max, -inf)],
        }
    }

    fn moved_into(self, photo: [f64; 2]) -> Self {
        let size = [0, 1].map(|axis| self.most[axis] - self.least[axis]);
        let least =
            [0, 1].map(|axis| self.least[axis].clamp(0.0, (photo[axis] - size[axis]).max(0.0)));
        Self::at(least, size)
    }

    /// The area that both cover, mm².
    fn shared(&self, other: &Self) -> f64 {
        let along = |axis: usize| {
            let from = self.least[axis].max(other.least[axis]);
            (self.most[axis].min(other.most[axis]) - from).max(0.0)
        };
        along(0) * along(1)
    }

    /// The part of a closed outline within this rectangle (Sutherland & Hodgman 1974, doi 10.1145/360767.360802).
    fn cut(&self, corners: &[[f64; 2]]) -> Vec<[f64; 2]> {
        let mut kept = corners.to_vec();
        for axis in [0, 1] {
            kept = cut_at(&kept, axis, |value| value - self.least[axis]);
            kept = cut_at(&kept, axis, |value| self.most[axis] - value);
        }
        kept
    }
}

/// The part of a closed outline where `inside` of one coordinate is not below 0.
fn cut_at(corners: &[[f64; 2]], axis: usize, inside: impl Fn(f64) -> f64) -> Vec<[f64; 2]> {
    let mut kept = Vec::new();
    let Some(&(mut from)) = corners.last() else {
        return kept;
    };
    for &to in corners {
        let (before, now) = (inside(from[axis]), inside(to[axis]));
        if (before < 0.0) != (now < 0.0) {
            let share = before / (before - now);
            kept.push([0, 1].map(|i| from[i] + share * (to[i] - from[i])));
        }
        if now >= 0.0 {
            kept.push(to);
        }
        from = to;
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    const PHOTO: [f64; 2] = [160.0, 120.0];

    /// The place of a word of 20 by 6 mm beside the first of some references.
    fn check(references: &[Area]) -> Area {
        let place = beside(&references[0], [20.0, 6.0], 1.0, PHOTO, references);
        for reference in references {
            assert_eq!(place.shared(reference), 0.0, "{place:?} {reference:?}");
        }
        assert_eq!(place.moved_into(PHOTO), place);
        place
    }

    #[test]
    fn a_word_stands_above_else_below_else_beside() {
        let tag = Area::at([50.0, 50.0], [12.0, 12.0]);
        assert_eq!(check(&[tag]).least, [50.0, 43.0]);
        let over = Area::at([20.0, 20.0], [100.0, 28.0]);
        assert_eq!(check(&[tag, over]).least, [50.0, 63.0]);
        let under = Area::at([20.0, 64.0], [100.0, 28.0]);
        assert_eq!(check(&[tag, over, under]).least, [63.0, 50.0]);
    }

    #[test]
    fn a_word_stays_in_the_photo() {
        check(&[Area::at([150.0, -3.0], [20.0, 20.0])]);
        check(&[Area::at([-5.0, 110.0], [20.0, 20.0])]);
        check(&[Area::at([2.0, 0.0], [20.0, 120.0])]);
    }

    #[test]
    fn lines_stay_in_the_photo() {
        let within = Area::at([1.0, 1.0], [158.0, 118.0]);
        let cut = within.cut(&[[-40.0, 20.0], [80.0, 20.0], [80.0, 200.0], [-40.0, 200.0]]);
        let around = Area::around(&cut);
        for (found, told) in [(around.least, [1.0, 20.0]), (around.most, [80.0, 119.0])] {
            let off = (found[0] - told[0]).abs().max((found[1] - told[1]).abs());
            assert!(off < 1e-9, "{cut:?}");
        }
        assert!(
            within
                .cut(&[[200.0, 5.0], [300.0, 5.0], [300.0, 9.0]])
                .is_empty()
        );
        let inner = [[20.0, 20.0], [80.0, 20.0], [80.0, 60.0]];
        assert_eq!(within.cut(&inner), inner);
    }
}
