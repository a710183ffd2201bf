//! Photos that wait for a hand, and what was done to the last one.

use super::edition;
use super::shown;
use crate::error::{Result, known_code, stands_in};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::reading::{State as PieceState, TAKEN_AS_DRY};
use askama::Template;

/// Photos of each kind that are shown waiting.
const WAITING: usize = 12;

/// Code of the caution that the piece's edge could not be told with confidence.
const DOUBTFUL: &str = "outline-doubtful";

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"{% if let Some(told) = told %}<p id="told" role="status" tabindex="-1">{{ told.words }} <a href="/photo/{{ told.id }}">Not right? Change it</a></p>
{% endif %}{% for wait in kinds %}<section aria-labelledby="{{ wait.id }}">
<h2 id="{{ wait.id }}">{{ wait.heading }}</h2>
<p class="soft">{{ wait.advice }}</p>
<ul class="waiting">
{% for photo in wait.photos %}<li id="photo-{{ photo.id }}">
<a href="/photo/{{ photo.id }}"><figure class="ground"><img src="/picture/{{ photo.id }}/small" alt="{{ photo.piece }} {{ photo.name }}" loading="lazy" decoding="async"></figure></a>
<p class="name">{% if !photo.piece.is_empty() %}<strong>{{ photo.piece }}</strong> {% endif %}{{ photo.name }}</p>
{% if wait.id == "unclaimed" %}<form method="post" action="/photo/{{ photo.id }}/shows" class="claim">
<input type="hidden" name="based_on" value="{{ photo.edition }}"><input type="hidden" name="next" value="/line">
<p class="one"><label for="piece-{{ photo.id }}" class="unseen">Piece of {{ photo.name }}</label><input id="piece-{{ photo.id }}" name="piece" list="codes" required maxlength="32" placeholder="LB007" autocapitalize="characters" autocomplete="off">
<label for="state-{{ photo.id }}" class="unseen">What {{ photo.name }} shows it as</label><select id="state-{{ photo.id }}" name="state"><option value="">{{ photo.state }}</option>{% for state in PieceState::ALL %}<option>{{ state.word() }}</option>{% endfor %}</select>
<button>It is this</button></p>
<p class="one">{% for offer in photo.offers %}<button class="chip" name="take" value="{{ offer.code }}" formnovalidate>{{ offer.words }}</button>
{% endfor %}<button class="chip" name="deed" value="aside" formaction="/photo/{{ photo.id }}/aside" formnovalidate aria-label="No piece of mine: set {{ photo.name }} aside">No piece of mine</button></p></form>
{% else if wait.id == "state" %}<form method="post" action="/photo/{{ photo.id }}/shows" class="chips" aria-label="What {{ photo.piece }} is in {{ photo.name }}">
<input type="hidden" name="based_on" value="{{ photo.edition }}"><input type="hidden" name="next" value="/line"><input type="hidden" name="piece" value="{{ photo.piece }}">
{% for state in PieceState::ALL %}<button class="chip" name="state" value="{{ state.word() }}">{{ state.word() }}</button>
{% endfor %}</form>
{% else %}<form method="post" action="/photo/{{ photo.id }}/outline" class="one">
<input type="hidden" name="based_on" value="{{ photo.edition }}"><input type="hidden" name="next" value="/line"><input type="hidden" name="corners" value="{{ photo.outline }}">
<a class="button" href="/photo/{{ photo.id }}#outline">Mend it</a> <button class="quiet">It lies right</button></form>{% endif %}
</li>
{% endfor %}</ul>
{% if wait.more > 0 %}<p class="soft">and {{ wait.more }} more, shown as these are done.</p>{% endif %}
</section>
{% endfor %}{% if !aside.is_empty() %}<details id="aside"><summary>{{ aside_told }}</summary>
<ul class="waiting">{% for photo in aside %}<li>
<a href="/photo/{{ photo.id }}"><figure class="ground"><img src="/picture/{{ photo.id }}/small" alt="{{ photo.name }}" loading="lazy" decoding="async"></figure></a>
<p class="name">{{ photo.name }}</p>
<form method="post" action="/photo/{{ photo.id }}/aside"><input type="hidden" name="based_on" value="{{ photo.edition }}"><input type="hidden" name="next" value="/line">
<button class="chip" name="deed" value="wait" aria-label="Let {{ photo.name }} wait for its piece again">Let it wait again</button></form></li>
{% endfor %}</ul></details>{% endif %}
<datalist id="codes">{% for code in codes %}<option value="{{ code }}">{% endfor %}</datalist>"##
)]
pub(super) struct Waits {
    told: Option<Told>,
    kinds: Vec<Kind>,
    aside: Vec<Waiting>,
    aside_told: String,
    codes: Vec<String>,
}

/// What was done to a photo.
struct Told {
    id: i64,
    words: String,
}

/// Photos that wait for the same word.
struct Kind {
    id: &'static str,
    heading: String,
    advice: &'static str,
    photos: Vec<Waiting>,
    more: usize,
}

struct Waiting {
    id: i64,
    name: String,
    piece: String,
    /// What it shows its piece as, and how far that is known.
    state: &'static str,
    edition: String,
    outline: String,
    offers: Vec<Offer>,
}

/// A piece that a photo may show, to be said by one touch.
struct Offer {
    code: String,
    words: String,
}

impl Waits {
    /// What waits in this journal; `done` is the photo to which something was done just now.
    pub(super) fn of(journal: &Journal, done: Option<i64>) -> Result<Self> {
        let done = match done {
            Some(id) => journal.photo(id)?,
            None => None,
        };
        let before = done.as_ref().and_then(|photo| photo.piece.clone());
        let mut kinds = vec![
            kind(
                "unclaimed",
                journal.unclaimed_newest(WAITING)?,
                ["photo without a piece", "photos without a piece"],
                "No tag was readable and no name told; say which piece each shows.",
            ),
            kind(
                "state",
                journal.cautioned(TAKEN_AS_DRY, WAITING)?,
                ["photo taken as dry", "photos taken as dry"],
                "Nothing said whether these are wet, dry or washed. Touch what each is.",
            ),
            kind(
                "outlines",
                journal.cautioned(DOUBTFUL, WAITING)?,
                ["doubtful outline", "doubtful outlines"],
                "Where the piece ends could not be told with confidence. Look, and mend what is wrong.",
            ),
        ];
        if !kinds[0].photos.is_empty() {
            let codes = journal.codes()?;
            for photo in &mut kinds[0].photos {
                photo.offers = offers(&photo.name, &codes, before.as_deref());
            }
        }
        kinds.retain(|kind| !kind.photos.is_empty());
        let (count, aside) = journal.set_aside_newest(WAITING)?;
        Ok(Self {
            told: done.and_then(|photo| {
                Some(Told {
                    id: photo.id?,
                    words: shown::says(&photo),
                })
            }),
            kinds,
            aside: aside.iter().filter_map(waiting).collect(),
            aside_told: shown::count(count, "photo set aside", "photos set aside"),
            codes: journal.shelf(&[], 0, 60)?.codes,
        })
    }

    /// Whether nothing waits.
    pub(super) fn is_empty(&self) -> bool {
        self.kinds.is_empty()
    }
}

fn kind(
    id: &'static str,
    (count, photos): (usize, Vec<Photo>),
    [one, many]: [&str; 2],
    advice: &'static str,
) -> Kind {
    let photos: Vec<Waiting> = photos.iter().filter_map(waiting).collect();
    Kind {
        id,
        heading: shown::count(count, one, many),
        advice,
        more: count - photos.len(),
        photos,
    }
}

fn waiting(photo: &Photo) -> Option<Waiting> {
    let point = |[x, y]: &[f64; 2]| format!("{x},{y}");
    let untold = photo.reading.has_caution(TAKEN_AS_DRY);
    Some(Waiting {
        id: photo.id?,
        name: photo.file.clone().unwrap_or_default(),
        piece: photo.piece.clone().unwrap_or_default(),
        state: photo
            .state
            .filter(|_| !untold)
            .map_or("wet, dry, washed?", PieceState::word),
        edition: edition::of(photo),
        outline: shown::outline(photo)
            .iter()
            .map(point)
            .collect::<Vec<_>>()
            .join(" "),
        offers: Vec::new(),
    })
}

/// Pieces that a photo of this name may show: that of the photo before it, and the one whose code stands in the name.
fn offers(name: &str, codes: &[String], before: Option<&str>) -> Vec<Offer> {
    let mut offers: Vec<Offer> = Vec::new();
    if let Some(code) = before {
        offers.push(Offer {
            code: code.to_owned(),
            words: format!("{code}, as the one before"),
        });
    }
    let told =
        known_in(name, codes).map(|code| (code.clone(), format!("{code}, as its name says")));
    let told = told.or_else(|| {
        let code = new_in(name, codes)?;
        Some((code.clone(), format!("{code}, a new piece")))
    });
    if let Some((code, words)) = told.filter(|(code, _)| Some(code.as_str()) != before) {
        offers.push(Offer { code, words });
    }
    offers
}

/// The longest code of a piece that stands in a name by itself.
fn known_in<'a>(name: &str, codes: &'a [String]) -> Option<&'a String> {
    let name = name.to_lowercase();
    let held = codes
        .iter()
        .filter(|code| stands_in(&name, &code.to_lowercase()));
    held.max_by_key(|code| code.len())
}

/// What in a name is formed as the codes of pieces are: as many letters, then as many digits. Where there is no piece yet, one to
/// three letters and two or three digits; cameras count with four or more.
fn new_in(name: &str, codes: &[String]) -> Option<String> {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem);
    let stem = stem.rsplit(['/', '\\']).next().unwrap_or_default();
    let mut words = stem.split(|c: char| !c.is_alphanumeric());
    let usual =
        |(letters, digits): (usize, usize)| (1..=3).contains(&letters) && (2..=3).contains(&digits);
    let fits = |word: &&str| {
        form(word).is_some_and(|made| match codes {
            [] => usual(made),
            _ => codes.iter().any(|code| form(code) == Some(made)),
        })
    };
    let word = words.find(fits)?;
    known_code(word, codes)
        .is_none()
        .then(|| word.to_uppercase())
}

/// How many letters and then digits a code is of; `None` where it is formed in another way.
fn form(code: &str) -> Option<(usize, usize)> {
    let letters = code.chars().take_while(|c| c.is_ascii_alphabetic()).count();
    let digits = code
        .chars()
        .skip(letters)
        .take_while(char::is_ascii_digit)
        .count();
    (letters > 0 && digits > 0 && letters + digits == code.chars().count())
        .then_some((letters, digits))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(name: &str, codes: &[&str], before: Option<&str>, wanted: &[&str]) {
        let codes: Vec<String> = codes.iter().map(|code| (*code).to_owned()).collect();
        let offers = offers(name, &codes, before);
        let words: Vec<&str> = offers.iter().map(|offer| offer.words.as_str()).collect();
        assert_eq!(words, wanted, "{name}");
    }

    #[test]
    fn a_photo_is_offered_the_piece_before_it_and_the_one_in_its_name() {
        let codes = ["LB001", "LB002"];
        check("LC001-dry-1.jpg", &codes, None, &["LC001, a new piece"]);
        check(
            "dry/lb002 b.jpg",
            &codes,
            None,
            &["LB002, as its name says"],
        );
        check(
            "lb002.jpg",
            &codes,
            Some("LB001"),
            &["LB001, as the one before", "LB002, as its name says"],
        );
        check(
            "LB002.jpg",
            &codes,
            Some("LB002"),
            &["LB002, as the one before"],
        );
        for camera in [
            "IMG_0412.jpg",
            "DSC00412.jpg",
            "P1010007.jpg",
            "20260512_101500.jpg",
        ] {
            check(camera, &codes, None, &[]);
            check(camera, &[], None, &[]);
        }
        check("K12-wet.jpg", &[], None, &["K12, a new piece"]);
    }
}
