//! Finders: the three square eyes of a QR code, dark-light-dark-light-dark as 1:1:3:1:1 along any line through the middle
//! (ISO/IEC 18004).

use crate::picture::Picture;

/// How much the grey must turn back before a light or dark run is believed, of 255: above noise, below a blurred gap.
const TURN: u8 = 14;

/// How far a run may be from its share of the pattern, in modules for the thin ones; the middle may be off twice as far.
const SLACK: f32 = 0.65;

/// The most finders that are looked at in one picture, those seen on most lines first.
const MOST: usize = 60;

/// A finder's middle and the size of its modules, in pixels of the searched picture.
#[derive(Clone, Copy, Debug)]
pub(super) struct Finder {
    pub at: [f64; 2],
    /// Pixels to a module along rows and columns, which is more than along the code's own sides when it is turned.
    pub module: f64,
    lines: f64,
}

/// The finders in a picture, those seen on most lines first.
///
/// Every other line is searched, and those in between only beside a find: the middle of a finder is three modules high.
pub(super) fn finders(grey: &Picture<u8>) -> Vec<Finder> {
    let mut all: Vec<Finder> = Vec::new();
    let mut between = None;
    for y in (1..grey.height).step_by(2) {
        if search(grey, y, &mut all) {
            if between != Some(y - 1) {
                search(grey, y - 1, &mut all);
            }
            if y + 1 < grey.height {
                search(grey, y + 1, &mut all);
                between = Some(y + 1);
            }
        }
    }
    all.retain(|f| f.lines > 1.0);
    all.sort_by(|a, b| b.lines.total_cmp(&a.lines));
    all.truncate(MOST);
    all
}

/// Adds the finders that show on a line; whether there were any.
fn search(grey: &Picture<u8>, y: usize, all: &mut Vec<Finder>) -> bool {
    let row = &grey.pixels[y * grey.width..(y + 1) * grey.width];
    let mut any = false;
    for (x, _) in patterns(&edges(row.len(), |x| row[x])) {
        let Some(seen) = crossed(grey, x, y as f32 + 0.5) else {
            continue;
        };
        any = true;
        match all.iter_mut().find(|f| f.near(&seen)) {
            Some(finder) => finder.join(&seen),
            None => all.push(seen),
        }
    }
    any
}

impl Finder {
    fn near(&self, other: &Self) -> bool {
        let [dx, dy] = [0, 1].map(|i| self.at[i] - other.at[i]);
        let ratio = self.module / other.module;
        dx.hypot(dy) < 2.0 * self.module && (0.6..1.7).contains(&ratio)
    }

    /// The mean of all lines on which it was seen.
    fn join(&mut self, other: &Self) {
        let part = 1.0 / (self.lines + 1.0);
        for i in 0..2 {
            self.at[i] += part * (other.at[i] - self.at[i]);
        }
        self.module += part * (other.module - self.module);
        self.lines += 1.0;
    }
}

/// A finder through which a row has just passed at (x, y), if the column there, and the row through the column's middle,
/// show it too.
fn crossed(grey: &Picture<u8>, x: f32, y: f32) -> Option<Finder> {
    let column = (x as usize).min(grey.width - 1);
    let (middle, tall) = through(grey.height, y, |at| *grey.at(column, at))?;
    let row = (middle as usize).min(grey.height - 1);
    let (centre, wide) = through(grey.width, x, |at| *grey.at(at, row))?;
    let even = (0.5..2.0).contains(&(tall / wide));
    even.then(|| Finder {
        at: [f64::from(centre), f64::from(middle)],
        module: f64::from(tall + wide) / 2.0,
        lines: 1.0,
    })
}

/// The pattern whose middle run holds `at`, on the line around it.
fn through(length: usize, at: f32, line: impl Fn(usize) -> u8) -> Option<(f32, f32)> {
    // Finders are at most a few hundred pixels wide at the sizes searched.
    const REACH: usize = 240;
    let first = (at as usize).saturating_sub(REACH);
    let end = (at as usize + REACH).min(length);
    let edges = edges(end - first, |i| line(first + i));
    patterns(&edges)
        .map(|(middle, module)| (middle + first as f32, module))
        .find(|(middle, module)| (middle - at).abs() < 1.5 * module)
}

/// An edge of a line: where, and whether it turns dark there.
struct Edge {
    at: f32,
    darker: bool,
}

/// Where a line passes half way between one extreme and the next. Half way moves with light and blur, where a fixed
/// threshold would fill thin gaps.
fn edges(length: usize, line: impl Fn(usize) -> u8) -> Vec<Edge> {
    let mut edges = Vec::new();
    if length == 0 {
        return edges;
    }
    let (mut last, mut extreme) = ((0, line(0)), (0, line(0)));
    let mut rising = None;
    for i in 1..length {
        let value = line(i);
        let further = match rising {
            Some(true) => value >= extreme.1,
            Some(false) => value <= extreme.1,
            None => false,
        };
        if further {
            extreme = (i, value);
        } else if value.abs_diff(extreme.1) > TURN {
            if let Some(rising) = rising {
                edges.push(half_way(&line, last, extreme, !rising));
            }
            last = extreme;
            rising = Some(value > extreme.1);
            extreme = (i, value);
        }
    }
    if let Some(rising) = rising {
        edges.push(half_way(&line, last, extreme, !rising));
    }
    edges
}

fn half_way(line: impl Fn(usize) -> u8, from: (usize, u8), to: (usize, u8), darker: bool) -> Edge {
    let line = |i: usize| f32::from(line(i));
    let half = (f32::from(from.1) + f32::from(to.1)) / 2.0;
    let past = |i: &usize| (line(*i) < half) == darker;
    let next = (from.0 + 1..=to.0).find(past).unwrap_or(to.0);
    let (a, b) = (line(next - 1), line(next));
    let share = if a == b { 0.5 } else { (half - a) / (b - a) };
    Edge {
        at: next as f32 - 0.5 + share,
        darker,
    }
}

/// The middles and module sizes of all 1:1:3:1:1 patterns that begin dark.
fn patterns(edges: &[Edge]) -> impl Iterator<Item = (f32, f32)> + '_ {
    edges.windows(6).filter(|w| w[0].darker).filter_map(|w| {
        let module = (w[5].at - w[0].at) / 7.0;
        let fits = [1.0, 1.0, 3.0, 1.0, 1.0]
            .iter()
            .enumerate()
            .all(|(i, share)| {
                let slack = if *share > 1.0 { 2.0 * SLACK } else { SLACK };
                (w[i + 1].at - w[i].at - share * module).abs() < slack * module
            });
        (fits && module > 0.8).then_some(((w[2].at + w[3].at) / 2.0, module))
    })
}
