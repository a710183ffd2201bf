//! What must be said about a piece in two states.

use super::pair::Pair;
use super::scatter::disagreeing;
use super::shown::Shown;
use crate::error::Caution;

/// From this share without a partner on, the pair itself is in doubt.
const MUCH: f64 = 0.1;
/// With less than this of the cloth matched, the two photos do not show one piece.
const MOST: f64 = 0.5;
/// A palette with this many colours for each of the other's was probably read of something else.
const MANY: usize = 4;
/// What a photo says of itself where what lies beneath the cloth shows.
const THROUGH: &str = "show-through";
/// What is said where it shows in one of two photos.
const BACKING: &str = "backing-shows";

/// The photos of a piece before and after, and what to call the two.
#[derive(Clone, Copy)]
pub struct Both<'a> {
    pub before: &'a [&'a Shown],
    pub after: &'a [&'a Shown],
    /// `wet` and `dry`.
    pub words: [&'a str; 2],
}

impl Both<'_> {
    /// Whether the light of all photos of both was only guessed: then no change of lightness is measured.
    fn are_guessed(&self) -> bool {
        let guessed = |photos: &[&Shown]| photos.iter().all(|photo| photo.is_guessed());
        guessed(self.before) && guessed(self.after)
    }

    /// Whether a photo before and one after show exactly the same colours.
    fn are_the_same(&self) -> bool {
        let alike = |one: &&Shown| self.after.iter().any(|other| one.colours == other.colours);
        self.before.iter().any(alike)
    }

    /// Whether the photos can tell a change at all: by a known light, of two photos, and of mostly the same cloth.
    pub fn tell(&self, pair: &Pair) -> bool {
        !self.are_guessed() && !self.are_the_same() && pair.matching.share() >= MOST
    }

    /// Everything but what the photos say of themselves; `twice` where a photo was left out as a copy.
    pub fn cautions(&self, pair: &Pair, twice: bool) -> Vec<Caution> {
        let [before, after] = self.words;
        let mut said = Vec::new();
        if self.are_guessed() {
            said.push(Caution::new(
                "light-guessed",
                format!("Neither the {before} nor the {after} photo had a tag or a chart in it, so their light was only guessed, and how much lighter or darker the piece became was not measured: hang the tag in both pictures."),
            ));
        }
        if self.are_the_same() {
            said.push(Caution::new(
                "same-photo",
                format!("A {before} and a {after} photo show exactly the same colours, so they are probably one photo under two names: look which it is, and put it right with “filemot claim PHOTO PIECE --state STATE”."),
            ));
        } else if twice {
            said.push(Caution::new(
                "same-photo",
                "Two photos show exactly the same colours, so they are probably one photo under two names; it was counted once.",
            ));
        }
        said.extend(self.unlike());
        said.extend(self.undoubted());
        said.extend(self.out_of_order());
        said.extend(self.backing());
        said.extend(self.few_colours(pair));
        said.extend(self.alone(pair));
        said
    }

    /// Photos of one state that contradict each other.
    fn unlike(&self) -> Vec<Caution> {
        let sides = [self.before, self.after].into_iter().zip(self.words);
        let unlike = sides.filter_map(|(photos, state)| {
            let ([one, other], apart) = disagreeing(photos)?;
            let files = one.file.as_deref().zip(other.file.as_deref());
            let files = files.map_or_else(String::new, |(a, b)| format!(", {a} and {b},"));
            let piece = &one.piece;
            Some(Caution::new(
                "photos-disagree",
                format!("Two {state} photos of {piece}{files} show it unlike each other, by {apart:.0} CIEDE2000 on average, which is more than their doubts explain, so the range was widened: look whether both show {piece} and both show it {state}, and put it right with “filemot claim PHOTO PIECE --state STATE”."),
            ))
        });
        unlike.collect()
    }

    /// Colours of which nobody said how sure they are.
    fn undoubted(&self) -> Option<Caution> {
        let mut photos = self.before.iter().chain(self.after);
        let photo = photos.find(|photo| photo.is_undoubted())?;
        let name = photo.file.as_deref().unwrap_or("A photo");
        Some(Caution::new(
            "doubt-unknown",
            format!(
                "{name} came in without a doubt for each of its colours, so no range can be told: measure the photo itself with “filemot ingest”, or give each colour its doubt in the file you import."
            ),
        ))
    }

    /// Whether a photo after was taken before all of those before.
    pub fn is_out_of_order(&self) -> bool {
        let early = |photo: &&Shown| self.before.iter().all(|other| photo.is_before(other));
        self.after.iter().any(early)
    }

    fn out_of_order(&self) -> Option<Caution> {
        let [before, after] = self.words;
        self.is_out_of_order().then(|| {
            Caution::new(
                &format!("{after}-before-{before}"),
                format!("The {after} photo was taken before the {before} one: look whether they are mixed up, whether the camera's clock was right, or whether a round is missing in the sheet."),
            )
        })
    }

    /// Thin cloth lets what lies beneath it show; on one side more than on the other, that is part of the change.
    fn backing(&self) -> Option<Caution> {
        let shows = |photos: &[&Shown]| photos.iter().any(|photo| photo.has_caution(THROUGH));
        (shows(self.before) != shows(self.after)).then(|| {
            let through = if shows(self.before) { self.words[0] } else { self.words[1] };
            Caution::new(
                BACKING,
                format!("In the {through} photo what lies beneath the cloth shows through it, so part of the change may be the backing's: lay it on white cotton both times."),
            )
        })
    }

    fn few_colours(&self, pair: &Pair) -> Option<Caution> {
        let [one, other] = [&pair.before, &pair.after].map(|side| side.palette.len());
        (one.max(other) >= MANY * one.min(other)).then(|| {
            let [before, after] = self.words;
            Caution::new(
                "few-colours",
                format!("The cloth shows {} {before} and {} {after}, so one of the photos was probably blurred, or read of something else than the whole piece: look with “filemot show PHOTO --overlay FILE.png”.", colours(one), colours(other)),
            )
        })
    }

    fn alone(&self, pair: &Pair) -> Option<Caution> {
        let without = 1.0 - pair.matching.share();
        (without >= MUCH).then(|| {
            let [before, after] = self.words;
            Caution::new(
                "no-partner",
                format!("{:.0} % of the cloth has a colour in the {before} photo that became none of the {after} one, further than any common change could take it{}: look whether both show this piece, all of it, with nothing on it.", 100.0 * without, if without > 1.0 - MOST { ", so nothing was measured" } else { "" }),
            )
        })
    }
}

fn colours(number: usize) -> String {
    match number {
        1 => "1 colour".to_owned(),
        _ => format!("{number} colours"),
    }
}

/// Adds what is said of both photos to what each says of itself; that cloth let its backing through is said once.
pub fn join(own: &mut Vec<Caution>, said: Vec<Caution>) {
    if said.iter().any(|c| c.code == BACKING) {
        own.retain(|c| c.code != THROUGH);
    }
    own.extend(said);
}

/// What the photos say of themselves, each code once.
pub fn of_photos<'a>(photos: impl Iterator<Item = &'a Shown>) -> Vec<Caution> {
    let mut cautions: Vec<Caution> = Vec::new();
    for photo in photos {
        let own = (photo.is_guessed() && !photo.has_caution("light-assumed")).then(|| {
            Caution::new("light-assumed", "The light of a photo was only assumed, so its lightness may be well off: hang the tag in the picture next time.")
        });
        for caution in photo.cautions.iter().cloned().chain(own) {
            if cautions.iter().all(|c| c.code != caution.code) {
                cautions.push(caution);
            }
        }
    }
    cautions
}
