//! Whether two pictures show one view.

use super::Picture;
use crate::colour::CameraRgb;

impl Picture<CameraRgb> {
    /// 64 bits that stay nearly the same while the picture does: of a grid of 9 by 8 means of green, whether each is darker
    /// than its right neighbour. Photos of one burst differ in few of them (see [`alike`]). Common practice, no source.
    pub fn print(&self) -> u64 {
        let mean = |column: usize, row: usize| {
            let part = |n: usize, of: usize, whole: usize| {
                let first = n * whole / of;
                first..((n + 1) * whole / of).clamp(first + 1, whole.max(first + 1))
            };
            let columns = part(column, 9, self.width);
            // Every second row tells enough.
            let rows = part(row, 8, self.height).step_by(2);
            let count = rows.len() * columns.len();
            let greens = |y: usize| {
                let row = &self.pixels[y * self.width..(y + 1) * self.width];
                row[columns.clone()].iter().map(|p| p.g).sum::<f32>()
            };
            rows.map(greens).sum::<f32>() / count as f32
        };
        let means: Vec<f32> = (0..72).map(|n| mean(n % 9, n / 9)).collect();
        (0..64).fold(0, |bits, n| {
            let (row, column) = (n / 8, n % 8);
            let left = 9 * row + column;
            bits << 1 | u64::from(means[left] < means[left + 1])
        })
    }
}

/// Whether two prints are those of one view: at most 10 of their 64 bits differ.
pub fn alike(one: u64, other: u64) -> bool {
    (one ^ other).count_ones() <= 10
}
