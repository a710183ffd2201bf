//! Pictures made smaller: means of square blocks. Blocks at the right and lower edge are cut.

use super::{Photograph, Picture, Samples};
use crate::colour::CameraRgb;
use std::ops::AddAssign;

/// ITU-R BT.601's weights of red, green and blue, times 256.
const LUMA: [u32; 3] = [77, 150, 29];

/// The sums over larger blocks might not fit; photos are never reduced so far.
const LARGEST_STEP: usize = 256;

impl Photograph {
    /// A smaller picture in linear light: each pixel is the mean of a `step` by `step` block of the photo. `step` is held to
    /// 1 to 256.
    pub fn reduced(&self, step: usize) -> Picture<CameraRgb> {
        let step = step.clamp(1, LARGEST_STEP);
        // Whole numbers add up faster; as fine as the sum of a block's pixels allows.
        let unit = (1u64 << 31) as f32 / (step * step) as f32;
        match &self.samples {
            Samples::Eight(v) => {
                let [r, g, b] = self.tables::<256>(unit);
                let light = |s: [u8; 3]| {
                    let [i, j, k] = s.map(usize::from);
                    [r[i], g[j], b[k]]
                };
                self.light(step, v, unit, light)
            }
            Samples::Sixteen(v) => {
                let [r, g, b] = self.tables::<65536>(unit);
                let light = |s: [u16; 3]| {
                    let [i, j, k] = s.map(usize::from);
                    [r[i], g[j], b[k]]
                };
                self.light(step, v, unit, light)
            }
        }
    }

    /// The curves in whole numbers of `unit` to full light. A length known beforehand spares each look-up a check.
    fn tables<const CODES: usize>(&self, unit: f32) -> [Box<[u32; CODES]>; 3] {
        self.encoding.curves.each_ref().map(|curve| {
            let mut table = Box::new([0; CODES]);
            for (entry, light) in table.iter_mut().zip(curve) {
                *entry = (light * unit) as u32;
            }
            table
        })
    }

    fn light<S: Copy>(
        &self,
        step: usize,
        samples: &[S],
        unit: f32,
        light: impl Fn([S; 3]) -> [u32; 3],
    ) -> Picture<CameraRgb> {
        let size = [self.width, self.height];
        means(size, step, samples.as_chunks().0, light, |sums, count| {
            let part = 1.0 / (count as f32 * unit);
            let [r, g, b] = sums.map(|s| s as f32 * part);
            CameraRgb { r, g, b }
        })
    }

    /// The photo in grey as the file encodes it, 0 to 255, weighted as the eye weighs red, green and blue (the luma of ITU-R
    /// BT.601): means of `step` by `step` blocks. `step` is held to 1 to 256.
    pub fn grey(&self, step: usize) -> Picture<u8> {
        let step = step.clamp(1, LARGEST_STEP);
        match &self.samples {
            Samples::Eight(v) => self.luma(step, v, u16::from),
            Samples::Sixteen(v) => self.luma(step, v, |s| s >> 8),
        }
    }

    /// Rows are added up first, sample by sample, and blocks along them then, since luma is a sum, too.
    fn luma<S: Copy>(&self, step: usize, samples: &[S], eight: impl Fn(S) -> u16) -> Picture<u8> {
        let mut columns = vec![0u16; 3 * self.width];
        let mut pixels = Vec::new();
        for band in samples.chunks((3 * self.width * step).max(1)) {
            let area = 256 * add_rows(&mut columns, band, &eight);
            // Dividing takes longer than a factor, which is rounded up so that whole numbers stay whole.
            let factor = (1u64 << 32).div_ceil(u64::from(area * step as u32));
            let samples = columns.as_chunks().0;
            let (whole, rest) = samples.split_at(self.width / step * step);
            let mean = |block: &[[u16; 3]]| ((u64::from(luma(block)) * factor) >> 32) as u8;
            // Halves are what tags are looked for in first, and a length known beforehand makes them quick.
            if step == 2 {
                pixels.extend(whole.as_chunks::<2>().0.iter().map(|block| mean(block)));
            } else {
                pixels.extend(whole.chunks(step).map(mean));
            }
            if !rest.is_empty() {
                pixels.push((luma(rest) / (area * rest.len() as u32)) as u8);
            }
        }
        Picture {
            width: self.width.div_ceil(step),
            height: self.height.div_ceil(step),
            pixels,
        }
    }
}

/// Sets each column to the sum of a band's rows there; how many rows there are.
fn add_rows<S: Copy>(columns: &mut [u16], band: &[S], value: impl Fn(S) -> u16) -> u32 {
    columns.fill(0);
    let rows = band.chunks_exact(columns.len().max(1));
    let count = rows.len() as u32;
    for row in rows {
        for (sum, &sample) in columns.iter_mut().zip(row) {
            *sum += value(sample);
        }
    }
    count
}

/// The luma of samples added up, times 256.
fn luma(block: &[[u16; 3]]) -> u32 {
    let add = |sum: [u32; 3], rgb: &[u16; 3]| [0, 1, 2].map(|c| sum[c] + u32::from(rgb[c]));
    let sums = block.iter().fold([0; 3], add);
    sums.iter()
        .zip(LUMA)
        .map(|(sum, weight)| sum * weight)
        .sum()
}

impl Picture<CameraRgb> {
    /// Means of blocks of `step` by `step` pixels, at least 1.
    pub fn reduced(&self, step: usize) -> Self {
        let size = [self.width, self.height];
        let array = |p: CameraRgb| [p.r, p.g, p.b];
        means(size, step.max(1), &self.pixels, array, |sums, count| {
            let [r, g, b] = sums.map(|s| s / count as f32);
            CameraRgb { r, g, b }
        })
    }
}

impl Picture<u8> {
    /// Means of blocks of `step` by `step` pixels; `step` is held to 1 to 256.
    pub fn reduced(&self, step: usize) -> Self {
        let step = step.clamp(1, LARGEST_STEP);
        let mut columns = vec![0u16; self.width];
        let mut pixels = Vec::new();
        for band in self.pixels.chunks((self.width * step).max(1)) {
            let rows = add_rows(&mut columns, band, u16::from);
            pixels.extend(columns.chunks(step).map(|block| {
                let sum: u32 = block.iter().copied().map(u32::from).sum();
                (sum / (rows * block.len() as u32)) as u8
            }));
        }
        Picture {
            width: self.width.div_ceil(step),
            height: self.height.div_ceil(step),
            pixels,
        }
    }
}

/// Each block's values summed, and made into a pixel: `mean` gets the sums and how many pixels are in them.
fn means<S: Copy, A: Copy + Default + AddAssign, P, const N: usize>(
    [width, height]: [usize; 2],
    step: usize,
    pixels: &[S],
    value: impl Fn(S) -> [A; N],
    mean: impl Fn([A; N], u32) -> P,
) -> Picture<P> {
    let across = width.div_ceil(step);
    let mut out = Vec::with_capacity(across * height.div_ceil(step));
    let mut sums = vec![[A::default(); N]; across];
    for band in pixels.chunks((width * step).max(1)) {
        sums.fill([A::default(); N]);
        for row in band.chunks_exact(width.max(1)) {
            // Steps known beforehand are taken in half the time; these are the usual photos'.
            match step {
                2 => add_blocks::<2, _, _, N>(&mut sums, row, &value),
                3 => add_blocks::<3, _, _, N>(&mut sums, row, &value),
                4 => add_blocks::<4, _, _, N>(&mut sums, row, &value),
                8 => add_blocks::<8, _, _, N>(&mut sums, row, &value),
                _ => {
                    for (sum, block) in sums.iter_mut().zip(row.chunks(step)) {
                        add(sum, block, &value);
                    }
                }
            }
        }
        let rows = band.len() / width.max(1);
        out.extend(sums.iter().enumerate().map(|(column, &sum)| {
            let columns = step.min(width - column * step);
            mean(sum, (columns * rows) as u32)
        }));
    }
    Picture {
        width: across,
        height: height.div_ceil(step),
        pixels: out,
    }
}

fn add_blocks<const STEP: usize, S: Copy, A: Copy + AddAssign, const N: usize>(
    sums: &mut [[A; N]],
    row: &[S],
    value: impl Fn(S) -> [A; N],
) {
    let (blocks, rest) = row.as_chunks::<STEP>();
    for (sum, block) in sums.iter_mut().zip(blocks) {
        add(sum, block, &value);
    }
    if let Some(last) = sums.get_mut(blocks.len()) {
        add(last, rest, value);
    }
}

fn add<S: Copy, A: Copy + AddAssign, const N: usize>(
    sum: &mut [A; N],
    block: &[S],
    value: impl Fn(S) -> [A; N],
) {
    for &pixel in block {
        for (sum, value) in sum.iter_mut().zip(value(pixel)) {
            *sum += value;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::Encoding;

    /// A photo of chance samples, whose size no step divides.
    fn photo() -> Photograph {
        let (width, height) = (23, 17);
        let curve: Vec<f32> = (0..256).map(|code| (code as f32 / 255.0).powi(2)).collect();
        Photograph {
            width,
            height,
            samples: Samples::Eight(
                (0..3 * width * height)
                    .map(|i| (i * 89 % 251) as u8)
                    .collect(),
            ),
            encoding: Encoding {
                curves: [curve.clone(), curve.clone(), curve],
                to_xyz: [[0.0; 3]; 3],
                name: String::new(),
            },
        }
    }

    /// The mean over a block from its definition.
    fn mean(
        photo: &Photograph,
        step: usize,
        x: usize,
        y: usize,
        of: impl Fn(usize, usize) -> f32,
    ) -> f32 {
        let rows = y * step..((y + 1) * step).min(photo.height);
        let columns = x * step..((x + 1) * step).min(photo.width);
        let count = (rows.len() * columns.len()) as f32;
        let values = rows.flat_map(|v| columns.clone().map(move |u| (u, v)));
        values.map(|(u, v)| of(u, v)).sum::<f32>() / count
    }

    #[test]
    fn means_are_the_blocks_means() {
        let photo = photo();
        let full = photo.reduced(1);
        for step in 1..10 {
            let (light, grey, again) = (photo.reduced(step), photo.grey(step), full.reduced(step));
            assert_eq!(
                light.pixels.len(),
                23usize.div_ceil(step) * 17usize.div_ceil(step)
            );
            for y in 0..light.height {
                for x in 0..light.width {
                    let green = mean(&photo, step, x, y, |u, v| photo.linear(u, v).g);
                    assert!((light.at(x, y).g - green).abs() < 1e-5);
                    assert!((again.at(x, y).g - green).abs() < 1e-5);
                    let luma = mean(&photo, step, x, y, |u, v| {
                        let light = photo.linear(u, v).array().map(|c| 255.0 * c.sqrt() as f32);
                        0.299 * light[0] + 0.587 * light[1] + 0.114 * light[2]
                    });
                    assert!((f32::from(*grey.at(x, y)) + 0.5 - luma).abs() < 1.5);
                }
            }
        }
    }

    #[test]
    fn grey_is_reduced_once_more() {
        let (grey, photo) = (photo().grey(1), photo());
        for step in 1..10 {
            let small = grey.reduced(step);
            for (i, &found) in small.pixels.iter().enumerate() {
                let value = |u, v| f32::from(*grey.at(u, v));
                let wanted = mean(&photo, step, i % small.width, i / small.width, value);
                assert!((f32::from(found) - wanted.floor()).abs() <= 1.0);
            }
        }
    }
}
