//! The cover sheet of a batch of notes: every piece with its picture, its strip and its words.

use super::batch::Batch;
use super::paper::Paper;
use super::press::{Column, HAIR, Style, strip};
use super::sentences::words;
use super::{Key, Messages, Note};
use crate::draw::{About, Anchor, Drawing, document};
use crate::error::Result;

const MARGIN: f64 = 16.0;

/// One piece's row: its height, and the widths of picture and text before the strip, mm.
const ROW: f64 = 25.0;
const PICTURE: f64 = 24.0;
const TEXT: f64 = 58.0;

const TITLE: Style = Style::plain(8.0);
const COUNT: Style = Style::quiet(3.6);
const CODE: Style = Style::plain(4.4);
const CLOTH: Style = Style::quiet(2.8);
const WORDS: Style = Style::plain(3.0);
const FOOT: Style = Style::quiet(2.8);

/// The cover sheet as PDF, on A4 unless the notes are on US Letter.
///
/// # Errors
/// A picture that cannot be written.
pub fn cover(notes: &[Note], batch: &Batch, paper: Paper) -> Result<Vec<u8>> {
    let messages = Messages::of(batch.language);
    let [width, height] = match paper {
        Paper::Letter => Paper::Letter.size(),
        Paper::A4 | Paper::A6 => Paper::A4.size(),
    };
    let title = batch.title(&messages);
    let mut head = Column::new(width - 2.0 * MARGIN);
    head.heading(1, &title, TITLE);
    let count = messages.fill(Key::CoverPieces, [("count", notes.len().into())]);
    head.paragraph(&count, COUNT);
    head.gap(6.0);
    let rows = |top: f64| ((height - top - 2.0 * MARGIN) / ROW).max(1.0) as usize;
    let (first, later) = (rows(head.height), rows(0.0));
    let (front, others) = notes.split_at(notes.len().min(first));
    let sheets: Vec<&[Note]> = std::iter::once(front).chain(others.chunks(later)).collect();
    let mut pages = Vec::new();
    for (number, sheet) in sheets.iter().enumerate() {
        let mut page = Drawing::new(width, height);
        let mut y = MARGIN;
        if number == 0 {
            page.place(&head.drawing, [MARGIN, MARGIN]);
            y += head.height;
        }
        for note in *sheet {
            page.place(&row(note, width - 2.0 * MARGIN)?, [MARGIN, y]);
            y += ROW;
        }
        if sheets.len() > 1 {
            let with = [
                ("page", (number + 1).into()),
                ("pages", sheets.len().into()),
            ];
            let foot = messages.fill(Key::PageOf, with);
            let at = [width / 2.0, height - 8.0];
            page.text_in(FOOT.face, FOOT.text(&foot, at, Anchor::Middle));
        }
        pages.push(page);
    }
    let about = About {
        title: &title,
        language: batch.language.tag(),
    };
    document(&pages, &about)
}

fn row(note: &Note, width: f64) -> Result<Drawing> {
    let mut row = Drawing::new(width, ROW);
    row.line(&[[0.0, 0.0], [width, 0.0]], HAIR);
    let inside = ROW - 4.0;
    if let Some(picture) = &note.picture {
        let shape = picture.width as f64 / picture.height as f64;
        let high = inside.min((PICTURE - 3.0) / shape);
        let size = [high * shape, high];
        let corner = [0.0, 2.0 + (inside - high) / 2.0];
        row.picture_of(note.alt(), corner, size, picture.clone())?;
    }
    let mut text = Column::new(TEXT - 4.0);
    text.paragraph_of(1, &note.code, CODE);
    text.paragraph_of(3, &note.cloth, CLOTH);
    row.place(&text.drawing, [PICTURE, 2.0]);
    let left = PICTURE + TEXT;
    let wide = width - left;
    strip(&mut row, note, [left, 2.6], [wide, 8.0]);
    let mut below = Column::new(wide);
    let messages = Messages::of(note.language);
    let words: Vec<String> = words(&note.colours, &messages)
        .into_iter()
        .map(|(word, _)| word)
        .collect();
    below.paragraph_of(3, &messages.listed(&words), WORDS);
    row.place(&below.drawing, [left, 11.6]);
    Ok(row)
}
