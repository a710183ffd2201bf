//! Fitting a code's place to the edges of its modules, to a fraction of a pixel.

use crate::picture::Photograph;
use nalgebra::{SMatrix, SVector};

/// Samples across an edge, from the middle of one module to the middle of the next.
const ACROSS: usize = 12;

/// Where along an edge it is looked at, in modules from its middle.
const ALONG: [f64; 3] = [-0.25, 0.0, 0.25];

/// How far an edge may lie from where the fit puts it before it counts half, in modules.
const HALF_WEIGHT: f64 = 0.05;

/// How often edges are measured and the place fitted again, at most.
const ROUNDS: usize = 6;

/// A fit that moves no corner farther than this is done, in pixels.
const STILL: f64 = 0.02;

/// From modules to pixels of the photo: row by row, last entry 1.
pub(super) type Homography = [[f64; 3]; 3];

/// Where a homography takes a point.
pub(super) fn project(h: &Homography, [u, v]: [f64; 2]) -> [f64; 2] {
    let row = |r: usize| h[r][0] * u + h[r][1] * v + h[r][2];
    [row(0) / row(2), row(1) / row(2)]
}

/// The homography that leads back; `None` where there is none.
pub(super) fn inverse(h: &Homography) -> Option<Homography> {
    let back = SMatrix::<f64, 3, 3>::from_fn(|r, c| h[r][c]).try_inverse()?;
    Some([0, 1, 2].map(|r| [0, 1, 2].map(|c| back[(r, c)])))
}

/// The homography, last entry 1, that takes each of four points to another; `None` where three lie on a line.
pub(super) fn homography(from: [[f64; 2]; 4], to: [[f64; 2]; 4]) -> Option<Homography> {
    let mut rows = SMatrix::<f64, 8, 8>::zeros();
    let mut wanted = SVector::<f64, 8>::zeros();
    for (i, ([u, v], [x, y])) in from.into_iter().zip(to).enumerate() {
        let pair = [
            [u, v, 1.0, 0.0, 0.0, 0.0, -x * u, -x * v],
            [0.0, 0.0, 0.0, u, v, 1.0, -y * u, -y * v],
        ];
        for (j, row) in pair.into_iter().enumerate() {
            rows.row_mut(2 * i + j).copy_from_slice(&row);
            wanted[2 * i + j] = [x, y][j];
        }
    }
    let h = rows.lu().solve(&wanted)?;
    h.iter()
        .all(|v| v.is_finite())
        .then(|| [[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6], h[7], 1.0]])
}

/// The homography of a symbol of `modules` modules, fitted from `rough` to the edges between dark and light modules.
///
/// `known` says which modules are dark, `None` where that is not known yet; outside the symbol all is light. Each edge says
/// how far the fit is off across it. Ink that spreads, and a camera's tone curve, move all edges away from the dark; that
/// shift is fitted along. A fit that fails leaves the homography as it was.
pub(super) fn refine(
    photo: &Photograph,
    modules: usize,
    rough: Homography,
    known: impl Fn(usize, usize) -> Option<bool>,
) -> Homography {
    let mut best = Fit {
        modules: modules as f64,
        to_photo: rough,
        spread: 0.0,
    };
    for _ in 0..ROUNDS {
        match best.improved(&measured_edges(photo, modules, &best, &known)) {
            Some(better) => {
                let still = better.moved(&best) < STILL;
                best = better;
                if still {
                    break;
                }
            }
            None => break,
        }
    }
    best.to_photo
}

struct Fit {
    modules: f64,
    to_photo: Homography,
    /// How far dark has spread into light, in modules.
    spread: f64,
}

/// One place on an edge between a dark and a light module.
struct Edge {
    /// Where it should be, in modules.
    at: [f64; 2],
    /// Where the photo has it, in pixels.
    seen: [f64; 2],
    /// Across the edge, from dark to light, one pixel long.
    normal: [f64; 2],
    /// Pixels that a module measures across the edge.
    scale: f64,
}

fn measured_edges(
    photo: &Photograph,
    modules: usize,
    place: &Fit,
    known: impl Fn(usize, usize) -> Option<bool>,
) -> Vec<Edge> {
    // Modules are counted from 1 here, so that the paper before the first one has a number too.
    let dark = |x: usize, y: usize| {
        let inside = (1..=modules).contains(&x) && (1..=modules).contains(&y);
        if inside {
            known(x - 1, y - 1)
        } else {
            Some(false)
        }
    };
    let mut edges = Vec::new();
    for line in 0..=modules {
        for cell in 1..=modules {
            let upright = (dark(line, cell), dark(line + 1, cell), false);
            let level = (dark(cell, line), dark(cell, line + 1), true);
            for (before, after, turned) in [upright, level] {
                let (Some(before), Some(after)) = (before, after) else {
                    continue;
                };
                if before == after {
                    continue;
                }
                for offset in ALONG {
                    let along = cell as f64 - 0.5 + offset;
                    edges.extend(edge(photo, place, [line as f64, along], turned, before));
                }
            }
        }
    }
    edges
}

/// Measures an edge at `at` (across it, along it); `turned` swaps the axes; `before` says the dark side comes first.
fn edge(photo: &Photograph, place: &Fit, at: [f64; 2], turned: bool, before: bool) -> Option<Edge> {
    let point = |across: f64, along: f64| {
        let at = if turned {
            [along, across]
        } else {
            [across, along]
        };
        project(&place.to_photo, at)
    };
    let mut profile = [0.0; ACROSS];
    for (i, light) in profile.iter_mut().enumerate() {
        let across = at[0] - 0.5 + (i as f64 + 0.5) / ACROSS as f64;
        *light = light_at(photo, point(across, at[1]))?;
    }
    let plateau = ACROSS / 6;
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
    let (first, last) = (
        mean(&profile[..plateau]),
        mean(&profile[ACROSS - plateau..]),
    );
    let rise = last - first;
    if (rise > 0.0) != before || rise.abs() < 0.02 {
        return None;
    }
    // The mean of the profile says which part of it is on the first side, and so where the step is.
    let step = ((last - mean(&profile)) / rise).clamp(0.0, 1.0);
    let [x0, y0] = point(at[0], at[1] - 0.5);
    let [x1, y1] = point(at[0], at[1] + 0.5);
    let length = (x1 - x0).hypot(y1 - y0);
    let [bx, by] = point(at[0] - 0.5, at[1]);
    let [ax, ay] = point(at[0] + 0.5, at[1]);
    let mut normal = [-(y1 - y0) / length, (x1 - x0) / length];
    let across = normal[0] * (ax - bx) + normal[1] * (ay - by);
    if (across > 0.0) != before {
        normal = normal.map(|c| -c);
    }
    Some(Edge {
        at: if turned { [at[1], at[0]] } else { at },
        seen: point(at[0] - 0.5 + step, at[1]),
        normal,
        scale: across.abs(),
    })
}

/// Linear light (the mean of the three channels) between pixels; `None` outside the photo.
pub(super) fn light_at(photo: &Photograph, [x, y]: [f64; 2]) -> Option<f64> {
    let (x, y) = (x - 0.5, y - 0.5);
    let inside =
        x >= 0.0 && y >= 0.0 && x < (photo.width - 1) as f64 && y < (photo.height - 1) as f64;
    let (left, top) = (x.floor(), y.floor());
    inside.then(|| {
        let value = |dx: usize, dy: usize| {
            let light = photo.linear(left as usize + dx, top as usize + dy);
            f64::from(light.r + light.g + light.b) / 3.0
        };
        let (fx, fy) = (x - left, y - top);
        let upper = value(0, 0) * (1.0 - fx) + value(1, 0) * fx;
        let lower = value(0, 1) * (1.0 - fx) + value(1, 1) * fx;
        upper * (1.0 - fy) + lower * fy
    })
}

impl Fit {
    /// The homography that brings the edges nearest to where they were seen, far ones counting little.
    ///
    /// A point that must lie on a line is one equation, linear in the homography once its depth is taken from the last fit.
    /// Modules run from -1 to 1 here, and pixels from the symbol's middle, to keep the equations well balanced.
    fn improved(&self, edges: &[Edge]) -> Option<Self> {
        let half = self.modules / 2.0;
        let [cx, cy] = project(&self.to_photo, [half, half]);
        let unit = half * edges.iter().map(|e| e.scale).sum::<f64>() / edges.len() as f64;
        let depth = |[u, v]: [f64; 2]| self.to_photo[2][0] * u + self.to_photo[2][1] * v + 1.0;
        let mut normal = SMatrix::<f64, 9, 9>::zeros();
        let mut right = SVector::<f64, 9>::zeros();
        for edge in edges {
            let [u, v] = edge.at.map(|m| m / half - 1.0);
            let [nx, ny] = edge.normal;
            let line = (nx * (edge.seen[0] - cx) + ny * (edge.seen[1] - cy)) / unit;
            let w = depth(edge.at) / depth([half, half]);
            let [h0, h1, h2] = [u / w, v / w, 1.0 / w];
            let row = SVector::from([
                nx * h0,
                nx * h1,
                nx * h2,
                ny * h0,
                ny * h1,
                ny * h2,
                -line * h0,
                -line * h1,
                edge.scale / unit,
            ]);
            let weight = 1.0 / (1.0 + (self.off(edge) / HALF_WEIGHT).powi(2));
            normal += weight * row * row.transpose();
            right += weight * (line / w) * row;
        }
        let h = normal.cholesky()?.solve(&right);
        let fitted = [[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6], h[7], 1.0]];
        let square = [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]];
        let corners = square.map(|at| {
            let [x, y] = project(&fitted, at);
            [cx + unit * x, cy + unit * y]
        });
        Some(Self {
            modules: self.modules,
            to_photo: homography(square.map(|at| at.map(|m| (m + 1.0) * half)), corners)?,
            spread: h[8],
        })
    }

    /// The farthest that a corner has moved from another fit, in pixels.
    fn moved(&self, from: &Self) -> f64 {
        let n = self.modules;
        [[0.0, 0.0], [n, 0.0], [n, n], [0.0, n]]
            .into_iter()
            .map(|corner| {
                let ([x0, y0], [x1, y1]) = (
                    project(&from.to_photo, corner),
                    project(&self.to_photo, corner),
                );
                (x1 - x0).hypot(y1 - y0)
            })
            .fold(0.0, f64::max)
    }

    /// How far from its place an edge was seen, in modules.
    fn off(&self, edge: &Edge) -> f64 {
        let [x, y] = project(&self.to_photo, edge.at);
        let across = edge.normal[0] * (edge.seen[0] - x) + edge.normal[1] * (edge.seen[1] - y);
        across / edge.scale - self.spread
    }
}
