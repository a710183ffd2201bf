use super::super::foresee::{Outlook, whole};
use super::{EDGE, GROUND, LABEL, SENTENCE, SMALL, WIDTH, rgb, text};
use crate::change::Foreseen;
use crate::colour::Lab;
use crate::draw::{Anchor, Drawing, wrapped};
use crate::words;

/// Height of a strip of colours, mm.
const STRIP: f64 = 26.0;
/// Height of the strip of the colour that is aimed at, mm.
const AIM: f64 = 10.0;
/// So many lines a colour's name may take in its column.
const NAME_LINES: usize = 2;
/// The least width of a colour's column of words, mm.
const COLUMN: f64 = 26.0;
/// A line of small type, mm.
const LINE: f64 = 1.35 * SMALL;

/// What a wet piece will look like dry, 180 mm wide: wet above, dry below, each colour as wide as its share; under them the bands
/// in words.
pub fn draw(outlook: &Outlook) -> Drawing {
    let (sentences, more) = outlook.in_words();
    let lines = wrapped(&sentences, SENTENCE, true, WIDTH - 2.0 * EDGE);
    let notes = wrapped(&more, SMALL, false, WIDTH - 2.0 * EDGE);
    let top = EDGE + lines.len() as f64 * 1.3 * SENTENCE + notes.len() as f64 * LINE + 4.0;
    let columns = ((WIDTH - 2.0 * EDGE) / COLUMN) as usize;
    let rows = outlook.swatches.len().div_ceil(columns) as f64;
    let row = 8.0 + (5.0 + NAME_LINES as f64) * LINE;
    let aimed = outlook.toward.as_ref().and_then(|aim| aim.lab);
    let aim = aimed.map_or(0.0, |_| AIM + 2.0);
    let mut page = Drawing::new(WIDTH, top + 2.0 * STRIP + aim + 11.0 + rows * row + EDGE);
    let mut y = EDGE;
    for line in &lines {
        y += 1.3 * SENTENCE;
        page.text(text(line, [EDGE, y - 0.3 * SENTENCE], SENTENCE, Anchor::Start).bold());
    }
    for line in &notes {
        y += LINE;
        page.text(text(line, [EDGE, y], SMALL, Anchor::Start).quiet());
    }
    strips(&mut page, &outlook.swatches, aimed, top);
    let below = top + 2.0 * STRIP + aim + 11.0;
    for (n, colour) in outlook.swatches.iter().enumerate() {
        let place = [
            EDGE + (n % columns) as f64 * COLUMN,
            below + (n / columns) as f64 * row,
        ];
        in_words(&mut page, colour, place);
    }
    page
}

/// Wet above, dry below, then the colour that is aimed at, on a neutral ground.
fn strips(page: &mut Drawing, colours: &[Foreseen], aimed: Option<Lab>, top: f64) {
    let left = EDGE + 12.0;
    let wide = WIDTH - EDGE - left;
    let aim = aimed.map_or(0.0, |_| AIM + 2.0);
    let ground = [wide + 4.0, 2.0 * STRIP + 6.0 + aim];
    page.rectangle([left - 2.0, top], ground, GROUND);
    let mut x = left;
    for colour in colours {
        let width = colour.share * wide;
        page.rectangle([x, top + 2.0], [width, STRIP], rgb(colour.wet));
        page.rectangle([x, top + 4.0 + STRIP], [width, STRIP], rgb(colour.dry));
        x += width;
    }
    let mut words = vec![("wet", 2.0 + 0.5 * STRIP), ("dry", 4.0 + 1.5 * STRIP)];
    if let Some(lab) = aimed {
        let from = 6.0 + 2.0 * STRIP;
        page.rectangle([left, top + from], [wide, AIM], rgb(lab));
        words.push(("aim", from + 0.5 * AIM));
    }
    for (word, middle) in words {
        let at = [EDGE, top + middle + 0.36 * LABEL];
        page.text(text(word, at, LABEL, Anchor::Start).bold());
    }
}

/// One colour: both blocks, its share, its name when dry, and from where to where its dry L\*, a\* and b\* may lie.
fn in_words(page: &mut Drawing, colour: &Foreseen, [x, y]: [f64; 2]) {
    page.rectangle([x, y], [9.0, 5.0], rgb(colour.wet));
    page.rectangle([x + 9.0, y], [9.0, 5.0], rgb(colour.dry));
    let range =
        |name: &str, low: f64, high: f64| format!("{name} {:.0} to {:.0}", whole(low), whole(high));
    // A quarter of the band of lightness is one standard deviation.
    let name = words::word(colour.dry, (colour.high.l - colour.low.l) / 4.0).text;
    let mut names = wrapped(&name, SMALL, false, COLUMN - 1.0);
    names.resize(NAME_LINES, String::new());
    let told = [format!("{:.0} %", 100.0 * colour.share)];
    let told = told.into_iter().chain(names).chain([
        "dry between".to_owned(),
        range("L*", colour.low.l, colour.high.l),
        range("a*", colour.low.a, colour.high.a),
        range("b*", colour.low.b, colour.high.b),
    ]);
    for (n, line) in told.enumerate() {
        let at = [x, y + 5.0 + (n + 1) as f64 * LINE];
        let line = text(&line, at, SMALL, Anchor::Start);
        page.text(if n == 0 { line.bold() } else { line.quiet() });
    }
}
