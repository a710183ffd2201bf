use super::{EDGE, FAINT, GROUND, INK, LABEL, QUIET, SENTENCE, SMALL, WIDTH, stroke, text};
use crate::change::{Grade, SCALE, Washing};
use crate::draw::{Anchor, Drawing, WHITE, wrapped};
use crate::error::{Error, Result};
use crate::reading::State;

/// Height of the plot itself, mm.
const HEIGHT: f64 = 92.0;
/// The scale reaches at least this far, ΔE_F, so that little change looks little.
const LEAST: f64 = 5.8;
/// Half the size of a mark, mm.
const MARK: f64 = 1.6;
/// How far a mark is moved off another, mm.
const ASIDE: f64 = 2.0;
/// Beside the plot stand the names of the grades, mm.
const NAMES: f64 = 26.0;

/// A piece's change over its washes: ΔE_F with its 95 % interval, over the bands of the grey scale.
///
/// # Errors
/// The caller's, where nothing of it was measured.
pub fn washing_plot(stages: &[Washing]) -> Result<Drawing> {
    let measured: Vec<&Washing> = stages.iter().filter(|s| s.de_f.is_some()).collect();
    let Some(first) = measured.first() else {
        return Err(Error::caller(
            "There is nothing to draw, since no change of this piece was measured: leave --plot out; the answer says why.",
        ));
    };
    let (mut page, top) = page(&first.piece);
    let frame = Frame::of(&measured, top);
    frame.bands(&mut page);
    frame.across(&mut page);
    frame.washed(&mut page, &measured);
    for stage in &measured {
        frame.stage(&mut page, stage, frame.aside(stage, &measured));
    }
    let notes = wrapped(&note(stages), SMALL, false, WIDTH - 2.0 * EDGE);
    for (n, line) in notes.iter().enumerate() {
        let y = frame.bottom() + 15.0 + n as f64 * 1.4 * SMALL;
        page.text(text(line, [EDGE, y], SMALL, Anchor::Start).quiet());
    }
    Ok(page)
}

/// What the marks mean, and what was not measured.
fn note(stages: &[Washing]) -> String {
    let missing = stages.iter().filter(|s| s.de_f.is_none()).count();
    let missing = match missing {
        0 => String::new(),
        1 => " One state was not measured and is left out; “filemot washing” says why.".to_owned(),
        many => format!(
            " {many} states were not measured and are left out; “filemot washing” says why."
        ),
    };
    format!(
        "ΔE_F is how large the change is, by ISO 105-A05: of the colour that changed most among those that cover 5 % of the cloth or more. Round: washed; square: worn; at 0 the piece before its first wash. Upright lines: 95 % interval from the doubt of the readings. The bands are the grades of that standard.{missing}"
    )
}

/// The page with its heading, and how far down that reaches.
fn page(piece: &str) -> (Drawing, f64) {
    let width = WIDTH - 2.0 * EDGE;
    let scale = wrapped(
        &format!("What is graded is the {SCALE}."),
        SMALL,
        false,
        width,
    );
    let top = EDGE + 1.3 * SENTENCE + scale.len() as f64 * 1.35 * SMALL + 9.0;
    let mut page = Drawing::new(WIDTH, top + HEIGHT + 15.0 + 4.0 * 1.4 * SMALL + EDGE);
    let heading = format!("{piece}: how far it changed in washing");
    page.text(text(&heading, [EDGE, EDGE + SENTENCE], SENTENCE, Anchor::Start).bold());
    for (n, line) in scale.iter().enumerate() {
        let y = EDGE + 1.3 * SENTENCE + (n + 1) as f64 * 1.35 * SMALL;
        page.text(text(line, [EDGE, y], SMALL, Anchor::Start).quiet());
    }
    (page, top)
}

/// Where things stand on the page.
struct Frame {
    top: f64,
    left: f64,
    right: f64,
    /// ΔE_F at the top.
    most: f64,
    /// Washes at the right.
    washes: u32,
    /// Whether room is kept for photos of which nobody said how often the piece was washed.
    unknown: bool,
}

impl Frame {
    fn of(stages: &[&Washing], top: f64) -> Self {
        let values = stages.iter().flat_map(|s| [s.de_f, s.de_f_high]).flatten();
        Self {
            top,
            left: EDGE + 12.0,
            right: WIDTH - EDGE - NAMES,
            most: 1.06 * values.fold(LEAST, f64::max),
            washes: stages.iter().filter_map(|s| s.washes).max().unwrap_or(1),
            unknown: stages.iter().any(|s| s.washes.is_none()),
        }
    }

    fn bottom(&self) -> f64 {
        self.top + HEIGHT
    }

    fn up(&self, de_f: f64) -> f64 {
        self.bottom() - HEIGHT * de_f / self.most
    }

    fn along(&self, washes: Option<u32>) -> f64 {
        let (start, end) = (self.left + 8.0, self.right - 10.0);
        let end_known = if self.unknown { end - 16.0 } else { end };
        match washes {
            None => end,
            Some(washes) => {
                start + (end_known - start) * f64::from(washes) / f64::from(self.washes)
            }
        }
    }

    /// The grades, every other one on grey, each named at the right with the ΔE_F at which it begins.
    fn bands(&self, page: &mut Drawing) {
        let bands = Grade::bands().filter(|(_, from, _)| *from < self.most);
        for (n, (grade, from, to)) in bands.enumerate() {
            let (low, high) = (
                self.up(from),
                self.up(to.unwrap_or(self.most).min(self.most)),
            );
            let size = [self.right - self.left, low - high];
            let fill = if n % 2 == 0 { WHITE } else { GROUND };
            page.rectangle([self.left, high], size, fill);
            let ends = [[self.left, low], [self.right, low]];
            page.line(&ends, stroke(FAINT, 0.25));
            let middle = 0.5 * (low + high) + 0.36 * SMALL;
            let name = format!("grade {grade}");
            page.text(text(&name, [self.right + 2.0, middle], SMALL, Anchor::Start).plain());
            if low - high > SMALL {
                let mark = format!("{from:.2}");
                let at = [self.left - 1.8, low + 0.36 * SMALL];
                page.text(text(&mark, at, SMALL, Anchor::End).plain());
            }
        }
        let title = [self.left, self.top - 2.4];
        page.text(text("ΔE_F", title, LABEL, Anchor::Start).plain());
        let frame = [
            [self.left, self.top],
            [self.right, self.top],
            [self.right, self.bottom()],
            [self.left, self.bottom()],
        ];
        page.polygon(&frame, None, Some(stroke(INK, 0.3)));
    }

    /// The numbers of washes below the plot.
    fn across(&self, page: &mut Drawing) {
        let step = [1, 2, 5, 10, 20, 50]
            .into_iter()
            .find(|step| self.washes / step <= 10)
            .unwrap_or(self.washes / 10);
        let below = self.bottom();
        let mut mark = |x: f64, label: &str| {
            page.line(&[[x, below], [x, below + 1.2]], stroke(INK, 0.3));
            let at = [x, below + 1.6 + SMALL];
            page.text(text(label, at, SMALL, Anchor::Middle).plain());
        };
        for washes in (0..=self.washes).step_by(step as usize) {
            mark(self.along(Some(washes)), &washes.to_string());
        }
        if self.unknown {
            mark(self.along(None), "not said");
        }
        let middle = [0.5 * (self.left + self.right), below + 3.4 + SMALL + LABEL];
        page.text(text("washes", middle, LABEL, Anchor::Middle).plain());
    }

    /// A line from the piece as it was through its washes.
    fn washed(&self, page: &mut Drawing, stages: &[&Washing]) {
        let known = stages.iter().filter(|s| s.state == State::Washed);
        let known = known.filter_map(|s| Some([self.along(Some(s.washes?)), self.up(s.de_f?)]));
        let start = [self.along(Some(0)), self.up(0.0)];
        let points: Vec<[f64; 2]> = std::iter::once(start).chain(known).collect();
        if points.len() > 1 {
            page.line(&points, stroke(QUIET, 0.4));
        }
        page.circle(start, 1.3, INK);
    }

    /// How far a worn piece is moved off its place, mm: not at all, unless it would hide the washed one of as many washes.
    fn aside(&self, stage: &Washing, all: &[&Washing]) -> f64 {
        let reach = |s: &Washing| {
            let ends = [s.de_f, s.de_f_low, s.de_f_high].into_iter().flatten();
            let heights = ends.map(|de_f| self.up(de_f));
            heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), y| {
                (low.min(y - MARK), high.max(y + MARK))
            })
        };
        let (low, high) = reach(stage);
        let meets = |other: &Washing| {
            let (from, to) = reach(other);
            other.state == State::Washed && other.washes == stage.washes && from < high && low < to
        };
        let hides = stage.state == State::Worn && all.iter().any(|other| meets(other));
        match (hides, stage.washes) {
            (false, _) => 0.0,
            (true, None) => ASIDE,
            // Never so far that it would seem to have been washed once more.
            (true, Some(_)) => ASIDE.min(0.25 * (self.along(Some(1)) - self.along(Some(0)))),
        }
    }

    /// One state, so far to the right of its place.
    fn stage(&self, page: &mut Drawing, stage: &Washing, aside: f64) {
        let (Some(de_f), Some(grade)) = (stage.de_f, stage.grade) else {
            return;
        };
        let worn = stage.state == State::Worn;
        let x = self.along(stage.washes) + aside;
        let y = self.up(de_f);
        if let Some((low, high)) = stage.de_f_low.zip(stage.de_f_high) {
            let (low, high) = (self.up(low), self.up(high));
            page.line(&[[x, low], [x, high]], stroke(INK, 0.7));
            for end in [low, high] {
                page.line(&[[x - 1.1, end], [x + 1.1, end]], stroke(INK, 0.5));
            }
        }
        match worn {
            true => page.rectangle([x - 1.4, y - 1.4], [2.8, 2.8], INK),
            false => page.circle([x, y], MARK, INK),
        }
        let name = grade.to_string();
        // The line of washes rises to the right, so that names stand free of it on the left.
        let (aside, anchor) = match worn {
            true => (2.6, Anchor::Start),
            false => (-2.6, Anchor::End),
        };
        page.text(text(&name, [x + aside, y - 0.8], LABEL, anchor).bold());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stage(state: State, washes: Option<u32>, de_f: f64) -> Washing {
        Washing {
            piece: "A".to_owned(),
            before: None,
            after: None,
            before_photos: Vec::new(),
            after_photos: Vec::new(),
            state,
            washes,
            taken: None,
            de_f: Some(de_f),
            de_f_low: Some(de_f - 0.5),
            de_f_high: Some(de_f + 0.5),
            grade: Some(Grade::of(de_f)),
            grade_low: None,
            grade_high: None,
            matched: Vec::new(),
            alone: Vec::new(),
            cautions: Vec::new(),
        }
    }

    /// How far the second of two is moved, in washes.
    #[track_caller]
    fn check(stages: [Washing; 2], wanted: std::ops::RangeInclusive<f64>) {
        let all: Vec<&Washing> = stages.iter().collect();
        let frame = Frame::of(&all, 0.0);
        let wash = frame.along(Some(1)) - frame.along(Some(0));
        let moved = frame.aside(all[1], &all) / wash;
        assert!(wanted.contains(&moved), "{moved}");
        assert_eq!(frame.aside(all[0], &all), 0.0);
    }

    #[test]
    fn worn_pieces_stand_at_their_washes() {
        let (washed, worn) = (State::Washed, State::Worn);
        for last in [1, 10, 500] {
            let of = |state, de_f| stage(state, Some(last), de_f);
            check([of(washed, 2.0), of(worn, 5.0)], 0.0..=0.0);
            check(
                [stage(washed, Some(last - 1), 2.0), of(worn, 2.0)],
                0.0..=0.0,
            );
            check([of(washed, 2.0), of(worn, 2.2)], 1e-3..=0.2500001);
        }
    }
}
