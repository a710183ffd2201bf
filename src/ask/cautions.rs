//! What the reader of an answer must know.

use super::evidence::Trial;
use super::question::Question;
use super::setting::Value;
use super::survey::{Gathered, Row, Survey};
use super::terms::{Factor, Measure};
use crate::error::Caution;
use crate::journal::record::Photo;
use crate::reading::Basis;
use std::collections::BTreeMap;

/// All cautions of an answer: its own first, then those of the photos it rests on. `empty`: groups without a value.
pub fn cautions(
    question: &Question,
    survey: &Survey,
    groups: &[Gathered],
    empty: &[(String, usize)],
) -> Vec<Caution> {
    let mut all: Vec<Caution> = [
        unseen(question, survey),
        unset(question, survey),
        absent(question, groups, empty),
        single_pots(question, groups),
        pots_unknown(survey),
        rounds_mixed(survey),
        plant_not_placed(question, survey),
    ]
    .into_iter()
    .flatten()
    .collect();
    all.extend(of_photos(survey));
    all
}

fn unseen(question: &Question, survey: &Survey) -> Option<Caution> {
    let state = match question.measure {
        Measure::Lightening => "both wet and dry",
        _ => question.state.word(),
    };
    let (seen, unseen) = (survey.rows.len() + survey.unset, survey.unseen);
    if seen == 0 {
        let text = format!(
            "No piece that this asks about has been photographed {state}, so there is nothing to compare yet."
        );
        return Some(Caution::new("no-photo-in-state", text));
    }
    let them = if unseen == 1 { "it" } else { "them" };
    (unseen > 0).then(|| {
        let text = format!(
            "{} not been photographed {state} and {} left out: photograph {them} {state} to have {them} counted.",
            pieces(unseen, "has", "have"),
            is(unseen)
        );
        Caution::new("no-photo-in-state", text)
    })
}

fn unset(question: &Question, survey: &Survey) -> Option<Caution> {
    (survey.unset > 0).then(|| {
        let text = format!(
            "For {} the journal does not tell the {}, so {} left out: fill in the sheet and enter it again.",
            count(survey.unset),
            question.by,
            if survey.unset == 1 { "it is" } else { "they are" },
        );
        Caution::new("setting-unknown", text)
    })
}

fn absent(question: &Question, groups: &[Gathered], empty: &[(String, usize)]) -> Option<Caution> {
    let colours = question.family.filter(|_| !empty.is_empty())?.plural();
    let text = if groups.is_empty() {
        format!("None of the pieces has {colours}: ask for another colour, or for all.")
    } else {
        let each: Vec<String> = empty
            .iter()
            .map(|(label, n)| format!("{label} ({})", count(*n)))
            .collect();
        format!(
            "Without any {colours}, and so not in the answer: {}.",
            each.join(", ")
        )
    };
    Some(Caution::new("family-absent", text))
}

fn single_pots(question: &Question, groups: &[Gathered]) -> Option<Caution> {
    let single: Vec<&str> = groups
        .iter()
        .filter(|group| group.trials.len() == 1)
        .map(|group| group.label.as_str())
        .collect();
    let told = groups.len() > 1 && !question.by.is_one_event();
    (told && !single.is_empty()).then(|| {
        let text = format!(
            "Seen in one pot only: {}; one pot cannot show how far pots of its kind differ, so repeat it in another before you rely on it.",
            single.join(", "),
        );
        Caution::new("one-pot", text)
    })
}

fn pots_unknown(survey: &Survey) -> Option<Caution> {
    let alone = survey
        .rows
        .iter()
        .filter(|row| matches!(row.trial, Trial::Piece(_)))
        .count();
    (alone > 0).then(|| {
        let text = format!(
            "For {} neither pot nor bundle is known, so each counts as a pot of its own, which may promise too much: enter in the sheet which pieces were heated together.",
            count(alone),
        );
        Caution::new("pots-unknown", text)
    })
}

fn rounds_mixed(survey: &Survey) -> Option<Caution> {
    let again = |row: &&Row| row.seen.rounds.len() > 1;
    let (many, all) = (survey.rows.iter().filter(again).count(), survey.rows.len());
    (many > 0 && many < all).then(|| {
        let text = format!(
            "{} bundled more than once, and what was done in the earlier rounds is still in the cloth: compare them by round as well.",
            pieces(many, "was", "were")
        );
        Caution::new("rounds-mixed", text)
    })
}

fn plant_not_placed(question: &Question, survey: &Survey) -> Option<Caution> {
    let several = |row: &Row| matches!(&row.setting, Value::Words(words) if words.len() > 1);
    (question.by == Factor::Plant && survey.rows.iter().any(several)).then(|| {
        Caution::new(
            "plant-not-placed",
            "Pieces with several plants count for each of them with all their colours, because which plant printed which colour is not known: pieces with a single plant would tell.",
        )
    })
}

/// The photos' own cautions, each once, with how many photos carry it.
fn of_photos(survey: &Survey) -> Vec<Caution> {
    let photos: Vec<&Photo> = survey
        .rows
        .iter()
        .flat_map(|row| row.seen.photos.iter().copied())
        .collect();
    let mut by_code: BTreeMap<&str, (usize, &str)> = BTreeMap::new();
    for photo in &photos {
        let assumed = photo.reading.basis() == Some(Basis::Assumed);
        let own = (assumed && !photo.reading.has_caution("light-assumed")).then_some((
            "light-assumed",
            "The light was only assumed: hang the tag in the picture next time.",
        ));
        let given = photo
            .reading
            .cautions
            .iter()
            .map(|c| (c.code.as_str(), c.text.as_str()));
        for (code, text) in given.chain(own) {
            by_code.entry(code).or_insert((0, text)).0 += 1;
        }
    }
    let all = photos.len();
    by_code
        .into_iter()
        .map(|(code, (many, text))| Caution::new(code, format!("{many} of {all} photos: {text}")))
        .collect()
}

fn pieces(n: usize, one: &str, many: &str) -> String {
    format!("{} {}", count(n), if n == 1 { one } else { many })
}

fn count(n: usize) -> String {
    if n == 1 {
        "1 piece".to_owned()
    } else {
        format!("{n} pieces")
    }
}

fn is(n: usize) -> &'static str {
    if n == 1 { "is" } else { "are" }
}
