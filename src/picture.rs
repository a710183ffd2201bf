//! Pixel buffers whose type says their state, masks and outlines.
//!
//! A [`Photograph`] is what the file held, upright. A [`Picture`] of [`CameraRgb`] is linear light as photographed, a
//! [`Picture`] of [`Lab32`](crate::colour::Lab32) is in true light; nothing else tells them apart, so the type must.
//! Pixel (0, 0) is the top left one and spans 0 to 1 in both directions: its centre is (0.5, 0.5).

use crate::colour::{CameraRgb, Matrix};

/// The samples of a photo file: three interleaved channels, as the file encodes them.
#[derive(Clone, Debug)]
pub enum Samples {
    /// 8 bits a channel.
    Eight(Vec<u8>),
    /// 16 bits a channel.
    Sixteen(Vec<u16>),
}

/// How a file's samples become linear light, and linear light XYZ.
#[derive(Clone, Debug)]
pub struct Encoding {
    /// Linear light, 0 to 1, of each possible sample of red, green and blue: 256 entries for 8-bit samples, 65536 for
    /// 16-bit ones.
    pub curves: [Vec<f32>; 3],
    /// Linear RGB of the file's primaries to XYZ, adapted to D65, Y = 1 for white.
    pub to_xyz: Matrix,
    /// Where it came from: `sRGB`, `Display P3`, the profile's description, or `assumed sRGB`.
    pub name: String,
}

/// A decoded photo, upright: its EXIF orientation has been applied.
#[derive(Clone, Debug)]
pub struct Photograph {
    /// Pixels across, at least 1.
    pub width: usize,
    /// Pixels down, at least 1.
    pub height: usize,
    /// `3 * width * height` samples, row by row from the top left.
    pub samples: Samples,
    /// What the samples mean.
    pub encoding: Encoding,
}

/// A small picture in memory, `width * height` pixels row by row; what a pixel is, its type says.
#[derive(Clone, Debug)]
pub struct Picture<P> {
    /// Pixels across.
    pub width: usize,
    /// Pixels down.
    pub height: usize,
    /// The pixels, row by row from the top left.
    pub pixels: Vec<P>,
}

/// Which pixels of a picture belong to something.
pub type Mask = Picture<bool>;

/// A closed outline in pixels of the upright photo, origin top left; the last corner joins the first.
pub type Polygon = Vec<[f64; 2]>;

impl Photograph {
    /// Linear light of one pixel, as photographed. Panics outside the picture.
    pub fn linear(&self, x: usize, y: usize) -> CameraRgb {
        let at = 3 * (y * self.width + x);
        let value = |channel: usize| {
            let code = match &self.samples {
                Samples::Eight(v) => usize::from(v[at + channel]),
                Samples::Sixteen(v) => usize::from(v[at + channel]),
            };
            self.encoding.curves[channel][code]
        };
        CameraRgb {
            r: value(0),
            g: value(1),
            b: value(2),
        }
    }

    /// A smaller picture in linear light: each pixel is the mean of a `step` by `step` block of the photo (blocks at the
    /// right and lower edge are cut). `step` is at least 1.
    pub fn reduced(&self, step: usize) -> Picture<CameraRgb> {
        match &self.samples {
            Samples::Eight(v) => self.block_means(step.max(1), v),
            Samples::Sixteen(v) => self.block_means(step.max(1), v),
        }
    }

    /// The step for [`reduced`](Self::reduced) that brings the longer side to at most `side` pixels.
    pub fn step_to(&self, side: usize) -> usize {
        self.width.max(self.height).div_ceil(side).max(1)
    }

    fn block_means<S: Copy + Into<usize>>(&self, step: usize, samples: &[S]) -> Picture<CameraRgb> {
        let (width, height) = (self.width.div_ceil(step), self.height.div_ceil(step));
        let mut pixels = Vec::with_capacity(width * height);
        let mut sums = vec![[0f32; 3]; width];
        for top in (0..self.height).step_by(step) {
            let bottom = (top + step).min(self.height);
            sums.fill([0.0; 3]);
            for row in
                samples[3 * top * self.width..3 * bottom * self.width].chunks_exact(3 * self.width)
            {
                for (sum, block) in sums.iter_mut().zip(row.chunks(3 * step)) {
                    for pixel in block.chunks_exact(3) {
                        for channel in 0..3 {
                            sum[channel] += self.encoding.curves[channel][pixel[channel].into()];
                        }
                    }
                }
            }
            for (column, sum) in sums.iter().enumerate() {
                let across = step.min(self.width - column * step);
                let [r, g, b] = sum.map(|s| s / (across * (bottom - top)) as f32);
                pixels.push(CameraRgb { r, g, b });
            }
        }
        Picture {
            width,
            height,
            pixels,
        }
    }
}

impl<P> Picture<P> {
    /// The pixel at column `x`, row `y`. Panics outside the picture.
    pub fn at(&self, x: usize, y: usize) -> &P {
        &self.pixels[y * self.width + x]
    }

    /// A picture of the same size, each pixel made from this one's.
    pub fn map<Q>(&self, change: impl Fn(&P) -> Q) -> Picture<Q> {
        Picture {
            width: self.width,
            height: self.height,
            pixels: self.pixels.iter().map(change).collect(),
        }
    }
}

impl Mask {
    /// A mask in which nothing belongs.
    pub fn empty(width: usize, height: usize) -> Self {
        Self {
            width,
            height,
            pixels: vec![false; width * height],
        }
    }

    /// How many pixels belong.
    pub fn count(&self) -> usize {
        self.pixels.iter().filter(|&&p| p).count()
    }

    /// The pixels whose centres lie inside `polygon` (even-odd rule), given in the mask's own pixels.
    pub fn inside(polygon: &[[f64; 2]], width: usize, height: usize) -> Self {
        let mut mask = Self::empty(width, height);
        for y in 0..height {
            let centre = y as f64 + 0.5;
            let mut crossings: Vec<f64> = edges(polygon)
                .filter(|([_, y0], [_, y1])| (*y0 <= centre) != (*y1 <= centre))
                .map(|([x0, y0], [x1, y1])| x0 + (centre - y0) / (y1 - y0) * (x1 - x0))
                .collect();
            crossings.sort_by(f64::total_cmp);
            for pair in crossings.chunks_exact(2) {
                let first = (pair[0] - 0.5).ceil().max(0.0) as usize;
                let end = ((pair[1] - 0.5).ceil().max(0.0) as usize).min(width);
                if first < end {
                    mask.pixels[y * width + first..y * width + end].fill(true);
                }
            }
        }
        mask
    }
}

/// The sides of a closed polygon.
fn edges(polygon: &[[f64; 2]]) -> impl Iterator<Item = ([f64; 2], [f64; 2])> + '_ {
    polygon
        .iter()
        .copied()
        .zip(polygon.iter().copied().cycle().skip(1))
}

/// A polygon grown or shrunk to other pixels: each corner times `factor`.
pub fn scaled(polygon: &[[f64; 2]], factor: f64) -> Polygon {
    polygon
        .iter()
        .map(|[x, y]| [x * factor, y * factor])
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two_by_three() -> Photograph {
        let line: Vec<f32> = (0..256).map(|code| code as f32 / 255.0).collect();
        Photograph {
            width: 3,
            height: 2,
            samples: Samples::Eight((0..18).map(|n| n * 10).collect()),
            encoding: Encoding {
                curves: [line.clone(), line.clone(), line],
                to_xyz: [[0.0; 3]; 3],
                name: String::new(),
            },
        }
    }

    #[test]
    fn a_reduced_picture_keeps_the_mean() {
        let photo = two_by_three();
        let small = photo.reduced(2);
        assert_eq!((small.width, small.height), (2, 1));
        let mean: f32 = [(0, 0), (1, 0), (0, 1), (1, 1)]
            .map(|(x, y)| photo.linear(x, y).g)
            .iter()
            .sum::<f32>()
            / 4.0;
        assert!((small.at(0, 0).g - mean).abs() < 1e-6);
        let edge = (photo.linear(2, 0).b + photo.linear(2, 1).b) / 2.0;
        assert!((small.at(1, 0).b - edge).abs() < 1e-6);
    }

    #[test]
    fn a_square_holds_its_pixels() {
        let mask = Mask::inside(&[[1.0, 1.0], [3.0, 1.0], [3.0, 4.0], [1.0, 4.0]], 6, 6);
        assert_eq!(mask.count(), 6);
        assert!(*mask.at(1, 1) && *mask.at(2, 3) && !*mask.at(3, 1));
    }
}
