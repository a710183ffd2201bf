//! A note as a card: on its front the piece and its colours in words, on its back how large and how sure they are, and the rest.

use super::press::{Column, HAIR, Style, ink, strip};
use super::{Colour, Key, Messages, Note};
use crate::draw::{Anchor, Drawing, Part};
use crate::error::Result;

/// Left free at every edge, mm: household printers do not reach further.
const MARGIN: f64 = 8.0;

/// Where not all finds room, type is set smaller, in these steps.
const SCALES: [f64; 6] = [1.0, 0.94, 0.88, 0.82, 0.76, LAST_SCALE];
const LAST_SCALE: f64 = 0.7;

/// So many lines a name has at most, and where not even the smallest type finds room for all.
const LINES: usize = 4;
const FEWEST_LINES: usize = 1;

/// The picture is at least so high at the first steps, mm.
const LEAST_PICTURE: f64 = 40.0;

/// How high the strip and the gap above it are together, and the gap, mm.
const STRIP: f64 = 13.0;
const GAP: f64 = 4.0;

/// The picture of an upright piece takes at most so much of the card's width.
const BESIDE: f64 = 0.46;

const TITLE: Style = Style::plain(6.0);
const CLOTH: Style = Style::quiet(3.0);
const SENTENCE: Style = Style::plain(3.5);
const WORD: Style = Style::plain(3.3);
const BENEATH: Style = Style::quiet(2.3);
const WARNING: Style = Style::plain(2.7).bold();
const HEADING: Style = Style::quiet(2.9);
const BODY: Style = Style::plain(2.65);
const SMALL: Style = Style::quiet(2.2);

/// The front of a card of this size, mm.
///
/// # Errors
/// A picture that cannot be written.
pub fn front(note: &Note, [width, height]: [f64; 2]) -> Result<Drawing> {
    let messages = Messages::of(note.language);
    let room = [width - 2.0 * MARGIN, height - 2.0 * MARGIN];
    let mut card = Drawing::new(width, height);
    let set = |scale: f64, lines: usize| Front::new(note, &messages, room, scale, lines);
    let laid = SCALES
        .into_iter()
        .map(|scale| set(scale, LINES))
        .find(Front::fits)
        .unwrap_or_else(|| set(LAST_SCALE, FEWEST_LINES));
    card.place(&laid.drawn()?, [MARGIN, MARGIN]);
    Ok(card)
}

/// A front whose text is set, so that the room left for the picture is known.
struct Front<'a> {
    note: &'a Note,
    room: [f64; 2],
    /// Words to the picture's right, where the piece is an upright one.
    beside: Option<Column>,
    below: Column,
    /// How wide and how high the picture is.
    picture: [f64; 2],
    scale: f64,
}

impl<'a> Front<'a> {
    fn new(note: &'a Note, messages: &Messages, room: [f64; 2], scale: f64, lines: usize) -> Self {
        let shape = note
            .picture
            .as_ref()
            .map(|p| p.width as f64 / p.height as f64);
        let upright = shape.filter(|shape| *shape < 0.9);
        let mut below = Column::new(room[0]);
        below.gap(4.0);
        title(&mut below, note, messages, scale);
        if upright.is_none() {
            below.gap(3.5);
            side_by_side(&mut below, &note.colours, scale, lines);
        }
        let high = room[1] - below.height - STRIP;
        let picture = match (shape, upright) {
            (None, _) => [room[0], 0.0],
            (_, Some(shape)) => within(shape, [BESIDE * room[0], high]),
            (Some(shape), None) => within(shape, [room[0], high]),
        };
        let beside = upright.map(|_| {
            let mut column = Column::new(room[0] - picture[0] - 5.0);
            one_below_another(&mut column, &note.colours, scale, lines);
            column
        });
        Self {
            note,
            room,
            beside,
            below,
            picture,
            scale,
        }
    }

    /// Whether all has its room and the picture is no stamp.
    fn fits(&self) -> bool {
        let high = self.room[1] - self.below.height - STRIP;
        let beside = self
            .beside
            .as_ref()
            .is_none_or(|column| column.height <= high);
        let least = if self.note.picture.is_some() {
            LEAST_PICTURE
        } else {
            0.0
        };
        beside && high >= least * self.scale
    }

    fn drawn(self) -> Result<Drawing> {
        let [width, height] = self.room;
        let mut card = Drawing::new(width, height);
        let top = (height - self.below.height - STRIP).max(0.0);
        if let Some(picture) = &self.note.picture
            && self.picture.iter().all(|side| *side > 1.0)
        {
            let left = match self.beside {
                Some(_) => 0.0,
                None => (width - self.picture[0]) / 2.0,
            };
            let corner = [left, (top - self.picture[1]) / 2.0];
            card.picture_of(self.note.alt(), corner, self.picture, picture.clone())?;
        }
        if let Some(beside) = &self.beside {
            let down = ((top - beside.height) / 2.0).max(0.0);
            card.place(&beside.drawing, [self.picture[0] + 5.0, down]);
        }
        // Without a picture the strip has all the room.
        let from = match self.note.picture {
            Some(_) => top + GAP,
            None => 0.0,
        };
        strip(
            &mut card,
            self.note,
            [0.0, from],
            [width, top + STRIP - from],
        );
        card.place(&self.below.drawing, [0.0, top + STRIP]);
        Ok(card)
    }
}

/// The largest size of this shape (width to height) within a box.
fn within(shape: f64, [width, height]: [f64; 2]) -> [f64; 2] {
    let high = height.min(width / shape).max(0.0);
    [high * shape, high]
}

/// Code, cloth, warnings and the sentence.
fn title(column: &mut Column, note: &Note, messages: &Messages, scale: f64) {
    column.heading(1, &note.code, TITLE.times(scale));
    if !note.cloth.is_empty() {
        column.paragraph_of(3, &note.cloth, CLOTH.times(scale));
    }
    column.gap(2.0 * scale);
    column.paragraph(&note.sentence, SENTENCE.times(scale));
    for warning in &note.warnings {
        column.gap(1.0 * scale);
        let warning = messages.fill(Key::PleaseNote, [("warning", warning.as_str().into())]);
        column.paragraph(&warning, WARNING.times(scale));
    }
}

/// Colours in two columns, as a page is read.
fn side_by_side(column: &mut Column, colours: &[Colour], scale: f64, lines: usize) {
    const GUTTER: f64 = 4.0;
    let width = (column.width - GUTTER) / 2.0;
    for row in colours.chunks(2) {
        let mut low: f64 = 0.0;
        for (place, colour) in row.iter().enumerate() {
            let mut cell = Column::new(width);
            named(&mut cell, colour, scale, lines);
            let left = place as f64 * (width + GUTTER);
            column.drawing.place(&cell.drawing, [left, column.height]);
            low = low.max(cell.height);
        }
        column.gap(low + 2.0 * scale);
    }
}

fn one_below_another(column: &mut Column, colours: &[Colour], scale: f64, lines: usize) {
    for (place, colour) in colours.iter().enumerate() {
        if place > 0 {
            column.gap(3.2 * scale);
        }
        named(column, colour, scale, lines);
    }
}

/// A block of the colour, its word, and small beneath what the standard calls it, each in so many lines at most.
fn named(column: &mut Column, colour: &Colour, scale: f64, most: usize) {
    const BLOCK: f64 = 7.0;
    let (side, top) = (BLOCK * scale, column.height);
    let block = [side, side];
    column.drawing.rectangle([0.0, top], block, ink(colour));
    let indent = side + 2.2 * scale;
    let (word, beneath) = (WORD.times(scale), BENEATH.times(scale));
    let lines = |words: &str, style: Style| {
        let lines = style.lines(words, column.width - indent).len();
        lines.min(most) as f64
    };
    let high = lines(&colour.word, word) * word.leading()
        + colour
            .beneath
            .as_ref()
            .map_or(0.0, |text| lines(text, beneath) * beneath.leading());
    column.gap(((side - high) / 2.0).max(0.0));
    column.drawing.begin(Part::Paragraph);
    column.lines_of(most, &colour.word, word, indent);
    if let Some(text) = &colour.beneath {
        column.drawing.begin(Part::Paragraph);
        column.lines_of(most, text, beneath, indent);
    }
    column.height = column.height.max(top + side);
}

/// The back of a card of this size, mm, and what finds no room on it on further sides.
pub fn backs(note: &Note, [width, height]: [f64; 2]) -> Vec<Drawing> {
    let messages = Messages::of(note.language);
    let most = height - 2.0 * MARGIN - SMALL.leading() - 1.5;
    let set = |scale: f64| blocks(note, &messages, width - 2.0 * MARGIN, scale);
    let high = |blocks: &[Column]| blocks.iter().map(|block| block.height).sum::<f64>();
    let blocks = SCALES.into_iter().map(set).find(|set| high(set) <= most);
    let mut sides = vec![back(note, &messages, [width, height])];
    let mut down = 0.0;
    for block in blocks.unwrap_or_else(|| set(LAST_SCALE)) {
        if down > 0.0 && down + block.height > most {
            sides.push(back(note, &messages, [width, height]));
            down = 0.0;
        }
        if let Some(side) = sides.last_mut() {
            side.place(&block.drawing, [MARGIN, MARGIN + down]);
        }
        down += block.height;
    }
    sides
}

/// A back with its last line alone.
fn back(note: &Note, messages: &Messages, [width, height]: [f64; 2]) -> Drawing {
    let mut card = Drawing::new(width, height);
    let maker = messages.say(Key::WrittenWith);
    let room = width - 2.0 * MARGIN - SMALL.width(&maker) - 4.0;
    let mut code = Column::new(room);
    code.paragraph_of(1, &note.code, SMALL);
    // So that its line stands on the margin, as that of the maker does.
    let top = height - MARGIN - 0.5 * (SMALL.leading() + 0.73 * SMALL.size);
    card.place(&code.drawing, [MARGIN, top]);
    card.begin(Part::Paragraph);
    let at = [width - MARGIN, height - MARGIN];
    card.text_in(SMALL.face, SMALL.text(&maker, at, Anchor::End));
    card
}

/// What stands on a back, in parts that are not torn apart: colours, the rest, headings with their paragraphs.
fn blocks(note: &Note, messages: &Messages, width: f64, scale: f64) -> Vec<Column> {
    let mut blocks: Vec<Column> = (note.colours.iter())
        .map(|colour| measured(width, colour, messages, scale))
        .collect();
    if let Some(rest) = note.rest_told(messages) {
        let mut column = Column::new(width);
        column.paragraph(&rest.join(" "), SMALL.times(scale));
        blocks.push(column);
    }
    let light = [note.fading.clone(), messages.say(Key::ScreensShort)];
    let care = [&note.care[..], &light[..]].concat();
    let standard = [messages.say(Key::StandardNote)];
    let trust = [&note.trust[..], &standard[..]].concat();
    for (heading, sentences) in [
        (Key::HeadingTrust, &trust),
        (Key::HeadingMaking, &note.making),
        (Key::HeadingChange, &note.changes),
        (Key::HeadingCare, &care),
    ] {
        if sentences.is_empty() {
            continue;
        }
        let mut column = Column::new(width);
        column.gap(1.8 * scale);
        let heading = note.heading(heading, messages);
        column.heading(2, &heading, HEADING.times(scale));
        column.paragraph(&sentences.join(" "), BODY.times(scale));
        blocks.push(column);
    }
    blocks
}

/// One colour in numbers: its share to the right, beneath its word the standard's, and CIELAB with its doubt.
fn measured(width: f64, colour: &Colour, messages: &Messages, scale: f64) -> Column {
    const BLOCK: f64 = 6.2;
    const NUMBERS: f64 = 15.0;
    let mut column = Column::new(width);
    let side = BLOCK * scale;
    column
        .drawing
        .rectangle([0.0, 0.0], [side, side], ink(colour));
    let (word, small) = (BODY.times(1.1 * scale), SMALL.times(scale));
    let baseline = 0.5 * (word.leading() + 0.73 * word.size);
    let mut middle = Column::new(column.width - NUMBERS);
    middle.drawing.begin(Part::Row);
    middle.lines_of(LINES, &colour.word, word, side + 2.0);
    let lab = colour.numbers(messages);
    let beneath = match &colour.beneath {
        Some(beneath) => format!("{beneath} · {lab}"),
        None => lab,
    };
    middle.drawing.begin(Part::Cell);
    middle.lines_of(LINES, &beneath, small, side + 2.0);
    column.drawing.place(&middle.drawing, [0.0, 0.0]);
    let share = word.text(
        &messages.percent(colour.share),
        [column.width, baseline],
        Anchor::End,
    );
    column.drawing.begin(Part::Cell);
    column.drawing.text_in(word.face, share);
    column.height = middle.height.max(side) + 0.8 * scale;
    let rule = [[0.0, column.height], [column.width, column.height]];
    column.drawing.line(&rule, HAIR);
    column.gap(0.8 * scale);
    column
}
