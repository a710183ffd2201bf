use super::rows::dot;

/// A column of which less than this share of its square is its own is taken to be spanned by the columns before it.
const OWN: f64 = 1e-10;

/// The triangle R of R'R = X'X, over the columns that the columns before them do not span (Cholesky).
#[derive(Clone, Debug)]
pub(super) struct Triangle {
    /// The columns it stands for.
    pub kept: Vec<usize>,
    /// The others.
    pub aliased: Vec<usize>,
    /// Column by column, each down to its diagonal.
    columns: Vec<Vec<f64>>,
}

impl Triangle {
    /// Of X'X (row by row); `scale` holds each column's square before anything was taken from it.
    pub fn of(gram: &[f64], scale: impl Fn(usize) -> f64) -> Self {
        let p = gram.len().isqrt();
        let mut triangle = Self {
            kept: Vec::new(),
            aliased: Vec::new(),
            columns: Vec::new(),
        };
        for j in 0..p {
            let with_kept: Vec<f64> = triangle.kept.iter().map(|&k| gram[k * p + j]).collect();
            let mut column = triangle.forward(&with_kept);
            let own = gram[j * p + j] - dot(&column, &column);
            if own > OWN * scale(j) {
                column.push(own.sqrt());
                triangle.columns.push(column);
                triangle.kept.push(j);
            } else {
                triangle.aliased.push(j);
            }
        }
        triangle
    }

    /// z with R'z = v.
    pub fn forward(&self, v: &[f64]) -> Vec<f64> {
        let mut z = v.to_vec();
        self.forward_in_place(&mut z);
        z
    }

    /// The same, in place of v.
    pub fn forward_in_place(&self, v: &mut [f64]) {
        for (j, column) in self.columns.iter().enumerate() {
            v[j] = (v[j] - dot(&column[..j], v)) / column[j];
        }
    }

    /// b with Rb = z.
    pub fn back(&self, z: &[f64]) -> Vec<f64> {
        let mut b = z.to_vec();
        for (j, column) in self.columns.iter().enumerate().rev() {
            b[j] /= column[j];
            let solved = b[j];
            for (b, r) in b.iter_mut().zip(&column[..j]) {
                *b -= r * solved;
            }
        }
        b
    }

    /// b with R'Rb = v.
    pub fn solve(&self, v: &[f64]) -> Vec<f64> {
        self.back(&self.forward(v))
    }

    /// The trace of (R'R)⁻¹S, S square over all columns, row by row.
    pub fn trace(&self, s: &[f64]) -> f64 {
        let p = s.len().isqrt();
        let column = |(at, &j): (usize, &usize)| {
            let of_kept: Vec<f64> = self.kept.iter().map(|&k| s[k * p + j]).collect();
            self.solve(&of_kept)[at]
        };
        self.kept.iter().enumerate().map(column).sum()
    }
}
