//! Regions that lie in rows and columns.

use super::flat::Region;
use super::homography::Homography;
use std::collections::{BTreeMap, VecDeque};

/// A cell of a lattice: column and row, from any beginning.
pub(super) type Cell = [i32; 2];

/// Regions in rows and columns, as a picture of them from above would have: rows run to the right of columns, never mirrored.
#[derive(Clone, Debug)]
pub(super) struct Lattice {
    /// The region in each cell, by its number.
    pub cells: BTreeMap<Cell, usize>,
    /// From cells to the picture's pixels.
    pub to_picture: Homography,
}

/// How far a neighbour may lie, in sides of the region: gaps are narrower than patches are wide.
const NEIGHBOUR: std::ops::Range<f64> = 0.75..2.4;
/// How far a region may be from where its neighbours foretell it, by the distance to the next.
const OFF: f64 = 0.22;
/// The same for all of a lattice together.
const OFF_TOGETHER: f64 = 0.12;
/// Neighbours that are tried as the first column and row.
const TRIED: usize = 8;
/// How far the step along a column may lean over the one along a row, by the square of the shorter: below half, or a diagonal
/// would be shorter than they are.
const LEANS: f64 = 0.55;
/// How much larger or smaller a neighbour may be.
const ALIKE: f64 = 1.7;

/// All regions, sorted into squares so that those near a point are found at once.
struct Near<'a> {
    regions: &'a [Region],
    squares: BTreeMap<[i32; 2], Vec<usize>>,
    reach: f64,
}

impl<'a> Near<'a> {
    fn new(regions: &'a [Region]) -> Self {
        let reach = 40.0;
        let mut squares: BTreeMap<[i32; 2], Vec<usize>> = BTreeMap::new();
        for (number, region) in regions.iter().enumerate() {
            let square = region.middle.map(|p| (p / reach) as i32);
            squares.entry(square).or_default().push(number);
        }
        Self {
            regions,
            squares,
            reach,
        }
    }

    /// Regions whose middle is within `far` of a point, with their distance, nearest first.
    fn within(&self, point: [f64; 2], far: f64) -> Vec<(f64, usize)> {
        let [low, high] = [-far, far].map(|d| point.map(|p| ((p + d) / self.reach).floor() as i32));
        let mut found = Vec::new();
        for y in low[1]..=high[1] {
            for numbers in self
                .squares
                .range([low[0], y]..=[high[0], y])
                .filter(|(s, _)| s[1] == y)
                .map(|(_, n)| n)
            {
                for &number in numbers {
                    let distance = length(minus(self.regions[number].middle, point));
                    if distance <= far {
                        found.push((distance, number));
                    }
                }
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        found
    }

    /// The region of such a side nearest to where one is foretold.
    fn foretold(&self, point: [f64; 2], step: [f64; 2], side: f64) -> Option<usize> {
        let near = self.within(point, OFF * length(step));
        near.into_iter()
            .map(|(_, n)| n)
            .find(|&n| alike(self.regions[n].side, side))
    }
}

/// The lattices of at least `least` regions, largest first.
pub(super) fn lattices(regions: &[Region], least: usize) -> Vec<Lattice> {
    let near = Near::new(regions);
    let mut used = vec![false; regions.len()];
    let mut found = Vec::new();
    for seed in 0..regions.len() {
        if used[seed] {
            continue;
        }
        let grown = bases(&near, seed)
            .into_iter()
            .map(|basis| grow(&near, seed, basis));
        let Some(cells) = grown
            .max_by_key(BTreeMap::len)
            .filter(|cells| cells.len() >= least)
        else {
            continue;
        };
        cells.values().for_each(|&n| used[n] = true);
        found.extend(Lattice::fitted(regions, cells).filter(|l| l.cells.len() >= least));
    }
    found.sort_by_key(|lattice| std::cmp::Reverse(lattice.cells.len()));
    found
}

/// Pairs of steps from a region to its neighbours that can be a column and a row.
fn bases(near: &Near, seed: usize) -> Vec<[[f64; 2]; 2]> {
    let region = &near.regions[seed];
    let around = near.within(region.middle, NEIGHBOUR.end * region.side);
    let steps: Vec<[f64; 2]> = around
        .into_iter()
        .filter(|&(far, n)| {
            far > NEIGHBOUR.start * region.side && alike(near.regions[n].side, region.side)
        })
        .map(|(_, n)| minus(near.regions[n].middle, region.middle))
        .take(TRIED)
        .collect();
    let mut bases = Vec::new();
    for &across in &steps {
        for &down in &steps {
            let turn =
                (across[0] * down[1] - across[1] * down[0]) / (length(across) * length(down));
            let corner = [0, 1].map(|i| region.middle[i] + across[i] + down[i]);
            // Upright and not mirrored, and one quarter of the turns only: the rest is the same lattice. A sheared pair would
            // hold the same regions in other cells: of steps along rows and columns neither leans far over the other.
            let leans = (across[0] * down[0] + across[1] * down[1]).abs();
            let straight = leans < LEANS * length(across).min(length(down)).powi(2);
            let upright =
                turn > 0.6 && straight && across[0] > 0.0 && across[0] >= across[1].abs() - 1e-9;
            if upright && near.foretold(corner, across, region.side).is_some() {
                bases.push([across, down]);
            }
        }
    }
    bases
}

/// Goes from neighbour to neighbour as long as there is one where it is foretold.
fn grow(near: &Near, seed: usize, basis: [[f64; 2]; 2]) -> BTreeMap<Cell, usize> {
    let mut cells = BTreeMap::from([([0, 0], seed)]);
    let mut taken = vec![seed];
    let mut queue = VecDeque::from([([0, 0], seed, basis)]);
    while let Some((cell, number, basis)) = queue.pop_front() {
        let region = &near.regions[number];
        for (axis, sign) in [(0, 1), (1, 1), (0, -1), (1, -1)] {
            let mut next: Cell = cell;
            next[axis] += sign;
            if cells.contains_key(&next) || next.iter().any(|c| c.abs() > 64) {
                continue;
            }
            let step = basis[axis].map(|s| s * f64::from(sign));
            let there = [region.middle[0] + step[0], region.middle[1] + step[1]];
            let Some(other) = near
                .foretold(there, step, region.side)
                .filter(|n| !taken.contains(n))
            else {
                continue;
            };
            let seen = minus(near.regions[other].middle, region.middle);
            let mut turned = basis;
            turned[axis] = [0, 1].map(|i| (basis[axis][i] + f64::from(sign) * seen[i]) / 2.0);
            cells.insert(next, other);
            taken.push(other);
            queue.push_back((next, other, turned));
        }
    }
    cells
}

impl Lattice {
    /// The map that leads cells to the middles of their regions; those that do not fit are dropped one by one.
    fn fitted(regions: &[Region], mut cells: BTreeMap<Cell, usize>) -> Option<Self> {
        loop {
            let pairs: Vec<_> = cells
                .iter()
                .map(|(c, &n)| (c.map(f64::from), regions[n].middle))
                .collect();
            let to_picture = Homography::fitted(&pairs)?;
            let off = |cell: &Cell, number: usize| {
                let place = cell.map(f64::from);
                let here = to_picture.at(place);
                let next = to_picture.at([place[0] + 1.0, place[1]]);
                let below = to_picture.at([place[0], place[1] + 1.0]);
                let pitch = length(minus(next, here)).min(length(minus(below, here)));
                length(minus(regions[number].middle, here)) / pitch
            };
            let worst = cells
                .iter()
                .map(|(cell, &n)| (off(cell, n), *cell))
                .max_by(|a, b| a.0.total_cmp(&b.0))?;
            if worst.0 <= OFF_TOGETHER {
                return Some(Self { cells, to_picture });
            }
            cells.remove(&worst.1);
        }
    }
}

fn alike(one: f64, other: f64) -> bool {
    one < ALIKE * other && other < ALIKE * one
}

fn minus(a: [f64; 2], b: [f64; 2]) -> [f64; 2] {
    [a[0] - b[0], a[1] - b[1]]
}

fn length([x, y]: [f64; 2]) -> f64 {
    x.hypot(y)
}
