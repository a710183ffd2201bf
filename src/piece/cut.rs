//! The cheapest cut through a grid of pixels.
//!
//! Augmenting paths along two search trees that are kept from one path to the next: Boykov & Kolmogorov 2004, An
//! experimental comparison of min-cut/max-flow algorithms, doi 10.1109/TPAMI.2004.60. Whole numbers, so that the result
//! is the same on every machine.

use std::collections::VecDeque;

/// Steps to the eight neighbours; the opposite of direction `d` is `d ^ 1`.
pub(super) const STEPS: [(isize, isize); 8] = [
    (1, 0),
    (-1, 0),
    (0, 1),
    (0, -1),
    (1, 1),
    (-1, -1),
    (1, -1),
    (-1, 1),
];

const FREE: u8 = 0;
const SOURCE: u8 = 1;
const SINK: u8 = 2;

const NO_PARENT: u8 = 8;
const TERMINAL: u8 = 9;
const ORPHAN: u8 = 10;

/// A grid of nodes, each tied to its eight neighbours and to a source or a sink.
#[derive(Clone)]
pub(super) struct Grid {
    width: usize,
    height: usize,
    /// Nodes of one row, with a rim of unconnected ones.
    stride: usize,
    offsets: [isize; 8],
    /// What may still flow to each neighbour.
    room: Vec<[i32; 8]>,
    /// What may still flow from the source (positive) or to the sink (negative).
    terminal: Vec<i32>,
    tree: Vec<u8>,
    parent: Vec<u8>,
    stamp: Vec<u32>,
    distance: Vec<u32>,
    active: VecDeque<usize>,
    queued: Vec<bool>,
    orphans: VecDeque<usize>,
    time: u32,
}

impl Grid {
    /// A grid without ties.
    pub(super) fn new(width: usize, height: usize) -> Self {
        let stride = width + 2;
        let nodes = stride * (height + 2);
        Self {
            width,
            height,
            stride,
            offsets: STEPS.map(|(x, y)| x + y * stride as isize),
            room: vec![[0; 8]; nodes],
            terminal: vec![0; nodes],
            tree: vec![FREE; nodes],
            parent: vec![NO_PARENT; nodes],
            stamp: vec![0; nodes],
            distance: vec![0; nodes],
            active: VecDeque::new(),
            queued: vec![false; nodes],
            orphans: VecDeque::new(),
            time: 0,
        }
    }

    fn node(&self, x: usize, y: usize) -> usize {
        (y + 1) * self.stride + x + 1
    }

    /// How much rather pixel (`x`, `y`) is kept (positive) than cut away (negative).
    pub(super) fn prefer(&mut self, x: usize, y: usize, gain: i32) {
        let node = self.node(x, y);
        self.terminal[node] += gain;
    }

    /// What it costs to keep pixel (`x`, `y`) while its neighbour in `direction` is cut away.
    pub(super) fn tie(&mut self, x: usize, y: usize, direction: usize, cost: i32) {
        let (dx, dy) = STEPS[direction];
        let inside = |at: usize, step: isize, end: usize| {
            at.checked_add_signed(step).is_some_and(|to| to < end)
        };
        if inside(x, dx, self.width) && inside(y, dy, self.height) {
            let node = self.node(x, y);
            self.room[node][direction] += cost;
        }
    }

    /// The pixels kept by the cheapest cut, row by row.
    pub(super) fn kept(mut self) -> Vec<bool> {
        self.plant();
        while let Some((node, direction)) = self.grow() {
            self.augment(node, direction);
            self.adopt();
        }
        let mut kept = Vec::with_capacity(self.width * self.height);
        for y in 0..self.height {
            let row = self.node(0, y);
            kept.extend(
                self.tree[row..row + self.width]
                    .iter()
                    .map(|&t| t == SOURCE),
            );
        }
        kept
    }

    fn to(&self, node: usize, direction: usize) -> usize {
        node.wrapping_add_signed(self.offsets[direction])
    }

    fn activate(&mut self, node: usize) {
        if !self.queued[node] {
            self.queued[node] = true;
            self.active.push_back(node);
        }
    }

    fn plant(&mut self) {
        for node in 0..self.terminal.len() {
            if self.terminal[node] != 0 {
                self.tree[node] = if self.terminal[node] > 0 {
                    SOURCE
                } else {
                    SINK
                };
                self.parent[node] = TERMINAL;
                self.distance[node] = 1;
                self.activate(node);
            }
        }
    }

    /// What may flow between `node` and its neighbour in the sense of `node`'s tree.
    fn outward(&self, node: usize, direction: usize) -> i32 {
        if self.tree[node] == SOURCE {
            self.room[node][direction]
        } else {
            self.room[self.to(node, direction)][direction ^ 1]
        }
    }

    /// Grows the trees until they touch: the node on the source's side, and the direction of the one on the sink's.
    fn grow(&mut self) -> Option<(usize, usize)> {
        while let Some(&node) = self.active.front() {
            if self.tree[node] != FREE {
                for direction in 0..8 {
                    if self.outward(node, direction) == 0 {
                        continue;
                    }
                    let next = self.to(node, direction);
                    if self.tree[next] == FREE {
                        self.tree[next] = self.tree[node];
                        self.parent[next] = (direction ^ 1) as u8;
                        self.stamp[next] = self.stamp[node];
                        self.distance[next] = self.distance[node] + 1;
                        self.activate(next);
                    } else if self.tree[next] != self.tree[node] {
                        return Some(if self.tree[node] == SOURCE {
                            (node, direction)
                        } else {
                            (next, direction ^ 1)
                        });
                    } else if self.stamp[next] <= self.stamp[node]
                        && self.distance[next] > self.distance[node]
                    {
                        self.parent[next] = (direction ^ 1) as u8;
                        self.stamp[next] = self.stamp[node];
                        self.distance[next] = self.distance[node] + 1;
                    }
                }
            }
            self.active.pop_front();
            self.queued[node] = false;
        }
        None
    }

    /// Sends what can flow along the path that was found.
    fn augment(&mut self, source_side: usize, direction: usize) {
        let sink_side = self.to(source_side, direction);
        let mut flow = self.room[source_side][direction];
        let mut node = source_side;
        while self.parent[node] != TERMINAL {
            let up = usize::from(self.parent[node]);
            node = self.to(node, up);
            flow = flow.min(self.room[node][up ^ 1]);
        }
        flow = flow.min(self.terminal[node]);
        node = sink_side;
        while self.parent[node] != TERMINAL {
            let up = usize::from(self.parent[node]);
            flow = flow.min(self.room[node][up]);
            node = self.to(node, up);
        }
        flow = flow.min(-self.terminal[node]);

        self.room[source_side][direction] -= flow;
        self.room[sink_side][direction ^ 1] += flow;
        node = source_side;
        while self.parent[node] != TERMINAL {
            let up = usize::from(self.parent[node]);
            let next = self.to(node, up);
            self.room[next][up ^ 1] -= flow;
            self.room[node][up] += flow;
            if self.room[next][up ^ 1] == 0 {
                self.orphan(node);
            }
            node = next;
        }
        self.terminal[node] -= flow;
        if self.terminal[node] == 0 {
            self.orphan(node);
        }
        node = sink_side;
        while self.parent[node] != TERMINAL {
            let up = usize::from(self.parent[node]);
            let next = self.to(node, up);
            self.room[node][up] -= flow;
            self.room[next][up ^ 1] += flow;
            if self.room[node][up] == 0 {
                self.orphan(node);
            }
            node = next;
        }
        self.terminal[node] += flow;
        if self.terminal[node] == 0 {
            self.orphan(node);
        }
    }

    fn orphan(&mut self, node: usize) {
        self.parent[node] = ORPHAN;
        self.orphans.push_front(node);
    }

    /// Finds new parents for the nodes that lost theirs, or sets them free.
    fn adopt(&mut self) {
        self.time += 1;
        while let Some(node) = self.orphans.pop_front() {
            let mut best: Option<(u32, usize)> = None;
            for direction in 0..8 {
                let next = self.to(node, direction);
                if self.tree[next] != self.tree[node] || self.inward(node, direction) == 0 {
                    continue;
                }
                if let Some(far) = self.rooted(next)
                    && best.is_none_or(|(least, _)| far < least)
                {
                    best = Some((far, direction));
                }
            }
            if let Some((far, direction)) = best {
                self.parent[node] = direction as u8;
                self.stamp[node] = self.time;
                self.distance[node] = far + 1;
            } else {
                self.release(node);
            }
        }
    }

    /// What may flow from the neighbour to `node` in the sense of `node`'s tree.
    fn inward(&self, node: usize, direction: usize) -> i32 {
        if self.tree[node] == SOURCE {
            self.room[self.to(node, direction)][direction ^ 1]
        } else {
            self.room[node][direction]
        }
    }

    /// The distance of `node` to its terminal; `None` where its branch hangs on an orphan.
    fn rooted(&mut self, node: usize) -> Option<u32> {
        let (mut at, mut steps) = (node, 0);
        let total = loop {
            if self.stamp[at] == self.time {
                break steps + self.distance[at];
            }
            match self.parent[at] {
                TERMINAL => {
                    self.stamp[at] = self.time;
                    self.distance[at] = 1;
                    break steps + 1;
                }
                ORPHAN | NO_PARENT => return None,
                up => {
                    at = self.to(at, usize::from(up));
                    steps += 1;
                }
            }
        };
        let (mut at, mut left) = (node, total);
        while self.stamp[at] != self.time {
            self.stamp[at] = self.time;
            self.distance[at] = left;
            left -= 1;
            at = self.to(at, usize::from(self.parent[at]));
        }
        Some(total)
    }

    fn release(&mut self, node: usize) {
        for direction in 0..8 {
            let next = self.to(node, direction);
            if self.tree[next] != self.tree[node] {
                continue;
            }
            if self.inward(node, direction) > 0 {
                self.activate(next);
            }
            if self.parent[next] < NO_PARENT
                && self.to(next, usize::from(self.parent[next])) == node
            {
                self.parent[next] = ORPHAN;
                self.orphans.push_back(next);
            }
        }
        self.tree[node] = FREE;
        self.parent[node] = NO_PARENT;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The cost of keeping `kept`, counted from the definition.
    fn cost(gains: &[i32], ties: &[[i32; 8]], width: usize, kept: u32) -> i32 {
        let keeps = |i: usize| kept >> i & 1 == 1;
        let mut total = 0;
        for i in 0..gains.len() {
            let lost = if keeps(i) { -gains[i] } else { gains[i] };
            total += lost.max(0);
            let (x, y) = (i % width, i / width);
            for (direction, (dx, dy)) in STEPS.into_iter().enumerate() {
                let (to_x, to_y) = (x as isize + dx, y as isize + dy);
                let inside = to_x >= 0
                    && to_y >= 0
                    && (to_x as usize) < width
                    && (to_y as usize) < gains.len() / width;
                if inside && keeps(i) && !keeps(to_y as usize * width + to_x as usize) {
                    total += ties[i][direction];
                }
            }
        }
        total
    }

    /// No cut of a small grid is cheaper than the one found: all 65536 are tried.
    #[test]
    fn no_other_cut_is_cheaper() {
        let (width, height) = (4, 4);
        let mut state = 1u64;
        let mut next = |end: u64| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            ((state >> 33) % end) as i32
        };
        for _ in 0..12 {
            let gains: Vec<i32> = (0..16).map(|_| next(41) - 20).collect();
            let ties: Vec<[i32; 8]> = (0..16).map(|_| [(); 8].map(|()| next(9))).collect();
            let mut grid = Grid::new(width, height);
            for i in 0..16 {
                grid.prefer(i % width, i / width, gains[i]);
                for (direction, &tie) in ties[i].iter().enumerate() {
                    grid.tie(i % width, i / width, direction, tie);
                }
            }
            let kept = grid
                .kept()
                .iter()
                .enumerate()
                .fold(0, |bits, (i, &k)| bits | u32::from(k) << i);
            let least = (0..1 << 16)
                .map(|other| cost(&gains, &ties, width, other))
                .min();
            assert_eq!(Some(cost(&gains, &ties, width, kept)), least);
        }
    }
}
