use super::super::answer::{Answer, Evidence, Group};
use super::super::language::Measure;
use super::axis::{Axis, BELOW, title};
use super::{
    EDGE, FAINT, GROUND, Head, INK, LABEL, SMALL, WIDTH, diamond, dot, interval, stroke, text,
};
use crate::draw::{Anchor, Drawing, wrapped};

/// Left of the plot stand the groups' names, right of it their numbers.
const NAMES: f64 = 38.0;
const NUMBERS: f64 = 34.0;
/// A pot's line, and the line of the mean, mm.
const POT: f64 = 3.4;
const MEAN: f64 = 6.4;
/// What a group takes at least: its numbers stand in three lines.
const LEAST: f64 = 14.0;
/// More pots than these share lines.
const MOST_LINES: usize = 12;
/// More groups than these are not drawn; the table has them all.
const MOST_GROUPS: usize = 12;
/// Names of pots stand beside their lines where all groups have at most so many.
const NAMED: usize = 6;

/// Groups one below the other, best first: a line for each pot with its pieces, below them the mean and its interval.
pub fn draw(answer: &Answer, head: &Head, groups: &[Group]) -> Drawing {
    let shown = &groups[..groups.len().min(MOST_GROUPS)];
    let measure = answer.asked().wanted.measure();
    let pots: Vec<Vec<(String, Vec<&Evidence>)>> = shown
        .iter()
        .map(|group| by_pot(answer, &group.value))
        .collect();
    let height = |pots: &Vec<(String, Vec<&Evidence>)>| {
        (pots.len().min(MOST_LINES) as f64 * POT + MEAN + 3.0).max(LEAST)
    };
    let all: f64 = pots.iter().map(height).sum();
    let notes = notes(answer, groups.len());
    let below = all + BELOW + notes.len() as f64 * 1.4 * SMALL + 3.0;
    let (mut page, top) = head.page(below);
    let numbers = answer.evidence.iter().map(|e| e.value);
    let ends = shown.iter().flat_map(|g| [g.low, g.high]).flatten();
    let span = limits(answer, ends.chain(numbers));
    let axis = Axis::over(span, EDGE + NAMES, WIDTH - EDGE - NUMBERS);
    page.rectangle(
        [EDGE + NAMES, top],
        [WIDTH - 2.0 * EDGE - NAMES - NUMBERS, all],
        GROUND,
    );
    axis.draw_below(
        &mut page,
        [top, top + all],
        measure.map_or("", title),
        measure,
    );
    let named = pots.iter().all(|pots| pots.len() <= NAMED);
    if named {
        let head = text(
            "pot",
            [EDGE + NAMES - 1.5, top + 0.5 * SMALL],
            0.85 * SMALL,
            Anchor::End,
        );
        page.text(head.quiet());
    }
    let mut y = top;
    for (group, pots) in shown.iter().zip(&pots) {
        draw_group(&mut page, answer, &axis, group, pots, (y, named));
        y += height(pots);
        page.line(&[[EDGE, y], [WIDTH - EDGE, y]], stroke(FAINT, 0.25));
    }
    let mut y = top + all + BELOW + 2.0;
    for note in notes {
        y += 1.4 * SMALL;
        page.text(text(&note, [EDGE, y], SMALL, Anchor::Start).quiet());
    }
    page
}

/// Intervals that reach far beyond all pieces are cut at the ends of the plot, so that the pieces stay apart.
fn limits(answer: &Answer, numbers: impl Iterator<Item = f64>) -> Vec<f64> {
    let values = || answer.evidence.iter().map(|e| e.value);
    let (low, high) = (
        values().fold(f64::INFINITY, f64::min),
        values().fold(f64::NEG_INFINITY, f64::max),
    );
    let reach = 0.6 * (high - low).max(1e-9);
    numbers
        .map(|n| n.clamp(low - reach, high + reach))
        .collect()
}

fn draw_group(
    page: &mut Drawing,
    answer: &Answer,
    axis: &Axis,
    group: &Group,
    pots: &[(String, Vec<&Evidence>)],
    (top, named): (f64, bool),
) {
    let names = wrapped(&group.value, LABEL, true, NAMES - 14.0);
    for (n, line) in names.iter().enumerate() {
        page.text(
            text(
                line,
                [EDGE, top + 1.4 + (n + 1) as f64 * 1.15 * LABEL],
                LABEL,
                Anchor::Start,
            )
            .bold(),
        );
    }
    for (n, (pot, pieces)) in pots.iter().enumerate() {
        let y = top + 2.2 + (n % MOST_LINES) as f64 * POT + 0.5 * POT;
        let at = |piece: &&Evidence| axis.at(piece.value);
        let (left, right) = pieces
            .iter()
            .map(at)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(l, r), x| {
                (l.min(x), r.max(x))
            });
        if pieces.len() > 1 && pots.len() <= MOST_LINES {
            page.line(&[[left, y], [right, y]], stroke(INK, 0.2));
        }
        if named {
            page.text(
                text(
                    pot,
                    [EDGE + NAMES - 1.5, y + 0.36 * SMALL],
                    SMALL,
                    Anchor::End,
                )
                .quiet(),
            );
        }
        for piece in pieces {
            dot(page, [at(piece), y], piece.lab);
        }
    }
    let y = top + 2.2 + pots.len().min(MOST_LINES) as f64 * POT + 0.5 * MEAN;
    if let Some((low, high)) = group.low.zip(group.high) {
        interval(page, axis.at(low), axis.at(high), y);
    }
    diamond(page, [axis.at(group.mean), y], 1.6);
    numbers(page, answer, group, top);
}

fn numbers(page: &mut Drawing, answer: &Answer, group: &Group, top: f64) {
    let x = WIDTH - EDGE - NUMBERS + 2.5;
    let count = |n: usize, one: &str| format!("{n} {one}{}", if n == 1 { "" } else { "s" });
    let rests = format!(
        "{}, {}",
        count(group.pieces, "piece"),
        count(group.pots, "pot")
    );
    let between = match group.low.zip(group.high) {
        Some((low, high)) => format!("{} to {}", answer.show(low), answer.show(high)),
        None => "no interval: too few pots".to_owned(),
    };
    page.text(
        text(
            &answer.show(group.mean),
            [x, top + 1.4 + 1.15 * LABEL],
            LABEL,
            Anchor::Start,
        )
        .bold(),
    );
    page.text(
        text(
            &between,
            [x, top + 1.4 + 2.3 * LABEL],
            SMALL * 0.92,
            Anchor::Start,
        )
        .plain(),
    );
    page.text(
        text(
            &rests,
            [x, top + 1.4 + 3.3 * LABEL],
            SMALL * 0.92,
            Anchor::Start,
        )
        .quiet(),
    );
}

/// The pieces of a group by their pots, in the order of the pots' names.
fn by_pot<'a>(answer: &'a Answer, group: &'a str) -> Vec<(String, Vec<&'a Evidence>)> {
    let mut pots: std::collections::BTreeMap<String, Vec<&Evidence>> =
        std::collections::BTreeMap::new();
    for piece in answer.examples(group) {
        let pot = piece.pot.as_ref().unwrap_or(&piece.piece).to_string();
        pots.entry(pot).or_default().push(piece);
    }
    pots.into_iter().collect()
}

fn notes(answer: &Answer, groups: usize) -> Vec<String> {
    let measure = answer.asked().wanted.measure();
    let shows = match measure {
        Some(Measure::Lightening | Measure::Fading) => "in its mean colour afterwards",
        _ => "in the mean of its colours asked about",
    };
    let mut notes = vec![format!(
        "Each dot is a piece, {shows}; dots on one line shared a pot. Diamond: mean. Bar: 95 % interval, pots counting as independent."
    )];
    if groups > MOST_GROUPS {
        notes.push(format!("The first {MOST_GROUPS} of {groups} are drawn."));
    }
    notes
        .into_iter()
        .flat_map(|note| wrapped(&note, SMALL, false, WIDTH - 2.0 * EDGE))
        .collect()
}
