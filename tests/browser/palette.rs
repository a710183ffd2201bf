//! Pictures with few colours, so that `docs/` stays small.

use image::RgbImage;
use std::collections::HashMap;

/// Colours in a picture.
const COLOURS: usize = 128;

/// Colours, each with the number of its pixels.
type Counted = Vec<([u8; 3], usize)>;

/// The picture as a PNG with a palette (ISO/IEC 15948): its colours by median cut (Heckbert 1982, doi:10.1145/965145.801294).
pub fn png(picture: &RgbImage) -> Vec<u8> {
    let mut count = HashMap::<[u8; 3], usize>::new();
    for pixel in picture.pixels() {
        *count.entry(pixel.0).or_default() += 1;
    }
    let mut colours: Counted = count.into_iter().collect();
    colours.sort_unstable();
    let mut boxes = vec![colours];
    while boxes.len() < COLOURS {
        let Some(widest) =
            (0..boxes.len()).max_by_key(|n| width(&boxes[*n]).1 * boxes[*n].len().ilog2())
        else {
            break;
        };
        if boxes[widest].len() < 2 {
            break;
        }
        let (one, other) = halves(boxes.swap_remove(widest));
        boxes.extend([one, other]);
    }
    let palette: Vec<[u8; 3]> = boxes.iter().map(|some| mean(some)).collect();
    let place: HashMap<[u8; 3], u8> = boxes
        .iter()
        .zip(0..)
        .flat_map(|(some, n)| some.iter().map(move |(colour, _)| (*colour, n)))
        .collect();
    let pixels: Vec<u8> = picture.pixels().map(|pixel| place[&pixel.0]).collect();
    written(picture, palette.concat(), &pixels)
}

/// The channel in which colours lie farthest apart, and how far.
fn width(colours: &[([u8; 3], usize)]) -> (usize, u32) {
    let far = |channel: usize| {
        let values = colours.iter().map(|(colour, _)| colour[channel]);
        let (low, high) = values.fold((u8::MAX, 0), |(low, high), value| {
            (value.min(low), value.max(high))
        });
        u32::from(high.saturating_sub(low))
    };
    let channels = (0..3).map(|channel| (channel, far(channel)));
    channels
        .max_by_key(|(_, far)| *far)
        .expect("three channels")
}

/// Colours cut where half of the pixels lie on either side.
fn halves(mut colours: Counted) -> (Counted, Counted) {
    let (channel, _) = width(&colours);
    colours.sort_by_key(|(colour, _)| colour[channel]);
    let half = colours.iter().map(|(_, count)| count).sum::<usize>() / 2;
    let mut seen = 0;
    let cut = colours.iter().position(|(_, count)| {
        seen += count;
        seen >= half
    });
    let cut = (cut.unwrap_or(0) + 1).min(colours.len() - 1);
    let other = colours.split_off(cut);
    (colours, other)
}

fn mean(colours: &[([u8; 3], usize)]) -> [u8; 3] {
    let all: usize = colours.iter().map(|(_, count)| count).sum();
    [0, 1, 2].map(|channel| {
        let sum: usize = colours
            .iter()
            .map(|(colour, count)| usize::from(colour[channel]) * count)
            .sum();
        u8::try_from((sum + all / 2) / all).expect("a mean of bytes")
    })
}

fn written(picture: &RgbImage, palette: Vec<u8>, pixels: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, picture.width(), picture.height());
    encoder.set_color(png::ColorType::Indexed);
    encoder.set_depth(png::BitDepth::Eight);
    encoder.set_palette(palette);
    encoder.set_compression(png::Compression::High);
    // Neighbours in a palette are no neighbours in colour.
    encoder.set_filter(png::Filter::NoFilter);
    let mut writer = encoder.write_header().expect("a head");
    writer.write_image_data(pixels).expect("written");
    writer.finish().expect("an end");
    bytes
}
