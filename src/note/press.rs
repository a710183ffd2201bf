//! What cards, cover and square picture are set with: type in columns, colours in strips.

use super::{Colour, Note};
use crate::colour::lab_to_srgb8;
use crate::draw::{Anchor, Drawing, Face, Part, Rgb8, Stroke, Text};

pub(super) const INK: Rgb8 = Rgb8::new(34, 34, 34);
pub(super) const SOFT: Rgb8 = Rgb8::new(96, 96, 96);
pub(super) const HAIR: Stroke = Stroke {
    colour: Rgb8::new(190, 190, 190),
    width: 0.15,
};

/// Nothing is set smaller than this to find room, mm: 6 points (common practice, no source).
const SMALLEST: f64 = 6.0 * 25.4 / 72.0;

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

    /// The same at another size, but not so small that it could not be read.
    pub fn times(self, factor: f64) -> Self {
        Self {
            size: (factor * self.size).max(SMALLEST.min(self.size)),
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

    /// A line that goes on where there is no room: three dots stand for the rest.
    fn shortened(self, line: &str, room: f64) -> String {
        let mut kept = line.to_owned();
        while self.width(&format!("{kept} …")) > room && kept.pop().is_some() {}
        format!("{} …", kept.trim_end())
    }

    fn broken(self, line: &str, room: f64) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for letter in line.chars() {
            let longer = lines.last().map(|last| format!("{last}{letter}"));
            match longer.filter(|line| self.width(line) <= room) {
                Some(longer) => {
                    lines.pop();
                    lines.push(longer);
                }
                None => lines.push(letter.to_string()),
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

    /// A paragraph over the whole width, at most ten lines.
    pub fn paragraph(&mut self, words: &str, style: Style) {
        self.paragraph_of(10, words, style);
    }

    /// A paragraph of so many lines at most; what is left out leaves three dots.
    pub fn paragraph_of(&mut self, most: usize, words: &str, style: Style) {
        self.drawing.begin(Part::Paragraph);
        self.lines_of(most, words, style, 0.0);
    }

    /// A heading, 1 the highest, of two lines at most.
    pub fn heading(&mut self, level: u16, words: &str, style: Style) {
        self.drawing.begin(Part::Heading(level));
        self.lines_of(2, words, style, 0.0);
    }

    /// So many lines at most, set in by `indent` mm, that go on in the part of the text that was begun.
    pub fn lines_of(&mut self, most: usize, words: &str, style: Style, indent: f64) {
        let room = self.width - indent;
        let mut lines = style.lines(words, room);
        if lines.len() > most {
            lines.truncate(most);
            if let Some(last) = lines.last_mut() {
                *last = style.shortened(last, room);
            }
        }
        let last = lines.len().saturating_sub(1);
        for (place, mut line) in lines.into_iter().enumerate() {
            // Who has it read to them must not hear the words of two lines as one.
            if place < last {
                line.push(' ');
            }
            // A capital of this face reaches 0.73 of the size above its line.
            let baseline = self.height + 0.5 * (style.leading() + 0.73 * style.size);
            let text = style.text(&line, [indent, baseline], Anchor::Start);
            self.drawing.text_in(style.face, text);
            self.height += style.leading();
        }
    }
}

/// Colours side by side in a frame, as wide as their share of `size[0]`; what has no colour of its own stays paper.
pub(super) fn strip(page: &mut Drawing, note: &Note, corner: [f64; 2], size: [f64; 2]) {
    let mut x = corner[0];
    for (colour, share) in inks(note) {
        let wide = size[0] * share;
        page.rectangle([x, corner[1]], [wide, size[1]], colour);
        x += wide;
    }
    page.line(&[[x, corner[1]], [x, corner[1] + size[1]]], HAIR);
    frame(page, corner, size);
}

/// A thin line all round.
pub(super) fn frame(page: &mut Drawing, [left, top]: [f64; 2], size: [f64; 2]) {
    let (right, bottom) = (left + size[0], top + size[1]);
    let corners = [[left, top], [right, top], [right, bottom], [left, bottom]];
    page.polygon(&corners, None, Some(HAIR));
}

/// The colours of a note to draw with, and their shares, which sum to 1 at most.
pub(super) fn inks(note: &Note) -> impl Iterator<Item = (Rgb8, f64)> + '_ {
    let whole = note.colours.iter().map(|c| c.share).sum::<f64>().max(1.0);
    let one = move |colour: &Colour| (ink(colour), colour.share / whole);
    note.colours.iter().map(one)
}

/// A colour to draw with.
pub(super) fn ink(colour: &Colour) -> Rgb8 {
    let [red, green, blue] = lab_to_srgb8(colour.lab);
    Rgb8::new(red, green, blue)
}
