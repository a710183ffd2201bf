use std::ops::Range;

/// A linear model of pieces in pots: pieces of one pot share an effect, pots are independent.
///
/// A row is a piece, or a piece with one of its plants: the same piece may stand in several rows of one pot.
#[derive(Clone, Debug, Default)]
pub struct Pieces {
    /// The design, row by row: rows × columns. Numbers far from 0 (years, temperatures) should be centred.
    pub x: Vec<f64>,
    /// How many columns the design has, 1 or more.
    pub columns: usize,
    /// What was measured, one a row, in its own unit.
    pub y: Vec<f64>,
    /// Which pot each row belongs to, counted from 0; numbers may be left out.
    pub pot: Vec<usize>,
    /// The variance of each `y` that its reading alone brings, 0 or more, in the unit of `y` squared.
    pub known: Vec<f64>,
}

impl Pieces {
    /// The same rows, those of one pot next to each other.
    fn by_pot(self) -> Self {
        if self.pot.is_sorted() {
            return self;
        }
        let mut order: Vec<usize> = (0..self.pot.len()).collect();
        order.sort_by_key(|&i| self.pot[i]);
        let columns = self.columns;
        let rows = order.iter().map(|&i| &self.x[i * columns..][..columns]);
        Self {
            x: rows.flatten().copied().collect(),
            columns,
            y: order.iter().map(|&i| self.y[i]).collect(),
            pot: order.iter().map(|&i| self.pot[i]).collect(),
            known: order.iter().map(|&i| self.known[i]).collect(),
        }
    }
}

/// The rows of a model, those of one pot next to each other.
#[derive(Debug)]
pub(super) struct Rows {
    pub columns: usize,
    pub x: Vec<f64>,
    pub y: Vec<f64>,
    pub known: Vec<f64>,
    pots: Vec<Range<usize>>,
}

impl Rows {
    /// `None` where there are no rows, where lengths do not fit or a number is not one.
    pub fn of(mut pieces: Pieces) -> Option<Self> {
        let (rows, columns) = (pieces.y.len(), pieces.columns);
        let fits = pieces.x.len() == rows * columns
            && pieces.pot.len() == rows
            && pieces.known.len() == rows;
        let numbers = [&pieces.x, &pieces.y, &pieces.known].into_iter().flatten();
        let finite = numbers.into_iter().all(|v| v.is_finite());
        if rows == 0 || columns == 0 || !fits || !finite {
            return None;
        }
        pieces
            .known
            .iter_mut()
            .for_each(|known| *known = known.max(0.0));
        let Pieces {
            x, y, pot, known, ..
        } = pieces.by_pot();
        let mut pots: Vec<Range<usize>> = Vec::new();
        for at in 0..rows {
            match pots.last_mut() {
                Some(range) if pot[range.start] == pot[at] => range.end = at + 1,
                _ => pots.push(at..at + 1),
            }
        }
        Some(Self {
            columns,
            x,
            y,
            known,
            pots,
        })
    }

    /// Where each pot's rows stand.
    pub fn pots(&self) -> &[Range<usize>] {
        &self.pots
    }

    pub fn row(&self, i: usize) -> &[f64] {
        &self.x[i * self.columns..][..self.columns]
    }

    /// The same rows with these columns only.
    pub fn keep(&mut self, kept: &[usize]) {
        if kept.len() < self.columns {
            let rows = self.x.chunks_exact(self.columns);
            self.x = rows.flat_map(|row| kept.iter().map(|&j| row[j])).collect();
            self.columns = kept.len();
        }
    }

    /// The rows less the mean of their pot.
    pub fn within_pots(&self) -> Self {
        let mut inner = Self {
            columns: self.columns,
            x: self.x.clone(),
            y: self.y.clone(),
            known: self.known.clone(),
            pots: self.pots.clone(),
        };
        for pot in &self.pots {
            let share = 1.0 / pot.len() as f64;
            let sums = self.sums(pot);
            let mean = self.y[pot.clone()].iter().sum::<f64>() * share;
            for i in pot.clone() {
                inner.y[i] -= mean;
                let row = &mut inner.x[i * self.columns..][..self.columns];
                for (value, sum) in row.iter_mut().zip(&sums) {
                    *value -= sum * share;
                }
            }
        }
        inner
    }

    /// The sum of a pot's rows, column by column.
    pub fn sums(&self, pot: &Range<usize>) -> Vec<f64> {
        let mut sums = vec![0.0; self.columns];
        for i in pot.clone() {
            add(&mut sums, 1.0, self.row(i));
        }
        sums
    }

    /// X'WX, the whole square row by row, with a weight for each row.
    pub fn gram(&self, weight: impl Fn(usize) -> f64) -> Vec<f64> {
        let p = self.columns;
        let mut gram = vec![0.0; p * p];
        for i in 0..self.y.len() {
            outer(&mut gram, weight(i), self.row(i));
        }
        mirror(&mut gram, p);
        gram
    }

    /// X'v.
    pub fn moments(&self, v: &[f64]) -> Vec<f64> {
        let mut moments = vec![0.0; self.columns];
        for (i, &value) in v.iter().enumerate() {
            add(&mut moments, value, self.row(i));
        }
        moments
    }

    /// y − Xb.
    pub fn residuals(&self, b: &[f64]) -> Vec<f64> {
        let rows = self.x.chunks_exact(self.columns).zip(&self.y);
        rows.map(|(row, y)| y - dot(row, b)).collect()
    }
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// `to += scale · from`.
pub(super) fn add(to: &mut [f64], scale: f64, from: &[f64]) {
    for (to, from) in to.iter_mut().zip(from) {
        *to += scale * from;
    }
}

/// Adds `weight · row row'` to the upper triangle; designs are mostly zeros, which cost nothing.
pub(super) fn outer(gram: &mut [f64], weight: f64, row: &[f64]) {
    let p = row.len();
    for (j, &value) in row.iter().enumerate() {
        if value != 0.0 {
            add(&mut gram[j * p + j..(j + 1) * p], weight * value, &row[j..]);
        }
    }
}

/// Fills the lower triangle from the upper.
pub(super) fn mirror(gram: &mut [f64], p: usize) {
    for j in 0..p {
        for k in 0..j {
            gram[j * p + k] = gram[k * p + j];
        }
    }
}
