//! A piece in a customer's words.

use super::language::{Key, Messages};
use super::{Colour, referenced};
use crate::error::capital;
use crate::journal::record::{Piece, Round, Setting};
use crate::reading::{Basis, State};

/// From this share on a colour leads the sentence, two at least do, and from that on one leads alone.
const LEADS: f64 = 0.25;
const LEADS_ALONE: f64 = 0.55;

/// From this share on it is told as one of the others; below it is a touch.
const TOUCH: f64 = 0.08;

/// A lone colour with this share covers the cloth all over.
const ALL_OVER: f64 = 0.9;

/// The column of a sheet that says what a piece is: scarf, shawl, cushion.
const ITEM: &str = "item";

/// Which words of the sheet a note may say, and how its language says them.
pub struct Teller<'a, F> {
    /// The language.
    pub messages: &'a Messages,
    /// Whether a note may say this.
    pub allowed: F,
}

impl<F: FnMut(&str) -> bool> Teller<'_, F> {
    /// What the piece is, without an article and in small letters as far as the sheet wrote them: `silk twill scarf`.
    pub fn thing(&mut self, piece: &Piece) -> String {
        let item = piece
            .rounds
            .iter()
            .rev()
            .find_map(|round| match round.settings.get(ITEM)? {
                Setting::Text(item) => Some(item.as_str()),
                Setting::Number(_) => None,
            });
        let item = self.word(item);
        let stuff = self.stuff(piece);
        let with = [
            ("item", item.as_str().into()),
            ("stuff", stuff.as_str().into()),
        ];
        let key = match (item.is_empty(), stuff.is_empty()) {
            (false, false) => Key::ThingItem,
            (false, true) => Key::ThingItemBare,
            (true, false) => Key::ThingPiece,
            (true, true) => Key::ThingBare,
        };
        self.messages.fill(key, with)
    }

    /// What the piece is and its size, in one line; empty where neither is known.
    pub fn cloth(&mut self, piece: &Piece) -> String {
        let thing = self.thing(piece);
        let known = thing != self.messages.say(Key::ThingBare);
        let parts = [Some(thing).filter(|_| known), self.size(piece)];
        capital(&parts.into_iter().flatten().collect::<Vec<_>>().join(", "))
    }

    fn stuff(&mut self, piece: &Piece) -> String {
        let (fibre, weave) = (
            self.word(piece.fibre.as_deref()),
            self.word(piece.weave.as_deref()),
        );
        let fibre = self
            .messages
            .choose(Key::Fibre, &fibre.to_lowercase(), &fibre);
        match (fibre.is_empty(), weave.is_empty()) {
            (false, false) => {
                let with = [("fibre", fibre.into()), ("weave", weave.into())];
                self.messages.fill(Key::Stuff, with)
            }
            _ => fibre + &weave,
        }
    }

    /// A word of the sheet, in one line; empty where there is none or a note may not say it.
    fn word(&mut self, word: Option<&str>) -> String {
        let word = word.unwrap_or_default().split_whitespace();
        let word = word.collect::<Vec<_>>().join(" ");
        match !word.is_empty() && (self.allowed)(&word) {
            true => word,
            false => String::new(),
        }
    }

    fn size(&self, piece: &Piece) -> Option<String> {
        let number = |cm: f64| self.messages.short_number(cm);
        let inches = |cm: f64| format!("{:.0}", cm / 2.54);
        let (width, length) = (piece.width_cm?, piece.length_cm?);
        let with = [
            ("width", number(width).into()),
            ("length", number(length).into()),
            ("width-inches", inches(width).into()),
            ("length-inches", inches(length).into()),
        ];
        Some(self.messages.fill(Key::Size, with))
    }

    /// The plants of these rounds, each once.
    fn plants(&mut self, rounds: &[Round]) -> Vec<String> {
        let plants = rounds.iter().flat_map(|round| &round.plants);
        distinct(plants.map(|plant| self.word(Some(&plant.name))).collect())
    }

    /// Which plants printed it, in one short sentence.
    pub fn prints_short(&mut self, rounds: &[Round]) -> Option<String> {
        let plants = self.plants(rounds);
        let listed = self.messages.listed(&plants);
        let with = [("plants", listed.into())];
        (!plants.is_empty()).then(|| self.messages.fill(Key::PrintsShort, with))
    }

    /// Plants, mordants and date of these rounds in whole sentences.
    pub fn making(&mut self, rounds: &[Round]) -> Vec<String> {
        let mut said = vec![];
        let plants = self.plants(rounds);
        if !plants.is_empty() {
            let with = [("plants", self.messages.listed(&plants).into())];
            said.push(self.messages.fill(Key::Prints, with));
        }
        let soaks = rounds.iter().flat_map(|round| &round.soaks);
        let salts = distinct(soaks.map(|soak| self.mordant(&soak.mordant)).collect());
        if let Some((first, others)) = salts.split_first() {
            let then = |front: String, next: &String| {
                let with = [("front", front.into()), ("next", next.as_str().into())];
                self.messages.fill(Key::SoakedThen, with)
            };
            let all = others.iter().fold(first.clone(), then);
            let with = [("count", salts.len().into()), ("salts", all.into())];
            said.push(self.messages.fill(Key::Soaked, with));
        }
        if rounds.len() > 1 {
            let with = [("count", rounds.len().into())];
            said.push(self.messages.fill(Key::Rounds, with));
        }
        said.extend(self.made(rounds));
        said
    }

    /// In which month it was made, as a sentence.
    pub fn made(&self, rounds: &[Round]) -> Option<String> {
        let made = rounds
            .iter()
            .rev()
            .filter_map(|round| round.made.as_deref());
        let date = made.filter_map(day).next()?;
        let with = [
            ("month", month(self.messages, date).into()),
            ("year", date.year().to_string().into()),
        ];
        let month = self.messages.fill(Key::MonthOfYear, with);
        Some(self.messages.fill(Key::Made, [("month", month.into())]))
    }

    /// A mordant as a customer would call it; empty for none at all.
    fn mordant(&mut self, name: &str) -> String {
        let name = self.word(Some(name)).to_lowercase();
        match kind_of_salt(&name) {
            Some("none") => String::new(),
            Some(kind) => self.messages.choose(Key::Mordant, kind, &name),
            None => name,
        }
    }
}

/// What a mordant is by its name, as the messages choose it; `None` for one that is called by its own name.
fn kind_of_salt(name: &str) -> Option<&'static str> {
    let has = |parts: &[&str]| parts.iter().any(|part| name.contains(part));
    let is = |words: &[&str]| {
        name.split(|c: char| !c.is_alphabetic())
            .any(|word| words.contains(&word))
    };
    if name.is_empty() || is(&["none", "ohne"]) {
        Some("none")
    } else if has(&["tannin", "tannic", "gallnut", "oak gall", "gerbstoff"]) {
        Some("tannin")
    } else if has(&["iron", "ferrous", "ferric", "eisen"]) {
        Some("iron")
    } else if has(&["copper", "cupric", "kupfer"]) {
        Some("copper")
    } else if has(&["titan"]) {
        Some("titanium")
    } else if is(&["tin", "zinn"]) || has(&["stannous"]) {
        Some("tin")
    } else if has(&["chrom"]) {
        Some("chrome")
    } else if has(&["alumin"]) {
        Some("aluminium")
    } else if is(&["alum", "alaun"]) {
        Some("alum")
    } else {
        None
    }
}

/// The colours as half a sentence: `mostly old gold, with grayish brown and a touch of olive`.
pub fn colours(colours: &[Colour], messages: &Messages) -> String {
    let words = |of: &[Colour]| -> Vec<String> { of.iter().map(|c| c.word.clone()).collect() };
    let share = |at: usize| colours.get(at).map_or(0.0, |colour| colour.share);
    let listed = |of: &[Colour]| messages.listed(&words(of));
    if colours.len() == 1 && share(0) >= ALL_OVER {
        return messages.fill(Key::ColoursAll, [("lead", listed(colours).into())]);
    }
    let reaching = |least: f64| colours.iter().filter(|c| c.share >= least).count();
    let leading = match share(0) >= LEADS_ALONE {
        true => 1,
        false => reaching(LEADS).max(2),
    };
    let leading = leading.min(colours.len());
    let (lead, others) = colours.split_at(leading);
    let (others, touches) = others.split_at(reaching(TOUCH).saturating_sub(leading));
    let with = [("count", lead.len().into()), ("lead", listed(lead).into())];
    let mut said = messages.fill(Key::ColoursLead, with);
    if !others.is_empty() {
        let with = [("front", said.into()), ("list", listed(others).into())];
        said = messages.fill(Key::ColoursWith, with);
    }
    if !touches.is_empty() {
        let key = match others.is_empty() {
            true => Key::ColoursTouchOnly,
            false => Key::ColoursTouch,
        };
        let with = [
            ("count", touches.len().into()),
            ("front", said.into()),
            ("list", listed(touches).into()),
        ];
        said = messages.fill(key, with);
    }
    said
}

/// What the picture shows, for those who do not see it.
pub fn alternative(thing: &str, colours: &str, messages: &Messages) -> String {
    let sound = match thing.chars().next().map(|c| c.to_ascii_lowercase()) {
        Some('a' | 'e' | 'i' | 'o' | 'u') => "vowel",
        _ => "consonant",
    };
    let with = [("sound", sound.into()), ("thing", thing.into())];
    let thing = capital(&messages.fill(Key::AThing, with));
    let with = [("thing", thing.into()), ("colours", colours.into())];
    messages.fill(Key::Alternative, with)
}

/// How far to trust the colours: what they were measured from, how near they are, and in which light they hold.
///
/// That one or two CIEDE2000 are about the least that an eye sees side by side: common practice, no source.
pub fn trust(
    basis: Option<Basis>,
    doubt: Option<f64>,
    taken: Option<&str>,
    messages: &Messages,
) -> Vec<String> {
    let photo = match taken.and_then(|taken| date(taken, messages)) {
        Some(date) => messages.fill(Key::PhotoOf, [("date", date.into())]),
        None => messages.say(Key::Photo),
    };
    let source = match basis {
        Some(Basis::Chart) => Key::TrustChart,
        Some(Basis::Tag) => Key::TrustTag,
        Some(Basis::Assumed) | None => Key::TrustAssumed,
    };
    let near = match doubt {
        Some(doubt) => messages.fill(Key::Near, [("doubt", messages.number(doubt, 1).into())]),
        None => messages.say(Key::NearUnknown),
    };
    let source = messages.fill(source, [("photo", photo.into())]);
    vec![source, near, messages.say(Key::Daylight)]
}

/// What must be said before the colours are believed. That cloth dries lighter: common practice, no source.
pub fn warnings(state: State, basis: Option<Basis>, messages: &Messages) -> Vec<String> {
    let state = match state {
        State::Wet => Some(Key::WarningWet),
        State::Worn => Some(Key::WarningWorn),
        State::Dry | State::Washed => None,
    };
    let light = (!referenced(basis)).then_some(Key::WarningLight);
    state
        .into_iter()
        .chain(light)
        .map(|key| messages.say(key))
        .collect()
}

/// The day at the front of `text` as the language writes it; `None` where there is none.
pub fn date(text: &str, messages: &Messages) -> Option<String> {
    let date = day(text)?;
    let with = [
        ("day", date.day().to_string().into()),
        ("month", month(messages, date).into()),
        ("year", date.year().to_string().into()),
    ];
    Some(messages.fill(Key::Date, with))
}

fn month(messages: &Messages, date: jiff::civil::Date) -> String {
    messages.fill(Key::Month, [("month", i64::from(date.month()).into())])
}

fn day(text: &str) -> Option<jiff::civil::Date> {
    text.get(..10)?.parse().ok()
}

/// Each word once, and no empty one.
fn distinct(words: Vec<String>) -> Vec<String> {
    let mut all: Vec<String> = vec![];
    for word in words {
        if !word.is_empty() && !all.contains(&word) {
            all.push(word);
        }
    }
    all
}
