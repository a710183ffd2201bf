//! Notes on paper: cards laid out on sheets.

use super::batch::Batch;
use super::card::{backs, front};
use super::press::HAIR;
use super::{Messages, Note};
use crate::draw::{About, Drawing, document};
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

/// Notes as cards in one PDF, which is called after its batch, or its one piece; each front has its back on the page after, where it
/// lies when the sheet is turned over its long side. What finds no room on a back goes on on a further leaf, in the same place.
/// Colours are sRGB, typefaces are in it.
///
/// # Errors
/// The caller's move where there is no note; a picture that cannot be written.
pub fn pdf(notes: &[Note], batch: &Batch, paper: Paper) -> Result<Vec<u8>> {
    let first = notes.first().ok_or_else(|| {
        Error::caller("There is no note to print: name a piece that was photographed.")
    })?;
    let across = paper.cards();
    let size = paper.size().map(|side| side / across as f64);
    let mut pages = Vec::new();
    for sheet in notes.chunks(across * across) {
        // The next front must come to lie on a front.
        if pages.len() % 2 == 1 {
            pages.push(laid_out(&[], paper, true));
        }
        let faces: Vec<Drawing> = sheet
            .iter()
            .map(|note| front(note, size))
            .collect::<Result<_>>()?;
        let faces: Vec<Option<&Drawing>> = faces.iter().map(Some).collect();
        pages.push(laid_out(&faces, paper, false));
        let backs: Vec<Vec<Drawing>> = sheet.iter().map(|note| backs(note, size)).collect();
        let sides = backs.iter().map(Vec::len).max().unwrap_or_default();
        for side in 0..sides {
            let cards: Vec<Option<&Drawing>> = backs.iter().map(|all| all.get(side)).collect();
            pages.push(laid_out(&cards, paper, side % 2 == 0));
        }
    }
    let title = match notes {
        [one] => one.code.clone(),
        _ => batch.title(&Messages::of(first.language)),
    };
    let about = About {
        title: &title,
        language: first.tag,
    };
    document(&pages, &about)
}

/// Cards row by row; the backs run from right to left, so that each comes to lie behind its front.
fn laid_out(cards: &[Option<&Drawing>], paper: Paper, backs: bool) -> Drawing {
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
        if let Some(card) = card {
            page.place(card, corner);
        }
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
