//! What a customer gets: one piece in words and colours, as text, page, paper and picture, in the customer's language.
//!
//! A note describes; it promises nothing that a photo cannot show (`care::must_not_say`), says how far its colours can be
//! trusted, and keeps its words once it was issued.

mod aside;
mod batch;
mod card;
mod changes;
mod colours;
mod cover;
mod html;
mod kept;
mod language;
mod overlay;
mod paper;
mod picture;
mod press;
mod seen;
mod sentences;
mod strip;
#[cfg(test)]
mod tests;
mod text;
mod unsaid;

pub use aside::LETTERS_MISSING;
pub use batch::{Batch, Chosen, chosen, is_ready, rolled};
pub use colours::Colour;
pub use cover::cover;
pub use kept::WORDS_ISSUED;
pub use language::Language;
pub use overlay::{DOTS, overlay};
pub use paper::{Paper, pdf};
pub use seen::{photo_seen, piece_seen};
pub use unsaid::never_said;

use crate::colour::Lab;
use crate::error::{Caution, Error, Result, capital};
use crate::journal::record::{Issued, Photo, Piece, Studio};
use crate::journal::{Journal, colour_words};
use crate::picture::Picture;
use crate::reading::{Basis, State};
use crate::words::Own;
use kept::Settled;
use language::{Key, Messages};
use sentences::Teller;
use serde::Serialize;
use unsaid::Unsaid;

/// The longer side of the picture in a note, at most, pixels.
const SIDE: usize = 900;

/// What a note is asked to be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Its language.
    pub language: Language,
    /// Whether it takes today's words though it was issued with others.
    pub reissue: bool,
}

/// One piece, as a customer reads about it. Sentences are in the note's language.
#[derive(Clone, Debug, Serialize)]
pub struct Note {
    /// The piece's code; where that would be a promise, what the piece is.
    pub code: String,
    /// The note's language by BCP 47: `en`.
    #[serde(rename = "language")]
    pub tag: &'static str,
    /// What it is and its size in one line; empty where nothing is known.
    pub cloth: String,
    /// What it looks like, one sentence.
    pub sentence: String,
    /// The picture of it in words, for those who do not see it.
    pub alternative: String,
    /// How it was made, in whole sentences; none where nothing is known.
    pub making: Vec<String>,
    /// Its colours, largest share first; one to six.
    pub colours: Vec<Colour>,
    /// Share of the cloth, 0 to 1, that has none of these colours.
    pub rest: f64,
    /// What the photo showed the piece as.
    pub state: State,
    /// How far to trust the colours and in which light they hold, whole sentences.
    pub trust: Vec<String>,
    /// What the customer must be told before the rest: a wet photo, a photo without reference.
    pub warnings: Vec<String>,
    /// What drying and washing changed, whole sentences; none where it was not measured, or not well.
    pub changes: Vec<String>,
    /// How to look after it, whole sentences.
    pub care: Vec<String>,
    /// That plant colours change, one sentence.
    pub fading: String,
    /// What screens and lamps do to colours, one sentence.
    pub screens: String,
    /// The day since when the note has these words, `YYYY-MM-DD`; `None` where it was not issued with them yet.
    pub issued: Option<String>,
    /// For the studio, not printed: what was left out and why, and which words would be others today.
    pub cautions: Vec<Caution>,
    /// Which plants printed it and when it was made, in short sentences.
    #[serde(skip)]
    short: Vec<String>,
    /// The colours as the journal keeps them.
    #[serde(skip)]
    told: Issued,
    /// Which changes are told, as the messages choose their heading.
    #[serde(skip)]
    changed: &'static str,
    #[serde(skip)]
    language: Language,
    /// The piece in true light, sRGB.
    #[serde(skip)]
    picture: Option<Picture<[u8; 3]>>,
}

/// The note of a piece as the journal knows it, with the piece's own picture where the journal still has the photo.
///
/// The newest photo of it washed in its last round counts, else the newest dry, else worn, else the newest wet one, with a
/// warning. A note that was issued keeps its words, colours, shares and doubts and the photo they come from, unless they are to be
/// issued anew: what would be other today is told in a caution [`WORDS_ISSUED`]. Words that no note may say, alone or as they
/// follow one another, are left out, with a caution `not-in-note`; letters that PDF and PNG lack are told in a caution
/// [`LETTERS_MISSING`], and what else the studio must know in others.
///
/// # Errors
/// The caller's move where no photo of the piece has colours; a journal that cannot be read.
pub fn of_piece(journal: &Journal, piece: &Piece, options: &Options) -> Result<Note> {
    let photos = journal.photos_of(&piece.code)?;
    let studio = journal.studio()?;
    let words = own_words(&studio);
    let issued = journal.issued(&piece.code)?;
    let known = Known {
        piece,
        photos: &photos,
        words: &words,
        issued: issued.as_ref(),
    };
    let mut note = compose(&known, options)?;
    let told = |photo: &&Photo| photo.hash.is_some() && photo.hash == note.told.photo;
    let photo = photos.iter().find(told);
    if let Some(photo) = photo {
        note.picture = picture::of_photo(journal, photo, SIDE)?;
    }
    if note.told.photo.is_some() && note.picture.is_none() {
        let missing = aside::picture_missing(&piece.code, photo);
        note.cautions.push(missing);
    }
    Ok(note)
}

/// The studio's own colour words, in order.
fn own_words(studio: &Studio) -> Vec<Own> {
    let word = |(name, lab, within): (&str, Lab, f64)| Own {
        name: name.to_owned(),
        lab,
        within,
    };
    colour_words(studio).map(word).collect()
}

/// Keeps in the journal what these notes told, for today they go out of the house. Notes whose words stand there already are
/// passed over, and so is the second of a piece.
///
/// # Errors
/// A journal that cannot be written.
pub fn issue(journal: &mut Journal, notes: &[Note], today: jiff::civil::Date) -> Result<()> {
    let mut new: Vec<Issued> = vec![];
    for note in notes.iter().filter(|note| note.issued.is_none()) {
        if new.iter().all(|known| known.piece != note.told.piece) {
            new.push(Issued {
                on: today.to_string(),
                ..note.told.clone()
            });
        }
    }
    journal.issue(&new)
}

/// What a note is written from.
struct Known<'a> {
    piece: &'a Piece,
    photos: &'a [Photo],
    /// The studio's own colour words.
    words: &'a [Own],
    /// The piece's note that was issued last.
    issued: Option<&'a Issued>,
}

/// Writes the note of a piece, without its picture.
fn compose(known: &Known, options: &Options) -> Result<Note> {
    let messages = Messages::of(options.language);
    let mut unsaid = Unsaid::of(&known.piece.code);
    let Settled {
        mut told,
        since,
        cautions: of_colours,
    } = settle(known, options, &messages, &mut unsaid)?;
    let piece = &unsaid.apart(known.piece, &messages);
    let rounds = piece.rounds_shown(told.taken.as_deref());
    let mut teller = Teller {
        messages: &messages,
        allowed: |words: &str| unsaid.allows(words),
    };
    let (thing, cloth) = (teller.thing(piece), teller.cloth(piece));
    let mut making = teller.making(rounds);
    let mut short = vec![teller.prints_short(rounds), teller.made(rounds)];
    making.retain(|sentence| unsaid.allows(sentence));
    short.retain(|sentence| sentence.as_ref().is_none_or(|said| unsaid.allows(said)));
    let looks = looks(&mut told, &thing, &messages, &mut unsaid);
    let code = unsaid.name(&capital(&thing));
    let colours = colours::shown(&told.colours, &messages);
    let state = told.state.unwrap_or(State::Dry);
    let doubt = colours::doubt(&told.colours);
    let taken = told.taken.as_deref();
    let changes = changes::told(known.piece, known.photos, &messages);
    let (changed, changes) = (changes.what(), changes.sentences());
    let mut cautions = unsaid.cautions();
    cautions.extend(of_colours);
    cautions.extend(aside::of_piece(known, &told));
    cautions.extend(
        since
            .as_deref()
            .and_then(|on| aside::changed_since(known, on, &changes, &messages)),
    );
    let words = colours.iter().map(|colour| &colour.word);
    let written = making.iter().chain([&code, &cloth]).chain(words);
    cautions.extend(aside::letters_missing(&piece.code, written));
    Ok(Note {
        code,
        tag: options.language.tag(),
        cloth,
        sentence: sentence(&looks, &messages),
        alternative: sentences::alternative(&thing, &looks, &messages),
        making,
        rest: (1.0 - colours.iter().map(|c| c.share).sum::<f64>()).max(0.0),
        colours,
        state,
        trust: sentences::trust(told.basis, doubt, taken, &messages),
        warnings: sentences::warnings(state, told.basis, &messages),
        changed,
        changes,
        care: [Key::CareWash, Key::CareDry, Key::CareKeep]
            .map(|key| messages.say(key))
            .into(),
        fading: messages.say(Key::Fading),
        screens: messages.say(Key::Screens),
        issued: since,
        cautions,
        short: short.into_iter().flatten().collect(),
        told,
        language: options.language,
        picture: None,
    })
}

/// What the note tells of its colours, and what the studio must know of that.
fn settle(
    known: &Known,
    options: &Options,
    messages: &Messages,
    unsaid: &mut Unsaid,
) -> Result<Settled> {
    let mut todays = Unsaid::of(&known.piece.code);
    let (photo, today) = today(known, &mut |words: &str| todays.allows(words))?;
    let mut allowed = |words: &str| unsaid.allows(words);
    let mut settled = kept::settled(known.issued, today, options.reissue, messages, &mut allowed);
    // What today's words may not say does not concern a note that keeps others.
    if settled.since.is_none() {
        let doubtful = aside::too_doubtful(&known.piece.code, &photo.reading.swatches, known.words);
        settled.cautions.extend(todays.cautions());
        settled.cautions.extend(doubtful);
    }
    Ok(settled)
}

/// The photo that counts today, and what the note would tell of the piece's colours; its day is still open.
fn today<'a>(
    known: &Known<'a>,
    allowed: &mut impl FnMut(&str) -> bool,
) -> Result<(&'a Photo, Issued)> {
    let code = &known.piece.code;
    let photo = telling(known.piece, known.photos).ok_or_else(|| {
        Error::caller(format!(
            "There is no measured photo of {code} yet: photograph it dry, with its tag in the picture, take the photo in, then ask for the note again."
        ))
    })?;
    let told = Issued {
        piece: code.clone(),
        on: String::new(),
        photo: photo.hash.clone(),
        taken: photo.taken.clone(),
        state: photo.state,
        basis: photo.reading.basis(),
        colours: colours::named(&photo.reading.swatches, known.words, allowed),
    };
    Ok((photo, told))
}

/// The colours as half a sentence; where words promise something as they follow one another, by the standard's names.
fn looks(told: &mut Issued, thing: &str, messages: &Messages, unsaid: &mut Unsaid) -> String {
    let said = |told: &Issued| {
        let colours = colours::shown(&told.colours, messages);
        let words: Vec<String> = colours.iter().map(|colour| colour.word.clone()).collect();
        (sentences::colours(&colours, messages), words.join(", "))
    };
    let (looks, words) = said(told);
    let alternative = sentences::alternative(thing, &looks, messages);
    if [&sentence(&looks, messages), &words, &alternative]
        .iter()
        .all(|text| unsaid.allows(text))
    {
        return looks;
    }
    for colour in &mut told.colours {
        colour.word = colours::in_standard(colour);
    }
    said(told).0
}

fn sentence(looks: &str, messages: &Messages) -> String {
    messages.fill(Key::Sentence, [("colours", looks.into())])
}

impl Note {
    /// What the picture shows, for those who do not see it.
    pub fn alt(&self) -> &str {
        &self.alternative
    }

    /// Headings and what stands under them.
    fn sections(&self, messages: &Messages) -> Vec<(String, String)> {
        let care = [&self.care[..], std::slice::from_ref(&self.fading)].concat();
        let trust = [&self.trust[..], &[messages.say(Key::StandardNote)]].concat();
        let screens = vec![self.screens.clone()];
        let all = [
            (Key::HeadingMaking, &self.making),
            (Key::HeadingTrust, &trust),
            (Key::HeadingChange, &self.changes),
            (Key::HeadingCare, &care),
            (Key::HeadingScreens, &screens),
        ];
        all.into_iter()
            .filter(|(_, sentences)| !sentences.is_empty())
            .map(|(heading, sentences)| (self.heading(heading, messages), sentences.join(" ")))
            .collect()
    }

    /// A heading that fits what stands under it.
    fn heading(&self, heading: Key, messages: &Messages) -> String {
        messages.fill(heading, [("what", self.changed.into())])
    }

    /// A name for its file without an ending: letters, digits, hyphens and underscores of the code, then `-note`.
    pub fn file_stem(&self) -> String {
        format!("{}-note", plain(&self.code))
    }
}

/// A name that any machine takes for a file's: letters, digits, hyphens and underscores.
pub fn plain(name: &str) -> String {
    let fits = |c: char| match c.is_alphanumeric() || c == '_' {
        true => c,
        false => '-',
    };
    name.chars().map(fits).collect()
}

/// The photo that counts for a customer: the newest one washed in the piece's last round, else the newest dry, else worn, else
/// wet; `None` where none has colours.
pub fn telling<'a>(piece: &Piece, photos: &'a [Photo]) -> Option<&'a Photo> {
    let rank = |photo: &Photo| match photo.state {
        Some(State::Wet) => 0,
        Some(State::Worn) => 1,
        Some(State::Dry | State::Washed) | None => 2,
    };
    // A piece that was bundled again after its wash is no longer what was washed.
    let round = |photo: &Photo| piece.rounds_shown(photo.taken.as_deref()).len();
    let washed = |photo: &Photo| photo.state == Some(State::Washed);
    photos
        .iter()
        .filter(|photo| photo.reading.swatches.iter().any(|s| s.share > 0.0))
        .max_by_key(|photo| {
            let age = (&photo.taken, photo.washes, photo.id);
            (rank(photo), round(photo), washed(photo), age)
        })
}

/// Whether the light was known from something in the picture.
fn referenced(basis: Option<Basis>) -> bool {
    matches!(basis, Some(Basis::Chart | Basis::Tag))
}
