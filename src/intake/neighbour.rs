//! Whose light a photo without a reference may borrow.

use crate::error::{Caution, Result};
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::measure::alike;
use crate::reading::{Basis, LIGHT_BORROWED, Light, Reading};

/// Photos so many seconds apart were taken in the same light.
const NEAR: f64 = 600.0;

/// The light of the nearest photo in time that was taken in the same light and had a reference: in the same folder, by the same
/// camera, with the same exposure, at most ten minutes before or after. `None` where there is none or the camera wrote too little.
pub(super) fn light<'a>(photo: &Photo, among: &'a [Photo]) -> Option<&'a Light> {
    let at = seconds(photo)?;
    photo.exposure.camera.as_ref()?;
    among
        .iter()
        // A borrowed light is not lent again.
        .filter(|other| same_light(photo, other) && !other.reading.has_caution(LIGHT_BORROWED))
        .filter_map(|other| {
            let light = other.reading.light.as_ref()?;
            let apart = (seconds(other)? - at).abs();
            (light.basis != Basis::Assumed && apart <= NEAR).then_some((apart, light))
        })
        .min_by(|one, other| one.0.total_cmp(&other.0))
        .map(|(_, light)| light)
}

/// Code of the caution that a photo shows what another of the same moment shows.
pub(super) const TWIN: &str = "burst-duplicate";

/// Photos of one view so few seconds apart are of one burst.
const BURST: f64 = 2.0;

/// The photos taken on the day of `photo`: only they can be its neighbours.
pub(super) fn of_the_day(journal: &Journal, photo: &Photo) -> Result<Vec<Photo>> {
    match photo.taken.as_deref().and_then(|taken| taken.get(..10)) {
        Some(day) => journal.photos_of_day(day),
        None => Ok(Vec::new()),
    }
}

/// The caution that a photo shows what another of the same moment shows.
pub(super) fn burst(photo: &Photo, among: &[Photo]) -> Option<Caution> {
    let at = seconds(photo)?;
    let look = print(photo)?;
    let twin = among.iter().find(|other| {
        let near = seconds(other).is_some_and(|then| (then - at).abs() <= BURST);
        let same = other.exposure.camera == photo.exposure.camera && other.hash != photo.hash;
        near && same && print(other).is_some_and(|their| alike(look, their))
    })?;
    let name = twin.file.as_deref().unwrap_or("another photo");
    Some(Caution::new(
        TWIN,
        format!(
            "This photo shows the same as {name}, taken within two seconds; both count, so the piece counts twice: keep the sharper one."
        ),
    ))
}

fn print(photo: &Photo) -> Option<u64> {
    u64::from_str_radix(photo.print.as_deref()?, 16).ok()
}

/// Whether there was no reference to read by.
pub(super) fn needs_light(reading: &Reading) -> bool {
    reading.basis() == Some(Basis::Assumed)
}

fn same_light(photo: &Photo, other: &Photo) -> bool {
    let (one, two) = (&photo.exposure, &other.exposure);
    let settings = one.seconds.is_some() && one.iso.is_some() && one == two;
    settings && folder(photo) == folder(other) && photo.hash != other.hash
}

fn folder(photo: &Photo) -> Option<&str> {
    let file = photo.file.as_deref()?;
    Some(
        file.rsplit_once(['/', '\\'])
            .map_or("", |(folder, _)| folder),
    )
}

/// When it was taken by the camera's clock, in seconds from some day on.
fn seconds(photo: &Photo) -> Option<f64> {
    let taken = photo.taken.as_deref()?.get(..19)?;
    let number = |from: usize, to: usize| taken.get(from..to)?.parse::<i64>().ok();
    let (year, month, day) = (number(0, 4)?, number(5, 7)?, number(8, 10)?);
    let (hour, minute, second) = (number(11, 13)?, number(14, 16)?, number(17, 19)?);
    // Days since some day by the rule of leap years, counted from March (Richards 2013, Explanatory Supplement, section 15.11).
    let (y, m) = match month > 2 {
        true => (year, month - 3),
        false => (year - 1, month + 9),
    };
    let days = 365 * y + y / 4 - y / 100 + y / 400 + (153 * m + 2) / 5 + day;
    Some((days * 86_400 + hour * 3_600 + minute * 60 + second) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::record::Exposure;
    use crate::reading::Doubt;

    fn photo(file: &str, taken: &str, seconds: f64, basis: Basis) -> Photo {
        Photo {
            file: Some(file.to_owned()),
            hash: Some(format!("{file}{taken}")),
            taken: Some(taken.to_owned()),
            exposure: Exposure {
                camera: Some("box with a lens".to_owned()),
                seconds: Some(seconds),
                iso: Some(64.0),
                ..Exposure::default()
            },
            reading: Reading {
                light: Some(Light {
                    basis,
                    doubt: Some(Doubt::even(seconds)),
                    ..Light::default()
                }),
                ..Reading::default()
            },
            ..Photo::default()
        }
    }

    #[track_caller]
    fn check(lender: Photo, lends: bool) {
        let bare = photo("may/a.jpg", "2026-05-01T00:02:00", 0.01, Basis::Assumed);
        assert_eq!(light(&bare, &[bare.clone(), lender]).is_some(), lends);
    }

    #[test]
    fn light_is_borrowed_from_a_neighbour_in_time_and_setting() {
        let lender = |file, taken, seconds| photo(file, taken, seconds, Basis::Tag);
        check(lender("may/b.jpg", "2026-05-01T00:08:00", 0.01), true);
        check(lender("may/b.jpg", "2026-04-30T23:55:00+02:00", 0.01), true);
        check(lender("may/b.jpg", "2026-05-01T00:13:00", 0.01), false);
        check(lender("may/b.jpg", "2026-05-01T00:03:00", 0.02), false);
        check(lender("june/b.jpg", "2026-05-01T00:03:00", 0.01), false);
        check(lender("may/b.jpg", "yesterday", 0.01), false);
        check(
            photo("may/b.jpg", "2026-05-01T00:03:00", 0.01, Basis::Assumed),
            false,
        );
        let mut other = lender("may/b.jpg", "2026-05-01T00:03:00", 0.01);
        other.exposure.camera = None;
        check(other, false);
    }
}
