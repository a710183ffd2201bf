//! What the camera's own notes say against a photo, for colour.

use super::Facts;
use crate::error::Caution;

/// How the camera worked on the picture by itself.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Worked {
    /// Whether it brightened and darkened places of the picture on their own: HDR, night, portrait.
    pub(super) locally: bool,
}

/// Cautions that follow from the camera's notes; `gain_map` where the file carries a map of how much brighter each place may
/// be shown.
pub(super) fn cautions(facts: &Facts, worked: Worked, gain_map: bool) -> Vec<Caution> {
    let local_tone = (worked.locally || gain_map).then(|| {
        Caution::new(
            "local-tone",
            "The phone brightened and darkened parts of this photo by itself, which moves colours: switch HDR, night and portrait modes \
             off where that can be done, and photograph in even light without deep shadows in the frame.",
        )
    });
    let flash = (facts.flash == Some(true)).then(|| {
        Caution::new(
            "flash-fired",
            "The flash fired, which lights near things more than far ones and makes wet cloth shine: switch it off and photograph again \
             in open shade by day.",
        )
    });
    let poor = flash.is_none() && luminance(facts).is_some_and(|l| l < POOR_LIGHT);
    let light_poor = poor.then(|| {
        Caution::new(
            "light-poor",
            "There was little light for this photo, as at dusk or under lamps, where colours cannot be told well: photograph again in \
             open shade by day.",
        )
    });
    [local_tone, flash, light_poor]
        .into_iter()
        .flatten()
        .collect()
}

/// Below this, in cd/m², it is dusk or a room: open shade by day is brighter by ten times and more. Common practice, no source.
const POOR_LIGHT: f64 = 50.0;

/// The mean luminance that the camera exposed for, in cd/m²: K N² / (t S) with K = 12.5 (ISO 2720; the constant that cameras
/// commonly use, from memory).
fn luminance(facts: &Facts) -> Option<f64> {
    Some(12.5 * facts.f_number?.powi(2) / (facts.seconds? * facts.iso?))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exposed(f_number: f64, seconds: f64, iso: f64) -> Facts {
        Facts {
            f_number: Some(f_number),
            seconds: Some(seconds),
            iso: Some(iso),
            ..Facts::default()
        }
    }

    #[track_caller]
    fn check(facts: &Facts, locally: bool, gain_map: bool, expected: &[&str]) {
        let told = cautions(facts, Worked { locally }, gain_map);
        let codes: Vec<&str> = told.iter().map(|c| c.code.as_str()).collect();
        assert_eq!(codes, expected, "{facts:?}");
    }

    #[test]
    fn luminance_follows_apex() {
        // Exif's APEX relations worked in Python: Bv = 2 log2 N - log2 t - log2(S / 3.125), and B = 12.5 / 3.125 * 2^Bv.
        for (facts, expected) in [
            (exposed(1.8, 1.0 / 120.0, 50.0), 97.2),
            (exposed(8.0, 1.0 / 125.0, 100.0), 1000.0),
            (exposed(2.8, 1.0 / 60.0, 100.0), 58.8),
        ] {
            let got = luminance(&facts).unwrap();
            assert!((got - expected).abs() < 0.01 * expected, "{got}");
        }
        assert_eq!(luminance(&Facts::default()), None);
    }

    #[test]
    fn each_fault_has_its_caution() {
        let day = exposed(1.8, 1.0 / 500.0, 50.0);
        let lamp = exposed(1.8, 1.0 / 60.0, 400.0);
        let flash = Facts {
            flash: Some(true),
            ..lamp.clone()
        };
        check(&day, false, false, &[]);
        check(&day, true, false, &["local-tone"]);
        check(&day, false, true, &["local-tone"]);
        check(&lamp, false, false, &["light-poor"]);
        check(&flash, false, false, &["flash-fired"]);
        check(&Facts::default(), false, false, &[]);
    }
}
