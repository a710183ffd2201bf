//! Groups of like colours in a histogram.

use crate::colour::{Lab, de00};

/// A cell of the histogram: the mean of the pixels in it, and how many they are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Point {
    pub(super) lab: Lab,
    pub(super) weight: f64,
}

/// A colour: its mean, and how far its pixels lie from it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Group {
    pub(super) mean: Lab,
    pub(super) weight: f64,
    /// The mean CIEDE2000 of its pixels from the mean.
    pub(super) spread: f64,
}

/// The side of a cell of the histogram, units of CIELAB.
const CELL: f64 = 1.0;
/// Groups to begin with.
const SEEDS: usize = 32;
/// Turns of k-means.
const TURNS: usize = 12;

/// Colours farther apart than this are two, whatever lies between, in units of CIELAB.
const FAR: f64 = 18.0;
/// Pixels are spread over this part of the way between two groups before a valley is looked for.
const BLUR: f64 = 0.1;
/// A valley is where there is less than this part of the lower of the two peaks. Lower, and near greys of a cloth become one;
/// higher, and folds part a colour.
const VALLEY: f64 = 0.78;

/// The histogram of colours, cell by cell.
pub(super) fn histogram(colours: &[Lab]) -> Vec<Point> {
    // One number holds a colour's cell and then its place, so that sorting puts cells together and keeps their order.
    let mut sorted: Vec<u64> = colours.iter().zip(0..).map(|(c, i)| cell(*c) | i).collect();
    sorted.sort_unstable();
    sorted
        .chunk_by(|one, other| one >> PLACE_BITS == other >> PLACE_BITS)
        .map(|cell| {
            let place = |key: &u64| (key & ((1 << PLACE_BITS) - 1)) as usize;
            let sum = cell.iter().fold(Lab::new(0.0, 0.0, 0.0), |sum, key| {
                sum + colours[place(key)]
            });
            let weight = cell.len() as f64;
            Point {
                lab: sum / weight,
                weight,
            }
        })
        .collect()
}

/// Bits for a colour's place; those above are for its cell, ten for each coordinate.
const PLACE_BITS: u32 = 34;

fn cell(lab: Lab) -> u64 {
    [lab.l, lab.a, lab.b].into_iter().fold(0, |key, value| {
        let step = (value / CELL).floor().clamp(-512.0, 511.0) + 512.0;
        key << 10 | step as u64
    }) << PLACE_BITS
}

/// The colours of a histogram, `most` at most; nearer than `near` (CIEDE2000) they are one.
pub(super) fn found(points: &[Point], most: usize, near: f64) -> Vec<Group> {
    let mut groups = split(points);
    let places = Places::of(points);
    let mut of = settle(points, &places, &mut groups);
    while let Some((one, other)) = joinable(points, &of, &groups, most, near) {
        let gone = groups.swap_remove(other);
        groups[one] = joined(groups[one], gone);
        of = settle(points, &places, &mut groups);
    }
    let mut spreads = vec![0.0; groups.len()];
    for (point, &at) in points.iter().zip(&of) {
        spreads[at] += point.weight * de00(groups[at].mean, point.lab);
    }
    for (group, spread) in groups.iter_mut().zip(spreads) {
        group.spread = spread / group.weight;
    }
    groups
}

/// The index of the group whose mean is nearest.
pub(super) fn nearest(groups: &[Group], lab: Lab) -> usize {
    (0..groups.len())
        .min_by(|&i, &j| apart(groups[i].mean, lab).total_cmp(&apart(groups[j].mean, lab)))
        .unwrap_or(0)
}

fn apart(one: Lab, other: Lab) -> f64 {
    (one.l - other.l).powi(2) + (one.a - other.a).powi(2) + (one.b - other.b).powi(2)
}

fn joined(one: Group, other: Group) -> Group {
    let weight = one.weight + other.weight;
    Group {
        mean: (one.mean * one.weight + other.mean * other.weight) / weight,
        weight,
        spread: one.spread,
    }
}

/// Groups by splitting the widest along its widest coordinate, again and again.
fn split(points: &[Point]) -> Vec<Group> {
    let mut boxes = vec![points.to_vec()];
    while boxes.len() < SEEDS {
        let widest = boxes
            .iter()
            .enumerate()
            .map(|(i, b)| (i, widest(b)))
            .max_by(|a, b| a.1.1.total_cmp(&b.1.1));
        let Some((index, (axis, spread, middle))) = widest else {
            break;
        };
        if spread < 1e-6 {
            break;
        }
        let points = boxes.swap_remove(index);
        let (low, high): (Vec<_>, Vec<_>) = points
            .into_iter()
            .partition(|p| coordinate(p.lab, axis) <= middle);
        boxes.extend([low, high]);
    }
    boxes.iter().filter_map(|b| group(b)).collect()
}

fn coordinate(lab: Lab, axis: usize) -> f64 {
    [lab.l, lab.a, lab.b][axis]
}

/// The coordinate in which points spread most: its index, the sum of squares, the mean.
fn widest(points: &[Point]) -> (usize, f64, f64) {
    let total: f64 = points.iter().map(|p| p.weight).sum();
    (0..3)
        .map(|axis| {
            let mean = points
                .iter()
                .map(|p| p.weight * coordinate(p.lab, axis))
                .sum::<f64>()
                / total;
            let squares: f64 = points
                .iter()
                .map(|p| p.weight * (coordinate(p.lab, axis) - mean).powi(2))
                .sum();
            (axis, squares, mean)
        })
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .unwrap_or((0, 0.0, 0.0))
}

fn group(points: &[Point]) -> Option<Group> {
    Some(Group {
        mean: crate::colour::mean(points.iter().map(|p| (p.lab, p.weight)))?,
        weight: points.iter().map(|p| p.weight).sum(),
        spread: 0.0,
    })
}

/// The points' coordinates side by side, so that several are compared at once.
struct Places([Vec<f32>; 3]);

impl Places {
    fn of(points: &[Point]) -> Self {
        Self([0, 1, 2].map(|axis| {
            points
                .iter()
                .map(|p| coordinate(p.lab, axis) as f32)
                .collect()
        }))
    }

    /// The index of the nearest group for each.
    fn nearest(&self, groups: &[Group]) -> Vec<usize> {
        let [l, a, b] = &self.0;
        let mut least = vec![f32::MAX; l.len()];
        let mut of = vec![0u32; l.len()];
        for (number, group) in (0..).zip(groups) {
            let mean = [group.mean.l, group.mean.a, group.mean.b].map(|v| v as f32);
            let places = l.iter().zip(a).zip(b);
            for ((least, of), ((l, a), b)) in least.iter_mut().zip(&mut of).zip(places) {
                let square = (l - mean[0]).powi(2) + (a - mean[1]).powi(2) + (b - mean[2]).powi(2);
                let nearer = square < *least;
                *of = if nearer { number } else { *of };
                *least = if nearer { square } else { *least };
            }
        }
        of.into_iter().map(|number| number as usize).collect()
    }
}

/// K-means until nothing moves much; the group of each point.
fn settle(points: &[Point], places: &Places, groups: &mut Vec<Group>) -> Vec<usize> {
    for _ in 0..TURNS {
        let of = places.nearest(groups);
        let mut sums = vec![(Lab::new(0.0, 0.0, 0.0), 0.0); groups.len()];
        for (point, &at) in points.iter().zip(&of) {
            sums[at].0 += point.lab * point.weight;
            sums[at].1 += point.weight;
        }
        let mut still = true;
        for (group, (sum, weight)) in groups.iter_mut().zip(sums) {
            group.weight = weight;
            if weight > 0.0 {
                still &= apart(group.mean, sum / weight) < 1e-3;
                group.mean = sum / weight;
            }
        }
        if groups.iter().any(|g| g.weight == 0.0) {
            groups.retain(|g| g.weight > 0.0);
        } else if still {
            return of;
        }
    }
    places.nearest(groups)
}

/// The nearest two groups that are one colour.
fn joinable(
    points: &[Point],
    of: &[usize],
    groups: &[Group],
    most: usize,
    near: f64,
) -> Option<(usize, usize)> {
    let mut pairs = Vec::new();
    for j in 1..groups.len() {
        for i in 0..j {
            pairs.push((apart(groups[i].mean, groups[j].mean), i, j));
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    if groups.len() > most {
        return pairs.first().map(|&(_, i, j)| (i, j));
    }
    let mut members = vec![Vec::new(); groups.len()];
    for (point, &at) in points.iter().zip(of) {
        members[at].push(*point);
    }
    pairs
        .into_iter()
        .take_while(|p| p.0 < FAR * FAR)
        .find(|&(_, i, j)| {
            de00(groups[i].mean, groups[j].mean) < near || !valley(groups, &members, i, j)
        })
        .map(|(_, i, j)| (i, j))
}

/// Whether fewer pixels lie between two groups than at either.
fn valley(groups: &[Group], members: &[Vec<Point>], i: usize, j: usize) -> bool {
    let (one, other) = (groups[i].mean, groups[j].mean);
    let way = other - one;
    let apart = (way.l * way.l + way.a * way.a + way.b * way.b).sqrt();
    let width = (BLUR * apart).max(CELL);
    let step = apart / 10.0 / width;
    let mut along = [0.0; 11];
    for point in members[i].iter().chain(&members[j]) {
        let from = point.lab - one;
        let place = (from.l * way.l + from.a * way.a + from.b * way.b) / apart / width;
        // Normal densities at even steps: from each to the next by a ratio that itself changes by a constant ratio.
        let mut density = point.weight * (-0.5 * place * place).exp();
        let mut ratio = (place * step - 0.5 * step * step).exp();
        let fall = (-step * step).exp();
        for sum in &mut along {
            *sum += density;
            density *= ratio;
            ratio *= fall;
        }
    }
    let peak = |densities: &[f64]| densities.iter().copied().fold(0.0, f64::max);
    let low = peak(&along[..5]).min(peak(&along[6..]));
    let least = along[2..9].iter().copied().fold(f64::MAX, f64::min);
    least < VALLEY * low
}
