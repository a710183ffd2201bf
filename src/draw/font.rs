//! The typeface that PDF and PNG carry: DejaVu Sans (Latin, Greek, Cyrillic and more).

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

/// A glyph of a line: its number in the font, the character it stands for, and how far it moves the pen, in sizes of type.
pub(super) struct Glyph {
    pub id: u32,
    pub bytes: std::ops::Range<usize>,
    pub advance: f64,
}

/// The font file.
pub(super) fn data(bold: bool) -> &'static [u8] {
    if bold {
        dejavu::sans::bold()
    } else {
        dejavu::sans::regular()
    }
}

/// One glyph a character, left to right; a character that the font lacks becomes its empty box.
pub(super) fn glyphs(text: &str, bold: bool) -> Vec<Glyph> {
    let Ok(font) = FontRef::new(data(bold)) else {
        return Vec::new();
    };
    let advances = font.glyph_metrics(Size::new(1.0), LocationRef::default());
    let map = font.charmap();
    text.char_indices()
        .map(|(at, letter)| {
            let id = map.map(letter).unwrap_or_default();
            Glyph {
                id: id.to_u32(),
                bytes: at..at + letter.len_utf8(),
                advance: f64::from(advances.advance_width(id).unwrap_or(0.0)),
            }
        })
        .collect()
}
