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
}

/// The studio's own word for a colour: of those that reach as far the one whose middle is nearest, of equals the narrower.
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
}
