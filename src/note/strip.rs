//! A note as a square picture for a message or a post: the colours to scale with their words.

use super::press::{Column, HAIR, INK, SOFT, Style, inks};
use super::{Colour, Messages, Note};
use crate::draw::Drawing;
use crate::error::Result;

/// The side of the picture, mm, and its pixels to a millimetre: 1080 by 1080.
const SIDE: f64 = 108.0;
const DOTS: f64 = 10.0;

const MARGIN: f64 = 8.0;

/// How wide the strip is, mm, and how far to its right the words begin.
const STRIP: f64 = 36.0;
const LEAD: f64 = 9.0;

/// Below the strip stand the code and what the piece is.
const FOOT: f64 = 17.0;

const TITLE: Style = Style::plain(5.4);
const CLOTH: Style = Style::quiet(3.1);

impl Note {
    /// The colours as a square PNG of 1080 by 1080 pixels, sRGB, each as high as its share of the cloth, with its word.
    ///
    /// # Errors
    /// A picture that cannot be written.
    pub fn png(&self) -> Result<Vec<u8>> {
        drawn(self).png(DOTS)
    }
}

fn drawn(note: &Note) -> Drawing {
    let messages = Messages::of(note.language);
    let mut page = Drawing::new(SIDE, SIDE);
    let high = SIDE - MARGIN - FOOT - 4.0;
    let mut bands = Vec::new();
    let mut y = MARGIN;
    let whole: f64 = inks(note).map(|(_, share)| share).sum();
    for (colour, share) in inks(note) {
        let band = (high - MARGIN) * share / whole;
        // A shade more than its height, so that no seam shows where two meet.
        page.rectangle([MARGIN, y], [STRIP, band + 0.05], colour);
        bands.push(y + band / 2.0);
        y += band;
    }
    words(&mut page, note, &messages, &bands, high);
    let mut foot = Column::new(SIDE - 2.0 * MARGIN);
    foot.paragraph_of(1, &note.code, TITLE);
    foot.paragraph_of(1, &note.cloth, CLOTH);
    page.place(&foot.drawing, [MARGIN, SIDE - FOOT - 1.0]);
    page
}

/// Each word beside its band, moved as little as keeps them apart, with a line that leads to it.
fn words(page: &mut Drawing, note: &Note, messages: &Messages, bands: &[f64], high: f64) {
    let left = MARGIN + STRIP + LEAD;
    let room = SIDE - MARGIN - left;
    let scale = match note.colours.len() {
        0..=4 => 1.0,
        _ => 0.86,
    };
    let set: Vec<Column> = note
        .colours
        .iter()
        .map(|colour| entry(colour, messages, room, scale))
        .collect();
    let tops = apart(&set, bands, [MARGIN, high]);
    for ((entry, top), band) in set.iter().zip(tops).zip(bands) {
        page.place(&entry.drawing, [left, top]);
        let middle = top + entry.height / 2.0;
        let from = MARGIN + STRIP + 0.8;
        let lead = [
            [from, *band],
            [from + 2.0, *band],
            [left - 3.2, middle],
            [left - 1.4, middle],
        ];
        page.line(&lead, HAIR);
    }
}

fn entry(colour: &Colour, messages: &Messages, room: f64, scale: f64) -> Column {
    let mut entry = Column::new(room);
    let percent = messages.percent(colour.share);
    let share = Style::plain(2.7 * scale);
    let word = Style {
        colour: INK,
        ..Style::plain(4.6 * scale)
    };
    let share = Style {
        colour: SOFT,
        ..share
    };
    entry.paragraph(&colour.word, word);
    let below = match &colour.beneath {
        Some(beneath) => format!("{percent} · {beneath}"),
        None => percent,
    };
    entry.paragraph(&below, share);
    entry
}

/// The top of each entry: as near to the middle of its band as the others let it, between the ends of the strip.
fn apart(entries: &[Column], bands: &[f64], [from, to]: [f64; 2]) -> Vec<f64> {
    const GAP: f64 = 2.0;
    let mut tops = Vec::new();
    let mut free = from;
    for (entry, band) in entries.iter().zip(bands) {
        let top = (band - entry.height / 2.0).max(free);
        tops.push(top);
        free = top + entry.height + GAP;
    }
    let mut free = to;
    for (top, entry) in tops.iter_mut().zip(entries).rev() {
        *top = top.min(free - entry.height);
        free = *top - GAP;
    }
    tops
}
