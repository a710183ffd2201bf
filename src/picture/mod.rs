//! Pixel buffers whose type says their state, masks and outlines.
//!
//! A [`Photograph`] is what the file held, upright. A [`Picture`] of [`CameraRgb`] is linear light as photographed, a
//! [`Picture`] of [`Lab32`](crate::colour::Lab32) is in true light; nothing else tells them apart, so the type must.
//! Pixel (0, 0) is the top left one and spans 0 to 1 in both directions: its centre is (0.5, 0.5).

mod blocks;
mod blur;
mod print;

pub use print::alike;

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

/// So many places of a photo, or a few more, tell what share of it is clipped.
const ENOUGH: usize = 20_000;

impl Photograph {
    /// Linear light of one pixel, as photographed. Panics outside the picture.
    #[inline]
    pub fn linear(&self, x: usize, y: usize) -> CameraRgb {
        let at = y * self.width + x;
        let codes: [usize; 3] = match &self.samples {
            Samples::Eight(v) => v.as_chunks().0[at].map(usize::from),
            Samples::Sixteen(v) => v.as_chunks().0[at].map(usize::from),
        };
        let [r, g, b] = [0, 1, 2].map(|channel| self.encoding.curves[channel][codes[channel]]);
        CameraRgb { r, g, b }
    }

    /// The step for [`reduced`](Self::reduced) that brings the longer side to at most `side` pixels.
    pub fn step_to(&self, side: usize) -> usize {
        self.width.max(self.height).div_ceil(side).max(1)
    }

    /// Of the pixels in the middle of each place of `mask`, whose pixels are `step` of the photo wide: the shares, 0 to 1, that
    /// hold the darkest and the brightest value the file can hold in any channel, or one next to it. There the colour is lost.
    /// In a large mask some places stand for all.
    pub fn clipped(&self, mask: &Mask, step: usize) -> [f64; 2] {
        let (mut dark, mut bright, mut count) = (0, 0, 0);
        let held = (0..mask.pixels.len()).filter(|&number| mask.pixels[number]);
        for number in held.step_by((mask.count() / ENOUGH).max(1)) {
            let place = |at: usize, end: usize| (at * step + step / 2).min(end - 1);
            let x = place(number % mask.width, self.width);
            let at = 3 * (place(number / mask.width, self.height) * self.width + x);
            let codes = match &self.samples {
                Samples::Eight(v) => [v[at], v[at + 1], v[at + 2]],
                Samples::Sixteen(v) => [v[at], v[at + 1], v[at + 2]].map(|code| (code >> 8) as u8),
            };
            dark += u32::from(codes.iter().any(|&code| code <= 1));
            bright += u32::from(codes.iter().any(|&code| code >= 254));
            count += 1;
        }
        [dark, bright].map(|lost| f64::from(lost) / f64::from(count.max(1)))
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
    fn clipped_pixels_are_counted_where_the_mask_holds() {
        let mut photo = two_by_three();
        photo.samples = Samples::Eight(vec![
            9, 9, 9, 255, 9, 9, 0, 9, 254, /* second row */ 9, 9, 9, 9, 9, 9, 255, 255, 255,
        ]);
        let mut mask = Mask::empty(3, 2);
        mask.pixels[..4].fill(true);
        assert_eq!(photo.clipped(&mask, 1), [0.25, 0.5]);
        assert_eq!(photo.clipped(&Mask::empty(3, 2), 1), [0.0, 0.0]);
    }

    #[test]
    fn a_small_shift_prints_alike_and_another_view_does_not() {
        let view = |shift: f32, other: bool| {
            let place = |n: usize| ((n % 90) as f32 + shift, (n / 90) as f32);
            let wave = |(x, y): (f32, f32)| match other {
                false => (x / 9.0).sin() * (y / 7.0).cos(),
                true => (x / 13.0 + y / 5.0).cos(),
            };
            let pixels = (0..90 * 60).map(|n| CameraRgb {
                g: wave(place(n)),
                ..CameraRgb::default()
            });
            Picture {
                width: 90,
                height: 60,
                pixels: pixels.collect(),
            }
            .print()
        };
        assert!(alike(view(0.0, false), view(0.5, false)));
        assert!(!alike(view(0.0, false), view(0.0, true)));
        let dot = Picture {
            width: 1,
            height: 1,
            pixels: vec![CameraRgb::default()],
        };
        assert_eq!(dot.print(), 0);
    }

    #[test]
    fn a_square_holds_its_pixels() {
        let mask = Mask::inside(&[[1.0, 1.0], [3.0, 1.0], [3.0, 4.0], [1.0, 4.0]], 6, 6);
        assert_eq!(mask.count(), 6);
        assert!(*mask.at(1, 1) && *mask.at(2, 3) && !*mask.at(3, 1));
    }
}
