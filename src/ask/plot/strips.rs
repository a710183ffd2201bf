use super::super::answer::Answer;
use super::super::language::Wanted;
use super::super::near::Near;
use super::super::next::Next;
use super::super::value::Shade;
use super::axis::{Axis, BELOW, title};
use super::{
    EDGE, FAINT, GROUND, Head, LABEL, QUIET, SMALL, WIDTH, diamond, interval, rgb, stroke, text,
};
use crate::draw::{Anchor, Drawing, wrapped};

const ROW: f64 = 11.0;

/// What the pieces are near to, and below it the nearest pieces, each as a strip of its colours drawn to their shares.
pub fn nearest(answer: &Answer, head: &Head, target: &[Shade], nearest: &[Near]) -> Drawing {
    let rows = nearest.len() as f64 + 1.0;
    let (mut page, top) = head.page(rows * ROW + 4.0);
    let (left, right) = (EDGE + 26.0, WIDTH - EDGE - 62.0);
    page.rectangle(
        [left - 2.0, top],
        [right - left + 4.0, rows * ROW + 2.0],
        GROUND,
    );
    let label = match &answer.asked().wanted {
        Wanted::Nearest { to } => to.to_string(),
        _ => String::new(),
    };
    strip(&mut page, target, [left, right], top);
    page.text(
        text(
            &label,
            [EDGE, top + 0.5 * ROW + 0.36 * SMALL],
            SMALL,
            Anchor::Start,
        )
        .quiet(),
    );
    page.line(
        &[[EDGE, top + ROW + 1.0], [WIDTH - EDGE, top + ROW + 1.0]],
        stroke(QUIET, 0.25),
    );
    for (n, near) in nearest.iter().enumerate() {
        let y = top + 2.0 + (n as f64 + 1.0) * ROW;
        let label = [EDGE, y + 0.5 * ROW + 0.36 * LABEL];
        page.text(text(&near.piece, label, LABEL, Anchor::Start).bold());
        strip(&mut page, &near.colours, [left, right], y);
        let de = format!("{:.1} ΔE00", near.de00);
        page.text(text(&de, [right + 5.0, y + 0.42 * ROW], LABEL, Anchor::Start).plain());
        let how = wrapped(&near.settings.name(), SMALL, false, 54.0);
        if let Some(first) = how.first() {
            let line = if how.len() > 1 {
                format!("{first} …")
            } else {
                first.clone()
            };
            page.text(text(&line, [right + 5.0, y + 0.8 * ROW], SMALL, Anchor::Start).quiet());
        }
    }
    page
}

fn strip(page: &mut Drawing, colours: &[Shade], [left, right]: [f64; 2], y: f64) {
    let whole: f64 = colours.iter().map(|c| c.share).sum();
    let mut x = left;
    for shade in colours {
        let wide = shade.share / whole * (right - left);
        page.rectangle([x, y + 1.5], [wide, ROW - 3.0], rgb(shade.lab));
        x += wide;
    }
}

/// What to try next: what is expected of each recipe, and how sure that is.
pub fn next(answer: &Answer, head: &Head, next: &[Next], best: Option<f64>) -> Drawing {
    let measure = answer.asked().wanted.measure();
    let height = next.len() as f64 * ROW;
    let (mut page, top) = head.page(height + BELOW + 9.0);
    let top = top + 3.0;
    let left = EDGE + 62.0;
    let axis = Axis::over(
        next.iter().flat_map(|n| [n.low, n.high]).chain(best),
        left,
        WIDTH - EDGE,
    );
    page.rectangle([left, top], [WIDTH - EDGE - left, height], GROUND);
    axis.draw_below(
        &mut page,
        [top, top + height],
        measure.map_or("", title),
        measure,
    );
    if let Some(best) = best.map(|best| axis.at(best)) {
        page.line(&[[best, top], [best, top + height]], stroke(QUIET, 0.5));
        page.text(text("best so far", [best, top - 0.8], SMALL, Anchor::Middle).quiet());
    }
    for (n, one) in next.iter().enumerate() {
        let y = top + (n as f64 + 0.5) * ROW;
        let name = wrapped(&one.settings.name(), SMALL, true, 58.0);
        let first = y + 0.36 * SMALL - if name.len() > 1 { 0.65 * SMALL } else { 0.0 };
        for (k, line) in name.iter().take(2).enumerate() {
            page.text(
                text(
                    line,
                    [EDGE, first + k as f64 * 1.3 * SMALL],
                    SMALL,
                    Anchor::Start,
                )
                .bold(),
            );
        }
        interval(&mut page, axis.at(one.low), axis.at(one.high), y);
        diamond(&mut page, [axis.at(one.expected), y], 1.6);
        page.line(
            &[[EDGE, y + 0.5 * ROW], [WIDTH - EDGE, y + 0.5 * ROW]],
            stroke(FAINT, 0.25),
        );
    }
    let note = "Diamond: what is expected. Bar: what it lies within in 19 of 20 cases.";
    let y = top + height + BELOW + 5.0;
    page.text(text(note, [EDGE, y], SMALL, Anchor::Start).quiet());
    page
}
