//! What the reader of an answer must know.

use super::compare::Compared;
use super::language::{Factor, Measure, Question, Wanted};
use super::of_change;
use super::setting::plants;
use super::survey::{Row, Survey, Trial};
use crate::error::{Caution, few, listed};
use crate::reading::Basis;
use std::collections::BTreeMap;

/// The cautions of any answer: of its pieces first, then those of the photos it rests on.
pub fn cautions(question: &Question, survey: &Survey) -> Vec<Caution> {
    let measured = question.wanted.measure().is_some();
    let of_pieces = [
        unseen(question, survey),
        untold(survey),
        unset(question, survey),
        steamed(survey),
        unmarked(question, survey),
        measured.then(|| pots_unknown(survey)).flatten(),
        measured.then(|| rounds_mixed(survey)).flatten(),
        plant_not_placed(question, survey),
    ];
    let mut all: Vec<Caution> = of_pieces.into_iter().flatten().collect();
    all.extend(of_change::cautions(survey));
    all.extend(of_photos(survey));
    all
}

/// The cautions of groups compared.
pub fn of_groups(question: &Question, by: &Factor, compared: &Compared) -> Vec<Caution> {
    let of_groups = [
        absent(question, compared),
        single_pots(by, compared),
        compared.inseparable.clone(),
    ];
    of_groups.into_iter().flatten().collect()
}

/// The adjusted means may put another group first, or leave little of a difference that holds.
pub fn otherwise_adjusted(question: &Question, compared: &Compared) -> Option<Caution> {
    let order = question.wanted.order()?;
    let all: Option<Vec<(f64, &str)>> = compared
        .groups
        .iter()
        .map(|g| Some((g.adjusted?, g.label.as_str())))
        .collect();
    let all = all?;
    let (_, first) = all.iter().min_by(|a, b| order.best_first(a.0, b.0))?;
    let plain = compared.groups.first()?;
    let (over, _) = compared.hardest()?;
    let settings: Vec<String> = compared
        .adjusted_for
        .iter()
        .map(ToString::to_string)
        .collect();
    let settings = listed(&settings);
    let text = if *first != plain.label {
        format!(
            "Had {settings} been alike in all groups, {first} would come first and not {}: the plain order may owe to them.",
            plain.label,
        )
    } else {
        let group = compared.groups.get(over)?;
        let (left, seen) = (all[0].0 - all[over].0, plain.mean - group.mean);
        if left.abs() > ENOUGH * seen.abs() {
            return None;
        }
        let measure = question.wanted.measure()?;
        format!(
            "Had {settings} been alike in all groups, only {} would be left of the {} between {} and {}: most of it may owe to them.",
            measure.show_difference(left.abs()),
            measure.show_difference(seen.abs()),
            plain.label,
            group.label,
        )
    };
    Some(Caution::new("adjusted-otherwise", text))
}

/// A difference of which less than this part is left when all else is alike is told of.
pub const ENOUGH: f64 = 0.5;

fn unseen(question: &Question, survey: &Survey) -> Option<Caution> {
    let state = match question.wanted.measure() {
        Some(Measure::Lightening) => "both wet and dry",
        Some(Measure::Fading) => "both dry and washed",
        _ => question.state.word(),
    };
    let seen = survey.rows.len() + survey.unset.len() + survey.steamed.len();
    let unseen = survey.unseen.len();
    if matches!(question.wanted, Wanted::Count { seen: false }) {
        return None;
    }
    if seen == 0 && unseen == 0 {
        let text = "No piece of the journal is as the question asks: ask with fewer conditions.";
        return survey
            .untold
            .is_empty()
            .then(|| Caution::new("no-such-piece", text));
    }
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
            named(&survey.unseen, "has", "have"),
            is(unseen)
        );
        Caution::new("no-photo-in-state", text)
    })
}

/// Pieces of which an empty cell leaves open whether the question is about them.
fn untold(survey: &Survey) -> Option<Caution> {
    let untold = &survey.untold;
    (!untold.is_empty()).then(|| {
        let text = format!(
            "For {} the journal does not tell the mordant or the plants, so {}: tell it, “none” where there was none, {TELL}.",
            with_codes(untold),
            left_out(untold),
        );
        Caution::new("setting-unknown", text)
    })
}

fn unset(question: &Question, survey: &Survey) -> Option<Caution> {
    let by = question.wanted.by()?;
    let unset = &survey.unset;
    let what = match by {
        Factor::With(name) if name == "none" => "whether there was a mordant".to_owned(),
        Factor::With(name) => format!("whether {name} was used"),
        by => format!("the {by}"),
    };
    (!unset.is_empty()).then(|| {
        let text = format!(
            "For {} the journal does not tell {what}, so {}: tell it {TELL}.",
            with_codes(unset),
            left_out(unset),
        );
        Caution::new("setting-unknown", text)
    })
}

fn steamed(survey: &Survey) -> Option<Caution> {
    let steamed = &survey.steamed;
    (!steamed.is_empty()).then(|| {
        let text = format!(
            "{} steamed, not simmered, and {} left out.",
            named(steamed, "was", "were"),
            is(steamed.len())
        );
        Caution::new("steamed", text)
    })
}

/// Pieces without any mark of ground or print cannot tell of either.
fn unmarked(question: &Question, survey: &Survey) -> Option<Caution> {
    question.part.as_ref()?;
    let marked = |row: &&Row| {
        let colours = row
            .seen
            .photos
            .iter()
            .flat_map(|photo| survey.known.gist.colours(photo));
        colours
            .into_iter()
            .all(|c| c.part.is_none() && c.plant.is_none())
    };
    let many = survey.rows.iter().filter(marked).count();
    (many > 0).then(|| {
        let text = format!(
            "Of {} no colour is marked as ground or print, so {} cannot count here: ask of the whole cloth, or mark colours where “filemot page” shows the photo.",
            count(many),
            if many == 1 { "it" } else { "they" }
        );
        Caution::new("part-not-marked", text)
    })
}

fn absent(question: &Question, compared: &Compared) -> Option<Caution> {
    let (groups, empty) = (&compared.groups, &compared.empty);
    // Where nothing is marked, or a change was not measured, that is said instead.
    let of_change = matches!(
        question.wanted.measure(),
        Some(Measure::Lightening | Measure::Fading)
    );
    let said = of_change && question.colours.is_none();
    if empty.is_empty() || said || (question.part.is_some() && groups.is_empty()) {
        return None;
    }
    let colours = question.of_colours();
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

fn single_pots(by: &Factor, compared: &Compared) -> Option<Caution> {
    let groups = &compared.groups;
    let single: Vec<&str> = groups
        .iter()
        .filter(|group| group.pots.len() == 1)
        .map(|group| group.label.as_str())
        .collect();
    let told = groups.len() > 1 && !by.is_one_event();
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
        .filter(|row| matches!(survey.trial(row.trial), Trial::Piece(_)))
        .count();
    (alone > 0).then(|| {
        let text = format!(
            "For {} neither pot nor bundle is known, so each counts as a pot of its own, which may promise too much: tell which were heated together {TELL}.",
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

/// Without marks on the colours a plant counts with all colours of its pieces.
fn plant_not_placed(question: &Question, survey: &Survey) -> Option<Caution> {
    let about_plants = match question.wanted.by()? {
        Factor::Plant => true,
        Factor::With(name) => {
            let used =
                |row: &Row| plants(row.seen.rounds).any(|plant| plant.to_lowercase() == *name);
            survey.rows.iter().any(used)
        }
        _ => false,
    };
    (about_plants && question.part.is_none()).then(|| {
        Caution::new(
            "plant-not-placed",
            "A plant counts here with all colours of its pieces, ground and the prints of other plants too: rely on pieces with a single plant, or mark colours as prints of a plant where “filemot page” shows the photo, and ask “in prints”.",
        )
    })
}

/// The photos' own cautions, each once, with how many photos carry it.
fn of_photos(survey: &Survey) -> Vec<Caution> {
    let gist = survey.known.gist;
    let mut by_code: BTreeMap<&str, (usize, &str)> = BTreeMap::new();
    let mut all = 0;
    for photo in survey
        .rows
        .iter()
        .flat_map(|row| row.seen.photos.iter().copied())
    {
        all += 1;
        for code in photo.cautions.iter() {
            by_code
                .entry(code)
                .or_insert((0, gist.sentences.get(code).map_or("", String::as_str)))
                .0 += 1;
        }
        let assumed = photo.basis == Some(Basis::Assumed);
        if assumed && photo.cautions.iter().all(|code| &**code != "light-assumed") {
            by_code
                .entry("light-assumed")
                .or_insert((
                    0,
                    "The light was only assumed: hang the tag in the picture next time.",
                ))
                .0 += 1;
        }
    }
    by_code
        .into_iter()
        .map(|(code, (many, text))| Caution::new(code, format!("{many} of {all} photos: {text}")))
        .collect()
}

/// Where a setting is told.
const TELL: &str = "with “filemot enter SHEET”";

/// `2 pieces (LB003 and LB004)`.
fn with_codes(codes: &[&str]) -> String {
    format!("{} ({})", count(codes.len()), few(codes))
}

fn named(codes: &[&str], one: &str, many: &str) -> String {
    let verb = if codes.len() == 1 { one } else { many };
    format!("{} {verb}", with_codes(codes))
}

fn left_out(codes: &[&str]) -> &'static str {
    match codes.len() {
        1 => "it is left out",
        _ => "they are left out",
    }
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
