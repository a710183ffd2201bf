//! What a customer gets: one piece in words and colours, as text, page, paper and picture, in the customer's language.
//!
//! A note describes; it promises nothing that a photo cannot show (`care::must_not_say`), says how far its colours can be
//! trusted, and keeps its words once it was issued.

mod batch;
mod card;
mod changes;
mod colours;
mod cover;
mod html;
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

pub use batch::{is_ready, ready, rolled};
pub use colours::Colour;
pub use cover::{Batch, cover};
pub use language::Language;
pub use overlay::{DOTS, overlay};
pub use paper::{Paper, pdf};
pub use seen::{photo_seen, piece_seen};

use crate::care::must_not_say;
use crate::colour::Lab;
use crate::draw::unwritable;
use crate::error::{Caution, Error, Result};
use crate::journal::record::{Issued, Photo, Piece, Studio};
use crate::journal::{Journal, colour_words};
use crate::picture::Picture;
use crate::reading::{Basis, State};
use crate::words::Own;
use language::{Key, Messages};
use sentences::Teller;
use serde::Serialize;

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
    /// The piece's code.
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
    #[serde(skip)]
    language: Language,
    /// The piece in true light, sRGB.
    #[serde(skip)]
    picture: Option<Picture<[u8; 3]>>,
}

/// The note of a piece as the journal knows it, with the piece's own picture where the journal still has the photo.
///
/// The newest photo of it washed in its last round counts, else the newest dry, else worn, else the newest wet one, with a
/// warning. A note that was issued keeps its words and colours, unless they are to be issued anew: what would be other today is
/// told in a caution `words-issued`. Words of the sheet that no note may say are left out, with a caution `not-in-note`; letters
/// that PDF and PNG lack are told in a caution [`LETTERS_MISSING`].
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
    if let Some(photo) = photos.iter().find(told) {
        note.picture = picture::of_photo(journal, photo, SIDE)?;
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
/// passed over.
///
/// # Errors
/// A journal that cannot be written.
pub fn issue(journal: &mut Journal, notes: &[Note], today: jiff::civil::Date) -> Result<()> {
    let new = notes.iter().filter(|note| note.issued.is_none());
    let new = new.map(|note| Issued {
        on: today.to_string(),
        ..note.told.clone()
    });
    journal.issue(&new.collect::<Vec<_>>())
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
    let piece = known.piece;
    let messages = Messages::of(options.language);
    let mut cautions = vec![];
    let mut allowed = |words: &str| match must_not_say(words) {
        None => true,
        Some(why) => {
            let text = format!("The note of {} leaves out “{words}”: {why}.", piece.code);
            let caution = Caution::new("not-in-note", text);
            if !cautions.contains(&caution) {
                cautions.push(caution);
            }
            false
        }
    };
    let today = today(known, &mut allowed)?;
    let (told, issued, changed) = settled(known.issued, today, options.reissue);
    let colours = colours::shown(&told.colours, &messages);
    let state = told.state.unwrap_or(State::Dry);
    let rounds = piece.rounds_shown(told.taken.as_deref());
    let mut teller = Teller {
        messages: &messages,
        allowed,
    };
    let (thing, cloth) = (teller.thing(piece), teller.cloth(piece));
    let making = teller.making(rounds);
    let short = [teller.prints_short(rounds), teller.made(rounds)];
    cautions.extend(changed);
    let looks = sentences::colours(&colours, &messages);
    let doubt = colours::doubt(&told.colours);
    let taken = told.taken.as_deref();
    let words = colours.iter().map(|colour| &colour.word);
    let written = making.iter().chain([&piece.code, &cloth]).chain(words);
    cautions.extend(letters_missing(&piece.code, written));
    Ok(Note {
        code: piece.code.clone(),
        tag: options.language.tag(),
        cloth,
        sentence: messages.fill(Key::Sentence, [("colours", looks.as_str().into())]),
        alternative: sentences::alternative(&thing, &looks, &messages),
        making,
        rest: (1.0 - colours.iter().map(|c| c.share).sum::<f64>()).max(0.0),
        colours,
        state,
        trust: sentences::trust(told.basis, doubt, taken, &messages),
        warnings: sentences::warnings(state, told.basis, &messages),
        changes: changes::told(piece, known.photos, &messages),
        care: [Key::CareWash, Key::CareDry, Key::CareKeep]
            .map(|key| messages.say(key))
            .into(),
        fading: messages.say(Key::Fading),
        screens: messages.say(Key::Screens),
        issued,
        cautions,
        short: short.into_iter().flatten().collect(),
        told,
        language: options.language,
        picture: None,
    })
}

/// What the note would tell of the piece's colours today; its day is still open.
fn today(known: &Known, allowed: &mut impl FnMut(&str) -> bool) -> Result<Issued> {
    let code = &known.piece.code;
    let photo = telling(known.piece, known.photos).ok_or_else(|| {
        Error::caller(format!(
            "There is no measured photo of {code} yet: photograph it dry, with its tag in the picture, take the photo in, then ask for the note again."
        ))
    })?;
    Ok(Issued {
        piece: code.clone(),
        on: String::new(),
        photo: photo.hash.clone(),
        taken: photo.taken.clone(),
        state: photo.state,
        basis: photo.reading.basis(),
        colours: colours::named(&photo.reading.swatches, known.words, allowed),
    })
}

/// What the note tells: what it was issued with where that says otherwise than today, else today's; since when it has those
/// words; and what to tell the studio where they differ.
fn settled(
    issued: Option<&Issued>,
    today: Issued,
    reissue: bool,
) -> (Issued, Option<String>, Option<Caution>) {
    let Some(issued) = issued else {
        return (today, None, None);
    };
    let day = Some(issued.on.clone());
    match colours::otherwise(issued, &today.colours) {
        None => (today, day, None),
        Some(_) if reissue => (today, None, None),
        Some(words) => {
            let text = told_otherwise(issued, &words);
            let caution = Caution::new("words-issued", text);
            (issued.clone(), day, Some(caution))
        }
    }
}

/// Code of the caution that PDF and PNG lack a letter of the note.
pub const LETTERS_MISSING: &str = "letters-missing";

fn letters_missing<'a>(
    code: &str,
    mut written: impl Iterator<Item = &'a String>,
) -> Option<Caution> {
    let letter = written.find_map(|text| unwritable(text))?;
    let text = format!(
        "The typeface of PDF and PNG cannot write “{letter}”, so the note of {code} shows an empty box or a wrong letter there; text and HTML have it."
    );
    Some(Caution::new(LETTERS_MISSING, text))
}

/// `then` and `now`: the words that only the issued note has, and those that only today's would have.
fn told_otherwise(issued: &Issued, (then, now): &(String, String)) -> String {
    let Issued { piece, on, .. } = issued;
    let differ = match (then.is_empty(), now.is_empty()) {
        (false, false) => format!("it says {then} where today's would say {now}"),
        (false, true) => format!("it says {then}, which today's would not"),
        _ => format!("today's would say {now} as well"),
    };
    format!(
        "The note of {piece} keeps the words it was issued with on {on}: {differ}. Only “filemot note {piece} --reissue” changes them."
    )
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
            .map(|(heading, sentences)| (messages.say(heading), sentences.join(" ")))
            .collect()
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
