//! What a person says about a photo by hand.

use crate::error::{Error, Result};
use crate::picture::Polygon;

/// The smallest outline, as part of the photo.
const LEAST: f64 = 1e-3;

/// Reads an outline as a person gives it, `x,y x,y x,y …`, for a photo of `size` pixels across and down.
///
/// # Errors
/// `Caller` where it is no list of points, has fewer than three corners, leaves the photo, crosses itself or holds next to nothing.
pub fn outline(text: &str, size: [u32; 2]) -> Result<Polygon> {
    let corners: Option<Polygon> = text.split_whitespace().map(corner).collect();
    let Some(mut corners) = corners else {
        return Err(Error::caller(format!(
            "“{text}” is not an outline; write its corners as x,y with spaces between, such as “120,80 1900,95 1880,1400 100,1390”."
        )));
    };
    // Said twice in a row, or at the end what was said first: still one corner.
    corners.dedup();
    if corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    match trouble(&corners, size.map(f64::from)) {
        Some(what) => Err(Error::caller(what)),
        None => Ok(corners),
    }
}

fn corner(pair: &str) -> Option<[f64; 2]> {
    let (x, y) = pair.split_once(',')?;
    let number = |text: &str| text.parse::<f64>().ok().filter(|n| n.is_finite());
    Some([number(x)?, number(y)?])
}

/// What is wrong with an outline, in a sentence.
fn trouble(corners: &[[f64; 2]], [width, height]: [f64; 2]) -> Option<String> {
    if corners.len() < 3 {
        return Some(
            "An outline needs at least three corners, such as “120,80 1900,95 1880,1400”."
                .to_owned(),
        );
    }
    let outside = |[x, y]: &&[f64; 2]| !(0.0..=width).contains(x) || !(0.0..=height).contains(y);
    if let Some([x, y]) = corners.iter().find(outside) {
        return Some(format!(
            "The corner {x},{y} lies outside the photo, which is {width} by {height} pixels; count from its top left corner."
        ));
    }
    if crosses_itself(corners) {
        return Some(
            "The outline crosses itself; give its corners in order, once around the piece."
                .to_owned(),
        );
    }
    (area(corners) < LEAST * width * height).then(|| {
        "The outline holds next to nothing; give the corners of the whole piece.".to_owned()
    })
}

/// By the shoelace formula.
fn area(corners: &[[f64; 2]]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let twice: f64 = corners
        .iter()
        .zip(next)
        .map(|(a, b)| a[0] * b[1] - a[1] * b[0])
        .sum();
    twice.abs() / 2.0
}

/// Whether two sides that are not neighbours cross.
fn crosses_itself(corners: &[[f64; 2]]) -> bool {
    let count = corners.len();
    let side = |n: usize| (corners[n], corners[(n + 1) % count]);
    let apart = |n: usize, m: usize| m > n + 1 && (n, m) != (0, count - 1);
    (0..count).any(|n| (0..count).any(|m| apart(n, m) && cross(side(n), side(m))))
}

fn cross((a, b): ([f64; 2], [f64; 2]), (c, d): ([f64; 2], [f64; 2])) -> bool {
    let turn = |p: [f64; 2], q: [f64; 2], r: [f64; 2]| {
        (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
    };
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, wanted: Option<&str>) {
        match (outline(text, [2000, 1500]), wanted) {
            (Ok(_), None) => {}
            (Err(error), Some(word)) => assert!(error.to_string().contains(word), "{error}"),
            (got, wanted) => panic!("{text}: {got:?} for {wanted:?}"),
        }
    }

    #[test]
    fn outlines_are_read_or_refused_in_words() {
        check("100,100 1900,120 1880,1400 90,1390", None);
        check(" 0,0  2000,0\n2000,1500 ", None);
        check("430,180 600,180 800,180 1100,180 1150,640 430,650", None);
        check("100,100 900,100 900,100 900,900 100,900 100,100", None);
        check("100,100 1900,120", Some("three corners"));
        check("", Some("three corners"));
        check("100 100 1900 120", Some("not an outline"));
        check("a,b c,d e,f", Some("not an outline"));
        check("NaN,1 4,5 6,7", Some("not an outline"));
        check("100,100 2500,120 1880,1400", Some("outside"));
        check("-1,100 1900,120 1880,1400", Some("outside"));
        check(
            "100,100 1900,1400 1900,100 100,1400",
            Some("crosses itself"),
        );
        check("100,100 110,100 110,110", Some("next to nothing"));
    }
}
