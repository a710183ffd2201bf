//! What a note was issued with, which it keeps until it is issued anew.

use super::colours::{self, sayable};
use super::language::Messages;
use crate::colour::de00;
use crate::error::{Caution, listed};
use crate::journal::record::{Issued, IssuedColour, Photo};
use crate::reading::Basis;

/// Code of the caution that a note keeps what it was issued with, where today's would say otherwise.
pub const WORDS_ISSUED: &str = "words-issued";

/// What a note tells of its colours.
pub struct Settled {
    /// Words, colours, shares and doubts, and of which photo.
    pub told: Issued,
    /// Since when; `None` where they were not issued yet.
    pub since: Option<String>,
    /// For the studio: what today's would say otherwise.
    pub cautions: Vec<Caution>,
}

/// What was issued, unless the note is to be issued anew and would say otherwise today; else today's. A word that no note may say,
/// as one that came by an import, gives way even then.
pub fn settled(
    issued: Option<&Issued>,
    today: Issued,
    reissue: bool,
    messages: &Messages,
    allowed: &mut impl FnMut(&str) -> bool,
) -> Settled {
    let fresh = |told| Settled {
        told,
        since: None,
        cautions: vec![],
    };
    let Some(issued) = issued else {
        return fresh(today);
    };
    let colours = issued.colours.iter();
    let told = Issued {
        colours: colours.map(|colour| sayable(colour, allowed)).collect(),
        ..issued.clone()
    };
    let differ = differences(&told, &today, messages);
    if reissue && !differ.is_empty() {
        return fresh(today);
    }
    let (piece, on) = (&told.piece, &told.on);
    let text = format!(
        "The note of {piece} keeps what it was issued with on {on}: {}. Only “filemot note {piece} --reissue” changes that.",
        differ.join("; ")
    );
    let kept = (!differ.is_empty()).then(|| Caution::new(WORDS_ISSUED, text));
    Settled {
        since: Some(on.clone()),
        cautions: kept.into_iter().collect(),
        told,
    }
}

/// What an issued note prints otherwise than today's would, each as a clause; none where nothing would be printed otherwise.
fn differences(issued: &Issued, today: &Issued, messages: &Messages) -> Vec<String> {
    let colours = words(&issued.colours, &today.colours)
        .map(|words| vec![words])
        .unwrap_or_else(|| {
            let all = [shares, beneath, shades, doubts];
            let told = all.map(|differ| differ(&issued.colours, &today.colours, messages));
            told.into_iter().flatten().collect()
        });
    colours.into_iter().chain(photo(issued, today)).collect()
}

/// Words that only one of the two has.
fn words(then: &[IssuedColour], now: &[IssuedColour]) -> Option<String> {
    let only = |of: &[IssuedColour], from: &[IssuedColour]| {
        let mut words: Vec<String> = vec![];
        for colour in of {
            let word = format!("“{}”", colour.word);
            if from.iter().all(|other| other.word != colour.word) && !words.contains(&word) {
                words.push(word);
            }
        }
        listed(&words)
    };
    let (gone, new) = (only(then, now), only(now, then));
    match (gone.is_empty(), new.is_empty()) {
        (true, true) => None,
        (false, false) => Some(format!("it says {gone} where today's would say {new}")),
        (false, true) => Some(format!("it says {gone}, which today's would not")),
        (true, false) => Some(format!("today's would say {new} as well")),
    }
}

/// The same words in another order or with other shares.
fn shares(then: &[IssuedColour], now: &[IssuedColour], messages: &Messages) -> Option<String> {
    let told = |colours: &[IssuedColour]| {
        let share = |colour: &IssuedColour| {
            let percent = messages.percent(colour.share);
            format!("{percent} “{}”", colour.word)
        };
        listed(&colours.iter().map(share).collect::<Vec<_>>())
    };
    let (then, now) = (told(then), told(now));
    (then != now).then(|| format!("it tells {then}, where today's would tell {now}"))
}

/// The standard's names beneath the same words.
fn beneath(then: &[IssuedColour], now: &[IssuedColour], messages: &Messages) -> Option<String> {
    let printed = |colours: &[IssuedColour]| {
        let shown = colours::shown(colours, messages).into_iter();
        let mut all: Vec<String> = shown
            .filter_map(|colour| Some(format!("“{}”", colour.beneath?)))
            .collect();
        all.sort();
        listed(&all)
    };
    let (then, now) = (printed(then), printed(now));
    (then != now)
        .then(|| format!("beneath its words stands {then}, where today's would have {now}"))
}

/// How far the colours of the same words lie from today's.
fn shades(then: &[IssuedColour], now: &[IssuedColour], messages: &Messages) -> Option<String> {
    let printed = |colours: &[IssuedColour]| -> Vec<String> {
        let shown = colours::shown(colours, messages).into_iter();
        let mut all: Vec<String> = shown
            .map(|colour| {
                format!(
                    "{} {} {}",
                    colour.word,
                    colour.numbers(messages),
                    colour.srgb
                )
            })
            .collect();
        all.sort();
        all
    };
    let nearest = |colour: &IssuedColour| {
        let same = now.iter().filter(|other| other.word == colour.word);
        let far = same.map(|other| de00(colour.lab, other.lab));
        far.fold(f64::INFINITY, f64::min)
    };
    let far = then.iter().map(nearest).fold(0.0, f64::max);
    (printed(then) != printed(now))
        .then(|| format!("its colours lie up to {far:.1} CIEDE2000 from today's"))
}

/// Whether the colours are surer or less sure today.
fn doubts(then: &[IssuedColour], now: &[IssuedColour], messages: &Messages) -> Option<String> {
    let printed = |colours: &[IssuedColour]| -> Vec<String> {
        let shown = colours::shown(colours, messages).into_iter();
        let mut all: Vec<String> = shown
            .map(|colour| format!("{} {}", colour.word, colour.doubt(messages)))
            .collect();
        all.sort();
        all
    };
    let mean = |colours: &[IssuedColour]| match colours::doubt(colours) {
        Some(doubt) => format!("± {doubt:.1}"),
        None => "no doubt".to_owned(),
    };
    (printed(then) != printed(now)).then(|| {
        let (then, now) = (mean(then), mean(now));
        format!("it gives its colours {then} on average, today's would give {now}")
    })
}

/// Of which photo they are.
fn photo(issued: &Issued, today: &Issued) -> Option<String> {
    let (then, now) = (seen(issued), seen(today));
    if then != now {
        return Some(format!("it is of {then}, today's would be of {now}"));
    }
    (issued.photo != today.photo).then(|| format!("today's would be of another photo than {then}"))
}

/// The photo as a clause names it.
fn seen(told: &Issued) -> String {
    let state = told.state.map_or("", |state| state.word());
    let day = told.taken.as_deref().and_then(|taken| taken.get(..10));
    let light = match told.basis {
        Some(Basis::Chart) => "a chart in the picture",
        Some(Basis::Tag) => "a tag in the picture",
        Some(Basis::Assumed) | None => "a guessed light",
    };
    let day = day.map_or_else(String::new, |day| format!(" of {day}"));
    format!("the {state} photo{day} with {light}").replace("  ", " ")
}

/// The photos that were there when the note was issued, as far as the days tell.
pub fn known_then(photos: &[Photo], on: &str) -> Vec<Photo> {
    let day = |photo: &Photo| photo.taken.as_deref().and_then(|taken| taken.get(..10)) <= Some(on);
    photos.iter().filter(|photo| day(photo)).cloned().collect()
}
