//! Sheets of tags to print.

use super::{Payload, QUIET_ZONE};
use crate::draw::{Anchor, BLACK, Drawing, Rgb8, Stroke, Text};
use crate::error::{Error, Result, check_code};
use qrcode::bits::Bits;
use qrcode::types::QrResult;
use qrcode::{Color, EcLevel, QrCode, Version};

/// The paper that tags are printed on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Page {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8½ × 11 inches, 215.9 × 279.4 mm.
    Letter,
}

/// What goes on a sheet besides the tags that were asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SheetOptions {
    /// The paper.
    pub page: Page,
    /// Whether the four state cards (wet, dry, washed, worn) follow the tags.
    pub states: bool,
}

/// The states that cards are printed for.
const STATES: [&str; 4] = ["wet", "dry", "washed", "worn"];

/// Tags across and down a page; both papers hold as many.
const GRID: [usize; 2] = [3, 4];

/// A tag, cut out: width and height in mm.
pub(super) const TAG: [f64; 2] = [60.0, 66.0];

/// The symbol with its quiet zone, in mm: 1.86 mm a module for the shortest codes, 1.46 mm for 32 plain letters.
pub(super) const SYMBOL: f64 = 54.0;

const CUTTING_LINE: Stroke = Stroke {
    colour: Rgb8::new(150, 150, 150),
    width: 0.1,
};

/// The paper matters: whitened office paper is bluish, and film over it shines.
const PAPER_LINE: &str = "matte paper without brightener, not laminated";

const CARD_LINE: &str = "Mount code and chart on one stiff board; once photographed, neither may move. A larger chart may reach beyond its frame.";

const PAGE_LINE: &str =
    "Print at full size (100 %), in black. Cut along the grey lines; keep all of the white.";

impl Page {
    /// Width and height in mm.
    pub fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
        }
    }
}

/// Pages of tags to print, twelve to a page: the QR code (ISO/IEC 18004, error correction M), the code in print, the paper
/// to use, and grey lines to cut along, outside the quiet zone.
pub fn sheet(labels: &[Payload], options: SheetOptions) -> Result<Vec<Drawing>> {
    let states = STATES.map(|word| Payload::State(word.to_owned()));
    let cards = if options.states { &states[..] } else { &[] };
    let tags: Vec<Drawing> = labels.iter().chain(cards).map(tag).collect::<Result<_>>()?;
    if tags.is_empty() {
        return Err(Error::caller(
            "There is nothing to print: name the codes of the pieces, such as LB007.",
        ));
    }
    let pages = tags.chunks(GRID[0] * GRID[1]);
    Ok(pages.map(|tags| page(tags, options.page)).collect())
}

fn page(tags: &[Drawing], paper: Page) -> Drawing {
    let [width, height] = paper.size();
    let mut page = Drawing::new(width, height);
    let [left, top] = [0, 1].map(|i| (paper.size()[i] - TAG[i] * GRID[i] as f64) / 2.0);
    for (i, tag) in tags.iter().enumerate() {
        let (column, row) = ((i % GRID[0]) as f64, (i / GRID[0]) as f64);
        page.place(tag, [left + column * TAG[0], top + row * TAG[1]]);
    }
    page.text(Text {
        text: PAGE_LINE.to_owned(),
        at: [width / 2.0, height - top / 2.0 + 1.0],
        size: 2.6,
        bold: false,
        anchor: Anchor::Middle,
        colour: CUTTING_LINE.colour,
    });
    page
}

/// Where the chart is glued, beside the code: width and height in mm.
const FRAME: [f64; 2] = [124.0, 96.0];

/// A page with the code of a studio's own card, and beside it the frame for the chart.
///
/// # Errors
/// `Caller` where the name cannot be one.
pub fn card(name: &str, paper: Page) -> Result<Drawing> {
    let [width, height] = paper.size();
    let mut page = Drawing::new(width, height);
    let code = tag(&Payload::Card(name.to_owned()))?;
    let left = (width - TAG[0] - FRAME[0]) / 2.0;
    let top = 30.0;
    page.place(&code, [left, top]);
    let [x, y] = [left + TAG[0], top];
    let frame = [
        [x, y],
        [x + FRAME[0], y],
        [x + FRAME[0], y + FRAME[1]],
        [x, y + FRAME[1]],
    ];
    page.polygon(&frame, None, Some(CUTTING_LINE));
    let lines = [
        (
            "Glue the chart here, flat.",
            x + FRAME[0] / 2.0,
            y + FRAME[1] / 2.0,
            4.0,
        ),
        (CARD_LINE, width / 2.0, y + FRAME[1] + 12.0, 3.0),
        (PAGE_LINE, width / 2.0, height - 12.0, 2.6),
    ];
    for (text, across, down, size) in lines {
        page.text(Text {
            text: text.to_owned(),
            at: [across, down],
            size,
            bold: false,
            anchor: Anchor::Middle,
            colour: CUTTING_LINE.colour,
        });
    }
    Ok(page)
}

/// One tag or card with the lines to cut it out along.
pub(super) fn tag(label: &Payload) -> Result<Drawing> {
    let (Payload::Piece(word) | Payload::State(word) | Payload::Card(word)) = label;
    check_code(word)?;
    let [width, height] = TAG;
    let mut drawing = Drawing::new(width, height);
    let edge = [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
    drawing.polygon(&edge, None, Some(CUTTING_LINE));
    symbol(&mut drawing, &encode(&label.text())?);
    let middle = width / 2.0;
    let mut line = |text: &str, size: f64, bold: bool, baseline: f64| {
        let mut text = Text {
            text: text.to_owned(),
            at: [middle, baseline],
            size,
            bold,
            anchor: Anchor::Middle,
            colour: BLACK,
        };
        text.size *= ((width - 4.0) / text.width()).min(1.0);
        drawing.text(text);
    };
    line(word, 5.6, true, 60.8);
    line(PAPER_LINE, 2.0, false, 64.7);
    Ok(drawing)
}

/// The dark modules, a row's neighbours joined, with the quiet zone kept free around them.
fn symbol(drawing: &mut Drawing, code: &QrCode) {
    let n = code.width();
    let module = SYMBOL / (n as f64 + 2.0 * QUIET_ZONE);
    let left = (TAG[0] - SYMBOL) / 2.0 + QUIET_ZONE * module;
    let top = (TAG[0] - SYMBOL) / 4.0 + QUIET_ZONE * module;
    let colours = code.to_colors();
    let mut bars = Vec::new();
    for (y, row) in colours.chunks_exact(n).enumerate() {
        let mut x = 0;
        for run in row.chunk_by(|a, b| a == b) {
            if run[0] == Color::Dark {
                let corner = [left + x as f64 * module, top + y as f64 * module];
                bars.push((corner, [run.len() as f64 * module, module]));
            }
            x += run.len();
        }
    }
    drawing.rectangles(&bars, BLACK);
}

/// The QR code of a text, error correction M. Text beyond ASCII is marked as UTF-8 (ISO/IEC 18004, extended channel
/// interpretation 26): without the mark it would be read as Latin-1 or as kanji.
pub(super) fn encode(text: &str) -> Result<QrCode> {
    let code = if text.is_ascii() {
        QrCode::with_error_correction_level(text, EcLevel::M)
    } else {
        (1..=40)
            .map(|version| utf8_bits(text, Version::Normal(version)))
            .find_map(|bits| bits.ok())
            .ok_or(qrcode::types::QrError::DataTooLong)
            .and_then(|bits| QrCode::with_bits(bits, EcLevel::M))
    };
    code.map_err(|e| {
        Error::caller(format!(
            "“{text}” cannot be printed as a tag; choose a shorter code."
        ))
        .because(e)
    })
}

fn utf8_bits(text: &str, version: Version) -> QrResult<Bits> {
    let mut bits = Bits::new(version);
    bits.push_eci_designator(26)?;
    bits.push_byte_data(text.as_bytes())?;
    bits.push_terminator(EcLevel::M)?;
    Ok(bits)
}
