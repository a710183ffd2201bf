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
        gain_map: walk.gain_map || gain_map_after(bytes, walk.end),
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
    /// Where the walk stopped.
    end: usize,
    profile: bool,
    gain_map: bool,
}

impl Walk {
    fn over(bytes: &[u8]) -> Self {
        let mut walk = Self::default();
        let mut at = 2;
        while let Some((marker, next)) = marker_from(bytes, at) {
            match marker {
                0xd9 => {
                    walk.ended = true;
                    walk.end = next;
                    break;
                }
                0x01 | 0xd0..=0xd8 => at = next,
                _ => {
                    let Some(&[high, low]) = bytes.get(next..next + 2) else {
                        break;
                    };
                    let length = usize::from(u16::from_be_bytes([high, low])).max(2);
                    let rest = &bytes[next + 2..];
                    let body = rest.get(..length - 2).unwrap_or(rest);
                    walk.profile |= marker == 0xe2 && body.starts_with(b"ICC_PROFILE\0");
                    walk.gain_map |= matches!(marker, 0xe1 | 0xe2) && names_gain_map(body);
                    at = next + length;
                }
            }
        }
        walk
    }
}

/// Whether an application's segment tells of a gain map: ISO 21496-1's own, or XMP in a name space for it (from memory).
fn names_gain_map(body: &[u8]) -> bool {
    const NAMES: [&[u8]; 3] = [
        b"urn:iso:std:iso:ts:21496:-1",
        b"hdr-gain-map/1.0",
        b"aux:hdrgainmap",
    ];
    NAMES
        .iter()
        .any(|name| body.windows(name.len()).any(|w| w == *name))
}

/// Whether one of the pictures that follow the first one's end is a gain map.
fn gain_map_after(bytes: &[u8], end: usize) -> bool {
    let mut rest = bytes.get(end..).unwrap_or_default();
    while rest.starts_with(&[0xff, 0xd8, 0xff]) {
        let walk = Walk::over(rest);
        if walk.gain_map {
            return true;
        }
        rest = rest.get(walk.end.max(2)..).unwrap_or_default();
    }
    false
}

/// The next marker at or after `at`, past entropy-coded data, and the place behind it.
fn marker_from(bytes: &[u8], mut at: usize) -> Option<(u8, usize)> {
    loop {
        let rest = bytes.get(at..)?;
        // A chunk is asked in less time than byte after byte, and most of a file is entropy-coded.
        let before = rest.chunks(64).take_while(|chunk| !chunk.contains(&0xff));
        at += 64 * before.count();
        at += bytes.get(at..)?.iter().position(|&b| b == 0xff)? + 1;
        match bytes.get(at)? {
            0x00 | 0xff => {}
            &marker => return Some((marker, at + 1)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn segment(marker: u8, body: &[u8]) -> Vec<u8> {
        let length = (body.len() as u16 + 2).to_be_bytes();
        [&[0xff, marker][..], &length, body].concat()
    }

    /// A JPEG's markers alone: start, one segment, end.
    fn frame(segment: &[u8]) -> Vec<u8> {
        [&[0xff, 0xd8], segment, &[0xff, 0xd9]].concat()
    }

    #[track_caller]
    fn check(bytes: &[u8], expected: bool) {
        let walk = Walk::over(bytes);
        assert!(walk.ended);
        assert_eq!(walk.gain_map || gain_map_after(bytes, walk.end), expected);
    }

    #[test]
    fn gain_maps_are_noticed_where_they_stand() {
        // ISO/TS 21496-1, annex on JPEG: the segment's name (from memory); the others as phones write them.
        let iso = segment(0xe2, b"urn:iso:std:iso:ts:21496:-1\0\0\0\0\0");
        let xmp = segment(0xe1, b"http://ns.adobe.com/xap/1.0/\0<x xmlns:hdrgm=\"http://ns.adobe.com/hdr-gain-map/1.0/\"/>");
        let other = segment(0xe1, b"http://ns.adobe.com/xap/1.0/\0<x/>");
        check(&frame(&iso), true);
        check(&frame(&xmp), true);
        check(&frame(&other), false);
        let parts = segment(0xe2, b"MPF\0");
        let map = segment(
            0xe1,
            b"http://ns.adobe.com/xap/1.0/\0urn:com:apple:photo:2020:aux:hdrgainmap",
        );
        check(&[frame(&parts), frame(&other)].concat(), false);
        check(&[frame(&parts), frame(&other), frame(&map)].concat(), true);
    }
}
