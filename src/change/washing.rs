use super::cautions::{Both, join, of_photos};
use super::grey_scale::{Grade, de_f};
use super::pair::{Alone, Pair, Range};
use super::shown::{Shown, counting, files};
use crate::colour::{Lab, mean, triple};
use crate::error::Caution;
use crate::reading::State;
use serde::Serialize;
use std::collections::BTreeMap;

/// What a grade here is, and what it is not.
pub const SCALE: &str = "change in the studio's own wash, estimated from photographs on the ISO 105-A05 scale (D65, 2°); not a fastness test";

/// How far one piece changed by one number of washes, or by wear.
#[derive(Clone, Debug, Serialize)]
pub struct Washing {
    /// Code of the piece.
    pub piece: String,
    /// File of the photo before washing, the newest of several.
    pub before: Option<String>,
    /// File of the photo after, the newest of several.
    pub after: Option<String>,
    /// Files of all photos before that count, oldest first.
    pub before_photos: Vec<String>,
    /// Files of all photos after that count, oldest first.
    pub after_photos: Vec<String>,
    /// What it was photographed as: washed or worn.
    pub state: State,
    /// How often it had been washed; `None` where nobody said.
    pub washes: Option<u32>,
    /// When the first photo after was taken, as far as that is known.
    pub taken: Option<String>,
    /// ΔE_F of ISO 105-A05 of the colour that changed most among those that cover 5 % or more.
    pub de_f: Option<f64>,
    /// Lower end of its 95 % interval, from the readings' doubt; `None` where a doubt is not known.
    pub de_f_low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub de_f_high: Option<f64>,
    /// Its grade on the grey scale, 5 (no change) to 1.
    pub grade: Option<Grade>,
    /// The worse end of the range within which the grade lies: that of `de_f_high`.
    pub grade_low: Option<Grade>,
    /// The better end.
    pub grade_high: Option<Grade>,
    /// Each colour and what it became, largest share first.
    pub matched: Vec<Washed>,
    /// Colours without a partner that cover 2 % or more.
    pub alone: Vec<Alone>,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
}

/// One colour before washing and what became of it.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Washed {
    /// CIELAB before.
    #[serde(with = "triple")]
    pub before: Lab,
    /// The mean of what it became, CIELAB.
    #[serde(with = "triple")]
    pub after: Lab,
    /// Its share of the cloth, 0 to 1.
    pub share: f64,
    /// ΔE_F between the two.
    pub de_f: f64,
    /// Its grade.
    pub grade: Grade,
    /// The worse end of the grade's range; `None` where a doubt is not known.
    pub grade_low: Option<Grade>,
    /// The better end.
    pub grade_high: Option<Grade>,
}

/// Every piece that was photographed after washing, each after each number of washes.
#[derive(Clone, Debug, Serialize)]
pub struct WashingReport {
    /// What the grades are, and what they are not: [`SCALE`].
    pub scale: &'static str,
    /// By code, then by washes and date.
    pub pieces: Vec<Washing>,
}

/// The least share of the cloth that can set the piece's grade.
const COUNTS: f64 = 0.05;

/// How far each piece changed in washing.
///
/// Every state after is compared with the dry photos of its own round; where that has none, of the last round before that has.
/// Photos of one state and number of washes are averaged; where the number is not known, those of one day.
pub fn washing(photos: &[Shown]) -> WashingReport {
    let mut by_piece: BTreeMap<&str, Vec<&Shown>> = BTreeMap::new();
    for shown in photos {
        by_piece.entry(&shown.piece).or_default().push(shown);
    }
    let pieces = by_piece.values().flat_map(|shown| of_piece(shown));
    WashingReport {
        scale: SCALE,
        pieces: pieces.collect(),
    }
}

/// What photos after washing have in common that are averaged; by this order they follow each other.
type Stage<'a> = (usize, Option<u32>, State, Option<&'a str>);

fn of_piece(shown: &[&Shown]) -> Vec<Washing> {
    let mut stages: BTreeMap<Stage, Vec<&Shown>> = BTreeMap::new();
    for photo in shown {
        if photo.state.is_washed() {
            let day = photo.taken.as_deref().and_then(|t| t.get(..10));
            let day = day.filter(|_| photo.washes.is_none());
            let stage = (photo.round, photo.washes, photo.state, day);
            stages.entry(stage).or_default().push(photo);
        }
    }
    let of = |(stage, after): (&Stage, &Vec<&Shown>)| {
        let dry = |round| {
            shown
                .iter()
                .filter(move |s| s.state == State::Dry && s.round == round)
        };
        let round = (0..=stage.0)
            .rev()
            .find(|&round| dry(round).next().is_some());
        let before: Vec<&Shown> = round.into_iter().flat_map(dry).copied().collect();
        compared(&before, after)
    };
    stages.iter().map(of).collect()
}

fn compared(before: &[&Shown], after: &[&Shown]) -> Washing {
    let (before, before_twice) = counting(before.iter().copied());
    let (after, after_twice) = counting(after.iter().copied());
    let first = after[0];
    let (before_photos, after_photos) = (files(&before), files(&after));
    let mut found = Washing {
        piece: first.piece.clone(),
        before: before_photos.last().cloned(),
        after: after_photos.last().cloned(),
        before_photos,
        after_photos,
        state: first.state,
        washes: first.washes,
        taken: after.iter().filter_map(|photo| photo.taken.clone()).min(),
        de_f: None,
        de_f_low: None,
        de_f_high: None,
        grade: None,
        grade_low: None,
        grade_high: None,
        matched: Vec::new(),
        alone: Vec::new(),
        cautions: of_photos(before.iter().chain(&after).copied()),
    };
    if first.washes.is_none() && first.state == State::Washed {
        let (piece, photo) = (&first.piece, first.file.as_deref().unwrap_or("PHOTO"));
        found.cautions.push(Caution::new(
            "washes-unknown",
            format!("Nobody said how often {piece} had been washed when it was photographed: say it with “filemot claim {photo} {piece} --washes N”."),
        ));
    }
    match Pair::of(&before, &after) {
        None => found.cautions.push(Caution::new(
            "no-dry-photo",
            "There is no dry photo of this piece from before it was washed, so its change cannot be told: photograph the next ones before their first wash.",
        )),
        Some(pair) => {
            let both = Both {
                before: &before,
                after: &after,
                words: ["dry", first.state.word()],
            };
            found.measure(&pair, &both);
            let said = both.cautions(&pair, before_twice || after_twice);
            join(&mut found.cautions, said);
        }
    }
    found
}

impl Washing {
    fn measure(&mut self, pair: &Pair, both: &Both) {
        self.alone = pair.alone();
        if !both.tell(pair) {
            return;
        }
        let partners = partners(pair);
        self.matched = partners.iter().map(|p| p.washed(pair)).collect();
        let counting = |least: f64| -> Vec<&Partners> {
            partners.iter().filter(|p| p.share >= least).collect()
        };
        let mut counted = counting(COUNTS);
        if counted.is_empty() {
            counted = counting(0.0);
        }
        if counted.is_empty() {
            return;
        }
        let worst = pair.range(|before, after| {
            let each = counted.iter().map(|p| p.de_f(before, after));
            each.fold(0.0, f64::max)
        });
        self.de_f = Some(worst.value);
        self.de_f_low = worst.low.map(|low| low.max(0.0));
        self.de_f_high = worst.high;
        self.grade = Some(Grade::of(worst.value));
        (self.grade_low, self.grade_high) = grades(worst);
    }
}

/// The worse and the better end of a grade.
fn grades(de_f: Range) -> (Option<Grade>, Option<Grade>) {
    (de_f.high.map(Grade::of), de_f.low.map(Grade::of))
}

/// A colour before and all that it became.
struct Partners {
    before: usize,
    after: Vec<(usize, f64)>,
    share: f64,
}

/// Largest share first.
fn partners(pair: &Pair) -> Vec<Partners> {
    let mut all: BTreeMap<usize, Vec<(usize, f64)>> = BTreeMap::new();
    for &(before, after, share) in &pair.matching.moves {
        all.entry(before).or_default().push((after, share));
    }
    let of = |(before, after): (usize, Vec<(usize, f64)>)| Partners {
        before,
        share: after.iter().map(|a| a.1).sum(),
        after,
    };
    let mut all: Vec<Partners> = all.into_iter().map(of).collect();
    all.sort_by(|a, b| b.share.total_cmp(&a.share));
    all
}

impl Partners {
    /// What it became, as one colour.
    fn became(&self, after: &[Lab]) -> Lab {
        let all = self.after.iter().map(|&(j, share)| (after[j], share));
        mean(all).unwrap_or(after[self.after[0].0])
    }

    fn de_f(&self, before: &[Lab], after: &[Lab]) -> f64 {
        de_f(before[self.before], self.became(after))
    }

    fn washed(&self, pair: &Pair) -> Washed {
        let range = pair.range(|before, after| self.de_f(before, after));
        let (grade_low, grade_high) = grades(range);
        Washed {
            before: pair.before.palette[self.before].0,
            after: self.became(&pair.after.colours()),
            share: self.share,
            de_f: range.value,
            grade: Grade::of(range.value),
            grade_low,
            grade_high,
        }
    }
}
