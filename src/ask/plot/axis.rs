use super::super::language::Measure;
use super::{FAINT, INK, LABEL, SMALL, stroke, text};
use crate::draw::{Anchor, Drawing};

/// A scale from numbers to a stretch of the page.
pub struct Axis {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
    step: f64,
}

impl Axis {
    /// Room for all of `numbers` between `from` and `to` on the page, with a little to spare.
    pub fn over(numbers: impl IntoIterator<Item = f64>, from: f64, to: f64) -> Self {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for number in numbers.into_iter().filter(|n| n.is_finite()) {
            (low, high) = (low.min(number), high.max(number));
        }
        if low > high {
            (low, high) = (0.0, 1.0);
        }
        let spare = 0.06 * (high - low).max(1e-3 * (1.0 + high.abs()));
        let (low, high) = (low - spare, high + spare);
        Self {
            low,
            high,
            from,
            to,
            step: step(high - low),
        }
    }

    /// Where a number stands on the page; numbers beyond the ends stand at them.
    pub fn at(&self, number: f64) -> f64 {
        let along = ((number - self.low) / (self.high - self.low)).clamp(0.0, 1.0);
        self.from + along * (self.to - self.from)
    }

    /// The end of a line from `start`, drawn on the page, cut where the line leaves this axis; both as (other axis, this axis).
    pub fn cut(&self, start: [f64; 2], end: [f64; 2], number: f64) -> [f64; 2] {
        let along = (number - self.low) / (self.high - self.low);
        let free = self.from + along * (self.to - self.from);
        let kept = end[1];
        if (free - kept).abs() < 1e-9 || (free - start[1]).abs() < 1e-9 {
            return end;
        }
        let part = (kept - start[1]) / (free - start[1]);
        [start[0] + part * (end[0] - start[0]), kept]
    }

    /// The numbers to mark.
    fn marks(&self) -> impl Iterator<Item = f64> {
        let (first, last) = (
            (self.low / self.step).ceil() as i64,
            (self.high / self.step).floor() as i64,
        );
        let step = self.step;
        (first..=last).map(move |n| n as f64 * step)
    }

    /// A mark as text.
    fn label(&self, mark: f64, measure: Option<Measure>) -> String {
        if measure == Some(Measure::Share) {
            return format!("{:.0}", 100.0 * mark);
        }
        let digits = (-self.step.log10().floor()).max(0.0) as usize;
        format!("{:.digits$}", mark + 0.0)
    }

    /// Draws it along the bottom of a plot that reaches from `top` to `bottom`.
    pub fn draw_below(
        &self,
        page: &mut Drawing,
        [top, bottom]: [f64; 2],
        title: &str,
        measure: Option<Measure>,
    ) {
        for mark in self.marks() {
            let x = self.at(mark);
            page.line(&[[x, top], [x, bottom]], stroke(FAINT, 0.2));
            page.line(&[[x, bottom], [x, bottom + 1.2]], stroke(INK, 0.3));
            let label = self.label(mark, measure);
            page.text(text(&label, [x, bottom + 1.6 + SMALL], SMALL, Anchor::Middle).plain());
        }
        page.line(&[[self.from, bottom], [self.to, bottom]], stroke(INK, 0.3));
        let middle = 0.5 * (self.from + self.to);
        page.text(
            text(
                title,
                [middle, bottom + 3.4 + SMALL + LABEL],
                LABEL,
                Anchor::Middle,
            )
            .plain(),
        );
    }

    /// Draws it along the left of a plot that reaches from `left` to `right`; its title stands above.
    pub fn draw_beside(
        &self,
        page: &mut Drawing,
        [left, right]: [f64; 2],
        title: &str,
        measure: Option<Measure>,
    ) {
        for mark in self.marks() {
            let y = self.at(mark);
            page.line(&[[left, y], [right, y]], stroke(FAINT, 0.2));
            page.line(&[[left - 1.2, y], [left, y]], stroke(INK, 0.3));
            let label = self.label(mark, measure);
            page.text(text(&label, [left - 1.8, y + 0.36 * SMALL], SMALL, Anchor::End).plain());
        }
        page.line(&[[left, self.from], [left, self.to]], stroke(INK, 0.3));
        let top = self.from.min(self.to);
        page.text(text(title, [left, top - 1.8], LABEL, Anchor::Start).plain());
    }
}

/// How wide the space below a plot is that its axis takes, mm.
pub const BELOW: f64 = 12.0;

/// The measure's name with its unit, for an axis.
pub fn title(measure: Measure) -> &'static str {
    match measure {
        Measure::Warmth => "warmth (scale of Ou et al. 2004: higher is warmer)",
        Measure::Lightness => "lightness L*",
        Measure::Chroma => "chroma C*",
        Measure::Hue => "hue angle h (°): red 30, yellow 90, green 160, blue 270",
        Measure::Evenness => "unevenness (mean ΔE00 from the mean colour: lower is more even)",
        Measure::Share => "share of the cloth (%)",
        Measure::Number => "number of colours",
        Measure::Lightening => "lightening on drying (L*)",
        Measure::Fading => "change in washing (ΔE00)",
    }
}

/// About five marks: 1, 2 or 5 times a power of ten.
fn step(range: f64) -> f64 {
    let power = 10f64.powf((range / 5.0).log10().floor());
    let times = range / 5.0 / power;
    let times = if times > 5.0 {
        10.0
    } else if times > 2.0 {
        5.0
    } else if times > 1.0 {
        2.0
    } else {
        1.0
    };
    times * power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_round_and_few() {
        for (low, high) in [
            (0.0, 1.0),
            (-0.31, 2.6),
            (41.2, 47.9),
            (0.001, 0.0013),
            (5.0, 5.0),
        ] {
            let axis = Axis::over([low, high], 0.0, 100.0);
            let marks: Vec<f64> = axis.marks().collect();
            assert!((2..=9).contains(&marks.len()), "{low} {high}: {marks:?}");
            assert!(marks.iter().all(|&m| (0.0..=100.0).contains(&axis.at(m))));
        }
    }
}
