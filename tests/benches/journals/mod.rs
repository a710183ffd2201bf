//! Made journals of which the truth is known: values of pieces in pots, no photos. The same seed makes the same journal.

mod tally;

pub use tally::Tally;

use filemot::stats::Pieces;

/// How groups stand in pots.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Layout {
    /// Each pot holds one group, the groups in turn.
    One,
    /// Each pot holds the groups in turn, starting anywhere.
    Several,
    /// Every other pot holds one group, the others several.
    Mixed,
    /// Rare and frequent groups, small and large pots, a main group in each.
    Unbalanced,
}

/// How values scatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// As the normal law.
    Normal,
    /// As Student's t with three degrees of freedom.
    Heavy,
    /// As the normal law, the second group twice and the last three times as wide.
    Uneven,
}

/// A kind of journal. The scatter of a piece is 1 beside that of its reading.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    pub groups: usize,
    pub pots: usize,
    /// Pieces a pot.
    pub pieces: usize,
    /// The pot's share of the variance, 0 to 1.
    pub effect: f64,
    pub layout: Layout,
    pub shape: Shape,
}

/// A made journal: the design is cell means of the groups.
pub struct Journal {
    pub groups: usize,
    pub x: Vec<f64>,
    pub y: Vec<f64>,
    pub group: Vec<usize>,
    pub pot: Vec<usize>,
    pub known: Vec<f64>,
}

/// The variance of readings is between half of this and one and a half times as much.
const READING: f64 = 0.1;

impl Kind {
    /// Two to four groups, two to six pieces a pot, no effect of the pot, one as large as the pieces' own, a dominant one.
    pub fn all(layout: Layout, shape: Shape, pots: usize) -> impl Iterator<Item = Self> {
        let groups = (2..=4).filter(move |&groups| groups <= pots);
        groups.flat_map(move |groups| {
            [0.0, 0.5, 0.9].into_iter().flat_map(move |effect| {
                [2, 4, 6].into_iter().map(move |pieces| Self {
                    groups,
                    pots,
                    pieces,
                    effect,
                    layout,
                    shape,
                })
            })
        })
    }

    /// A journal in which no group differs from another and every group is seen; `None` where chance left one out.
    pub fn journal(&self, chance: &mut Chance) -> Option<Journal> {
        let (group, pot) = self.places(chance);
        let all_seen = (0..self.groups).all(|g| group.contains(&g));
        all_seen.then(|| self.filled(group, pot, chance))
    }

    fn places(&self, chance: &mut Chance) -> (Vec<usize>, Vec<usize>) {
        let (mut group, mut pot) = (Vec::new(), Vec::new());
        for j in 0..self.pots {
            let start = chance.below(self.groups);
            let (pieces, main) = match self.layout {
                Layout::Unbalanced => (1 + chance.below(2 * self.pieces - 1), self.rare(chance)),
                _ => (self.pieces, j % self.groups),
            };
            for i in 0..pieces {
                group.push(match self.layout {
                    Layout::Several => (start + i) % self.groups,
                    Layout::Mixed if j % 2 == 1 => (start + i) % self.groups,
                    Layout::Unbalanced if chance.unit() < 0.5 => self.rare(chance),
                    _ => main,
                });
                pot.push(j);
            }
        }
        (group, pot)
    }

    /// A group, each next one half as frequent.
    fn rare(&self, chance: &mut Chance) -> usize {
        let first = (0..self.groups - 1).find(|_| chance.unit() < 0.5);
        first.unwrap_or(self.groups - 1)
    }

    fn filled(&self, group: Vec<usize>, pot: Vec<usize>, chance: &mut Chance) -> Journal {
        let effects: Vec<f64> = (0..self.pots).map(|_| self.draw(chance)).collect();
        let mut journal = Journal {
            groups: self.groups,
            x: Vec::new(),
            y: Vec::new(),
            known: Vec::new(),
            group,
            pot,
        };
        for (&g, &j) in journal.group.iter().zip(&journal.pot) {
            let known = READING * (0.5 + chance.unit());
            let own = (1.0 - self.effect).sqrt() * self.draw(chance);
            let width = match self.shape {
                Shape::Uneven if g > 0 && g + 1 == self.groups => 3.0,
                Shape::Uneven if g == 1 => 2.0,
                _ => 1.0,
            };
            let scatter = width * (self.effect.sqrt() * effects[j] + own);
            journal.y.push(scatter + known.sqrt() * chance.normal());
            journal.known.push(known);
            journal
                .x
                .extend((0..self.groups).map(|k| f64::from(k == g)));
        }
        journal
    }

    /// A draw of variance 1.
    fn draw(&self, chance: &mut Chance) -> f64 {
        match self.shape {
            Shape::Heavy => {
                let square: f64 = (0..3).map(|_| chance.normal().powi(2)).sum();
                chance.normal() / square.sqrt()
            }
            _ => chance.normal(),
        }
    }
}

impl Journal {
    pub fn pieces(&self) -> Pieces {
        Pieces {
            x: self.x.clone(),
            columns: self.groups,
            y: self.y.clone(),
            pot: self.pot.clone(),
            known: self.known.clone(),
        }
    }
}

/// Seeded chance: SplitMix64 (Steele, Lea & Flood 2014, doi 10.1145/2660193.2660195), normal by Box & Muller 1958.
pub struct Chance(pub u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Between 0 and 1.
    pub fn unit(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.unit() * n as f64) as usize).min(n - 1)
    }

    fn normal(&mut self) -> f64 {
        (-2.0 * self.unit().ln()).sqrt() * (std::f64::consts::TAU * self.unit()).cos()
    }
}
