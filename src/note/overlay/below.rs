//! What stands under the photo: its piece, its colours to scale and in words, its cautions.

use super::{GREY, text};
use crate::colour::lab_to_srgb8;
use crate::draw::{Anchor, BLACK, Drawing, Rgb8, Stroke, wrapped};
use crate::error::Caution;
use crate::journal::record::Photo;
use crate::reading::{Basis, LIGHT_BORROWED, Reading, Swatch};

/// Colours that get a line of their own at most.
pub(super) const MOST_LINES: usize = 8;

/// Cautions that are told in full at most; the screen tells them all.
pub(super) const MOST_CAUTIONS: usize = 6;

/// What the numbers after "give or take" count.
const STEPS: &str = "“Give or take” counts steps of colour difference (CIEDE2000): 1 is seen only side by side, 2 to 3 by most people.";

/// The type of cautions, as a part of the type of colours.
const SMALL: f64 = 0.76;

/// All that stands under the photo, on a page as wide.
pub(super) fn below(photo: &Photo, width: f64) -> Drawing {
    let mut column = Column {
        page: Drawing::new(width, 0.0),
        size: 0.029 * width,
        margin: 0.03 * width,
        width,
        y: 0.0,
    };
    column.heading(photo);
    if photo.reading.swatches.is_empty() {
        column.paragraph("No cloth was found in this photo.", false);
    } else {
        column.strip(&photo.reading.swatches);
        column.lines(&photo.reading.swatches);
    }
    column.cautions(&photo.reading.cautions, photo);
    column.gap(0.8);
    let mut page = Drawing::new(width, column.y);
    page.place(&column.page, [0.0, 0.0]);
    page
}

/// Lines of text and colours, one below the other.
struct Column {
    page: Drawing,
    /// The size of the type, mm.
    size: f64,
    margin: f64,
    width: f64,
    /// How far down the next line begins, mm.
    y: f64,
}

impl Column {
    fn gap(&mut self, lines: f64) {
        self.y += lines * self.size;
    }

    /// A line of type at `x`; the next one begins where this one does.
    fn write(&mut self, words: &str, x: f64, bold: bool, anchor: Anchor, colour: Rgb8) {
        let mut line = text(words, self.size, [x, self.y + self.size]);
        (line.bold, line.anchor, line.colour) = (bold, anchor, colour);
        self.page.text(line);
    }

    /// The piece and its state, then the file and where the light is from.
    fn heading(&mut self, photo: &Photo) {
        self.gap(0.6);
        let piece = photo.piece.as_deref().unwrap_or("Unclaimed");
        let title = match photo.state {
            Some(state) => format!("{piece}, {}", state.word()),
            None => piece.to_owned(),
        };
        self.write(&title, self.margin, true, Anchor::Start, BLACK);
        let right = self.width - self.margin;
        let light = light(&photo.reading);
        self.write(light, right, false, Anchor::End, GREY);
        self.gap(1.5);
        let file = photo.file.as_deref().unwrap_or_default();
        for line in wrapped(file, self.size, false, right - self.margin)
            .iter()
            .take(1)
        {
            self.write(line, self.margin, false, Anchor::Start, GREY);
        }
        self.gap(1.8);
    }

    /// All colours side by side, each as wide as its share, with white between them and its number below.
    fn strip(&mut self, swatches: &[Swatch]) {
        let (all, high) = (self.width - 2.0 * self.margin, 3.0 * self.size);
        let total: f64 = swatches.iter().map(|s| s.share).sum();
        let seam = 0.002 * self.width;
        let mut x = self.margin;
        let mut middles = Vec::new();
        for swatch in swatches {
            let wide = all * swatch.share / total.max(1e-9);
            let coloured = (wide - seam).max(0.5 * wide);
            self.block([x, self.y], [coloured, high], swatch);
            middles.push((swatch.share, x + coloured / 2.0));
            x += wide;
        }
        self.y += high + 0.1 * self.size;
        for (share, middle) in self.uncrowded(middles) {
            self.write(&percent(share), middle, false, Anchor::Middle, GREY);
        }
        self.gap(1.8);
    }

    /// The shares whose numbers find room below the strip, each in the middle of its colour; the largest come first.
    fn uncrowded(&self, mut middles: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
        middles.sort_by(|one, other| other.0.total_cmp(&one.0));
        let half = |share: f64| text(&percent(share), self.size, [0.0; 2]).width() / 2.0;
        let mut kept: Vec<(f64, f64)> = Vec::new();
        for (share, middle) in middles {
            let free = |&(other, at): &(f64, f64)| {
                (middle - at).abs() >= half(share) + half(other) + 0.4 * self.size
            };
            if kept.iter().all(free) {
                kept.push((share, middle));
            }
        }
        kept
    }

    /// A rectangle of a colour; its edge is drawn, since the colour may be that of the paper.
    fn block(&mut self, [x, y]: [f64; 2], [wide, high]: [f64; 2], swatch: &Swatch) {
        let corners = [[x, y], [x + wide, y], [x + wide, y + high], [x, y + high]];
        let [r, g, b] = lab_to_srgb8(swatch.lab);
        let edge = Stroke {
            colour: GREY,
            width: 0.0006 * self.width,
        };
        self.page
            .polygon(&corners, Some(Rgb8::new(r, g, b)), Some(edge));
    }

    /// A line for each colour: its share, its word, its doubt.
    fn lines(&mut self, swatches: &[Swatch]) {
        for swatch in swatches.iter().take(MOST_LINES) {
            let size = self.size;
            self.block(
                [self.margin, self.y + 0.1 * size],
                [2.0 * size, 1.1 * size],
                swatch,
            );
            let share = percent(swatch.share);
            let (first, right) = (self.margin + 5.9 * size, self.width - self.margin);
            self.write(&share, first, true, Anchor::End, BLACK);
            let word = swatch.word.as_deref().unwrap_or("no word");
            self.write(word, first + 0.6 * size, false, Anchor::Start, BLACK);
            if let Some(doubt) = swatch.doubt {
                let doubt = format!("give or take {doubt:.1}");
                self.write(&doubt, right, false, Anchor::End, GREY);
            }
            self.gap(1.6);
        }
        let rest: f64 = swatches.iter().skip(MOST_LINES).map(|s| s.share).sum();
        if let Some(more) = swatches.len().checked_sub(MOST_LINES).filter(|&n| n > 0) {
            let words = format!("and {more} more, {} together", percent(rest));
            let x = self.margin + 6.5 * self.size;
            self.write(&words, x, false, Anchor::Start, GREY);
            self.gap(1.6);
        }
        if swatches.iter().any(|swatch| swatch.doubt.is_some()) {
            self.small(|column| column.paragraph(STEPS, false));
        }
    }

    /// The first cautions, and how many more there are.
    fn cautions(&mut self, cautions: &[Caution], photo: &Photo) {
        self.small(|column| {
            for caution in cautions.iter().take(MOST_CAUTIONS) {
                column.gap(0.5);
                column.paragraph(&caution.text, true);
            }
            let more = cautions.len().saturating_sub(MOST_CAUTIONS);
            if more > 0 {
                let name = photo.file.as_deref().or(photo.piece.as_deref());
                let name = name.unwrap_or("PIECE");
                column.gap(0.5);
                column.paragraph(&format!("and {more} more: filemot show {name}"), false);
            }
        });
    }

    /// What is written so is in smaller type.
    fn small(&mut self, written: impl FnOnce(&mut Self)) {
        let usual = self.size;
        self.size *= SMALL;
        written(self);
        self.size = usual;
    }

    /// Text over the whole width; a caution has a bar before it.
    fn paragraph(&mut self, words: &str, barred: bool) {
        let indent = if barred { self.size } else { 0.0 };
        let room = self.width - 2.0 * self.margin - indent;
        let top = self.y;
        for line in wrapped(words, self.size, false, room) {
            self.write(&line, self.margin + indent, false, Anchor::Start, BLACK);
            self.gap(1.35);
        }
        if barred {
            let bar = [0.25 * self.size, self.y - top];
            self.page.rectangle([self.margin, top], bar, BLACK);
        }
    }
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

fn light(reading: &Reading) -> &'static str {
    match reading.basis() {
        Some(Basis::Chart | Basis::Tag) if reading.has_caution(LIGHT_BORROWED) => "light borrowed",
        Some(Basis::Chart) => "light from a chart",
        Some(Basis::Tag) => "light from the tag",
        Some(Basis::Assumed) => "light guessed",
        None => "light unknown",
    }
}
