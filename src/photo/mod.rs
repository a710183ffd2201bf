//! Opens a photo file safely: decoded whole or refused, upright, with what the camera wrote down and with the meaning of
//! its samples.
//!
//! A file is judged by its content, never by its name's ending. Nothing large is allocated before the size that the file
//! claims has been looked at. The samples stay as the file encodes them; [`Encoding`](crate::picture::Encoding) says what
//! they mean.

mod camera;
mod heic;
mod jpeg;
mod kind;
mod profile;
mod raster;
mod refuse;
mod sharp;
mod space;
mod taking;
mod upright;

use crate::error::{Caution, Result};
use crate::picture::{Photograph, Samples};
use camera::Told;
use kind::Kind;
use std::path::Path;

/// A photo that could be opened.
#[derive(Debug)]
pub struct Opened {
    /// The upright picture.
    pub photograph: Photograph,
    /// What the camera wrote down.
    pub facts: Facts,
    /// What was amiss with the file, though it could be read.
    pub cautions: Vec<Caution>,
}

/// What the camera wrote into the file (EXIF); each is `None` where it did not, or where it makes no sense.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Facts {
    /// When the photo was taken, by the camera's clock: `YYYY-MM-DDTHH:MM:SS`, then `+HH:MM` where the offset from UTC is
    /// known.
    pub taken: Option<String>,
    /// Make and model of the camera.
    pub camera: Option<String>,
    /// Exposure time in seconds, above 0.
    pub seconds: Option<f64>,
    /// Focal length over the width of the aperture, above 0.
    pub f_number: Option<f64>,
    /// Sensitivity (ISO 12232), above 0.
    pub iso: Option<f64>,
    /// Whether the flash fired.
    pub flash: Option<bool>,
}

/// What a decoder gets out of a file, before anything of it is interpreted.
struct Decoded {
    width: usize,
    height: usize,
    samples: Samples,
    grey: bool,
    profile: Profile,
    told: Told,
    /// Whether a map of how much brighter each place may be shown goes with the picture.
    gain_map: bool,
    caution: Option<Caution>,
}

/// What a file says about the colours of its samples.
#[derive(Debug, PartialEq)]
enum Profile {
    None,
    Srgb,
    DisplayP3,
    Icc(Vec<u8>),
    /// There is one, but it cannot be got out of the file.
    Broken,
    /// Something other than a profile says that the colours are not sRGB.
    Unused,
}

/// The largest photo that is opened, in pixels.
const MOST_PIXELS: usize = 200_000_000;

/// Opens a photo held in memory. `name` is only for sentences.
///
/// # Errors
/// `Kind::File`, with a sentence that says what to do, where the file is not a whole picture of a known kind: empty,
/// truncated, damaged, larger than 200 million pixels, a series of pictures, AVIF, camera raw, or in printing inks (CMYK).
pub fn decode(bytes: &[u8], name: &str) -> Result<Opened> {
    let decoded = match kind::of(bytes) {
        Kind::Jpeg => jpeg::decode(bytes, name)?,
        Kind::Png => raster::png(bytes, name)?,
        Kind::Tiff => raster::tiff(bytes, name)?,
        Kind::WebP => raster::webp(bytes, name)?,
        Kind::Heic => heic::decode(bytes, name)?,
        Kind::Refused(what) => return Err(what.sentence(name)),
    };
    let told = decoded.told;
    let no_colour = decoded.grey.then(|| {
        Caution::new(
            "photo-without-colour",
            "This photo is black and white, so its greys say nothing of the piece's colours: photograph the piece again, in colour.",
        )
    });
    let (encoding, off_colour) = profile::encoding(
        &decoded.profile,
        decoded.grey,
        told.colour_space,
        &decoded.samples,
    );
    let (samples, width, height) = upright::turned(
        decoded.samples,
        decoded.width,
        decoded.height,
        told.orientation,
    );
    let photograph = Photograph {
        width,
        height,
        samples,
        encoding,
    };
    let of_the_file = [decoded.caution, told.caution, off_colour, no_colour];
    let cautions = of_the_file
        .into_iter()
        .chain([sharp::caution(&photograph)])
        .flatten()
        .chain(taking::cautions(&told.facts, told.worked, decoded.gain_map))
        .collect();
    Ok(Opened {
        photograph,
        facts: told.facts,
        cautions,
    })
}

/// Whether a file's name ends like a photo's: jpg, jpeg, png, tif, tiff, webp, heic, heif, in any case.
pub fn is_photo(path: &Path) -> bool {
    const ENDINGS: [&str; 8] = ["jpg", "jpeg", "png", "tif", "tiff", "webp", "heic", "heif"];
    path.extension()
        .and_then(|ending| ending.to_str())
        .is_some_and(|ending| ENDINGS.iter().any(|e| ending.eq_ignore_ascii_case(e)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::{Lab, Xyz, de00};
    use crate::error;
    use palette::IntoColor;
    use proptest::prelude::*;
    use std::path::PathBuf;

    /// What stands beside a file of `testdata/good/photos`.
    #[derive(serde::Deserialize)]
    struct Expected {
        width: usize,
        height: usize,
        lab: [f64; 3],
        within: f64,
        by: String,
        encoding: String,
        cautions: Vec<String>,
        facts: serde_json::Value,
    }

    fn files(folder: &str) -> Vec<PathBuf> {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("testdata")
            .join(folder);
        let mut files: Vec<PathBuf> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_none_or(|e| e != "json"))
            .collect();
        files.sort();
        files
    }

    fn name(path: &Path) -> String {
        path.file_name().unwrap().to_string_lossy().into_owned()
    }

    /// CIELAB of a pixel, with no light to correct.
    fn lab(photo: &Photograph, x: usize, y: usize) -> Lab {
        let rgb = photo.linear(x, y).array();
        let [x, y, z] = photo
            .encoding
            .to_xyz
            .map(|row| row[0] * rgb[0] + row[1] * rgb[1] + row[2] * rgb[2]);
        Xyz::new(x, y, z).into_color()
    }

    fn check(path: &Path) {
        let name = name(path);
        let beside = std::fs::read(format!("{}.json", path.display()))
            .unwrap_or_else(|e| panic!("{name} has no expectation beside it: {e}"));
        let expected: Expected = serde_json::from_slice(&beside).unwrap();
        let opened = decode(&std::fs::read(path).unwrap(), &name)
            .unwrap_or_else(|e| panic!("{name}: {e}; {:?}", std::error::Error::source(&e)));
        let photo = &opened.photograph;
        assert_eq!(
            (photo.width, photo.height),
            (expected.width, expected.height),
            "{name}"
        );
        let [l, a, b] = expected.lab;
        let got = lab(photo, photo.width / 2, photo.height / 2);
        let off = de00(got, Lab::new(l, a, b));
        assert!(
            off <= expected.within,
            "{name}: {got:?}, {off:.4} from {} says {:?}",
            expected.by,
            expected.lab
        );
        assert_eq!(photo.encoding.name, expected.encoding, "{name}");
        let codes: Vec<&str> = opened.cautions.iter().map(|c| c.code.as_str()).collect();
        assert_eq!(codes, expected.cautions, "{name}");
        assert_eq!(opened.facts, facts(&expected.facts), "{name}");
    }

    fn facts(json: &serde_json::Value) -> Facts {
        let text = |key: &str| json[key].as_str().map(str::to_owned);
        Facts {
            taken: text("taken"),
            camera: text("camera"),
            seconds: json["seconds"].as_f64(),
            f_number: json["f_number"].as_f64(),
            iso: json["iso"].as_f64(),
            flash: json["flash"].as_bool(),
        }
    }

    #[test]
    fn good_photos_open_as_expected() {
        let files = files("good/photos");
        assert!(files.len() > 40);
        files.iter().for_each(|path| check(path));
    }

    /// In which corner of the picture as seen the first stored pixels of each orientation lie: EXIF (JEITA CP-3451), tag 274.
    #[test]
    fn a_heic_is_turned_once() {
        let corners = [
            "top left",
            "top right",
            "bottom right",
            "bottom left",
            "top left",
            "top right",
            "bottom right",
            "bottom left",
        ];
        for (number, corner) in (1..).zip(corners) {
            let name = format!("turned-{number}.heic");
            let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/good/photos");
            let photo = decode(&std::fs::read(path.join(&name)).unwrap(), &name)
                .unwrap()
                .photograph;
            let (right, bottom) = (photo.width - 1, photo.height - 1);
            for (place, x, y) in [
                ("top left", 0, 0),
                ("top right", right, 0),
                ("bottom left", 0, bottom),
                ("bottom right", right, bottom),
            ] {
                let rust = lab(&photo, x, y).a > 30.0;
                assert_eq!(rust, place == corner, "{name}, {place}");
            }
        }
    }

    #[test]
    fn bad_photos_are_refused_with_a_sentence() {
        // The first word of the file's name says what the sentence must speak of.
        const WORDS: [(&str, &str); 10] = [
            ("cut", "not copied whole"),
            ("empty", "empty"),
            ("nophoto", "not a photo"),
            ("claims", "60000 by 60000"),
            ("cmyk", "CMYK"),
            ("series", "series"),
            ("avif", "AVIF"),
            ("raw", "raw file"),
            ("film", "film"),
            ("rare", "export"),
        ];
        let files = files("bad/photos");
        assert!(files.len() > 25);
        for path in files {
            let name = name(&path);
            let first = name.split(['-', '.']).next().unwrap();
            let (_, word) = WORDS.iter().find(|(w, _)| *w == first).unwrap();
            let refused = decode(&std::fs::read(&path).unwrap(), &name)
                .err()
                .unwrap_or_else(|| panic!("{name} was opened"));
            assert_eq!(refused.kind(), error::Kind::File, "{name}");
            let sentence = refused.to_string();
            assert!(
                sentence.starts_with(&name) && sentence.contains(word),
                "{sentence}"
            );
        }
    }

    #[test]
    fn photos_are_known_by_their_ending() {
        for yes in [
            "a.jpg", "b.JPEG", "c/d.Png", "e.tif", "f.TIFF", "g.webp", "h.HEIC", "i.heif",
        ] {
            assert!(is_photo(Path::new(yes)), "{yes}");
        }
        for no in ["jpg", ".jpg", "a.jpg.txt", "b.pdf", "c.jpgx", "d"] {
            assert!(!is_photo(Path::new(no)), "{no}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn a_cut_photo_is_refused(which in 0usize..6, kept in 0.0..1.0f64) {
            let names = [
                "busy.jpg", "busy.progressive.jpg", "busy.png", "busy.tif", "busy.webp", "busy.heic",
            ];
            let path = Path::new(env!("CARGO_MANIFEST_DIR"))
                .join("testdata/good/photos")
                .join(names[which]);
            let whole = std::fs::read(path).unwrap();
            let cut = (kept * whole.len() as f64) as usize;
            prop_assert!(decode(&whole[..cut], "cut").is_err(), "{} of {}", cut, whole.len());
        }

        #[test]
        fn a_mangled_photo_does_no_harm(
            which in any::<prop::sample::Index>(),
            flips in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
            kept in any::<prop::sample::Index>(),
        ) {
            let files = files("good/photos");
            let mut bytes = std::fs::read(which.get(&files)).unwrap();
            for (at, value) in flips {
                let at = at.index(bytes.len());
                bytes[at] = value;
            }
            for bytes in [&bytes[..], &bytes[..kept.index(bytes.len())]] {
                if let Ok(opened) = decode(bytes, "mangled") {
                    let photo = opened.photograph;
                    prop_assert!(lab(&photo, photo.width - 1, photo.height - 1).l.is_finite());
                }
            }
        }
    }
}
