//! Every sentence of a note comes from one file of messages a language, `language/en.ftl` and its like.

use fluent_bundle::{FluentArgs, FluentBundle, FluentResource};

pub(super) use fluent_bundle::FluentValue as Value;

/// A language that notes are written in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Language {
    /// English, the standard's names as they are.
    #[default]
    English,
    /// German, the standard's names in our translation.
    German,
}

impl Language {
    /// All languages.
    pub const ALL: [Self; 2] = [Self::English, Self::German];

    /// Its tag by BCP 47: `en`.
    pub fn tag(self) -> &'static str {
        match self {
            Self::English => "en",
            Self::German => "de",
        }
    }

    fn file(self) -> &'static str {
        match self {
            Self::English => include_str!("language/en.ftl"),
            Self::German => include_str!("language/de.ftl"),
        }
    }
}

/// Messages by the names that the files give them.
macro_rules! messages {
    ($($key:ident = $name:literal),+ $(,)?) => {
        /// A message of a note.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(super) enum Key { $($key),+ }

        impl Key {
            #[cfg(test)]
            const ALL: &[Self] = &[$(Self::$key),+];

            fn name(self) -> &'static str {
                match self { $(Self::$key => $name),+ }
            }
        }
    };
}

messages! {
    DecimalMark = "decimal-mark",
    Percent = "percent",
    PercentUnderOne = "percent-under-one",
    Month = "month",
    Date = "date",
    MonthOfYear = "month-of-year",
    ListMore = "list-more",
    ListLast = "list-last",
    StandardHue = "standard-hue",
    StandardModifier = "standard-modifier",
    Beneath = "beneath",
    BeneathOwn = "beneath-own",
    Fibre = "fibre",
    Stuff = "stuff",
    ThingItem = "thing-item",
    ThingItemBare = "thing-item-bare",
    ThingPiece = "thing-piece",
    ThingBare = "thing-bare",
    AThing = "a-thing",
    Size = "size",
    ColoursAll = "colours-all",
    ColoursLead = "colours-lead",
    ColoursMany = "colours-many",
    Shades = "shades",
    ColoursWith = "colours-with",
    ColoursTouch = "colours-touch",
    ColoursTouchOnly = "colours-touch-only",
    Sentence = "sentence",
    Alternative = "alternative",
    Strip = "strip",
    Prints = "prints",
    PrintsShort = "prints-short",
    Soaked = "soaked",
    SoakedBefore = "soaked-before",
    SoakedThen = "soaked-then",
    Mordant = "mordant",
    Rounds = "rounds",
    Made = "made",
    Photo = "photo",
    PhotoOf = "photo-of",
    TrustChart = "trust-chart",
    TrustTag = "trust-tag",
    TrustAssumed = "trust-assumed",
    Near = "near",
    NearUnknown = "near-unknown",
    Daylight = "daylight",
    StandardNote = "standard-note",
    WarningWet = "warning-wet",
    WarningWorn = "warning-worn",
    WarningLight = "warning-light",
    Dried = "dried",
    Washed = "washed",
    WashedOpen = "washed-open",
    WashedUntold = "washed-untold",
    GradeRange = "grade-range",
    CareWash = "care-wash",
    CareDry = "care-dry",
    CareKeep = "care-keep",
    Screens = "screens",
    MeasuredFor = "measured-for",
    ScreensShort = "screens-short",
    Fading = "fading",
    PleaseNote = "please-note",
    HeadingColours = "heading-colours",
    HeadingMaking = "heading-making",
    HeadingTrust = "heading-trust",
    HeadingChange = "heading-change",
    HeadingCare = "heading-care",
    HeadingScreens = "heading-screens",
    Rest = "rest",
    Doubt = "doubt",
    WrittenWith = "written-with",
    CoverTitle = "cover-title",
    CoverBundle = "cover-bundle",
    CoverPieces = "cover-pieces",
    PageOf = "page-of",
}

/// The messages of one language.
pub(super) struct Messages {
    bundle: FluentBundle<FluentResource>,
}

impl Messages {
    /// Those of `language`.
    pub fn of(language: Language) -> Self {
        let (resource, wrong) = match FluentResource::try_new(language.file().to_owned()) {
            Ok(resource) => (resource, Vec::new()),
            Err(partly) => partly,
        };
        debug_assert!(wrong.is_empty(), "{wrong:?}");
        let mut bundle = FluentBundle::new(language.tag().parse().into_iter().collect());
        // The marks that isolate directions of writing would be empty boxes on paper.
        bundle.set_use_isolating(false);
        let added = bundle.add_resource(resource);
        debug_assert!(added.is_ok(), "{added:?}");
        Self { bundle }
    }

    /// A message that needs nothing filled in.
    pub fn say(&self, key: Key) -> String {
        self.fill(key, [])
    }

    /// A message with what it needs, by name. A message that is not there, which no test would let pass, is its own name.
    pub fn fill<'a, const N: usize>(&'a self, key: Key, with: [(&'a str, Value<'a>); N]) -> String {
        let arguments: FluentArgs = with.into_iter().collect();
        let message = self.bundle.get_message(key.name());
        let Some(pattern) = message.and_then(|message| message.value()) else {
            return key.name().to_owned();
        };
        let mut wrong = Vec::new();
        let said = self
            .bundle
            .format_pattern(pattern, Some(&arguments), &mut wrong);
        debug_assert!(wrong.is_empty(), "{}: {wrong:?}", key.name());
        said.into_owned()
    }

    /// A number with so many decimals, written as the language writes it.
    pub fn number(&self, value: f64, decimals: usize) -> String {
        let value = format!("{value:.decimals$}");
        value.replace('.', &self.say(Key::DecimalMark))
    }

    /// A number without needless noughts, at most one decimal.
    pub fn short_number(&self, value: f64) -> String {
        let value = (10.0 * value).round() / 10.0;
        self.number(value, usize::from(value.fract() != 0.0))
    }

    /// A share as people read it: `42 %`, and `under 1 %` for less.
    pub fn percent(&self, share: f64) -> String {
        match 100.0 * share {
            small if small < 1.0 => self.say(Key::PercentUnderOne),
            more => {
                let number = self.number(more, 0);
                self.fill(Key::Percent, [("number", number.into())])
            }
        }
    }

    /// Words as a sentence lists them.
    pub fn listed(&self, words: &[String]) -> String {
        let Some((last, front)) = words.split_last() else {
            return String::new();
        };
        let together = |front: String, next: &String| {
            let with = [("front", front.into()), ("next", next.as_str().into())];
            self.fill(Key::ListMore, with)
        };
        match front.split_first() {
            None => last.clone(),
            Some((first, others)) => {
                let front = others.iter().fold(first.clone(), together);
                let with = [("front", front.into()), ("last", last.as_str().into())];
                self.fill(Key::ListLast, with)
            }
        }
    }

    /// A name of ISCC-NBS as the language says it; as it is where the language has no word for its hue.
    pub fn standard(&self, name: &str) -> String {
        let words: Vec<&str> = name.split(' ').collect();
        let hue = |long: usize| {
            let (front, tail) = words.split_at(words.len().checked_sub(long)?);
            let hue = self.choose(Key::StandardHue, &tail.join("-"), "");
            (!hue.is_empty()).then_some((front, hue))
        };
        let Some((front, hue)) = hue(2).or_else(|| hue(1)) else {
            return name.to_owned();
        };
        let modifiers = front
            .iter()
            .map(|word| self.choose(Key::StandardModifier, word, word));
        modifiers.chain([hue]).collect::<Vec<_>>().join(" ")
    }

    /// What a message chooses by a word: handed over as `$key`, with the word as it is written as `$word`.
    pub fn choose(&self, key: Key, by: &str, written: &str) -> String {
        self.fill(key, [("key", by.into()), ("word", written.into())])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::care::must_not_say;
    use crate::colour::Lab;
    use crate::words::{Family, word};
    use fluent_bundle::FluentResource;

    /// Every message of a file with its name, as it is written there.
    fn written(language: Language) -> Vec<(String, String)> {
        let resource = FluentResource::try_new(language.file().to_owned());
        assert!(resource.is_ok(), "{language:?}: {:?}", resource.err());
        let mut all: Vec<(String, String)> = Vec::new();
        for line in language.file().lines() {
            match line.split_once('=') {
                Some((name, text)) if line.starts_with(char::is_lowercase) => {
                    all.push((name.trim().to_owned(), text.to_owned()));
                }
                _ if line.starts_with(' ') => {
                    let last = all.last_mut().expect("a message to go on with");
                    last.1 = format!("{}\n{line}", last.1);
                }
                _ => {}
            }
        }
        all
    }

    #[test]
    fn every_language_has_every_message_and_no_other() {
        for language in Language::ALL {
            let names: Vec<String> = written(language).into_iter().map(|m| m.0).collect();
            let keys: Vec<&str> = Key::ALL.iter().map(|key| key.name()).collect();
            for key in &keys {
                assert!(names.iter().any(|n| n == key), "{language:?} has no {key}");
            }
            for name in &names {
                assert!(
                    keys.contains(&name.as_str()),
                    "{language:?}: nobody says {name}"
                );
            }
            assert_eq!(names.len(), keys.len(), "{language:?} says something twice");
        }
    }

    #[test]
    fn no_message_promises_what_a_studio_cannot_know() {
        for language in Language::ALL {
            for (name, text) in written(language) {
                assert_eq!(must_not_say(&text), None, "{language:?} {name}: {text}");
            }
        }
    }

    /// What stands in braces must be the same: a sentence that forgets the plants is no translation.
    #[test]
    fn translations_are_given_the_same_things() {
        let things = |text: &str| {
            let names = text.split('$').skip(1).map(|rest| {
                let end = rest.find(|c: char| !(c.is_ascii_lowercase() || c == '-'));
                rest[..end.unwrap_or(rest.len())].to_owned()
            });
            names.collect::<std::collections::BTreeSet<_>>()
        };
        // These choose in one language only; German sizes have no inches.
        let free = [
            "standard-",
            "beneath",
            "fibre",
            "a-thing",
            "size",
            "mordant",
        ];
        let english = written(Language::English);
        for language in Language::ALL {
            for (name, text) in written(language) {
                let (_, original) = english.iter().find(|m| m.0 == name).expect(&name);
                let counts = |all: &mut std::collections::BTreeSet<String>| all.remove("count");
                let (mut one, mut other) = (things(original), things(&text));
                counts(&mut one);
                counts(&mut other);
                let chosen = free.iter().any(|free| name.starts_with(free));
                assert!(
                    chosen || one == other,
                    "{language:?} {name}: {one:?} {other:?}"
                );
            }
        }
    }

    #[test]
    fn lists_and_numbers_are_the_languages_own() {
        let words = ["a", "b", "c"].map(str::to_owned);
        let check = |language, list: &str, number: &str| {
            let messages = Messages::of(language);
            assert_eq!(messages.listed(&words), list);
            assert_eq!(messages.number(2.04, 1), number);
        };
        check(Language::English, "a, b and c", "2.0");
        check(Language::German, "a, b und c", "2,0");
        assert_eq!(Messages::of(Language::German).listed(&[]), "");
    }

    /// No German name keeps an English word, whatever the colour and the doubt.
    #[test]
    fn every_name_of_the_standard_is_translated() {
        let (english, german) = (
            Messages::of(Language::English),
            Messages::of(Language::German),
        );
        let steps = |n: i32, by: f64| (-n..=n).map(move |i| f64::from(i) * by);
        let mut names = std::collections::BTreeSet::new();
        for l in (0..26).map(|i| f64::from(i) * 4.0) {
            for (a, b) in steps(12, 8.0).flat_map(|a| steps(12, 8.0).map(move |b| (a, b))) {
                for doubt in [0.0, 9.0, 30.0] {
                    names.insert(word(Lab::new(l, a, b), doubt).text);
                }
            }
        }
        names.extend(Family::ALL.map(|family| family.name().to_owned()));
        assert!(names.len() > 200, "{}", names.len());
        let mut seen = std::collections::BTreeSet::new();
        for name in names {
            assert_eq!(english.standard(&name), name);
            let said = german.standard(&name);
            let kept = name.split(' ').find(|word| {
                let same = ["orange", "violet"].contains(word);
                !same && said.split(' ').any(|other| other == *word)
            });
            assert_eq!(kept, None, "{name}: {said}");
            assert!(seen.insert(said.clone()), "{said} stands for two colours");
        }
        let check = |name: &str, said: &str| assert_eq!(german.standard(name), said);
        check(
            "light grayish yellowish brown",
            "helles gräuliches Gelbbraun",
        );
        check("very dark yellowish green", "sehr dunkles gelbliches Grün");
        check("old gold", "old gold");
    }
}
