use super::Facts;
use super::taking::Worked;
use crate::error::Caution;
use exif::{Context, Exif, In, Reader, Tag, Value};
use jiff::civil::DateTime;

/// What EXIF tells about a picture.
pub(super) struct Told {
    pub(super) facts: Facts,
    /// 1 to 8; 1 where nothing sensible is said.
    pub(super) orientation: u8,
    pub(super) colour_space: Option<ColourSpace>,
    pub(super) worked: Worked,
    /// Whether the file's first picture is only a preview of another: what looks like a TIFF is a camera's raw file.
    pub(super) preview: bool,
    pub(super) caution: Option<Caution>,
}

/// The colour spaces that EXIF can name without a profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum ColourSpace {
    Srgb,
    AdobeRgb,
    /// Another one, which a profile should name.
    Uncalibrated,
}

/// Reads raw EXIF data (a TIFF header and what follows it; a TIFF file is such data).
pub(super) fn read(exif: Option<&[u8]>) -> Told {
    let Some(bytes) = exif else {
        return Told::from(None, false);
    };
    // WebP writers often keep the name that only JPEG puts before the data.
    let bytes = bytes.strip_prefix(b"Exif\0\0").unwrap_or(bytes);
    let mut holes = false;
    let exif = Reader::new()
        .continue_on_error(true)
        .read_raw(bytes.to_vec())
        .or_else(|error| error.distill_partial_result(|_| holes = true))
        .ok();
    Told::from(exif.as_ref(), holes || exif.is_none())
}

impl Told {
    fn from(exif: Option<&Exif>, holes: bool) -> Self {
        let facts = exif.map(facts).unwrap_or_default();
        Self {
            orientation: exif
                .and_then(|e| number(e, Tag::Orientation))
                .and_then(|n| u8::try_from(n).ok())
                .filter(|n| (1..=8).contains(n))
                .unwrap_or(1),
            colour_space: exif.and_then(colour_space),
            worked: exif.map(worked).unwrap_or_default(),
            preview: exif.is_some_and(is_preview),
            caution: (holes && facts.taken.is_none()).then(|| {
                Caution::new(
                    "exif-unreadable",
                    "What the camera wrote into this file cannot be read: check that the picture stands upright, and enter its date by hand.",
                )
            }),
            facts,
        }
    }
}

fn facts(exif: &Exif) -> Facts {
    let above_zero = |tag| ratio(exif, tag).filter(|&v| v > 0.0 && v.is_finite());
    Facts {
        taken: taken(exif),
        camera: camera(exif),
        seconds: above_zero(Tag::ExposureTime),
        f_number: above_zero(Tag::FNumber),
        iso: number(exif, Tag::PhotographicSensitivity)
            .filter(|&n| n > 0)
            .map(f64::from),
        flash: number(exif, Tag::Flash).map(|n| n & 1 == 1),
    }
}

/// When it was taken; else when the file was last written. Each has an offset of its own.
fn taken(exif: &Exif) -> Option<String> {
    [
        (Tag::DateTimeOriginal, Tag::OffsetTimeOriginal),
        (Tag::DateTime, Tag::OffsetTime),
    ]
    .into_iter()
    .find_map(|(when, offset)| {
        let when = moment(&text(exif, when)?)?;
        let offset = text(exif, offset)
            .filter(|o| is_offset(o))
            .unwrap_or_default();
        Some(format!("{when}{offset}"))
    })
}

/// `YYYY:MM:DD HH:MM:SS` as `YYYY-MM-DDTHH:MM:SS`, where that moment exists.
fn moment(text: &str) -> Option<String> {
    let when = DateTime::strptime("%Y:%m:%d %H:%M:%S", text).ok()?;
    // A clock that was never set says 1970 or 1980; what lies further off is no clock.
    (1900..=2200)
        .contains(&when.year())
        .then(|| when.strftime("%Y-%m-%dT%H:%M:%S").to_string())
}

/// `+HH:MM` or `-HH:MM`, as far from UTC as any place keeps its clocks.
fn is_offset(text: &str) -> bool {
    let [b'+' | b'-', digits @ ..] = text.as_bytes() else {
        return false;
    };
    let [
        h1 @ b'0'..=b'1',
        h2 @ b'0'..=b'9',
        b':',
        b'0'..=b'5',
        b'0'..=b'9',
    ] = digits
    else {
        return false;
    };
    (h1 - b'0') * 10 + (h2 - b'0') <= 14
}

/// Make and model; many models repeat the make.
fn camera(exif: &Exif) -> Option<String> {
    match (text(exif, Tag::Make), text(exif, Tag::Model)) {
        (Some(make), Some(model)) => {
            let repeats = model.to_lowercase().starts_with(&make.to_lowercase());
            Some(if repeats {
                model
            } else {
                format!("{make} {model}")
            })
        }
        (make, model) => make.or(model),
    }
}

/// Exif 2.3, ColorSpace; 2 is not of the standard but written. "R03" is DCF's name for the optional space.
fn colour_space(exif: &Exif) -> Option<ColourSpace> {
    match number(exif, Tag::ColorSpace) {
        Some(1) => Some(ColourSpace::Srgb),
        Some(2) => Some(ColourSpace::AdobeRgb),
        _ if text(exif, Tag::InteroperabilityIndex).as_deref() == Some("R03") => {
            Some(ColourSpace::AdobeRgb)
        }
        Some(65535) => Some(ColourSpace::Uncalibrated),
        _ => None,
    }
}

/// Exif 2.3, SceneCaptureType 3 is a night scene. CustomRendered is 0 or 1 in the standard; phones write more: 2 to 4 for the
/// parts of an HDR shot, 6 for a panorama, 7 and 8 for portraits (from memory).
fn worked(exif: &Exif) -> Worked {
    let night = number(exif, Tag::SceneCaptureType) == Some(3);
    let custom = matches!(number(exif, Tag::CustomRendered), Some(2 | 3 | 6..=8));
    Worked {
        locally: night || custom,
    }
}

/// TIFF 6.0, NewSubfileType: bit 0 marks a reduced version of another picture. Tag 50706 is the digital negative's version.
fn is_preview(exif: &Exif) -> bool {
    number(exif, Tag(Context::Tiff, 254)).is_some_and(|n| n & 1 == 1)
        || value(exif, Tag(Context::Tiff, 50706)).is_some()
}

fn value(exif: &Exif, tag: Tag) -> Option<&Value> {
    Some(&exif.get_field(tag, In::PRIMARY)?.value)
}

fn number(exif: &Exif, tag: Tag) -> Option<u32> {
    value(exif, tag)?.get_uint(0)
}

fn ratio(exif: &Exif, tag: Tag) -> Option<f64> {
    match value(exif, tag)? {
        Value::Rational(ratios) => ratios.first().map(|r| r.to_f64()),
        _ => None,
    }
}

/// A text without the padding of blanks and zeros that cameras write; `None` where nothing is left.
fn text(exif: &Exif, tag: Tag) -> Option<String> {
    let Value::Ascii(lines) = value(exif, tag)? else {
        return None;
    };
    let text: String = String::from_utf8_lossy(lines.first()?)
        .chars()
        .filter(|c| !c.is_control())
        .collect();
    Some(text.trim().to_owned()).filter(|t| !t.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_that_exist_are_kept() {
        for (written, read) in [
            ("2026:05:01 17:45:10", Some("2026-05-01T17:45:10")),
            ("2024:02:29 00:00:00", Some("2024-02-29T00:00:00")),
            ("2026:02:29 00:00:00", None),
            ("0000:00:00 00:00:00", None),
            ("0001:01:01 00:00:00", None),
            ("9999:12:31 23:59:59", None),
            ("2026:13:01 00:00:00", None),
            ("2026-05-01", None),
            ("    :  :     :  :  ", None),
        ] {
            assert_eq!(moment(written).as_deref(), read, "{written}");
        }
    }

    #[test]
    fn offsets_are_those_of_real_clocks() {
        for yes in ["+00:00", "-03:30", "+14:00", "+05:45"] {
            assert!(is_offset(yes), "{yes}");
        }
        for no in [
            "", "02:00", "+2:00", "+15:00", "+02:60", "+02:000", "Z", "+99:99",
        ] {
            assert!(!is_offset(no), "{no}");
        }
    }
}
