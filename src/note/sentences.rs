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

/// What leads holds so much of the cloth, or the sentence says that there are many colours.
const LEADING_HOLD: f64 = 0.5;

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
        let (fibre, weave) = (piece.fibre.as_deref(), piece.weave.as_deref());
        let [item, fibre, weave] = [item, fibre, weave].map(|words| self.word(words));
        let called = self
            .messages
            .choose(Key::Fibre, &fibre.to_lowercase(), &fibre);
        // What one column of the sheet says already, the next does not say again.
        let weave = without_first(&weave, &[&fibre, &called]);
        let item = without_first(&item, &[&fibre, &called, &weave]);
        let said = [&weave, &item]
            .iter()
            .any(|words| says(words, &called) || says(words, &fibre));
        let stuff = match said {
            true => weave,
            false => self.stuff(called, weave),
        };
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

    fn stuff(&self, fibre: String, weave: String) -> String {
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

    /// Width and length; `None` where they are not known, or nought to a tenth of a centimetre.
    fn size(&self, piece: &Piece) -> Option<String> {
        let number = |cm: f64| self.messages.short_number(cm);
        let (width, length) = (piece.width_cm?, piece.length_cm?);
        if width.min(length) < 0.05 {
            return None;
        }
        let with = [
            ("width", number(width).into()),
            ("length", number(length).into()),
            ("width-inches", self.inches(width).into()),
            ("length-inches", self.inches(length).into()),
        ];
        Some(self.messages.fill(Key::Size, with))
    }

    /// A length in inches, to about as many digits as a rule shows.
    fn inches(&self, cm: f64) -> String {
        let inches = cm / 2.54;
        match inches {
            short if short < 0.95 => self.messages.number(short, 2),
            hand if hand < 9.95 => self.messages.short_number(hand),
            long => self.messages.number(long, 0),
        }
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
            let key = match plants.is_empty() {
                true => Key::Soaked,
                false => Key::SoakedBefore,
            };
            said.push(self.messages.fill(key, with));
        }
        // Said of what stands before it.
        if rounds.len() > 1 && !said.is_empty() {
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

/// The words of the colours, each once, with the share of all its shades, largest first: `gray in two shades`.
pub fn words(colours: &[Colour], messages: &Messages) -> Vec<(String, f64)> {
    let mut all: Vec<(&str, usize, f64)> = vec![];
    for colour in colours {
        match all.iter_mut().find(|(word, ..)| *word == colour.word) {
            Some((_, shades, share)) => (*shades, *share) = (*shades + 1, *share + colour.share),
            None => all.push((&colour.word, 1, colour.share)),
        }
    }
    all.sort_by(|(.., one), (.., other)| other.total_cmp(one));
    let said = |(word, shades, share): (&str, usize, f64)| match shades {
        1 => (word.to_owned(), share),
        _ => {
            let with = [("word", word.into()), ("count", shades.into())];
            (messages.fill(Key::Shades, with), share)
        }
    };
    all.into_iter().map(said).collect()
}

/// The colours as half a sentence: `mostly old gold, with grayish brown and a touch of olive`.
pub fn colours(colours: &[Colour], messages: &Messages) -> String {
    let words = words(colours, messages);
    let (words, shares): (Vec<String>, Vec<f64>) = words.into_iter().unzip();
    let first = shares.first().copied().unwrap_or_default();
    let listed = |of: &[String]| messages.listed(of);
    if words.len() == 1 && first >= ALL_OVER {
        return messages.fill(Key::ColoursAll, [("lead", listed(&words).into())]);
    }
    let reaching = |least: f64| shares.iter().filter(|share| **share >= least).count();
    let leading = match first >= LEADS_ALONE {
        true => 1,
        false => reaching(LEADS).max(2).min(words.len()),
    };
    let (key, leading) = match shares[..leading].iter().sum::<f64>() >= LEADING_HOLD {
        true => (Key::ColoursLead, leading),
        false => (Key::ColoursMany, reaching(TOUCH).max(leading)),
    };
    let (lead, others) = words.split_at(leading);
    let (others, touches) = others.split_at(reaching(TOUCH).saturating_sub(leading));
    let with = [("count", lead.len().into()), ("lead", listed(lead).into())];
    let mut said = messages.fill(key, with);
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

/// Each name once, as it was written first, and no empty one.
fn distinct(names: Vec<String>) -> Vec<String> {
    let mut all: Vec<String> = vec![];
    for name in names {
        if !name.is_empty() && !all.iter().any(|known| plain(known) == plain(&name)) {
            all.push(name);
        }
    }
    all
}

/// A name without what two ways of writing it differ by: “WALNUT LEAVES” is walnut, since leaves are what prints.
fn plain(name: &str) -> String {
    let name = name.to_lowercase();
    let bare = [" leaf", " leaves", " blatt", "blätter"]
        .iter()
        .find_map(|leaves| name.strip_suffix(leaves));
    match bare.map(str::trim) {
        Some(bare) if !bare.is_empty() => bare.to_owned(),
        _ => name,
    }
}

/// Words without those in front that were said: `silk scarf` after `silk` is `scarf`.
fn without_first(words: &str, said: &[&str]) -> String {
    let said = said.join(" ").to_lowercase();
    let is_said = |word: &&str| said.split(' ').any(|known| known == word.to_lowercase());
    let left = words.split(' ').skip_while(is_said);
    left.collect::<Vec<_>>().join(" ")
}

/// Whether one of these words is or begins with `word`, as the German for a silk scarf does.
fn says(words: &str, word: &str) -> bool {
    let (words, word) = (words.to_lowercase(), word.to_lowercase());
    !word.is_empty() && words.split(' ').any(|said| said.starts_with(&word))
}
