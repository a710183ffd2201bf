//! What the reader of an answer about drying or washing must know of its pieces.

use super::changed::{Change, Unmeasured};
use super::compare::{Compared, Gathered};
use super::survey::{Row, Survey};
use crate::error::{Caution, few};
use std::collections::BTreeMap;

/// Groups of which one was washed so many times as often as another are not alike.
const UNLIKE: f64 = 1.5;

/// Pieces that were left out, whose photos contradict each other, or of which nobody said how often they were washed.
pub fn cautions(survey: &Survey) -> Vec<Caution> {
    let changes: Vec<(&str, &Change)> = (survey.rows.iter())
        .filter_map(|row| Some((&*row.seen.piece.code, change(survey, row)?)))
        .collect();
    let mut left_out: BTreeMap<Unmeasured, Vec<&str>> = BTreeMap::new();
    for (code, change) in &changes {
        if let Err(why) = change.whole {
            left_out.entry(why).or_default().push(code);
        }
    }
    let mut all: Vec<Caution> = left_out
        .iter()
        .map(|(why, codes)| why.caution(codes))
        .collect();
    let named = |of: &dyn Fn(&Change) -> bool| -> Vec<&str> {
        let found = changes.iter().filter(|(_, change)| of(change));
        found.map(|(code, _)| *code).collect()
    };
    let disagree = named(&|change| change.disagree);
    if !disagree.is_empty() {
        let text = format!(
            "Photos of one state contradict each other: {}. Their ranges were widened; “filemot drying” and “filemot washing” tell which photos.",
            few(&disagree)
        );
        all.push(Caution::new("photos-disagree", text));
    }
    all
}

/// Groups that were washed unlike often, or nobody said how often: a difference may then be the washes'.
pub fn washed_unlike(survey: &Survey, compared: &Compared) -> Option<Caution> {
    let washes = |group: &Gathered| -> Vec<Option<u32>> {
        let changes = group.rows.iter();
        let changes = changes.filter_map(|&row| change(survey, &survey.rows[row]));
        changes.map(|change| change.washes).collect()
    };
    if !survey.is_of_washing() {
        return None;
    }
    let groups: Vec<Vec<Option<u32>>> = compared.groups.iter().map(washes).collect();
    if groups.iter().flatten().any(Option::is_none) {
        let text = "Of some pieces nobody said how often they had been washed, so what was washed oftener may look as if it faded more: say it with “filemot claim PHOTO PIECE --washes N”.";
        return Some(Caution::new("washes-unknown", text));
    }
    let means = groups
        .iter()
        .filter(|group| !group.is_empty())
        .map(|group| {
            let all = group.iter().flatten().map(|&washes| f64::from(washes));
            all.sum::<f64>() / group.len() as f64
        });
    let (least, most) = means.fold((f64::INFINITY, 0.0), |(least, most), mean| {
        (f64::min(least, mean), f64::max(most, mean))
    });
    (most > UNLIKE * least).then(|| {
        let text = format!(
            "Some were washed {} on average and others {}, so the washes themselves may be the difference: compare pieces that were washed equally often.",
            times(least),
            times(most)
        );
        Caution::new("washes-unlike", text)
    })
}

fn change<'a>(survey: &Survey<'a>, row: &Row) -> Option<&'a Change> {
    survey.known.changed.piece(&row.seen.piece.code)
}

fn times(washes: f64) -> String {
    match (washes * 10.0).round() / 10.0 {
        1.0 => "once".to_owned(),
        many => format!("{many} times"),
    }
}

impl Unmeasured {
    fn caution(self, codes: &[&str]) -> Caution {
        let (code, why) = match self {
            Self::MixedUp => (
                "photos-mixed-up",
                "the photos look mixed up, since the later one is older or the piece came out much darker",
            ),
            Self::Guessed => (
                "light-guessed",
                "neither photo had a tag or a chart in it, so the change was not measured",
            ),
            Self::SamePhoto => (
                "same-photo",
                "both photos show exactly the same colours, so they are probably one photo under two names",
            ),
            Self::NoPartner => (
                "no-partner",
                "most of the cloth became none of the other photo's colours, so they hardly show the same piece",
            ),
        };
        let text = format!(
            "Left out: {}, for {why}; “filemot drying” and “filemot washing” tell more.",
            few(codes)
        );
        Caution::new(code, text)
    }
}
