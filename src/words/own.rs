use super::ball;
use crate::colour::{Lab, de00};

/// A colour word of the studio's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Own {
    /// The word as the studio writes it.
    pub name: String,
    /// Its middle.
    pub lab: Lab,
    /// How far from its middle a colour may be and still be called so, CIEDE2000, above 0.
    pub within: f64,
}

impl Own {
    /// Whether a colour may lie within both words.
    pub fn overlaps(&self, other: &Self) -> bool {
        de00(self.lab, other.lab) < self.within + other.within
    }

    /// Whether a colour that is known to `doubt` (one standard deviation's worth, CIEDE2000) is likely enough to lie within the word:
    /// a quarter of the colours that it may be do, as with the standard's full names. True where the doubt is not known.
    pub fn is_likely(&self, lab: Lab, doubt: Option<f64>) -> bool {
        let Some(doubt) = doubt else { return true };
        let ball: Vec<Lab> = std::iter::once(lab).chain(ball(lab, doubt)).collect();
        let reached = ball
            .iter()
            .filter(|near| de00(self.lab, **near) <= self.within);
        4 * reached.count() >= ball.len()
    }
}

/// The studio's own word for a colour: of those that reach as far the one whose middle is nearest, of equals the narrower, of
/// equals again the first.
pub fn own(words: &[Own], lab: Lab) -> Option<&Own> {
    words
        .iter()
        .map(|word| (de00(word.lab, lab), word))
        .filter(|(far, word)| *far <= word.within)
        .min_by(|(one, a), (other, b)| {
            let narrower = || a.within.total_cmp(&b.within);
            one.total_cmp(other).then_with(narrower)
        })
        .map(|(_, word)| word)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn word(name: &str, l: f64, within: f64) -> Own {
        let lab = Lab::new(l, 0.0, 0.0);
        Own {
            name: name.to_owned(),
            lab,
            within,
        }
    }

    /// Greys about L* 50, where CIEDE2000 is the difference in L* within 2 % (its S_L is 1 at 50): from 44 to 50 it is 6.
    #[test]
    fn the_nearest_word_that_reaches_counts() {
        let words = [word("slate", 44.0, 5.0), word("ash", 50.0, 5.0)];
        let check = |l: f64, name: Option<&str>| {
            let found = own(&words, Lab::new(l, 0.0, 0.0));
            assert_eq!(found.map(|word| word.name.as_str()), name, "{l}");
        };
        check(46.5, Some("slate"));
        check(47.5, Some("ash"));
        check(40.0, Some("slate"));
        check(54.5, Some("ash"));
        check(56.0, None);
        assert!(words[0].overlaps(&words[1]));
        assert!(!words[0].overlaps(&word("chalk", 60.0, 5.0)));
        let inner = [word("wide", 50.0, 9.0), word("narrow", 50.0, 2.0)];
        let found = own(&inner, Lab::new(51.0, 0.0, 0.0));
        assert_eq!(found, Some(&inner[1]));
    }

    #[test]
    fn a_word_is_borne_where_the_colour_is_known_well_enough() {
        let ash = word("ash", 50.0, 5.0);
        let check = |word: &Own, l: f64, doubt: Option<f64>, likely: bool| {
            let lab = Lab::new(l, 0.0, 0.0);
            assert_eq!(word.is_likely(lab, doubt), likely, "{l} {doubt:?}");
        };
        check(&ash, 50.0, Some(2.0), true);
        check(&ash, 54.5, Some(2.0), true);
        check(&ash, 50.0, Some(7.0), true);
        check(&ash, 50.0, Some(20.0), false);
        check(&word("hair", 50.0, 0.1), 50.0, Some(7.0), false);
        check(&word("hair", 50.0, 0.1), 50.0, None, true);
    }
}
