//! A plan on paper: large enough to be read at arm's length beside a pot, with boxes to tick.

use super::step::{Plan, Step};
use super::text::wrapped;
use crate::draw::{Anchor, BLACK, Drawing, Rgb8, Stroke, Text};

/// A4 (ISO 216), its margins and the foot below the last line, mm.
const PAGE: [f64; 2] = [210.0, 297.0];
const LEFT: f64 = 18.0;
const TOP: f64 = 20.0;
const FOOT: f64 = 18.0;

const GREY: Rgb8 = Rgb8::new(80, 80, 80);
const RULE: Stroke = Stroke {
    colour: Rgb8::new(170, 170, 170),
    width: 0.25,
};
const BOX: Stroke = Stroke {
    colour: BLACK,
    width: 0.4,
};

/// A kind of line: size of type and distance to the next baseline, mm.
#[derive(Clone, Copy)]
struct Style {
    size: f64,
    bold: bool,
    colour: Rgb8,
    indent: f64,
}

const fn style(size: f64, bold: bool, colour: Rgb8, indent: f64) -> Style {
    Style {
        size,
        bold,
        colour,
        indent,
    }
}

const TITLE: Style = style(7.5, true, BLACK, 0.0);
const DAY: Style = style(5.8, true, BLACK, 0.0);
const STEP: Style = style(5.2, true, BLACK, 9.0);
const PIECES: Style = style(4.5, false, BLACK, 9.0);
const AMOUNT: Style = style(6.2, true, BLACK, 9.0);
const NOTE: Style = style(4.3, false, GREY, 9.0);
const CAUTION: Style = style(3.7, false, BLACK, 4.0);

/// What leads a block.
#[derive(Clone, Copy, PartialEq)]
enum Lead {
    Nothing,
    /// A rule above: a part or a day begins.
    Rule,
    /// A box to tick.
    Tick,
    /// A small dot.
    Dot,
}

/// Lines that stay on one page together.
#[derive(Clone)]
struct Block {
    lead: Lead,
    above: f64,
    lines: Vec<(Style, String)>,
}

impl Block {
    fn new(lead: Lead, above: f64, parts: &[(Style, &str)]) -> Self {
        let lines = parts.iter().flat_map(|(style, text)| {
            let room = PAGE[0] - 2.0 * LEFT - style.indent;
            let measure = |line: &str| print(style, line, [0.0, 0.0]).width();
            wrapped(text, room, measure)
                .into_iter()
                .map(|line| (*style, line))
        });
        Self {
            lead,
            above,
            lines: lines.collect(),
        }
    }

    fn height(&self) -> f64 {
        self.lines.iter().map(|(style, _)| style.size * 1.4).sum()
    }

    /// Draws the block with its top at `y`.
    fn draw(&self, page: &mut Drawing, mut y: f64) {
        let first = self.lines.first().map_or(0.0, |(style, _)| style.size);
        match self.lead {
            Lead::Nothing => {}
            Lead::Rule => page.line(&[[LEFT, y - 2.0], [PAGE[0] - LEFT, y - 2.0]], RULE),
            Lead::Tick => {
                let (x, y, side) = (LEFT, y + 0.3, 5.0);
                let corners = [[x, y], [x + side, y], [x + side, y + side], [x, y + side]];
                page.polygon(&corners, None, Some(BOX));
            }
            Lead::Dot => page.circle([LEFT + 1.2, y + 0.72 * first], 0.7, BLACK),
        }
        for (style, line) in &self.lines {
            page.text(print(style, line, [LEFT + style.indent, y + style.size]));
            y += style.size * 1.4;
        }
    }
}

fn print(style: &Style, line: &str, at: [f64; 2]) -> Text {
    Text {
        text: line.to_owned(),
        at,
        size: style.size,
        bold: style.bold,
        anchor: Anchor::Start,
        colour: style.colour,
    }
}

/// The plan as A4 pages to print.
pub fn pages(plan: &Plan) -> Vec<Drawing> {
    let mut blocks = vec![Block::new(Lead::Nothing, 0.0, &[(TITLE, &plan.title())])];
    let list = |blocks: &mut Vec<Block>, name: &str, texts: &[&str]| {
        if !texts.is_empty() {
            blocks.push(Block::new(Lead::Rule, 6.0, &[(DAY, name)]));
        }
        let item = |text: &&str| Block::new(Lead::Dot, 0.8, &[(CAUTION, *text)]);
        blocks.extend(texts.iter().map(item));
    };
    let cautions: Vec<&str> = plan.cautions.iter().map(|c| c.text.as_str()).collect();
    list(&mut blocks, "Before you begin", &cautions);
    let open: Vec<&str> = plan.left_open.iter().map(String::as_str).collect();
    list(&mut blocks, "Left open", &open);
    if let Some(all) = plan.weighed() {
        let parts = [
            (DAY, "To weigh out in all"),
            (style(4.8, true, BLACK, 4.0), all.as_str()),
        ];
        blocks.push(Block::new(Lead::Rule, 6.0, &parts));
    }
    for day in &plan.days {
        blocks.push(Block::new(Lead::Rule, 7.0, &[(DAY, &day.heading())]));
        blocks.extend(day.steps.iter().map(step));
    }
    let reckoned: Vec<&str> = plan.reckoned_with.iter().map(String::as_str).collect();
    list(&mut blocks, "Reckoned with", &reckoned);
    let pages = paginate(&blocks);
    let number = pages.len();
    let drawn = pages.iter().enumerate();
    drawn
        .map(|(n, blocks)| page(blocks, n + 1, number))
        .collect()
}

fn step(step: &Step) -> Block {
    let (pieces, amounts) = (step.pieces_in_words(), step.amounts());
    let mut parts = vec![(STEP, step.what.as_str()), (PIECES, pieces.as_str())];
    parts.extend(amounts.as_deref().map(|amounts| (AMOUNT, amounts)));
    parts.extend(step.notes.iter().map(|note| (NOTE, note.as_str())));
    Block::new(Lead::Tick, 3.2, &parts)
}

/// Blocks page by page; the gaps between them give way where that saves a page.
fn paginate(blocks: &[Block]) -> Vec<Vec<Block>> {
    let full = laid(blocks, 1.0);
    let tight = [0.8, 0.6].map(|gaps| laid(blocks, gaps));
    let fewer = tight.into_iter().find(|pages| pages.len() < full.len());
    fewer.unwrap_or(full)
}

/// Blocks page by page with their gaps times `gaps`; a heading never stands alone at the foot, a day that goes on is named again,
/// and the list at the end is not torn, so that the last page is never a line or two.
fn laid(blocks: &[Block], gaps: f64) -> Vec<Vec<Block>> {
    let room = PAGE[1] - TOP - FOOT;
    let height = |block: &Block| gaps * block.above + block.height();
    let mut pages: Vec<Vec<Block>> = vec![Vec::new()];
    let (mut used, mut heading) = (0.0, String::new());
    for (at, block) in blocks.iter().enumerate() {
        let below = match block.lead {
            Lead::Rule => below(&blocks[at + 1..], height, room - height(block)),
            _ => 0.0,
        };
        let mut full = used > 0.0 && used + height(block) + below > room;
        if block.lead == Lead::Rule {
            heading = block
                .lines
                .first()
                .map_or_else(String::new, |(_, line)| line.clone());
        } else if full && block.lead == Lead::Tick {
            let again = Block::new(Lead::Rule, 0.0, &[(DAY, &format!("{heading}, continued"))]);
            used = again.height();
            pages.push(vec![again]);
            full = false;
        }
        if full {
            pages.push(Vec::new());
            used = 0.0;
        }
        used += height(block);
        if let Some(page) = pages.last_mut() {
            page.push(Block {
                above: gaps * block.above,
                ..block.clone()
            });
        }
    }
    pages
}

/// What must stand under a heading on its page: the whole list at the end where a page can hold it, else the first block.
fn below(rest: &[Block], height: impl Fn(&Block) -> f64, room: f64) -> f64 {
    let whole: f64 = rest.iter().map(&height).sum();
    match rest.iter().all(|block| block.lead == Lead::Dot) && whole <= room {
        true => whole,
        false => rest.first().map_or(0.0, height),
    }
}

fn page(blocks: &[Block], number: usize, of: usize) -> Drawing {
    let mut page = Drawing::new(PAGE[0], PAGE[1]);
    let mut y = TOP;
    for (at, block) in blocks.iter().enumerate() {
        y += if at == 0 { 0.0 } else { block.above };
        block.draw(&mut page, y);
        y += block.height();
    }
    page.text(Text {
        text: format!("page {number} of {of}"),
        at: [PAGE[0] / 2.0, PAGE[1] - 9.0],
        size: 3.2,
        bold: false,
        anchor: Anchor::Middle,
        colour: GREY,
    });
    page
}
