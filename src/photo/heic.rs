//! HEIC, what phones write unless told otherwise: a container of boxes (ISO/IEC 23008-12) around HEVC pictures.

use super::refuse::{self, CutShort, Refusal};
use super::{Decoded, MOST_PIXELS, Profile, camera, raster};
use crate::error::{Error, Result};
use crate::picture::Samples;
use heifer::heifer_isobmff::boxes::{ColorInfo, Property};
use heifer::heifer_isobmff::{HeifFile, ItemId};

/// The still picture of a container: all that is asked of the library that reads it.
trait Still<'a>: Sized {
    /// Reads the boxes, not yet the pixels.
    fn of(bytes: &'a [u8]) -> std::result::Result<Self, Fault>;
    /// Width and height as coded, before the file's own turns: only their product is meant.
    fn size(&self) -> (usize, usize);
    /// EXIF data, a TIFF header and what follows it.
    fn exif(&self) -> Option<Vec<u8>>;
    fn profile(&self) -> Profile;
    fn grey(&self) -> bool;
    /// Whether a map stands beside the picture that says how much brighter each place may be shown.
    fn gain_map(&self) -> bool;
    /// Red, green, blue and opacity of each pixel, turned as the file says; with width and height. Nothing of more than `most`
    /// pixels is begun.
    fn rgba(&self, most: usize) -> std::result::Result<(Vec<u8>, usize, usize), Fault>;
}

/// Why a still picture could not be had.
#[derive(Debug, thiserror::Error)]
enum Fault {
    #[error("it uses what is not supported")]
    Rare,
    #[error(transparent)]
    Damaged(heifer::Error),
}

/// Decodes the main picture of a HEIC file. Its boxes say how it is turned; what EXIF says of that is only a copy.
pub(super) fn decode(bytes: &[u8], name: &str) -> Result<Decoded> {
    if !is_whole(bytes) {
        return Err(refuse::damaged(name, CutShort));
    }
    decoded::<Boxes>(bytes, name)
}

fn decoded<'a, S: Still<'a>>(bytes: &'a [u8], name: &str) -> Result<Decoded> {
    let still = S::of(bytes).map_err(|f| fault(name, f))?;
    let (width, height) = still.size();
    if width.saturating_mul(height) > MOST_PIXELS {
        return Err(Refusal::Claims { width, height }.sentence(name));
    }
    let most = MOST_PIXELS.min(PIXELS_PER_BYTE * bytes.len());
    if width * height > most {
        return Err(refuse::damaged(name, CutShort));
    }
    let mut told = camera::read(still.exif().as_deref());
    told.orientation = 1;
    let (rgba, width, height) = still.rgba(most).map_err(|f| fault(name, f))?;
    if width * height == 0 {
        return Err(refuse::damaged(name, CutShort));
    }
    let (samples, transparent) = raster::without_alpha::<_, 4>(rgba, u8::MAX);
    Ok(Decoded {
        width,
        height,
        samples: Samples::Eight(samples),
        grey: still.grey(),
        profile: still.profile(),
        told,
        gain_map: still.gain_map(),
        caution: transparent.then(raster::transparency_ignored),
    })
}

/// Phones write 10 to 20 pixels to a byte. A file of far fewer bytes than its size wants is no photo, and only costs memory.
const PIXELS_PER_BYTE: usize = 4096;

/// Whether the outermost boxes (ISO/IEC 14496-12, 4.2) end where the file does.
fn is_whole(bytes: &[u8]) -> bool {
    let mut rest = bytes;
    while let Some((size, after)) = rest.split_first_chunk::<4>() {
        let size = match u32::from_be_bytes(*size) {
            0 => return true,
            1 => after
                .get(4..)
                .and_then(|b| b.first_chunk())
                .and_then(|b| usize::try_from(u64::from_be_bytes(*b)).ok()),
            size => usize::try_from(size).ok(),
        };
        match size.filter(|&s| s >= 8).and_then(|s| rest.get(s..)) {
            Some(next) => rest = next,
            None => return false,
        }
    }
    rest.is_empty()
}

fn fault(name: &str, fault: Fault) -> Error {
    match fault {
        Fault::Rare => Refusal::Rare("a rare kind of HEIC").sentence(name),
        damaged => refuse::damaged(name, damaged),
    }
}

/// A container as `heifer` reads it.
struct Boxes<'a> {
    bytes: &'a [u8],
    file: HeifFile<'a>,
}

impl From<heifer::Error> for Fault {
    fn from(error: heifer::Error) -> Self {
        match error {
            heifer::Error::Unsupported(_) => Self::Rare,
            other => Self::Damaged(other),
        }
    }
}

impl<'a> Still<'a> for Boxes<'a> {
    fn of(bytes: &'a [u8]) -> std::result::Result<Self, Fault> {
        let file = HeifFile::parse(bytes).map_err(heifer::Error::from)?;
        Ok(Self { bytes, file })
    }

    fn size(&self) -> (usize, usize) {
        let size = self.file.image_size(self.file.primary_id);
        let (width, height) = size.ok().flatten().unwrap_or_default();
        (width as usize, height as usize)
    }

    fn exif(&self) -> Option<Vec<u8>> {
        self.file.exif(self.file.primary_id).ok().flatten()
    }

    fn profile(&self) -> Profile {
        if let Ok(Some(icc)) = self.file.icc_profile(self.file.primary_id) {
            return Profile::Icc(icc.to_vec());
        }
        self.first(|property| match property {
            Property::Color(ColorInfo::Nclx {
                primaries,
                transfer,
                ..
            }) => Some(named(*primaries, *transfer)),
            _ => None,
        })
        .unwrap_or(Profile::None)
    }

    fn grey(&self) -> bool {
        self.first(|property| match property {
            Property::HevcConfig(config) => Some(config.chroma_format == 0),
            _ => None,
        })
        .unwrap_or(false)
    }

    fn gain_map(&self) -> bool {
        // ISO 21496-1 by its item, phones' older way by the name of an auxiliary picture.
        self.file.items.iter().any(|i| &i.item_type.0 == b"tmap")
            || self
                .file
                .properties
                .iter()
                .any(|p| matches!(p, Property::AuxiliaryType(kind) if kind.ends_with("hdrgainmap")))
    }

    fn rgba(&self, most: usize) -> std::result::Result<(Vec<u8>, usize, usize), Fault> {
        // Photos are worked on side by side already.
        let options = heifer::Options {
            max_threads: 1,
            max_pixels: most as u64,
        };
        let image = heifer::decode_rgba8(self.bytes, &options)?;
        Ok((image.data, image.width as usize, image.height as usize))
    }
}

impl Boxes<'_> {
    /// What the main picture's properties tell, or those of its first tile.
    fn first<T>(&self, told: impl Fn(&Property) -> Option<T>) -> Option<T> {
        let main = self.file.primary_id;
        let tile = self.file.referenced_items(main, b"dimg").first().copied();
        let of = |id: ItemId| self.file.item_properties(id).ok()?.find_map(&told);
        of(main).or_else(|| of(tile?))
    }
}

/// What code points of ITU-T H.273 say: primaries 1 are sRGB's, 12 Display P3's, transfer 13 is the curve of both. The curves
/// of video (1, 6, 14, 15) stand in phones' pictures for that one too; 2 says nothing. Common practice, no source.
fn named(primaries: u16, transfer: u16) -> Profile {
    match (primaries, transfer) {
        (2, 2) => Profile::None,
        (1 | 2, 1 | 2 | 6 | 13..=15) => Profile::Srgb,
        (12, 1 | 2 | 6 | 13..=15) => Profile::DisplayP3,
        _ => Profile::Unused,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn code_points_are_those_of_their_standard() {
        assert_eq!(named(1, 13), Profile::Srgb);
        assert_eq!(named(12, 13), Profile::DisplayP3);
        assert_eq!(named(2, 2), Profile::None);
        // BT.2020 with PQ and with HLG: more light than a print can have.
        assert_eq!(named(9, 16), Profile::Unused);
        assert_eq!(named(9, 18), Profile::Unused);
    }

    #[test]
    fn boxes_end_where_the_file_does() {
        let one = b"\0\0\0\x0cftypheic";
        assert!(is_whole(one) && is_whole(&[&one[..], b"\0\0\0\0mdat and all the rest"].concat()));
        let large = b"\0\0\0\x01mdat\0\0\0\0\0\0\0\x12ab";
        assert!(is_whole(&[&one[..], large].concat()));
        for cut in 1..one.len() {
            assert!(!is_whole(&one[..cut]), "{cut}");
        }
        assert!(!is_whole(&[&one[..], &large[..17]].concat()));
        assert!(!is_whole(b"\0\0\0\x04ftypheic"));
    }
}
