//! What was found in a photo, drawn over it.

mod below;
mod frames;

use super::picture::{Cut, corrected};
use crate::colour::Matrix;
use crate::draw::{Anchor, BLACK, Drawing, Rgb8, Text};
use crate::error::Result;
use crate::journal::record::Photo;
use crate::measure::Mark;
use crate::picture::{Photograph, Picture, scaled};
use crate::reading::{Correction, Fall, Reading, Tone};

/// The longer side of the photo in the drawing at most, pixels.
const SIDE: usize = 1600;

/// Pixels of a PNG of the drawing to a millimetre.
pub const DOTS: f64 = 10.0;

/// A page is at least this wide, mm, so that a line of text finds room.
const NARROWEST: f64 = 100.0;

const GREY: Rgb8 = Rgb8::new(90, 90, 90);

/// The photo in its corrected light with the outline and the marks over it, the colours to scale and in words below, and
/// the first cautions; draw it with [`DOTS`] pixels to a millimetre.
///
/// # Errors
/// The machine's, where the photo cannot be drawn.
pub fn overlay(photograph: &Photograph, marks: &[Mark], photo: &Photo) -> Result<Drawing> {
    let step = photograph.step_to(SIDE);
    let seen = corrected_or_as_it_is(photograph, &photo.reading, step);
    let width = (seen.width as f64 / DOTS).max(NARROWEST);
    let scale = width / photograph.width as f64;
    let height = scale * photograph.height as f64;
    let below = below::below(photo, width);
    let mut page = Drawing::new(width, height + below.height());
    page.picture([0.0, 0.0], [width, height], seen)?;
    if let Some(outline) = &photo.reading.outline {
        frames::outlined(&mut page, &scaled(outline, scale), [width, height]);
    }
    let marks: Vec<Mark> = marks
        .iter()
        .map(|mark| Mark {
            corners: scaled(&mark.corners, scale),
            word: mark.word.clone(),
        })
        .collect();
    frames::framed(&mut page, &marks, [width, height]);
    page.place(&below, [0.0, height]);
    Ok(page)
}

/// The whole photo in its corrected light; as photographed where the reading does not know the light.
pub(super) fn corrected_or_as_it_is(
    photo: &Photograph,
    reading: &Reading,
    step: usize,
) -> Picture<[u8; 3]> {
    let whole = Cut {
        left: 0,
        top: 0,
        right: photo.width,
        bottom: photo.height,
    };
    let as_it_is = Correction {
        tone: Tone::default(),
        flare: [0.0; 3],
        gain: [1.0; 3],
        matrix: photo.encoding.to_xyz,
        fall: Fall::default(),
        roots: Matrix::default(),
    };
    let known = reading.light.as_ref().and_then(|l| l.correction.as_ref());
    corrected(photo, known.unwrap_or(&as_it_is), step, &whole)
}

fn text(words: &str, size: f64, at: [f64; 2]) -> Text {
    Text {
        text: words.to_owned(),
        at,
        size,
        bold: false,
        anchor: Anchor::Start,
        colour: BLACK,
    }
}

#[cfg(test)]
mod tests {
    use super::below::{MOST_CAUTIONS, MOST_LINES};
    use super::*;
    use crate::colour::{Lab, srgb_to_xyz};
    use crate::error::Caution;
    use crate::picture::{Encoding, Samples};
    use crate::reading::Swatch;

    /// The overlay of a grey photo with a square outline, as pixels.
    fn check(marks: &[Mark], reading: Reading) -> (usize, usize, Vec<u8>) {
        let (width, height) = (600, 400);
        let photograph = Photograph {
            width,
            height,
            samples: Samples::Eight(vec![128; 3 * width * height]),
            encoding: Encoding {
                curves: [(); 3].map(|()| {
                    (0..256)
                        .map(|code| (code as f32 / 255.0).powf(2.2))
                        .collect()
                }),
                to_xyz: srgb_to_xyz(),
                name: String::new(),
            },
        };
        let photo = Photo {
            reading,
            ..Photo::default()
        };
        let page = overlay(&photograph, marks, &photo).unwrap();
        assert!(page.svg().contains("<image"));
        page.pixels(DOTS).unwrap()
    }

    fn at(pixels: &(usize, usize, Vec<u8>), x: usize, y: usize) -> [u8; 3] {
        let from = 3 * (y * pixels.0 + x);
        [pixels.2[from], pixels.2[from + 1], pixels.2[from + 2]]
    }

    #[test]
    fn the_outline_is_light_with_a_dark_edge() {
        let square = vec![
            [150.0, 100.0],
            [450.0, 100.0],
            [450.0, 300.0],
            [150.0, 300.0],
        ];
        let drawn = check(
            &[],
            Reading {
                outline: Some(square),
                ..Reading::default()
            },
        );
        // The page is 1000 pixels wide, the photo 600: 100 down is 167 there.
        let down: Vec<u8> = (150..180).map(|y| at(&drawn, 500, y)[0]).collect();
        assert!(down.contains(&0) && down.contains(&255), "{down:?}");
        let grey = at(&drawn, 500, 300)[0];
        assert!((120..140).contains(&grey), "{grey}");
    }

    #[test]
    fn a_mark_half_outside_keeps_its_word_inside() {
        let corners = vec![[-50.0, -50.0], [30.0, -50.0], [30.0, 40.0], [-50.0, 40.0]];
        let mark = Mark {
            corners,
            word: "tag LB007".to_owned(),
        };
        let drawn = check(&[mark], Reading::default());
        // The mark ends 67 pixels down, where its word begins after a gap of 7.
        assert_eq!(at(&drawn, 3, 78), [255; 3]);
        assert!((120..140).contains(&at(&drawn, 20, 20)[0]));
    }

    #[test]
    fn every_caution_and_colour_makes_the_page_longer() {
        let swatch = |share: f64| Swatch {
            lab: Lab::new(60.0, 10.0, 20.0),
            share,
            doubt: Some(1.0),
            word: None,
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        };
        let of = |colours: usize, cautions: usize| {
            check(
                &[],
                Reading {
                    swatches: vec![swatch(1.0 / colours as f64); colours],
                    cautions: vec![
                        Caution::new("glare", "Turn it until the shine goes.");
                        cautions
                    ],
                    ..Reading::default()
                },
            )
            .1
        };
        assert!(of(1, 0) < of(2, 0) && of(2, 0) < of(2, 1));
        assert_eq!(of(MOST_LINES + 1, 0), of(MOST_LINES + 4, 0));
        assert_eq!(of(1, MOST_CAUTIONS + 1), of(1, MOST_CAUTIONS + 9));
    }
}
