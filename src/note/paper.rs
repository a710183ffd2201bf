//! Notes on paper: type set in columns, cards laid out on sheets.

use super::card::{back, front};
use super::{Key, Messages, Note};
use crate::draw::{About, Anchor, Drawing, Face, Rgb8, Stroke, Text, document};
use crate::error::{Error, Result};

/// What a note is printed on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// One card a page, front and back.
    A6,
    /// Four cards to a sheet, their backs on the next.
    A4,
    /// Four cards to a sheet of US Letter, their backs on the next.
    Letter,
}

impl Paper {
    /// Width and height of a sheet, mm: ISO 216, ANSI/ASME Y14.1 (8.5 × 11 in).
    pub fn size(self) -> [f64; 2] {
        match self {
            Self::A6 => [105.0, 148.0],
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }

    /// How many cards stand side by side, and one above another.
    fn cards(self) -> usize {
        match self {
            Self::A6 => 1,
            Self::A4 | Self::Letter => 2,
        }
    }
}

/// Notes as cards in one PDF; each front has its back on the page after, where it lies when the sheet is turned over its long
/// side. Colours are sRGB, typefaces are in it.
///
/// # Errors
/// The caller's move where there is no note; a picture that cannot be written.
pub fn pdf(notes: &[Note], paper: Paper) -> Result<Vec<u8>> {
    let first = notes.first().ok_or_else(|| {
        Error::caller("There is no note to print: name a piece that was photographed.")
    })?;
    let across = paper.cards();
    let size = paper.size().map(|side| side / across as f64);
    let mut pages = Vec::new();
    for sheet in notes.chunks(across * across) {
        let faces: Vec<Drawing> = sheet
            .iter()
            .map(|note| front(note, size))
            .collect::<Result<_>>()?;
        pages.push(laid_out(&faces, paper, false));
        let backs: Vec<Drawing> = sheet.iter().map(|note| back(note, size)).collect();
        pages.push(laid_out(&backs, paper, true));
    }
    let title = match notes {
        [one] => one.code.clone(),
        _ => Messages::of(first.language).say(Key::CoverTitle),
    };
    let about = About {
        title: &title,
        language: first.tag,
    };
    document(&pages, &about)
}

/// Cards row by row; the backs run from right to left, so that each comes to lie behind its front.
fn laid_out(cards: &[Drawing], paper: Paper, backs: bool) -> Drawing {
    let [width, height] = paper.size();
    let across = paper.cards();
    let mut page = Drawing::new(width, height);
    for (place, card) in cards.iter().enumerate() {
        let (row, column) = (place / across, place % across);
        let column = if backs { across - 1 - column } else { column };
        let corner = [
            column as f64 * width / across as f64,
            row as f64 * height / across as f64,
        ];
        page.place(card, corner);
    }
    if across > 1 {
        cut_marks(&mut page);
    }
    page
}

/// Short lines at the edges and a cross in the middle, where the sheet is cut into four.
fn cut_marks(page: &mut Drawing) {
    const LONG: f64 = 4.0;
    let (width, height) = (page.width(), page.height());
    let (x, y) = (width / 2.0, height / 2.0);
    for (from, to) in [
        (0.0, LONG),
        (x - LONG / 2.0, x + LONG / 2.0),
        (width - LONG, width),
    ] {
        page.line(&[[from, y], [to, y]], HAIR);
    }
    for (from, to) in [
        (0.0, LONG),
        (y - LONG / 2.0, y + LONG / 2.0),
        (height - LONG, height),
    ] {
        page.line(&[[x, from], [x, to]], HAIR);
    }
}

pub(super) const INK: Rgb8 = Rgb8::new(34, 34, 34);
pub(super) const SOFT: Rgb8 = Rgb8::new(96, 96, 96);
pub(super) const HAIR: Stroke = Stroke {
    colour: Rgb8::new(190, 190, 190),
    width: 0.15,
};

/// How a paragraph is set: typeface, size in mm, weight and colour.
#[derive(Clone, Copy)]
pub(super) struct Style {
    pub face: Face,
    pub size: f64,
    pub bold: bool,
    pub colour: Rgb8,
}

impl Style {
    /// Upright and regular, in ink.
    pub const fn plain(size: f64) -> Self {
        Self {
            face: Face::Serif,
            size,
            bold: false,
            colour: INK,
        }
    }

    /// Slanted, in grey.
    pub const fn quiet(size: f64) -> Self {
        Self {
            face: Face::SerifItalic,
            colour: SOFT,
            ..Self::plain(size)
        }
    }

    /// The same, bold.
    pub const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    /// The same at another size.
    pub fn times(self, factor: f64) -> Self {
        Self {
            size: factor * self.size,
            ..self
        }
    }

    /// The distance from one line to the next, mm.
    pub fn leading(self) -> f64 {
        1.32 * self.size
    }

    /// A line of text that stands at `at`.
    pub fn text(self, line: &str, at: [f64; 2], anchor: Anchor) -> Text {
        Text {
            text: line.to_owned(),
            at,
            size: self.size,
            bold: self.bold,
            anchor,
            colour: self.colour,
        }
    }

    /// How wide a line is, mm.
    pub fn width(self, line: &str) -> f64 {
        self.face.width(&self.text(line, [0.0, 0.0], Anchor::Start))
    }

    /// Words in lines that keep to `room`: a word that is too long for a line is broken.
    pub fn lines(self, words: &str, room: f64) -> Vec<String> {
        let wrapped = self.face.wrapped(words, self.size, self.bold, room);
        wrapped
            .into_iter()
            .flat_map(|line| match self.width(&line) > room {
                true => self.broken(&line, room),
                false => vec![line],
            })
            .collect()
    }

    fn broken(self, line: &str, room: f64) -> Vec<String> {
        let mut lines = vec![String::new()];
        for letter in line.chars() {
            let last = lines.last_mut().map(|last| {
                last.push(letter);
                last.clone()
            });
            if last.is_some_and(|last| last.chars().count() > 1 && self.width(&last) > room) {
                if let Some(last) = lines.last_mut() {
                    last.pop();
                }
                lines.push(letter.to_string());
            }
        }
        lines
    }
}

/// Text set downwards from the top of a column; the height follows from what is in it.
pub(super) struct Column {
    pub drawing: Drawing,
    pub width: f64,
    /// How far it reaches down, mm.
    pub height: f64,
}

impl Column {
    /// An empty one, `width` mm wide.
    pub fn new(width: f64) -> Self {
        Self {
            drawing: Drawing::new(width, 0.0),
            width,
            height: 0.0,
        }
    }

    /// Leaves so many mm free.
    pub fn gap(&mut self, height: f64) {
        self.height += height;
    }

    /// A paragraph over the whole width.
    pub fn paragraph(&mut self, words: &str, style: Style) {
        self.paragraph_at(words, style, 0.0);
    }

    /// A paragraph that is set in by `indent` mm.
    pub fn paragraph_at(&mut self, words: &str, style: Style, indent: f64) {
        for line in style.lines(words, self.width - indent) {
            // A capital of this face reaches 0.73 of the size above its line.
            let baseline = self.height + 0.5 * (style.leading() + 0.73 * style.size);
            let text = style.text(&line, [indent, baseline], Anchor::Start);
            self.drawing.text_in(style.face, text);
            self.height += style.leading();
        }
    }
}

/// Colours side by side, as wide as their share of `size[0]`; what has no colour of its own stays paper, framed.
pub(super) fn strip(page: &mut Drawing, note: &Note, corner: [f64; 2], size: [f64; 2]) {
    let mut x = corner[0];
    for (colour, share) in inks(note) {
        let wide = size[0] * share;
        page.rectangle([x, corner[1]], [wide, size[1]], colour);
        x += wide;
    }
    let [left, top] = corner;
    let (right, bottom) = (left + size[0], top + size[1]);
    let frame = [[x, top], [right, top], [right, bottom], [x, bottom]];
    if right - x > 0.1 {
        page.line(&frame, HAIR);
    }
}

/// The colours of a note to draw with, and their shares, which sum to 1 at most.
pub(super) fn inks(note: &Note) -> impl Iterator<Item = (Rgb8, f64)> + '_ {
    let whole = note.colours.iter().map(|c| c.share).sum::<f64>().max(1.0);
    let one = move |colour: &super::Colour| (ink(colour), colour.share / whole);
    note.colours.iter().map(one)
}

/// A colour to draw with.
pub(super) fn ink(colour: &super::Colour) -> Rgb8 {
    let [red, green, blue] = crate::colour::lab_to_srgb8(colour.lab);
    Rgb8::new(red, green, blue)
}
