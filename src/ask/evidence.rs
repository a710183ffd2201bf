//! From the journal to one value a piece.

use super::Known;
use super::language::{self, Colours, Filter, Measure, Question};
use super::setting;
use super::value::{Shade, Value, value};
use crate::colour::{Lab, mean};
use crate::journal::gist::{Colour, Glance, Piece, Round};
use crate::reading::{Part, State};
use crate::words::{is_of_family, own};
use jiff::civil::Date;

/// What the journal shows of one piece in the state that was asked for.
#[derive(Debug)]
pub struct Seen<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// The rounds it had gone through.
    pub rounds: &'a [Round],
    /// Its photos of the states asked for after those rounds, all with colours; none where no photo was asked for.
    pub photos: Vec<&'a Glance>,
}

/// A piece's value of what was asked.
#[derive(Clone, Copy, Debug)]
pub struct Measured {
    /// In the measure's unit, with the variance of its readings.
    pub value: Value,
    /// Share of the cloth that it rests on, 0 to 1.
    pub share: f64,
    /// The mean of the colours it rests on.
    pub lab: Lab,
}

/// What `photos` show of `piece` in all of `states`, after as many rounds as they show; `None` where a state is missing.
///
/// Only photos after the same rounds count together: an earlier round's photo shows another result.
pub fn seen<'a>(piece: &'a Piece, photos: &'a [Glance], states: &[State]) -> Option<Seen<'a>> {
    let with = |state: State, rounds: usize| {
        photos
            .iter()
            .any(|p| p.state == state && p.rounds == rounds)
    };
    let rounds = photos
        .iter()
        .map(|photo| photo.rounds)
        .filter(|&rounds| states.iter().all(|&state| with(state, rounds)))
        .max()?;
    let counts = |photo: &&Glance| states.contains(&photo.state) && photo.rounds == rounds;
    Some(Seen {
        piece,
        rounds: &piece.rounds[..rounds],
        photos: photos.iter().filter(counts).collect(),
    })
}

/// The states that a question needs photos of.
pub fn states(question: &Question) -> &'static [State] {
    match (question.wanted.measure(), question.state) {
        (Some(Measure::Lightening), _) => &[State::Wet, State::Dry],
        (Some(Measure::Fading), _) => &[State::Dry, State::Washed],
        (_, State::Wet) => &[State::Wet],
        (_, State::Dry) => &[State::Dry],
        (_, State::Washed) => &[State::Washed],
        (_, State::Worn) => &[State::Worn],
    }
}

/// Whether a piece after these rounds is what the filter asks for; `None` where the journal does not tell what was used.
pub fn passes(filter: &Filter, known: &Known, piece: &Piece, rounds: &[Round]) -> Option<bool> {
    let named = |name: &str, text: &str| text.to_lowercase() == name.to_lowercase();
    let value = |factor| setting::value(factor, known, piece, rounds);
    Some(match filter {
        Filter::With(name) => known.uses(rounds, name)?,
        Filter::Without(name) => !known.uses(rounds, name)?,
        Filter::On(name) => [&piece.fibre, &piece.weave]
            .into_iter()
            .flatten()
            .any(|n| named(name, n)),
        Filter::Is(factor, name) => match value(factor) {
            Some(setting::Value::Words(words)) => words.iter().any(|word| named(name, word)),
            Some(setting::Value::Number(number)) => name.parse().is_ok_and(|n: f64| n == number),
            None => false,
        },
        Filter::Number(factor, bound) => match value(factor) {
            Some(setting::Value::Number(number)) => bound.holds(number),
            _ => false,
        },
        Filter::Among(factor, names) => match value(factor) {
            Some(setting::Value::Words(words)) => words
                .iter()
                .any(|word| names.iter().any(|name| named(name, word))),
            _ => false,
        },
        Filter::Made { from, until } => rounds
            .last()
            .and_then(|round| round.made.as_deref()?.parse().ok())
            .is_some_and(|made: Date| {
                from.is_none_or(|from| made >= from) && until.is_none_or(|until| made <= until)
            }),
    })
}

/// The colours of a photo that the question asks about, with their share of the whole cloth.
fn asked<'a>(
    question: &'a Question,
    known: &'a Known,
    photo: &Glance,
) -> impl Iterator<Item = &'a Colour> {
    known
        .gist
        .colours(photo)
        .iter()
        .filter(|colour| wanted(question, known, colour))
}

/// Whether the question asks about this colour.
fn wanted(question: &Question, known: &Known, colour: &Colour) -> bool {
    let of_part = match &question.part {
        None => true,
        Some(language::Part::Ground) => colour.part == Some(Part::Ground),
        Some(language::Part::Print(None)) => colour.part == Some(Part::Print),
        Some(language::Part::Print(Some(plant))) => colour
            .plant
            .as_deref()
            .is_some_and(|p| p.to_lowercase() == *plant),
    };
    of_part && of_colours(question, known, colour.lab)
}

/// Whether a colour is of the family or of the studio's own word.
fn of_colours(question: &Question, known: &Known, lab: Lab) -> bool {
    match &question.colours {
        None => true,
        Some(Colours::Family(wanted)) => is_of_family(lab, *wanted),
        Some(Colours::Own(name)) => own(known.own, lab).is_some_and(|own| own.name == *name),
    }
}

/// The colours asked about in all photos of `state`, photo by photo; every photo counts the same.
pub fn shades(seen: &Seen, question: &Question, known: &Known, state: State) -> Vec<Vec<Shade>> {
    let photos: Vec<&&Glance> = seen.photos.iter().filter(|p| p.state == state).collect();
    let many = photos.len() as f64;
    let of = |photo: &&&Glance| -> Vec<Shade> {
        let whole: f64 = known.gist.colours(photo).iter().map(|c| c.share).sum();
        let shade = |colour: &Colour| Shade {
            lab: colour.lab,
            share: colour.share / whole / many,
            doubt: colour.doubt.unwrap_or_default(),
        };
        asked(question, known, photo).map(shade).collect()
    };
    photos.iter().map(of).collect()
}

/// The piece's value; `None` where it has no colour of the family.
pub fn measure(seen: &Seen, question: &Question, known: &Known) -> Option<Measured> {
    let measure = question.wanted.measure()?;
    let of_family = shades(seen, question, known, question.state);
    let value = match measure {
        Measure::Lightening | Measure::Fading => {
            let of_family = |lab: Lab| of_colours(question, known, lab);
            let asked = question.colours.is_some();
            let asked = asked.then_some(&of_family as &dyn Fn(Lab) -> bool);
            known.changed.piece(&seen.piece.code)?.value(asked)?
        }
        _ => value(measure, &of_family)?,
    };
    let pairs = || {
        of_family
            .iter()
            .flatten()
            .map(|shade| (shade.lab, shade.share))
    };
    let whole = || {
        let all = shades(seen, &anything(question), known, question.state);
        mean(all.iter().flatten().map(|shade| (shade.lab, shade.share)))
    };
    Some(Measured {
        value,
        share: pairs().map(|p| p.1).sum(),
        lab: mean(pairs()).or_else(whole)?,
    })
}

/// The same question of all colours.
fn anything(question: &Question) -> Question {
    Question {
        colours: None,
        part: None,
        ..question.clone()
    }
}
