use super::refuse::{self, CutShort, Refusal};
use super::{Decoded, MOST_PIXELS, Profile, camera};
use crate::error::Result;
use crate::picture::Samples;
use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;
use zune_jpeg::errors::DecodeErrors;

/// Decodes a JPEG, strictly: what is cut short anywhere is refused.
pub(super) fn decode(bytes: &[u8], name: &str) -> Result<Decoded> {
    let walk = Walk::over(bytes);
    let options = DecoderOptions::default()
        .set_strict_mode(true)
        .set_max_width(usize::from(u16::MAX))
        .set_max_height(usize::from(u16::MAX))
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    let fault = |error| match error {
        DecodeErrors::Unsupported(_) => {
            Refusal::Rare("a rare kind of JPEG (lossless, arithmetic or hierarchical)")
                .sentence(name)
        }
        other => refuse::damaged(name, other),
    };
    decoder.decode_headers().map_err(fault)?;
    let (width, height) = decoder.dimensions().unwrap_or_default();
    if width * height > MOST_PIXELS {
        return Err(Refusal::Claims { width, height }.sentence(name));
    }
    if !walk.ended || width * height > PIXELS_PER_BYTE * bytes.len() {
        return Err(refuse::damaged(name, CutShort));
    }
    let grey = match decoder.input_colorspace() {
        Some(ColorSpace::CMYK | ColorSpace::YCCK) => return Err(Refusal::Cmyk.sentence(name)),
        other => other == Some(ColorSpace::Luma),
    };
    let samples = decoder.decode().map_err(fault)?;
    Ok(Decoded {
        width,
        height,
        samples: Samples::Eight(samples),
        grey,
        profile: match decoder.icc_profile() {
            Some(icc) => Profile::Icc(icc),
            None if walk.profile => Profile::Broken,
            None => Profile::None,
        },
        told: camera::read(decoder.exif().map(Vec::as_slice)),
        caution: None,
    })
}

/// No JPEG packs more: an 8 by 8 block takes at least one bit.
const PIXELS_PER_BYTE: usize = 512;

/// What a walk along the markers (ISO/IEC 10918-1, annex B) finds. The decoder is content when only the last rows are
/// missing, and says nothing of a profile it had to drop.
#[derive(Default)]
struct Walk {
    ended: bool,
    profile: bool,
}

impl Walk {
    fn over(bytes: &[u8]) -> Self {
        let mut walk = Self::default();
        let mut at = 2;
        while let Some((marker, next)) = marker_from(bytes, at) {
            match marker {
                0xd9 => {
                    walk.ended = true;
                    break;
                }
                0x01 | 0xd0..=0xd8 => at = next,
                _ => {
                    let Some(&[high, low]) = bytes.get(next..next + 2) else {
                        break;
                    };
                    let body = bytes.get(next + 2..).unwrap_or_default();
                    walk.profile |= marker == 0xe2 && body.starts_with(b"ICC_PROFILE\0");
                    at = next + usize::from(u16::from_be_bytes([high, low])).max(2);
                }
            }
        }
        walk
    }
}

/// The next marker at or after `at`, past entropy-coded data, and the place behind it.
fn marker_from(bytes: &[u8], mut at: usize) -> Option<(u8, usize)> {
    loop {
        at += bytes.get(at..)?.iter().position(|&b| b == 0xff)? + 1;
        match bytes.get(at)? {
            0x00 | 0xff => {}
            &marker => return Some((marker, at + 1)),
        }
    }
}
