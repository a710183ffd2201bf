use super::camera::{self, Told};
use super::refuse::{self, CutShort, Refusal};
use super::{Decoded, MOST_PIXELS, Profile};
use crate::error::{Caution, Error, Result};
use crate::picture::Samples;
use image::codecs::{png::PngDecoder, tiff::TiffDecoder, webp::WebPDecoder};
use image::{DynamicImage, ExtendedColorType, ImageDecoder, ImageError, Limits};
use std::cell::Cell;
use std::io::Cursor;

/// Decodes a PNG of any depth and colour type.
pub(super) fn png(bytes: &[u8], name: &str) -> Result<Decoded> {
    // What stands before the picture needs little room, unpacked too; a profile that claims more is a trap.
    let mut decoder =
        PngDecoder::with_limits(Cursor::new(bytes), limits(1 << 26)).map_err(|e| fault(name, e))?;
    let exif = decoder.exif_metadata().unwrap_or_default();
    let chunks = Chunks::of(bytes);
    if !chunks.ended {
        return Err(refuse::damaged(name, CutShort));
    }
    decoded(decoder, camera::read(exif.as_deref()), chunks.colour, name)
}

/// Decodes the first picture of a TIFF, 8 or 16 bits a channel.
pub(super) fn tiff(bytes: &[u8], name: &str) -> Result<Decoded> {
    let told = camera::read(Some(bytes));
    if told.preview {
        return Err(Refusal::Raw.sentence(name));
    }
    let decoder = TiffDecoder::new(Cursor::new(bytes)).map_err(|e| fault(name, e))?;
    if matches!(
        decoder.original_color_type(),
        ExtendedColorType::Cmyk8 | ExtendedColorType::Cmyk16
    ) {
        return Err(Refusal::Cmyk.sentence(name));
    }
    decoded(decoder, told, Profile::None, name)
}

/// Decodes a WebP, lossy or lossless; the first picture of an animated one.
pub(super) fn webp(bytes: &[u8], name: &str) -> Result<Decoded> {
    let mut decoder = WebPDecoder::new(Cursor::new(bytes)).map_err(|e| fault(name, e))?;
    // RFC 9649, 2.4: the size of all that follows the first eight bytes.
    let size = bytes.get(4..8).and_then(|b| b.try_into().ok());
    if size.is_none_or(|b| bytes.len() < 8 + u32::from_le_bytes(b) as usize) {
        return Err(refuse::damaged(name, CutShort));
    }
    let exif = decoder.exif_metadata().unwrap_or_default();
    decoded(decoder, camera::read(exif.as_deref()), Profile::None, name)
}

/// The samples and their profile; `said` is what holds where the decoder hands out no profile.
fn decoded(
    mut decoder: impl ImageDecoder,
    told: Told,
    said: Profile,
    name: &str,
) -> Result<Decoded> {
    check_size(&decoder, name)?;
    let profile = match decoder.icc_profile() {
        Ok(Some(icc)) => Profile::Icc(icc),
        Ok(None) => said,
        Err(_) => Profile::Broken,
    };
    // Only now: a TIFF decoder with limits has no room for a profile that is larger than its picture.
    decoder
        .set_limits(limits(2 * MOST_BYTES))
        .map_err(|e| fault(name, e))?;
    let (width, height) = decoder.dimensions();
    let image = DynamicImage::from_decoder(decoder).map_err(|e| fault(name, e))?;
    let grey = !image.color().has_color();
    let (samples, transparent) = opaque(image)
        .ok_or_else(|| Refusal::Rare("colours as fractions (floating point)").sentence(name))?;
    Ok(Decoded {
        width: width as usize,
        height: height as usize,
        samples,
        grey,
        profile,
        told,
        gain_map: false,
        caution: transparent.then(transparency_ignored),
    })
}

pub(super) fn transparency_ignored() -> Caution {
    Caution::new(
        "transparency-ignored",
        "Parts of this picture are transparent, and were read as if they were not: if a piece was cut out with an app, give the photo \
         as it was taken.",
    )
}

/// Three channels, and whether anything was transparent; `None` for samples that are not whole numbers.
fn opaque(image: DynamicImage) -> Option<(Samples, bool)> {
    Some(match image {
        DynamicImage::ImageLuma8(i) => (Samples::Eight(tripled(&i.into_raw())), false),
        DynamicImage::ImageLuma16(i) => (Samples::Sixteen(tripled(&i.into_raw())), false),
        DynamicImage::ImageRgb8(i) => (Samples::Eight(i.into_raw()), false),
        DynamicImage::ImageRgb16(i) => (Samples::Sixteen(i.into_raw()), false),
        DynamicImage::ImageLumaA8(i) => {
            let (grey, transparent) = without_alpha::<_, 2>(i.into_raw(), u8::MAX);
            (Samples::Eight(tripled(&grey)), transparent)
        }
        DynamicImage::ImageLumaA16(i) => {
            let (grey, transparent) = without_alpha::<_, 2>(i.into_raw(), u16::MAX);
            (Samples::Sixteen(tripled(&grey)), transparent)
        }
        DynamicImage::ImageRgba8(i) => {
            let (rgb, transparent) = without_alpha::<_, 4>(i.into_raw(), u8::MAX);
            (Samples::Eight(rgb), transparent)
        }
        DynamicImage::ImageRgba16(i) => {
            let (rgb, transparent) = without_alpha::<_, 4>(i.into_raw(), u16::MAX);
            (Samples::Sixteen(rgb), transparent)
        }
        _ => return None,
    })
}

fn tripled<S: Copy>(grey: &[S]) -> Vec<S> {
    grey.iter().flat_map(|&s| [s; 3]).collect()
}

/// Drops the last of `N` channels in place, and says whether any of it was below `full`.
pub(super) fn without_alpha<S: Copy + PartialEq, const N: usize>(
    mut samples: Vec<S>,
    full: S,
) -> (Vec<S>, bool) {
    let mut transparent = false;
    let cells = Cell::from_mut(samples.as_mut_slice()).as_slice_of_cells();
    let (pixels, _) = cells.as_chunks::<N>();
    // Writing never overtakes reading.
    for (pixel, kept) in pixels.iter().zip(cells.chunks_exact(N - 1)) {
        for (to, from) in kept.iter().zip(pixel) {
            to.set(from.get());
        }
        transparent |= pixel[N - 1].get() != full;
    }
    let kept = (N - 1) * pixels.len();
    samples.truncate(kept);
    (samples, transparent)
}

/// What a walk along a PNG's chunks (ISO/IEC 15948, 5.3) finds. The decoder does not ask for the last chunk, and says nothing
/// of a profile it had to drop.
struct Chunks {
    ended: bool,
    /// What holds where the decoder hands out no profile: the first chunk that speaks of colour decides.
    colour: Profile,
}

impl Chunks {
    fn of(png: &[u8]) -> Self {
        let mut chunks = Self {
            ended: false,
            colour: Profile::None,
        };
        let mut rest = png.get(8..).unwrap_or_default();
        while let Some((length, after)) = rest.split_first_chunk::<4>()
            && let Some((kind, body)) = after.split_first_chunk::<4>()
            && let Some(next) = body.get(u32::from_be_bytes(*length) as usize + 4..)
        {
            chunks.ended |= kind == b"IEND";
            if chunks.colour == Profile::None {
                chunks.colour = colour_chunk(kind, body);
            }
            rest = next;
        }
        chunks
    }
}

/// What one chunk says of the colours. A gamma of 45455 hundred-thousandths is sRGB's; code points 1 and 13 (ITU-T H.273)
/// are its primaries and curve.
fn colour_chunk(kind: &[u8; 4], body: &[u8]) -> Profile {
    match kind {
        b"sRGB" => Profile::Srgb,
        b"iCCP" => Profile::Broken,
        b"cICP" if body.starts_with(&[1, 13]) => Profile::Srgb,
        b"cICP" => Profile::Unused,
        b"gAMA" => match body.first_chunk().map(|b| u32::from_be_bytes(*b)) {
            Some(45_000..=46_000) => Profile::None,
            _ => Profile::Unused,
        },
        _ => Profile::None,
    }
}

fn check_size(decoder: &impl ImageDecoder, name: &str) -> Result<()> {
    let (width, height) = decoder.dimensions();
    let (width, height) = (width as usize, height as usize);
    if width.saturating_mul(height) > MOST_PIXELS {
        return Err(Refusal::Claims { width, height }.sentence(name));
    }
    if decoder.total_bytes() > MOST_BYTES {
        return Err(Refusal::Heavy.sentence(name));
    }
    Ok(())
}

/// The most that a photo's samples may take, bytes: the largest photo with four channels of 8 bits, or half of it with 16. Two may be
/// measured at one time, and computers have 4 GB.
const MOST_BYTES: u64 = 4 * MOST_PIXELS as u64;

/// Limits on what a decoder may allocate, in bytes.
fn limits(bytes: u64) -> Limits {
    let mut limits = Limits::default();
    limits.max_alloc = Some(bytes);
    limits
}

fn fault(name: &str, error: ImageError) -> Error {
    match error {
        ImageError::Unsupported(_) => Refusal::Rare("colours written in a rare way").sentence(name),
        other => refuse::damaged(name, other),
    }
}
