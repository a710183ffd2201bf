//! The white and black of one tag, sampled where neither edges nor blur reach.

use super::tone::Triple;
use crate::picture::Photograph;
use crate::tag::{QUIET_ZONE, Sighting};

/// Points across the inner third of a module at which the photo is read, each way.
const POINTS: usize = 5;

/// Linear light, 0 to 1, from which a channel counts as being at the top of its range (sample 253 of 255 in sRGB).
const TOP: f64 = 0.982;

/// The fewest modules of each kind that make a sample.
const FEWEST: usize = 3;

/// One module of a tag.
#[derive(Clone, Copy, Debug)]
pub(super) struct Module {
    /// Its middle, in pixels of the upright photo.
    pub place: [f64; 2],
    /// Its mean linear light as photographed.
    pub light: Triple,
}

/// One tag as the photo shows it, in linear light as photographed.
#[derive(Clone, Debug)]
pub(super) struct Sample {
    /// The median of the white modules.
    pub white: Triple,
    /// The median of the black modules.
    pub black: Triple,
    /// All white modules.
    pub whites: Vec<Module>,
    /// The black modules that were used.
    pub blacks: Vec<Module>,
    /// Which channels of the white are at the top of their range in more than a third of the modules.
    pub clipped: [bool; 3],
    /// By how much the lightest side of the quiet zone outshines the darkest: 0.1 is a tenth.
    pub uneven: f64,
    /// The shorter side of a module in pixels.
    pub module: f64,
    /// The shorter side of a module by its longer: 1 is seen straight on, 0 edgewise.
    pub facing: f64,
}

impl Sample {
    /// The middle of its white modules, in pixels of the upright photo.
    pub fn middle(&self) -> [f64; 2] {
        let count = self.whites.len().max(1) as f64;
        [0, 1].map(|axis| self.whites.iter().map(|m| m.place[axis]).sum::<f64>() / count)
    }

    /// The white and black of a tag; `None` where too little of it is in the picture or its ink is not darker than its
    /// paper.
    pub fn take(photo: &Photograph, tag: &Sighting) -> Option<Self> {
        let quiet = quiet_zone(tag.modules);
        let sides = quiet.map(|side| read(photo, tag, &side));
        let mut whites: Vec<Module> = sides.iter().flatten().copied().collect();
        whites.extend(read(photo, tag, &inside(tag, false)));
        let blacks = read(photo, tag, &inside(tag, true));
        if whites.len() < FEWEST || blacks.len() < FEWEST {
            return None;
        }
        let (white, black) = (median(&whites), median(&blacks));
        let (module, facing) = module_size(tag);
        let parted = (0..3).all(|c| black[c] < 0.6 * white[c] && white[c] > 0.01);
        parted.then(|| Self {
            white,
            black,
            clipped: [0, 1, 2]
                .map(|c| 3 * whites.iter().filter(|w| w.light[c] >= TOP).count() > whites.len()),
            uneven: unevenness(&sides),
            module,
            facing,
            whites,
            blacks,
        })
    }
}

/// The middles of the quiet zone's two inner rings, side by side: above, right, below, left.
fn quiet_zone(modules: usize) -> [Vec<[f64; 2]>; 4] {
    let end = modules as f64;
    let depths = [0.375 * QUIET_ZONE, 0.625 * QUIET_ZONE];
    let along = |place: fn(f64, f64, f64) -> [f64; 2]| {
        let middles = (0..modules).map(|m| m as f64 + 0.5);
        middles
            .flat_map(|m| depths.map(|d| place(m, d, end)))
            .collect()
    };
    [
        along(|m, d, _| [m, -d]),
        along(|m, d, end| [end + d, m]),
        along(|m, d, end| [m, end + d]),
        along(|m, d, _| [-d, m]),
    ]
}

/// The middles of the modules of one kind that have most neighbours of their kind, since light bleeds over edges: those
/// with all eight, and where these are fewer than twelve, the next best.
fn inside(tag: &Sighting, dark: bool) -> Vec<[f64; 2]> {
    let side = tag.modules as isize;
    let is_dark = |x: isize, y: isize| {
        let within = (0..side).contains(&x) && (0..side).contains(&y);
        within && tag.dark.get((y * side + x) as usize) == Some(&true)
    };
    let around = |x: isize, y: isize| {
        let square = (y - 1..=y + 1).flat_map(move |v| (x - 1..=x + 1).map(move |u| (u, v)));
        square.filter(|&(u, v)| is_dark(u, v) == dark).count()
    };
    let mut ranked: Vec<(usize, [f64; 2])> = (0..side)
        .flat_map(|y| (0..side).map(move |x| (x, y)))
        .filter(|&(x, y)| is_dark(x, y) == dark)
        .map(|(x, y)| (around(x, y), [x as f64 + 0.5, y as f64 + 0.5]))
        .collect();
    ranked.sort_by_key(|&(alike, _)| std::cmp::Reverse(alike));
    let whole = ranked.iter().take_while(|(alike, _)| *alike == 9).count();
    let taken = if whole >= FEWEST {
        whole
    } else {
        12.min(ranked.len())
    };
    ranked[..taken].iter().map(|&(_, middle)| middle).collect()
}

/// The mean linear light over the inner third of each module; modules that are not wholly in the picture are left out.
fn read(photo: &Photograph, tag: &Sighting, middles: &[[f64; 2]]) -> Vec<Module> {
    middles
        .iter()
        .filter_map(|&middle| {
            let light = module_mean(photo, tag, middle)?;
            let place = tag.point(middle[0], middle[1]);
            Some(Module { place, light })
        })
        .collect()
}

fn module_mean(photo: &Photograph, tag: &Sighting, [across, down]: [f64; 2]) -> Option<Triple> {
    let step = |n: usize| (n as f64 / (POINTS - 1) as f64 - 0.5) / 3.0;
    let mut sum = [0.0; 3];
    for n in 0..POINTS * POINTS {
        let [x, y] = tag.point(across + step(n % POINTS), down + step(n / POINTS));
        let held =
            (0.0..photo.width as f64).contains(&x) && (0.0..photo.height as f64).contains(&y);
        if !held {
            return None;
        }
        let seen = photo.linear(x as usize, y as usize).array();
        for channel in 0..3 {
            sum[channel] += seen[channel] / (POINTS * POINTS) as f64;
        }
    }
    Some(sum)
}

/// The median of each channel; 0 of nothing.
fn median(modules: &[Module]) -> Triple {
    [0, 1, 2].map(|channel| {
        let mut sorted: Vec<f64> = modules.iter().map(|m| m.light[channel]).collect();
        sorted.sort_by(f64::total_cmp);
        let (low, high) = (sorted.len().saturating_sub(1) / 2, sorted.len() / 2);
        sorted
            .get(low)
            .zip(sorted.get(high))
            .map_or(0.0, |(a, b)| (a + b) / 2.0)
    })
}

fn unevenness(sides: &[Vec<Module>; 4]) -> f64 {
    let lights = sides.iter().filter(|side| side.len() >= FEWEST);
    let lights: Vec<f64> = lights.map(|side| median(side).iter().sum()).collect();
    let most = lights.iter().copied().fold(0.0, f64::max);
    let least = lights.iter().copied().fold(f64::INFINITY, f64::min);
    if least > 0.0 && least.is_finite() {
        most / least - 1.0
    } else {
        0.0
    }
}

/// The shorter side of a module in the middle of the tag, in pixels, and that by the longer: the singular values of the
/// map from modules to pixels.
fn module_size(tag: &Sighting) -> (f64, f64) {
    let middle = tag.modules as f64 / 2.0;
    let [x, y] = tag.point(middle, middle);
    let away = |p: [f64; 2]| [p[0] - x, p[1] - y];
    let (a, b) = (
        away(tag.point(middle + 1.0, middle)),
        away(tag.point(middle, middle + 1.0)),
    );
    let squares = a[0] * a[0] + a[1] * a[1] + b[0] * b[0] + b[1] * b[1];
    let area = (a[0] * b[1] - a[1] * b[0]).abs();
    let (sum, gap) = (
        (squares + 2.0 * area).sqrt(),
        (squares - 2.0 * area).max(0.0).sqrt(),
    );
    ((sum - gap) / 2.0, (sum - gap) / (sum + gap))
}
