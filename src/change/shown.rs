use crate::colour::Lab;
use crate::error::Caution;
use crate::reading::{Basis, State};

/// What a photo shows of a piece, as far as change needs it.
#[derive(Clone, Debug)]
pub struct Shown {
    /// Code of the piece.
    pub piece: String,
    /// The photo's file, where it has one.
    pub file: Option<String>,
    /// What it shows the piece as.
    pub state: State,
    /// How often the piece had been washed, where that is known.
    pub washes: Option<u32>,
    /// When it was taken: `YYYY-MM-DD`, with `THH:MM:SS` where that is known.
    pub taken: Option<String>,
    /// Through how many rounds the piece had gone; only photos of one round are compared.
    pub round: usize,
    /// When that round was made: `YYYY-MM-DD`.
    pub made: Option<String>,
    /// How the piece was made in that round.
    pub settings: Settings,
    /// What its light was known from.
    pub basis: Option<Basis>,
    /// What is to be known about its reading.
    pub cautions: Vec<Caution>,
    /// Its colours; at least one, with shares that sum to more than nothing.
    pub colours: Vec<Colour>,
}

/// How a piece was made, as far as that may tell how it dries; what is not known is `None`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Settings {
    /// Fibre and weave.
    pub cloth: Option<String>,
    /// The soaks in order.
    pub mordant: Option<String>,
    /// The pot or bundle: pieces of one trial are not independent.
    pub trial: Option<String>,
}

/// One dominant colour of a photo.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Colour {
    /// CIELAB.
    pub lab: Lab,
    /// Its share of the cloth; those of a photo sum to about 1.
    pub share: f64,
    /// One standard deviation's worth, CIEDE2000.
    pub doubt: Option<f64>,
}

impl Shown {
    /// Whether nothing but the picture itself told of the light.
    pub fn is_guessed(&self) -> bool {
        self.basis == Some(Basis::Assumed)
    }

    /// Whether of one of its colours nobody said how sure it is.
    pub fn is_undoubted(&self) -> bool {
        self.colours.iter().any(|colour| colour.doubt.is_none())
    }

    /// Its colours with shares made to sum to 1.
    pub(super) fn palette(&self) -> Vec<(Lab, f64)> {
        let whole: f64 = self.colours.iter().map(|c| c.share).sum();
        let one = |colour: &Colour| (colour.lab, colour.share / whole);
        self.colours.iter().map(one).collect()
    }

    /// Whether a caution of this code stands with it.
    pub fn has_caution(&self, code: &str) -> bool {
        self.cautions.iter().any(|c| c.code == code)
    }

    /// Whether it was taken before the other, as far as both dates tell: by the moment where both tell their offset from UTC,
    /// else by the clocks on the wall.
    pub fn is_before(&self, other: &Self) -> bool {
        let (Some(one), Some(other)) = (&self.taken, &other.taken) else {
            return false;
        };
        let moment = |taken: &String| taken.parse::<jiff::Timestamp>().ok();
        if let Some((one, other)) = moment(one).zip(moment(other)) {
            return one < other;
        }
        let common = one.len().min(other.len()).min("YYYY-MM-DDTHH:MM:SS".len());
        one.get(..common) < other.get(..common)
    }
}

/// The photos of one state that count: those whose light was known before those whose light was guessed, and each once.
///
/// True beside them where one was left out because it shows exactly the same colours as another.
pub(super) fn counting<'a>(photos: impl Iterator<Item = &'a Shown>) -> (Vec<&'a Shown>, bool) {
    let all: Vec<&Shown> = photos.collect();
    let known = all.iter().any(|photo| !photo.is_guessed());
    let mut counting: Vec<&Shown> = Vec::new();
    let mut twice = false;
    for photo in all.into_iter().filter(|p| !(known && p.is_guessed())) {
        match counting.iter().any(|other| other.colours == photo.colours) {
            true => twice = true,
            false => counting.push(photo),
        }
    }
    (counting, twice)
}

/// The files of several photos, in the order in which they were taken.
pub(super) fn files(photos: &[&Shown]) -> Vec<String> {
    let mut order: Vec<&Shown> = photos.to_vec();
    order.sort_by(|one, other| one.taken.cmp(&other.taken));
    order
        .iter()
        .filter_map(|photo| photo.file.clone())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(one: &str, other: &str, before: bool) {
        let shown = |taken: &str| Shown {
            piece: String::new(),
            file: None,
            state: State::Wet,
            washes: None,
            taken: Some(taken.to_owned()),
            round: 1,
            made: None,
            settings: Settings::default(),
            basis: None,
            cautions: Vec::new(),
            colours: Vec::new(),
        };
        let found = shown(one).is_before(&shown(other));
        assert_eq!(found, before, "{one} {other}");
    }

    /// RFC 3339, section 4.2: local time less the offset is UTC.
    #[test]
    fn offsets_count_where_both_tell_them() {
        check("2026-05-01T10:00:00+02:00", "2026-05-01T09:30:00Z", true);
        check("2026-05-01T09:30:00Z", "2026-05-01T10:00:00+02:00", false);
        check("2026-05-01T10:00:00+02:00", "2026-05-01T09:30:00", false);
        check("2026-05-01T09:30:00", "2026-05-01T10:00:00", true);
        check("2026-05-01", "2026-05-01T10:00:00", false);
        check("2026-05-01T10:00:00Z", "2026-05-01T10:00:00.000Z", false);
    }
}
