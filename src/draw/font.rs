//! The typefaces that PDF and PNG carry: DejaVu Sans and DejaVu Serif Condensed (Latin, Greek, Cyrillic and more).

use super::Text;
use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

/// A typeface.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Face {
    /// Without serifs: tags, plans, plots.
    #[default]
    Sans,
    /// With serifs, narrow: what is read as a text.
    Serif,
    /// The same, slanted.
    SerifItalic,
}

/// A glyph of a line: its number in the font, the character it stands for, and how far it moves the pen, in sizes of type.
pub(super) struct Glyph {
    pub id: u32,
    pub bytes: std::ops::Range<usize>,
    pub advance: f64,
}

impl Face {
    /// All faces.
    pub(super) const ALL: [Self; 3] = [Self::Sans, Self::Serif, Self::SerifItalic];

    /// The font file.
    pub(super) fn data(self, bold: bool) -> &'static [u8] {
        match (self, bold) {
            (Self::Sans, false) => dejavu::sans::regular(),
            (Self::Sans, true) => dejavu::sans::bold(),
            (Self::Serif, false) => dejavu::serif_condensed::regular(),
            (Self::Serif, true) => dejavu::serif_condensed::bold(),
            (Self::SerifItalic, false) => dejavu::serif_condensed::italic(),
            (Self::SerifItalic, true) => dejavu::serif_condensed::bold_italic(),
        }
    }

    /// The face for this line: without serifs where only that has all letters of it.
    pub(super) fn on(self, line: &str) -> Self {
        match self.lacks(line).is_some() && Self::Sans.lacks(line).is_none() {
            true => Self::Sans,
            false => self,
        }
    }

    fn lacks(self, line: &str) -> Option<char> {
        let font = FontRef::new(self.data(false)).ok()?;
        let map = font.charmap();
        line.chars().find(|letter| map.map(*letter).is_none())
    }

    /// The width of a line in type of 1 mm.
    pub(super) fn line(self, line: &str, bold: bool) -> f64 {
        let glyphs = self.on(line).glyphs(line, bold);
        glyphs.iter().map(|glyph| glyph.advance).sum()
    }

    /// How wide the line is in this face, in mm.
    pub fn width(self, text: &Text) -> f64 {
        self.line(&text.text, text.bold) * text.size
    }

    /// The words in lines no wider than `room` mm in type of `size` mm; a single word may be.
    pub fn wrapped(self, words: &str, size: f64, bold: bool, room: f64) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        // A space that must not be broken at is none here.
        let gap = |c: char| c.is_whitespace() && c != '\u{a0}';
        for word in words.split(gap).filter(|word| !word.is_empty()) {
            let longer = lines.last().map(|line| format!("{line} {word}"));
            match longer.filter(|line| size * self.line(line, bold) <= room) {
                Some(line) => {
                    lines.pop();
                    lines.push(line);
                }
                None => lines.push(word.to_owned()),
            }
        }
        lines
    }

    /// One glyph a character, left to right; a character that the font lacks becomes its empty box.
    pub(super) fn glyphs(self, text: &str, bold: bool) -> Vec<Glyph> {
        let Ok(font) = FontRef::new(self.data(bold)) else {
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
}

/// The first letter of `text` that PDF and PNG cannot write: no typeface has it, or it is of a script that is written from right
/// to left or joins its letters.
pub fn unwritable(text: &str) -> Option<char> {
    let joined = |letter: char| matches!(letter, '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}');
    let joined = text.chars().find(|letter| joined(*letter));
    joined.or_else(|| Face::Sans.lacks(text))
}
