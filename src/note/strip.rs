//! A note as a square picture for a message or a post: the colours to scale with their words, and what must be said of them.

use super::press::{Column, HAIR, SOFT, Style, frame, inks};
use super::{Colour, Key, Messages, Note};
use crate::draw::Drawing;
use crate::error::Result;

/// The side of the picture, mm, and its pixels to a millimetre: 1080 by 1080.
const SIDE: f64 = 108.0;
const DOTS: f64 = 10.0;

const MARGIN: f64 = 8.0;

/// How far to the right of the strip the words begin, and how far above the foot it ends, mm.
const LEAD: f64 = 9.0;
const ABOVE_FOOT: f64 = 4.0;

/// Between two entries is at least so much room, mm, times the scale of the type.
const GAP: f64 = 2.0;

const TITLE: Style = Style::plain(5.4);
const CLOTH: Style = Style::quiet(3.1);
const WARNING: Style = Style::plain(2.5).bold();
const SMALL: Style = Style::quiet(2.3);
const WORD: Style = Style::plain(4.6);
const SHARE: Style = Style {
    colour: SOFT,
    ..Style::plain(2.7)
};

/// How the words are set: the scale of their type, the strip's width, mm, and lines at most of a word and of what stands beneath.
#[derive(Clone, Copy)]
struct Setting {
    scale: f64,
    strip: f64,
    lines: [usize; 2],
}

/// The settings in order: the first in which all finds room is taken. The last finds it always.
const SETTINGS: [Setting; 8] = [
    setting(1.0, 36.0, [4, 4]),
    setting(0.9, 36.0, [4, 4]),
    setting(0.8, 36.0, [4, 4]),
    setting(0.7, 30.0, [4, 4]),
    setting(0.6, 26.0, [4, 4]),
    setting(0.52, 22.0, [4, 4]),
    setting(0.52, 22.0, [3, 1]),
    setting(0.52, 22.0, [1, 1]),
];

const fn setting(scale: f64, strip: f64, lines: [usize; 2]) -> Setting {
    Setting {
        scale,
        strip,
        lines,
    }
}

impl Note {
    /// The colours as a square PNG of 1080 by 1080 pixels, sRGB, each as high as its share of the cloth, with its word.
    ///
    /// # Errors
    /// A picture that cannot be written.
    pub fn png(&self) -> Result<Vec<u8>> {
        drawn(self).png(DOTS)
    }
}

pub(super) fn drawn(note: &Note) -> Drawing {
    let mut page = Drawing::new(SIDE, SIDE);
    let laid = Laid::new(note);
    laid.strip(&mut page, note);
    for entry in &laid.entries {
        laid.words(&mut page, entry);
    }
    page.place(&laid.foot.drawing, [MARGIN, laid.end + ABOVE_FOOT]);
    page
}

/// Code, cloth, warnings, and in which light the colours hold.
fn foot(note: &Note, messages: &Messages) -> Column {
    let mut foot = Column::new(SIDE - 2.0 * MARGIN);
    foot.paragraph_of(1, &note.code, TITLE);
    if !note.cloth.is_empty() {
        foot.paragraph_of(1, &note.cloth, CLOTH);
    }
    foot.gap(0.8);
    for warning in &note.warnings {
        let warning = messages.fill(Key::PleaseNote, [("warning", warning.as_str().into())]);
        foot.paragraph(&warning, WARNING);
        foot.gap(0.8);
    }
    let light = [Key::MeasuredFor, Key::ScreensShort].map(|key| messages.say(key));
    foot.paragraph(&format!("{} {}", light.join(" "), note.fading), SMALL);
    foot
}

/// Where strip and words lie.
pub(super) struct Laid {
    setting: Setting,
    /// Where the strip ends, mm from the top.
    pub end: f64,
    pub entries: Vec<Entry>,
    foot: Column,
}

/// Words beside the strip: their upper edge, and the middle of the band that they are of, mm from the top.
pub(super) struct Entry {
    pub words: Column,
    pub top: f64,
    band: f64,
}

impl Laid {
    pub fn new(note: &Note) -> Self {
        let messages = &Messages::of(note.language);
        let foot = foot(note, messages);
        let end = SIDE - MARGIN - foot.height - ABOVE_FOOT;
        let bands = middles(note, end);
        let set = |setting: Setting| (setting, words(note, messages, setting));
        let fits = |(setting, words): &(Setting, Vec<Column>)| {
            let high: f64 = words.iter().map(|column| column.height).sum();
            high + GAP * setting.scale * (words.len() as f64 - 1.0) <= end - MARGIN
        };
        let found = SETTINGS.into_iter().map(set).find(fits);
        let (setting, words) = found.unwrap_or_else(|| set(SETTINGS[SETTINGS.len() - 1]));
        let tops = apart(&words, &bands, [MARGIN, end], GAP * setting.scale);
        let entries = words.into_iter().zip(tops).zip(bands);
        Self {
            setting,
            end,
            foot,
            entries: entries
                .map(|((words, top), band)| Entry { words, top, band })
                .collect(),
        }
    }

    /// The colours one above another in a frame; what has none of them stays paper.
    fn strip(&self, page: &mut Drawing, note: &Note) {
        let (wide, high) = (self.setting.strip, self.end - MARGIN);
        let mut y = MARGIN;
        for (colour, share) in inks(note) {
            // A shade more than its height, so that no seam shows where two meet.
            let band = (high * share + 0.05).min(self.end - y);
            page.rectangle([MARGIN, y], [wide, band], colour);
            y += high * share;
        }
        page.line(&[[MARGIN, y], [MARGIN + wide, y]], HAIR);
        frame(page, [MARGIN, MARGIN], [wide, high]);
    }

    /// Words, and a line that leads to them from their band.
    fn words(&self, page: &mut Drawing, entry: &Entry) {
        let (right, left) = (MARGIN + self.setting.strip, left(self.setting));
        page.place(&entry.words.drawing, [left, entry.top]);
        let middle = entry.top + entry.words.height / 2.0;
        let lead = [
            [right + 0.8, entry.band],
            [right + 2.8, entry.band],
            [left - 3.2, middle],
            [left - 1.4, middle],
        ];
        page.line(&lead, HAIR);
    }
}

/// Where the words begin, mm from the left.
fn left(setting: Setting) -> f64 {
    MARGIN + setting.strip + LEAD
}

/// The middles of the bands, and of the paper that is left for the rest, where it is told.
fn middles(note: &Note, end: f64) -> Vec<f64> {
    let high = end - MARGIN;
    let mut y = MARGIN;
    let mut middles = Vec::new();
    for (_, share) in inks(note) {
        middles.push(y + high * share / 2.0);
        y += high * share;
    }
    middles.push((y + end) / 2.0);
    middles
}

/// The words of each colour, and of the rest where it is told.
fn words(note: &Note, messages: &Messages, setting: Setting) -> Vec<Column> {
    let room = SIDE - MARGIN - left(setting);
    let colours = note.colours.iter();
    let mut all: Vec<Column> = colours
        .map(|colour| entry(colour, messages, room, setting))
        .collect();
    if let Some(rest) = note.rest_told(messages) {
        let mut column = Column::new(room);
        column.paragraph_of(1, &rest.join(" "), SHARE.times(setting.scale));
        all.push(column);
    }
    all
}

fn entry(colour: &Colour, messages: &Messages, room: f64, setting: Setting) -> Column {
    let mut entry = Column::new(room);
    let percent = messages.percent(colour.share);
    let [word, beneath] = setting.lines;
    entry.paragraph_of(word, &colour.word, WORD.times(setting.scale));
    let below = match &colour.beneath {
        Some(beneath) => format!("{percent} · {beneath}"),
        None => percent,
    };
    entry.paragraph_of(beneath, &below, SHARE.times(setting.scale));
    entry
}

/// The top of each entry: as near to the middle of its band as the others let it, between the ends of the strip.
fn apart(entries: &[Column], bands: &[f64], [from, to]: [f64; 2], gap: f64) -> Vec<f64> {
    let mut tops = Vec::new();
    let mut free = from;
    for (entry, band) in entries.iter().zip(bands) {
        let top = (band - entry.height / 2.0).max(free);
        tops.push(top);
        free = top + entry.height + gap;
    }
    let mut free = to;
    for (top, entry) in tops.iter_mut().zip(entries).rev() {
        *top = top.min(free - entry.height);
        free = *top - gap;
    }
    tops
}
