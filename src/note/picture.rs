//! The piece's own picture, in true light, cut to the cloth.

use crate::colour::lab_to_srgb8;
use crate::draw;
use crate::error::Result;
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::photo;
use crate::picture::{Photograph, Picture};
use crate::reading::{Correction, Reading};

/// Part of the cloth's width and height left around it.
const MARGIN: f64 = 0.04;

/// The piece in a photo of the journal as it is in true light, sRGB. A photo that has gone or can no longer be opened gives
/// none; `check` tells of it.
pub(super) fn of_photo(
    journal: &Journal,
    photo: &Photo,
    side: usize,
) -> Result<Option<Picture<[u8; 3]>>> {
    let name = photo.file.as_deref().unwrap_or_default();
    let bytes = journal
        .original(photo)?
        .and_then(|path| std::fs::read(path).ok());
    let opened = bytes.and_then(|bytes| photo::decode(&bytes, name).ok());
    Ok(opened.and_then(|opened| in_true_light(&opened.photograph, &photo.reading, side)))
}

/// A picture as JPEG.
pub(super) fn jpeg(picture: &Picture<[u8; 3]>) -> Result<Vec<u8>> {
    draw::jpeg(picture.width, picture.height, picture.pixels.as_flattened())
}

/// The piece as it is in true light, cut to the cloth, its longer side at most `side` pixels; `None` where the reading knows no
/// outline or no light.
pub(super) fn in_true_light(
    photo: &Photograph,
    reading: &Reading,
    side: usize,
) -> Option<Picture<[u8; 3]>> {
    let correction = reading.light.as_ref()?.correction.as_ref()?;
    let cut = cut(reading.outline.as_ref()?, photo.width, photo.height);
    let (width, height) = (cut.right - cut.left, cut.bottom - cut.top);
    let wanted = (width * side / width.max(height)).max(1);
    let seen = corrected(photo, correction, (width / wanted).max(1), &cut);
    Some(draw::narrowed(seen, wanted))
}

/// A part of a photo in true light as sRGB, a `step`-th of its size.
pub(super) fn corrected(
    photo: &Photograph,
    correction: &Correction,
    step: usize,
    cut: &Cut,
) -> Picture<[u8; 3]> {
    let small = photo.reduced(step);
    let (left, top) = (cut.left / step, cut.top / step);
    // Upwards, so that a cloth that is wide and very low keeps a line of pixels.
    let (right, bottom) = (cut.right.div_ceil(step), cut.bottom.div_ceil(step));
    let corrector = correction.for_picture();
    let pixel = |x: usize, y: usize| {
        let centre = [x, y].map(|p| (p as f64 + 0.5) * step as f64);
        lab_to_srgb8(corrector.to_lab(*small.at(x, y), centre))
    };
    let pixel = &pixel;
    Picture {
        width: right - left,
        height: bottom - top,
        pixels: (top..bottom)
            .flat_map(|y| (left..right).map(move |x| pixel(x, y)))
            .collect(),
    }
}

/// A rectangle in pixels of the photo; right and bottom are just outside it.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Cut {
    pub left: usize,
    pub top: usize,
    pub right: usize,
    pub bottom: usize,
}

/// The rectangle around an outline with its margin, inside the photo.
fn cut(outline: &[[f64; 2]], width: usize, height: usize) -> Cut {
    let range = |axis: usize, size: usize| {
        let low = outline
            .iter()
            .map(|corner| corner[axis])
            .fold(f64::INFINITY, f64::min);
        let high = outline
            .iter()
            .map(|corner| corner[axis])
            .fold(f64::NEG_INFINITY, f64::max);
        let margin = MARGIN * (high - low);
        let end = (high + margin).clamp(1.0, size as f64) as usize;
        ((low - margin).clamp(0.0, end as f64 - 1.0) as usize, end)
    };
    let ((left, right), (top, bottom)) = (range(0, width), range(1, height));
    Cut {
        left,
        top,
        right,
        bottom,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::srgb_to_xyz;
    use crate::picture::{Encoding, Samples};
    use crate::reading::{Basis, Correction, Fall, Light, Tone};

    #[test]
    fn any_outline_gives_a_picture() {
        let photo = Photograph {
            width: 2800,
            height: 40,
            samples: Samples::Eight(vec![90; 3 * 2800 * 40]),
            encoding: Encoding {
                curves: [(); 3].map(|()| (0..256).map(|code| code as f32 / 255.0).collect()),
                to_xyz: srgb_to_xyz(),
                name: String::new(),
            },
        };
        let correction = Correction {
            tone: Tone::default(),
            flare: [0.0; 3],
            gain: [1.0; 3],
            matrix: srgb_to_xyz(),
            roots: Default::default(),
            fall: Fall::default(),
        };
        for outline in [
            vec![[0.0, 21.0], [2800.0, 21.0], [2800.0, 21.5]],
            vec![[7.0, 7.0]; 3],
            vec![[-90.0, -90.0], [9e9, 9e9], [0.0, 5.0]],
            vec![],
        ] {
            let reading = Reading {
                outline: Some(outline.clone()),
                light: Some(Light {
                    basis: Basis::Tag,
                    residual: None,
                    patches: Vec::new(),
                    correction: Some(correction.clone()),
                    ..Light::default()
                }),
                ..Reading::default()
            };
            for side in [900, 320, 0] {
                let made = in_true_light(&photo, &reading, side).unwrap();
                assert!(jpeg(&made).is_ok(), "{outline:?} {side}");
            }
        }
    }

    #[test]
    fn the_cut_keeps_a_margin_and_stays_inside() {
        let square = [[100.0, 50.0], [200.0, 50.0], [200.0, 150.0], [100.0, 150.0]];
        assert_eq!(
            cut(&square, 1000, 1000),
            Cut {
                left: 96,
                top: 46,
                right: 204,
                bottom: 154
            }
        );
        assert_eq!(
            cut(&square, 202, 150),
            Cut {
                left: 96,
                top: 46,
                right: 202,
                bottom: 150
            }
        );
    }
}
