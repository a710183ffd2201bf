//! An answer as a picture: every piece a dot in its own measured colour, pots kept together, means with their intervals.

mod axis;
mod change;
mod groups;
mod outlook;
mod strips;
mod washes;

pub use outlook::draw as outlook;
pub use washes::washing_plot;

use super::Answer;
use super::answer::Found;
use crate::colour::{Lab, lab_to_srgb8};
use crate::draw::{Anchor, Drawing, Rgb8, Stroke, Text, wrapped};
use crate::error::{Error, Result};

/// Draws `answer` on a page 180 mm wide, its sentence at the top.
///
/// # Errors
/// The caller's, where there is nothing to draw.
pub fn plot(answer: &Answer) -> Result<Drawing> {
    drawn(answer, &Head::of(answer))
}

/// The same without the sentence, for where that stands beside it.
///
/// # Errors
/// As [`plot`].
pub fn plot_alone(answer: &Answer) -> Result<Drawing> {
    drawn(answer, &Head::default())
}

fn drawn(answer: &Answer, head: &Head) -> Result<Drawing> {
    match &answer.found {
        Found::Groups { groups, .. } if !groups.is_empty() => {
            Ok(groups::draw(answer, head, groups))
        }
        Found::Slope {
            slope: Some(slope), ..
        } => Ok(change::draw(answer, head, slope)),
        Found::Nearest { target, nearest } if !nearest.is_empty() => {
            Ok(strips::nearest(answer, head, target, nearest))
        }
        Found::Next {
            next,
            best_expected,
            ..
        } if !next.is_empty() => Ok(strips::next(answer, head, next, *best_expected)),
        Found::Count { .. } => Err(Error::caller(
            "A count has nothing to draw: leave --plot out, or ask which of something is warmest, lightest or most yellow.",
        )),
        _ => Err(Error::caller(
            "No piece in the journal answers that, so there is nothing to draw: leave --plot out and read the cautions.",
        )),
    }
}

/// Width of the page, mm.
const WIDTH: f64 = 180.0;
/// White space at its edges, mm.
const EDGE: f64 = 9.0;
/// Sizes of type, mm.
const SENTENCE: f64 = 3.9;
const LABEL: f64 = 3.4;
const SMALL: f64 = 2.7;
/// What is read first.
const INK: Rgb8 = Rgb8::new(28, 28, 26);
/// What is read second.
const QUIET: Rgb8 = Rgb8::new(104, 104, 100);
/// Lines that only guide the eye.
const FAINT: Rgb8 = Rgb8::new(208, 208, 204);
/// The neutral ground that colours lie on: L* about 92.
const GROUND: Rgb8 = Rgb8::new(232, 232, 232);

/// The lines at the top of a page: the answer's sentence, and how the question was read.
#[derive(Default)]
struct Head {
    sentence: Vec<String>,
    reading: Vec<String>,
}

impl Head {
    fn of(answer: &Answer) -> Self {
        let width = WIDTH - 2.0 * EDGE;
        let reading = format!("Read as: {}.", answer.reading());
        Self {
            sentence: wrapped(&answer.sentence(), SENTENCE, true, width),
            reading: wrapped(&reading, SMALL, false, width),
        }
    }

    /// A page with these lines and room for so much `below` them, mm, and how far down it is taken.
    fn page(&self, below: f64) -> (Drawing, f64) {
        let lines = [
            (&self.sentence, 1.3 * SENTENCE),
            (&self.reading, 1.35 * SMALL),
        ];
        let height: f64 = lines
            .iter()
            .map(|(lines, step)| lines.len() as f64 * step)
            .sum();
        let top = EDGE + height + 3.0;
        let mut page = Drawing::new(WIDTH, top + below + EDGE);
        let mut y = EDGE;
        for line in &self.sentence {
            y += 1.3 * SENTENCE;
            page.text(text(line, [EDGE, y - 0.3 * SENTENCE], SENTENCE, Anchor::Start).bold());
        }
        for line in &self.reading {
            y += 1.35 * SMALL;
            page.text(text(line, [EDGE, y], SMALL, Anchor::Start).quiet());
        }
        (page, top)
    }
}

/// Black type that can be made bold or quiet.
fn text(text: &str, at: [f64; 2], size: f64, anchor: Anchor) -> Type {
    Type(Text {
        text: text.to_owned(),
        at,
        size,
        bold: false,
        anchor,
        colour: INK,
    })
}

struct Type(Text);

impl Type {
    fn bold(mut self) -> Text {
        self.0.bold = true;
        self.0
    }

    fn quiet(mut self) -> Text {
        self.0.colour = QUIET;
        self.0
    }

    fn plain(self) -> Text {
        self.0
    }
}

fn stroke(colour: Rgb8, width: f64) -> Stroke {
    Stroke { colour, width }
}

fn rgb(lab: Lab) -> Rgb8 {
    let [r, g, b] = lab_to_srgb8(lab);
    Rgb8::new(r, g, b)
}

/// A piece: its colour with a dark rim, so that it shows on any ground and on paper without colour.
fn dot(page: &mut Drawing, at: [f64; 2], lab: Lab) {
    page.circle(at, 1.45, INK);
    page.circle(at, 1.2, rgb(lab));
}

/// A mean: a white diamond with a black rim.
fn diamond(page: &mut Drawing, [x, y]: [f64; 2], size: f64) {
    let corners = [[x, y - size], [x + size, y], [x, y + size], [x - size, y]];
    page.polygon(&corners, Some(crate::draw::WHITE), Some(stroke(INK, 0.5)));
}

/// An interval: a heavy line with an upright at each end.
fn interval(page: &mut Drawing, from: f64, to: f64, y: f64) {
    page.line(&[[from, y], [to, y]], stroke(INK, 0.7));
    for x in [from, to] {
        page.line(&[[x, y - 1.1], [x, y + 1.1]], stroke(INK, 0.5));
    }
}
