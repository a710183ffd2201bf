//! Colour names of an open standard, and the families people ask for.
//!
//! The names are those of the ISCC-NBS system (NBS Special Publication 440, Kelly & Judd 1976), found through Munsell hue,
//! value and chroma. They are written as the standard writes them, lower case and with American spelling: `light grayish
//! yellowish brown`. A colour that is known only roughly gets a coarser name.

mod blocks;
mod family;
mod munsell;
mod numbers;
mod own;

pub use family::Family;
pub use numbers::lab_from_text;
pub use own::{Own, own};

use crate::colour::Lab;
use munsell::{UnderC, munsell};

/// A colour's name and how fine it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// The name, lower case: `moderate yellow`.
    pub text: String,
    /// The ISCC-NBS level: 3 is one of 267 names, 2 one of 29, 1 one of 13.
    pub level: u8,
}

/// A doubt of half the way from the middle of one full name to the next, CIEDE2000; see the first test.
const WIDE: f64 = 4.0;

/// The finest name that the doubt allows; `doubt` is one standard deviation's worth, CIEDE2000, 0 upwards.
///
/// The colours that the true one may be lie in a ball round `lab`, thinner outwards (a normal distribution with 68 % of it
/// nearer than `doubt`). Of the names of `lab`'s own family, the full name that most of the ball bears is used if that is at
/// least a quarter (the names around share the rest between them), or a third if the doubt is so wide that every colour lies
/// between names; else the hue name that most bears if that is at least half, else the family.
pub fn word(lab: Lab, doubt: f64) -> Word {
    let name = blocks::name(munsell(UnderC::of(lab)));
    let ball: Vec<_> = std::iter::once(name)
        .chain(ball(lab, doubt).map(|near| blocks::name(munsell(UnderC::of(near)))))
        .collect();
    // A word of another family would gainsay the answers, which count a colour to the family it is in.
    let kin = || ball.iter().filter(|near| near.family == name.family);
    let (full, so_named) = commonest(kin().map(|near| near.full.as_str()));
    let enough = if doubt < WIDE { 4 } else { 3 };
    if enough * so_named >= ball.len() {
        return Word {
            text: full,
            level: 3,
        };
    }
    let (hue, so_named) = commonest(kin().map(|near| near.hue.as_str()));
    if 2 * so_named >= ball.len() {
        return Word {
            text: hue,
            level: 2,
        };
    }
    Word {
        text: name.family.name().to_owned(),
        level: 1,
    }
}

/// What the standard calls `lab` where `name` is one of its names, but for other colours; `None` where it is none or fits.
pub fn called_otherwise(name: &str, lab: Lab) -> Option<&'static str> {
    let name = name.to_lowercase().replace("grey", "gray");
    let levels = |of: &'static blocks::Name| [of.full.as_str(), &of.hue, of.family.name()];
    let right = levels(blocks::name(munsell(UnderC::of(lab))));
    if right.contains(&name.as_str()) {
        return None;
    }
    let is_so_called = |of| levels(of).iter().position(|known| *known == name);
    blocks::names()
        .find_map(is_so_called)
        .map(|level| right[level])
}

/// The name that comes most often, the first of several, and how often.
fn commonest<'a>(names: impl Iterator<Item = &'a str>) -> (String, usize) {
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for name in names {
        match counts.iter_mut().find(|(other, _)| *other == name) {
            Some((_, count)) => *count += 1,
            None => counts.push((name, 1)),
        }
    }
    // Of equals, `max_by_key` takes the last.
    let most = counts.into_iter().rev().max_by_key(|(_, count)| *count);
    most.map_or_else(Default::default, |(name, count)| (name.to_owned(), count))
}

/// The family a colour belongs to.
///
/// A tinted neutral belongs to its noun: a `yellowish white` is a white, though the standard's table lists it under yellow.
pub fn family(lab: Lab) -> Family {
    blocks::name(munsell(UnderC::of(lab))).family
}

/// Whether [`family()`] is this one; quicker, since most colours of others are told by their angle.
pub fn is_of_family(lab: Lab, wanted: Family) -> bool {
    let colour = UnderC::of(lab);
    blocks::may_be(wanted, colour.angle()) && blocks::name(munsell(colour)).family == wanted
}

/// Colours round `lab`, all equally likely where `doubt` holds 68 % of a normal distribution in three dimensions: on the
/// middles of its three equal shells, towards the 6 sides and 8 corners of a cube, with the steps of CIEDE2000 there.
fn ball(lab: Lab, doubt: f64) -> impl Iterator<Item = Lab> {
    /// Radii that hold 1/6, 3/6 and 5/6 of it, in units of the radius that holds 68.27 %.
    const SHELLS: [f64; 3] = [0.4959, 0.8191, 1.1991];
    let chroma = lab.a.hypot(lab.b);
    let (across, along) = lab.b.atan2(lab.a).sin_cos();
    let from_middle = (lab.l - 50.0).powi(2);
    let (s_l, s_c) = (
        1.0 + 0.015 * from_middle / (20.0 + from_middle).sqrt(),
        1.0 + 0.045 * chroma,
    );
    // S_H without its factor T, which stays between 0.4 and 1.6.
    let s_h = 1.0 + 0.015 * chroma;
    SHELLS.into_iter().flat_map(move |shell| {
        directions().map(move |[l, c, h]| {
            let far = shell * doubt;
            let (c, h) = (far * c * s_c, far * h * s_h);
            Lab::new(
                lab.l + far * l * s_l,
                lab.a + c * along - h * across,
                lab.b + c * across + h * along,
            )
        })
    })
}

/// Unit vectors to the sides and corners of a cube.
fn directions() -> impl Iterator<Item = [f64; 3]> {
    let steps = || [-1.0, 0.0, 1.0].into_iter();
    let all = steps().flat_map(move |x| steps().flat_map(move |y| steps().map(move |z| [x, y, z])));
    all.filter_map(|vector: [f64; 3]| {
        let moved = vector.iter().filter(|v| **v != 0.0).count();
        (moved == 1 || moved == 3).then(|| vector.map(|v| v / (moved as f64).sqrt()))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::colour::de00;
    use proptest::prelude::*;

    fn check(lab: [f64; 3], doubt: f64, text: &str, level: u8) {
        let [l, a, b] = lab;
        let found = word(Lab::new(l, a, b), doubt);
        assert_eq!((found.text.as_str(), found.level), (text, level), "{lab:?}");
    }

    proptest! {
        /// The short way says what the long one does, of any colour and far beyond.
        #[test]
        fn a_family_is_told_either_way(l in -5.0..110.0, a in -150.0..150.0, b in -150.0..150.0, nearer in 0.0..1.0) {
            let lab = Lab::new(l, nearer * a, nearer * b);
            for wanted in Family::ALL {
                prop_assert_eq!(is_of_family(lab, wanted), family(lab) == wanted);
            }
        }
    }

    #[test]
    fn a_known_colour_has_its_full_name_and_a_doubtful_one_a_coarser_one() {
        // The middle of moderate yellow (2Y 7/7): its neighbours are about 8 away.
        let yellow = [71.2, 5.9, 48.0];
        check(yellow, 0.0, "moderate yellow", 3);
        check(yellow, 2.0, "moderate yellow", 3);
        check(yellow, 8.0, "yellow", 2);
        check([47.0, 12.0, 24.0], 20.0, "brown", 1);
    }

    /// A sliver of one name between others: what is known roughly has the name around it.
    #[test]
    fn a_name_is_the_likeliest() {
        let sliver = [66.0, 12.0, 34.0];
        check(sliver, 0.0, "light brown", 3);
        check(sliver, 2.0, "light yellowish brown", 3);
    }

    #[test]
    fn a_name_of_the_standard_for_another_colour_is_known() {
        let brown = Lab::new(40.0, 10.0, 40.0);
        let check = |name: &str, otherwise: Option<&str>| {
            assert_eq!(called_otherwise(name, brown), otherwise, "{name}");
        };
        let right = word(brown, 0.0).text;
        check(&right, None);
        check("rust", None);
        check("moderate yellow", Some(&right));
        check("Dark Grey", Some(&right));
        check(
            "greenish blue",
            Some(&blocks::name(munsell(UnderC::of(brown))).hue),
        );
    }

    #[test]
    fn a_colour_that_cannot_be_has_a_word_too() {
        for lab in [
            [50.0, 0.0, 0.0],
            [300.0, 500.0, -500.0],
            [-10.0, -500.0, 500.0],
        ] {
            for doubt in [0.0, 1e15, 1e300] {
                let found = word(Lab::new(lab[0], lab[1], lab[2]), doubt);
                assert!(!found.text.is_empty(), "{lab:?} {doubt}");
            }
        }
    }

    #[test]
    fn undyed_cloth_is_a_white_and_not_a_yellow() {
        let cream = Lab::new(91.0, 0.5, 7.0);
        assert_eq!(word(cream, 0.5).text, "yellowish white");
        assert_eq!(family(cream), Family::White);
    }

    #[test]
    fn the_ball_holds_its_doubt() {
        let middle = Lab::new(45.0, 12.0, 25.0);
        let far: Vec<f64> = ball(middle, 2.0).map(|near| de00(middle, near)).collect();
        assert_eq!(far.len(), 42);
        // The middle shell, which holds half of a ball of 2, lies at 1.64; steps leave out S_H's T and the hue rotation.
        let mean = far[14..28].iter().sum::<f64>() / 14.0;
        assert!((mean - 1.638).abs() < 0.2, "{mean}");
    }

    proptest! {
        #[test]
        fn every_colour_has_a_word(
            l in -10.0..120.0, a in -128.0..127.0, b in -128.0..127.0, doubt in 0.0..30.0,
        ) {
            let lab = Lab::new(l, a, b);
            let word = word(lab, doubt);
            prop_assert!((1..=3).contains(&word.level) && !word.text.is_empty());
            prop_assert!(word.level > 1 || word.text == family(lab).name());
        }
    }
}
