use super::matching::{Match, Matching, matching};
use super::shown::Shown;
use super::side::Side;
use crate::colour::{Lab, de00, triple};
use crate::stats::weighted_mean;
use serde::Serialize;

/// A value with its 95 % interval.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Range {
    /// The value.
    pub value: f64,
    /// Lower end; `None` where a doubt is not known.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
}

/// A colour that has no partner in the other palette.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Alone {
    /// Whether it stands in the earlier photos; else in the later ones.
    pub before: bool,
    /// CIELAB.
    #[serde(with = "triple")]
    pub lab: Lab,
    /// The share of the cloth that has no partner, 0 to 1.
    pub share: f64,
}

/// A piece in two states, colours matched.
#[derive(Debug)]
pub struct Pair {
    /// Before: wet, or not yet washed.
    pub before: Side,
    /// After.
    pub after: Side,
    /// Which colours became which.
    pub matching: Matching,
}

/// The least that is told of a colour without a partner: less comes from shares that are read a little apart.
const TOLD: f64 = 0.02;
/// Below this chroma on average a piece has no hue to speak of.
const GREY: f64 = 3.0;

impl Pair {
    /// `None` where there are no photos of either state.
    pub fn of(before: &[&Shown], after: &[&Shown]) -> Option<Self> {
        let (before, after) = (Side::of(before)?, Side::of(after)?);
        let matching = matching(&before.palette, &after.palette);
        Some(Self {
            before,
            after,
            matching,
        })
    }

    /// What a measure of both palettes comes to, and how far the doubt of the readings and the scatter between photos reach.
    ///
    /// One photo at a time errs along one direction of colour to the end of its 95 % interval; the effects of all add as squares.
    /// Of the two ways to err the one counts that moves the measure more, so that a difference near 0 is not taken for certain.
    pub fn range(&self, of: impl Fn(&[Lab], &[Lab]) -> f64) -> Range {
        let (before, after) = (self.before.colours(), self.after.colours());
        let value = of(&before, &after);
        let squares = |erring: Vec<[Vec<Lab>; 2]>, of: &dyn Fn(&[Lab]) -> f64| -> f64 {
            let further = |ways: &[Vec<Lab>; 2]| {
                let [one, other] = [0, 1].map(|way| (of(&ways[way]) - value).abs());
                one.max(other).powi(2)
            };
            erring.iter().map(further).sum()
        };
        let reach = || {
            let early = squares(self.before.erring()?, &|colours| of(colours, &after));
            let late = squares(self.after.erring()?, &|colours| of(&before, colours));
            Some((early + late).sqrt())
        };
        let reach = reach();
        Range {
            value,
            low: reach.map(|reach| value - reach),
            high: reach.map(|reach| value + reach),
        }
    }

    /// The L\* of the whole cloth after less that before, -100 to 100.
    pub fn lightening(&self) -> Range {
        let of = |side: &Side, colours: &[Lab]| -> f64 {
            let all = colours.iter().zip(&side.palette);
            all.map(|(lab, (_, share))| lab.l * share).sum()
        };
        let found = self.range(|before, after| of(&self.after, after) - of(&self.before, before));
        Range {
            value: found.value,
            low: found.low.map(|low| low.max(-100.0)),
            high: found.high.map(|high| high.min(100.0)),
        }
    }

    /// The mean of a measure of matched colours, weighted by share; `None` where nothing matched.
    fn mean(&self, of: impl Fn(Lab, Lab) -> f64) -> Option<Range> {
        let mean = |before: &[Lab], after: &[Lab]| {
            let moves = self.matching.moves.iter();
            weighted_mean(moves.map(|&(i, j, share)| (of(before[i], after[j]), share)))
        };
        mean(&self.before.colours(), &self.after.colours())?;
        Some(self.range(|before, after| mean(before, after).unwrap_or_default()))
    }

    /// The change of C\*.
    pub fn chroma(&self) -> Option<Range> {
        self.mean(|before, after| chroma(after) - chroma(before))
    }

    /// CIEDE2000 between the colours and what they became; never below 0.
    pub fn de00(&self) -> Option<Range> {
        let found = self.mean(de00)?;
        Some(Range {
            low: found.low.map(|low| low.max(0.0)),
            ..found
        })
    }

    /// The change of hue in degrees, weighted by share and chroma; `None` where the cloth is nearly grey, or the doubts reach half
    /// way round.
    pub fn hue(&self) -> Option<Range> {
        let turned = |before: &[Lab], after: &[Lab]| {
            let moves = self.matching.moves.iter().map(|&(i, j, share)| {
                let (before, after) = (before[i], after[j]);
                let weight = share * (chroma(before) * chroma(after)).sqrt();
                (turn(before, after), weight)
            });
            let moves: Vec<(f64, f64)> = moves.collect();
            let colourful = moves.iter().map(|m| m.1).sum::<f64>();
            weighted_mean(moves).filter(|_| colourful >= GREY * self.matching.share())
        };
        let value = turned(&self.before.colours(), &self.after.colours())?;
        let found = self.range(|before, after| turned(before, after).unwrap_or(value));
        let half_round = |end: Option<f64>| end.is_some_and(|end| end.abs() >= 180.0);
        (!half_round(found.low) && !half_round(found.high)).then_some(found)
    }

    /// The colours and what they became, largest share first.
    pub fn matched(&self) -> Vec<Match> {
        let moves = self.matching.moves.iter().map(|&(i, j, share)| {
            let (wet, dry) = (self.before.palette[i].0, self.after.palette[j].0);
            Match {
                wet,
                dry,
                share,
                de00: de00(wet, dry),
            }
        });
        moves.collect()
    }

    /// What has no partner and covers 2 % or more.
    pub fn alone(&self) -> Vec<Alone> {
        let of = |before: bool, side: &Side, left: &[(usize, f64)]| -> Vec<Alone> {
            let told = left.iter().filter(|l| l.1 >= TOLD);
            told.map(|&(i, share)| Alone {
                before,
                lab: side.palette[i].0,
                share,
            })
            .collect()
        };
        let mut alone = of(true, &self.before, &self.matching.gone);
        alone.extend(of(false, &self.after, &self.matching.new));
        alone
    }
}

fn chroma(lab: Lab) -> f64 {
    lab.a.hypot(lab.b)
}

/// The angle from one hue to another, -180° to 180°; above 0 from red towards yellow.
fn turn(before: Lab, after: Lab) -> f64 {
    let across = before.a * after.b - before.b * after.a;
    let along = before.a * after.a + before.b * after.b;
    across.atan2(along).to_degrees()
}
