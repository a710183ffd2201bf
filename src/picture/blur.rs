//! Means over a square around each pixel.

use super::Picture;

impl Picture<f32> {
    /// Means over squares of `2 * radius + 1` pixels; what lies outside the picture counts as nothing.
    pub fn blurred(&self, radius: usize) -> Self {
        let (width, height) = (self.width, self.height);
        let part = 1.0 / (2 * radius + 1).pow(2) as f64;
        let mut pixels = vec![0f32; self.pixels.len()];
        let row = |y: usize| &self.pixels[y * width..(y + 1) * width];
        // The sums of the columns within reach of a row, taken along from row to row.
        let mut columns = vec![0f64; width];
        let mut sums = vec![0f64; width + 1];
        for y in 0..radius.min(height) {
            add(&mut columns, row(y), 1.0);
        }
        for (y, out) in pixels.chunks_exact_mut(width.max(1)).enumerate() {
            if y + radius < height {
                add(&mut columns, row(y + radius), 1.0);
            }
            slide(&columns, &mut sums, radius, part, out);
            if y >= radius {
                add(&mut columns, row(y - radius), -1.0);
            }
        }
        Self {
            width,
            height,
            pixels,
        }
    }
}

fn add(columns: &mut [f64], row: &[f32], times: f64) {
    for (column, &value) in columns.iter_mut().zip(row) {
        *column += times * f64::from(value);
    }
}

/// Differences of running sums: only the running takes one step after another.
fn slide(values: &[f64], sums: &mut [f64], radius: usize, part: f64, out: &mut [f32]) {
    let mut sum = 0.0;
    for (to, value) in sums[1..].iter_mut().zip(values) {
        sum += value;
        *to = sum;
    }
    let width = values.len();
    let reach = radius.min(width);
    let inner = reach..width.saturating_sub(reach).max(reach);
    for k in (0..inner.start).chain(inner.end..width) {
        let end = (k + radius + 1).min(width);
        out[k] = ((sums[end] - sums[k.saturating_sub(radius)]) * part) as f32;
    }
    if inner.is_empty() {
        return;
    }
    let ends = &sums[2 * radius + 1..];
    for ((out, first), end) in out[inner].iter_mut().zip(&*sums).zip(ends) {
        *out = ((end - first) * part) as f32;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the mean from its definition.
    #[test]
    fn a_blurred_pixel_is_the_mean_of_its_square() {
        let (width, height, radius) = (13, 9, 3);
        let pixels: Vec<f32> = (0..width * height)
            .map(|i| (i * 37 % 101) as f32 - 50.0)
            .collect();
        let picture = Picture {
            width,
            height,
            pixels,
        };
        let blurred = picture.blurred(radius);
        for y in 0..height {
            for x in 0..width {
                let near = |p: usize, q: usize| p.abs_diff(q) <= radius;
                let sum: f32 = (0..width * height)
                    .filter(|i| near(i % width, x) && near(i / width, y))
                    .map(|i| picture.pixels[i])
                    .sum();
                let mean = sum / (2 * radius + 1).pow(2) as f32;
                assert!((blurred.at(x, y) - mean).abs() < 1e-4, "{x}, {y}");
            }
        }
    }

    #[test]
    fn a_square_larger_than_the_picture_is_no_trouble() {
        let picture = Picture {
            width: 2,
            height: 1,
            pixels: vec![25.0, 50.0],
        };
        assert_eq!(picture.blurred(2).pixels, [3.0, 3.0]);
    }
}
