use super::rows::{Pieces, Rows, add, dot};
use super::triangle::Triangle;

/// Up to so many pots every pattern of signs is tried.
const ALL_SIGNS: usize = 12;
/// Beyond, so many patterns are drawn.
const DRAWS: u64 = 9_999;
/// Statistics nearer than this are the same one, rounded otherwise.
const TIE: f64 = 1e-9;

/// The p-value of a contrast being `null`, by the wild cluster bootstrap with the null imposed; `None` where it cannot be had.
///
/// Cameron, Gelbach & Miller 2008, Rev. Econ. Stat. 90(3) 414-427, doi 10.1162/rest.90.3.414: ordinary least squares, the
/// residuals of the model in which the null holds, each pot's turned or not (Rademacher), t by the plain cluster-robust error.
/// Up to 12 pots all patterns of signs, the one seen among them; beyond, 9,999 drawn by `seed`. No p is below 2 in 2 to the
/// power of the pots: five pots cannot reach 5 %. Meant for few pots; it answers to nothing but scatter, so `known` is not used.
pub fn wild(pieces: Pieces, contrast: &[f64], null: f64, seed: u64) -> Option<f64> {
    let rows = Rows::of(pieces).filter(|rows| contrast.len() == rows.columns)?;
    let game = Game::of(&rows, contrast, null)?;
    let pots = rows.pots().len();
    let seen = game.square(|_| 1.0)?;
    let extreme = |turned: &dyn Fn(usize) -> bool| {
        let square = game.square(|pot| if turned(pot) { -1.0 } else { 1.0 });
        square.is_none_or(|square| square >= seen * (1.0 - TIE))
    };
    if pots <= ALL_SIGNS {
        let patterns = 1usize << pots;
        let far = (0..patterns).filter(|pattern| extreme(&|pot| pattern >> pot & 1 == 1));
        return Some(far.count() as f64 / patterns as f64);
    }
    let far = (0..DRAWS).filter(|&draw| {
        let start = mixed(seed ^ mixed(draw));
        extreme(&|pot| mixed(start.wrapping_add(pot as u64)) >> 63 == 1)
    });
    Some((far.count() + 1) as f64 / (DRAWS + 1) as f64)
}

/// What a draw needs of each pot.
struct Game {
    /// X'e of the pot's residuals under the null.
    moments: Vec<Vec<f64>>,
    /// The same times (X'X)⁻¹c.
    scores: Vec<f64>,
    /// The pot's X'X (X'X)⁻¹c.
    weights: Vec<Vec<f64>>,
    triangle: Triangle,
}

impl Game {
    fn of(rows: &Rows, contrast: &[f64], null: f64) -> Option<Self> {
        let p = rows.columns;
        let gram = rows.gram(|_| 1.0);
        let triangle = Triangle::of(&gram, |j| gram[j * p + j]);
        if !triangle.aliased.is_empty() {
            return None;
        }
        let along = triangle.solve(contrast);
        let length = dot(contrast, &along);
        let mut b = triangle.solve(&rows.moments(&rows.y));
        let off = (dot(contrast, &b) - null) / length;
        add(&mut b, -off, &along);
        if !off.is_finite() {
            return None;
        }
        let residuals = rows.residuals(&b);
        let (mut moments, mut weights) = (Vec::new(), Vec::new());
        for pot in rows.pots() {
            let (mut moment, mut weight) = (vec![0.0; p], vec![0.0; p]);
            for i in pot.clone() {
                add(&mut moment, residuals[i], rows.row(i));
                add(&mut weight, dot(rows.row(i), &along), rows.row(i));
            }
            moments.push(moment);
            weights.push(weight);
        }
        let scores = moments.iter().map(|moment| dot(moment, &along)).collect();
        Some(Self {
            moments,
            scores,
            weights,
            triangle,
        })
    }

    /// The square of t with each pot's residuals times its sign, but for a factor common to all; `None` without scatter.
    fn square(&self, sign: impl Fn(usize) -> f64) -> Option<f64> {
        let mut moments = vec![0.0; self.weights.first()?.len()];
        let (mut off, mut squared_error) = (0.0, 0.0);
        for (pot, moment) in self.moments.iter().enumerate() {
            add(&mut moments, sign(pot), moment);
            off += sign(pot) * self.scores[pot];
        }
        let shift = self.triangle.solve(&moments);
        for (pot, weight) in self.weights.iter().enumerate() {
            squared_error += (sign(pot) * self.scores[pot] - dot(weight, &shift)).powi(2);
        }
        (squared_error > 0.0).then(|| off * off / squared_error)
    }
}

/// SplitMix64 (Steele, Lea & Flood 2014, doi 10.1145/2660193.2660195).
pub(super) fn mixed(state: u64) -> u64 {
    let z = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
