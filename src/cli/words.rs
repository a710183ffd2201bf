use super::{Done, World, place, view};
use crate::ask::{self, Colours, Names};
use crate::colour::{Lab, de00};
use crate::error::{Error, Result};
use crate::journal::record::Photo;
use crate::journal::{Journal, check_colour_word, colour_word_name, colour_word_value};
use crate::measure::lab_from_text;
use crate::reading::{State, Swatch};
use crate::words::{Family, Own};
use clap::{Args, Subcommand};
use jiff::civil::Date;

/// Colour words of your own: show them, add one, or drop one
///
/// A word is a middle and how far from it a colour may be. Where several reach a colour, the one with the nearest middle counts.
/// Questions know them: “Which mordant gave most rust?”
#[derive(Args)]
pub(super) struct Words {
    #[command(subcommand)]
    change: Option<Change>,
}

#[derive(Subcommand)]
enum Change {
    /// Add a colour word, or give one another meaning
    Add(Add),
    /// Drop a colour word
    Drop {
        /// The word
        name: String,
    },
}

#[derive(Args)]
struct Add {
    /// The word, such as rust; several words in quotation marks
    name: String,
    /// Its middle as L*,a*,b*, such as 45,32,40, or a piece: the largest colour of its latest washed photo, else of a dry one
    #[arg(value_name = "L,a,b|PIECE")]
    middle: String,
    /// How far from the middle a colour may be, in CIEDE2000: 1 is just seen side by side
    #[arg(
        long,
        value_name = "DE",
        default_value = "5",
        allow_hyphen_values = true
    )]
    within: f64,
}

impl Words {
    pub(super) fn run(&self, world: &mut World) -> Done {
        match &self.change {
            None => show(world, &ask::own_words(&place::open(world)?.studio()?)),
            Some(Change::Add(add)) => add.run(world),
            Some(Change::Drop { name }) => drop(world, name),
        }
    }
}

fn show(world: &mut World, words: &[Own]) -> Done {
    if words.is_empty() {
        let text = "There are no colour words of your own yet. Add one by its numbers, “filemot words add rust 45,32,40”, or by a piece \
             that shows it, “filemot words add rust LB007”.";
        writeln!(world.out, "{}", view::wrapped(text, "", ""))?;
    }
    for word in words {
        writeln!(world.out, "{}", line(word, world.colour))?;
    }
    let families: Vec<String> = Family::ALL.map(Family::plural).into();
    let text = format!(
        "The standard's, which every question knows: {}.",
        families.join(", ")
    );
    Ok(writeln!(world.out, "{}", view::wrapped(&text, "", ""))?)
}

/// One word: block, name, CIELAB, reach.
fn line(word: &Own, colour: bool) -> String {
    let block = match colour {
        true => format!("{} ", view::cells(word.lab, 4)),
        false => String::new(),
    };
    let Own { name, lab, within } = word;
    format!(
        "{block}{name:<20} L* {:5.1}  a* {:6.1}  b* {:6.1}  within {within}",
        lab.l, lab.a, lab.b
    )
}

impl Add {
    fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open_or_create(world)?;
        let studio = journal.studio()?;
        let (middle, from) = self.middle(&journal)?;
        let (name, value) = colour_word_value(&self.name, middle, self.within);
        if let Some(wrong) = check_colour_word(&name, &value) {
            return Err(Error::caller(format!("“{}” {wrong}.", self.name)).into());
        }
        let mut kept = studio.clone();
        kept.insert(name.clone(), value.clone());
        let (new, others): (Vec<Own>, Vec<Own>) = ask::own_words(&kept)
            .into_iter()
            .partition(|word| colour_word_name(&word.name) == name);
        let mut told = from.into_iter().collect::<Vec<_>>();
        for word in &new {
            told.extend(heard(word, &others, world.today)?);
            told.extend(others.iter().filter_map(|other| overlap(word, other)));
        }
        journal.set(&name, Some(&value))?;
        for word in &new {
            writeln!(world.out, "{}", line(word, world.colour))?;
        }
        for text in &told {
            writeln!(world.out, "{}", view::wrapped(text, "", ""))?;
        }
        Ok(())
    }

    /// The middle of the word, and what to say of where it was taken from.
    fn middle(&self, journal: &Journal) -> Result<(Lab, Option<String>)> {
        let text = &self.middle;
        if let Some(piece) = journal.piece(text)? {
            let (photo, swatch) = shown(&piece.code, &journal.photos_of(&piece.code)?)?;
            return Ok((swatch.lab, Some(taken_from(&piece.code, &photo, &swatch))));
        }
        match text.contains(',') {
            true => Ok((lab_from_text(text)?, None)),
            false => Err(Error::caller(format!(
                "“{text}” is neither a piece of the journal nor a colour: write a piece's code, or L*, a* and b* with commas \
                 between, such as 45,32,40."
            ))),
        }
    }
}

/// The latest washed photo of a piece that has colours, else the latest dry one, and its largest colour.
fn shown(code: &str, photos: &[Photo]) -> Result<(Photo, Swatch)> {
    let latest = |state: State| {
        let seen = photos.iter().filter(|photo| photo.state == Some(state));
        seen.filter_map(|photo| {
            let swatches = photo.reading.swatches.iter();
            Some((photo, swatches.max_by(|a, b| a.share.total_cmp(&b.share))?))
        })
        .max_by_key(|(photo, _)| (&photo.taken, photo.washes, photo.id))
    };
    let found = latest(State::Washed).or_else(|| latest(State::Dry));
    found
        .map(|(photo, swatch)| (photo.clone(), swatch.clone()))
        .ok_or_else(|| {
            Error::caller(format!(
                "{code} has no dry or washed photo in which colours were measured: ingest one, or give the colour in numbers."
            ))
        })
}

fn taken_from(code: &str, photo: &Photo, swatch: &Swatch) -> String {
    let state = photo.state.map_or("", State::word);
    let which = photo
        .file
        .as_deref()
        .map_or_else(String::new, |file| format!(" {file}"));
    let doubt = swatch.doubt.map_or_else(String::new, |doubt| {
        format!(", known to give or take {doubt:.1}")
    });
    format!(
        "Taken from {code}, {state} photo{which}: its largest colour, {:.0} % of the cloth{doubt}.",
        100.0 * swatch.share
    )
}

/// What to know of asking for a word.
///
/// # Errors
/// The caller's, where no question can tell it from another word.
fn heard(word: &Own, others: &[Own], today: Date) -> Result<Option<String>> {
    // Of words that questions cannot tell apart the last one is heard.
    let all: Vec<String> = [word]
        .into_iter()
        .chain(others)
        .map(|word| word.name.clone())
        .collect();
    let names = Names::of(&[], &all);
    let hears = |said: &str| {
        let question = ask::read(&format!("how many pieces have {said}"), &names, today);
        question.ok().and_then(|question| question.colours)
    };
    let name = &word.name;
    match hears(&format!("\"{name}\"")) {
        Some(Colours::Own(other)) if other == *name => {}
        Some(Colours::Own(other)) => {
            return Err(Error::caller(format!(
                "In a question “{name}” cannot be told from your colour word “{other}”: choose another word, or drop that one first."
            )));
        }
        _ => {
            return Err(Error::caller(format!(
                "“{name}” cannot be a colour word, since no question could name it: choose another, such as rust."
            )));
        }
    }
    Ok(match (hears(name), Family::from_word(name)) {
        (Some(Colours::Own(_)), None) => None,
        (Some(Colours::Own(_)), Some(family)) => Some(format!(
            "In questions “{name}” now means this and no longer the standard's {}.",
            family.plural()
        )),
        _ => Some(format!(
            "“{name}” is a word of questions as well: put it in quotation marks when you ask for the colour."
        )),
    })
}

fn overlap(word: &Own, other: &Own) -> Option<String> {
    word.overlaps(other).then(|| {
        format!(
            "It overlaps with “{}”, whose middle is {:.1} away: a colour within both is called by the nearer middle.",
            other.name,
            de00(word.lab, other.lab)
        )
    })
}

fn drop(world: &mut World, name: &str) -> Done {
    let mut journal = place::open(world)?;
    let kept = colour_word_name(name);
    let words = ask::own_words(&journal.studio()?);
    let Some(word) = words
        .iter()
        .find(|word| colour_word_name(&word.name) == kept)
    else {
        let names: Vec<&str> = words.iter().map(|word| word.name.as_str()).collect();
        let there = match names[..] {
            [] => "there are none yet".to_owned(),
            _ => format!("there are {}", names.join(", ")),
        };
        return Err(
            Error::caller(format!("“{name}” is no colour word of your own; {there}.")).into(),
        );
    };
    journal.set(&kept, None)?;
    Ok(writeln!(world.out, "Dropped “{}”.", word.name)?)
}
