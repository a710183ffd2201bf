//! Reading the modules of a code once it is known roughly where it is.

use super::refine::{Homography, light_at, project, refine};
use super::{Payload, Sighting};
use crate::picture::Photograph;
use rqrr::{Grid, SimpleGrid};

/// A QR code that was read, whoever made it.
pub(super) struct Code {
    pub text: String,
    /// Modules along one side.
    pub modules: usize,
    /// The modules, row by row; true is black.
    pub dark: Vec<bool>,
    /// From modules to pixels of the photo.
    pub to_photo: Homography,
}

impl Code {
    /// The sighting that it is, where it is a code of ours.
    pub fn sighting(self) -> Option<Sighting> {
        Some(Sighting {
            payload: Payload::read(&self.text)?,
            modules: self.modules,
            dark: self.dark,
            to_photo: self.to_photo,
        })
    }
}

/// The code of `n` modules a side that may be at `rough`, with its place fitted; `None` where there is none.
///
/// The place is fitted to the patterns that every code has before the modules are looked at: at a slant, the fourth corner
/// is only guessed at first, so the alignment pattern near it comes last.
pub(super) fn read(photo: &Photograph, n: usize, rough: Homography) -> Option<Code> {
    if !plausible(photo, n, &rough) {
        return None;
    }
    let place = refine(photo, n, rough, |x, y| eyes(n, x, y));
    let place = refine(photo, n, place, |x, y| fixed(n, x, y));
    let dark = sampled(photo, n, &place)?;
    let text = decode(n, &dark)?;
    let to_photo = refine(photo, n, place, |x, y| Some(dark[y * n + x]));
    // A code can be read with some modules wrong; where the last fit shows them better, the light measured later on black
    // and white is cleaner.
    let dark = sampled(photo, n, &to_photo)
        .filter(|again| decode(n, again).as_ref() == Some(&text))
        .unwrap_or(dark);
    Some(Code {
        text,
        modules: n,
        dark,
        to_photo,
    })
}

/// Whether most modules that are the same in every code are so here; wrong threes of finders fail this at once.
fn plausible(photo: &Photograph, n: usize, place: &Homography) -> bool {
    let light =
        |x: usize, y: usize| light_at(photo, project(place, [x as f64 + 0.5, y as f64 + 0.5]));
    let Some(threshold) = threshold(n, light) else {
        return false;
    };
    let (mut right, mut all) = (0, 0);
    for (x, y) in modules(n) {
        if let (Some(dark), Some(light)) = (eyes(n, x, y), light(x, y)) {
            right += usize::from((light < threshold(x, y)) == dark);
            all += 1;
        }
    }
    4 * right > 3 * all
}

/// The text of a code of `n` modules a side, errors corrected; `None` where too many are wrong.
pub(super) fn decode(n: usize, dark: &[bool]) -> Option<String> {
    let grid = Grid::new(SimpleGrid::from_func(n, |x, y| dark[y * n + x]));
    grid.decode().ok().map(|(_, text)| text)
}

/// Whether a module is dark in every code of this size (ISO/IEC 18004): finders with their separators, and timing; `None`
/// for the others.
fn eyes(n: usize, x: usize, y: usize) -> Option<bool> {
    let finders = [[3, 3], [n - 4, 3], [3, n - 4]];
    if let Some(finder) = finders.into_iter().find(|&c| ring(x, y, c) <= 4) {
        return Some(!matches!(ring(x, y, finder), 2 | 4));
    }
    (x == 6 || y == 6).then_some((x + y).is_multiple_of(2))
}

/// The same, with the one alignment pattern of versions 2 to 6.
fn fixed(n: usize, x: usize, y: usize) -> Option<bool> {
    let distance = ring(x, y, [n - 7, n - 7]);
    let alignment = || ((25..=41).contains(&n) && distance <= 2).then_some(distance != 1);
    eyes(n, x, y).or_else(alignment)
}

/// Which square ring around a centre a module lies on.
fn ring(x: usize, y: usize, centre: [usize; 2]) -> usize {
    x.abs_diff(centre[0]).max(y.abs_diff(centre[1]))
}

/// The modules by their light, each against the threshold that the finders put there; `None` where the code runs out of
/// the picture.
fn sampled(photo: &Photograph, n: usize, place: &Homography) -> Option<Vec<bool>> {
    let light = |x: usize, y: usize| module_light(photo, place, x, y);
    let threshold = threshold(n, light)?;
    modules(n)
        .map(|(x, y)| Some(light(x, y)? < threshold(x, y)))
        .collect()
}

/// The light half way between dark and light at each module: a plane through the half ways of the three finders.
fn threshold(
    n: usize,
    light: impl Fn(usize, usize) -> Option<f64>,
) -> Option<impl Fn(usize, usize) -> f64> {
    let half_way = |left: usize, top: usize| {
        let mut sums = [[0.0, 0.0]; 2];
        for (x, y) in modules(7).map(|(x, y)| (left + x, top + y)) {
            let dark = usize::from(eyes(n, x, y)?);
            sums[dark][0] += light(x, y)?;
            sums[dark][1] += 1.0;
        }
        Some((sums[0][0] / sums[0][1] + sums[1][0] / sums[1][1]) / 2.0)
    };
    let [here, right, below] = [half_way(0, 0)?, half_way(n - 7, 0)?, half_way(0, n - 7)?];
    let span = (n - 7) as f64;
    Some(move |x: usize, y: usize| {
        let (across, down) = ((x as f64 - 3.0) / span, (y as f64 - 3.0) / span);
        here + across * (right - here) + down * (below - here)
    })
}

/// All modules of a square, row by row.
fn modules(n: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..n).flat_map(move |y| (0..n).map(move |x| (x, y)))
}

/// The mean light of the inner part of a module.
fn module_light(photo: &Photograph, place: &Homography, x: usize, y: usize) -> Option<f64> {
    let mut sum = 0.0;
    for (dx, dy) in [(0.5, 0.5), (0.3, 0.3), (0.7, 0.3), (0.3, 0.7), (0.7, 0.7)] {
        sum += light_at(photo, project(place, [x as f64 + dx, y as f64 + dy]))?;
    }
    Some(sum / 5.0)
}
