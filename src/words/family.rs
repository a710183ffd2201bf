//! The 13 colour families of ISCC-NBS level 1, and the words people use for them.

/// A colour family: the hue names of ISCC-NBS level 1 (NBS Special Publication 440).
///
/// Each of the 29 names of level 2 belongs to the family that the standard puts it in: `greenish yellow` and `orange
/// yellow` are yellows, `olive brown` and `olive green` are olives, `violet` is a purple. A `grayish yellow` is a yellow, a
/// `moderate olive` an olive and not a yellow.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[allow(missing_docs)]
pub enum Family {
    Pink,
    Red,
    Orange,
    Brown,
    Yellow,
    Olive,
    YellowGreen,
    Green,
    Blue,
    Purple,
    White,
    Gray,
    Black,
}

use Family::*;

/// The 29 names of level 2 and the family each belongs to.
const HUES: [(&str, Family); 29] = [
    ("pink", Pink),
    ("yellowish pink", Pink),
    ("purplish pink", Pink),
    ("red", Red),
    ("purplish red", Red),
    ("reddish orange", Orange),
    ("orange", Orange),
    ("reddish brown", Brown),
    ("brown", Brown),
    ("yellowish brown", Brown),
    ("orange yellow", Yellow),
    ("yellow", Yellow),
    ("greenish yellow", Yellow),
    ("olive brown", Olive),
    ("olive", Olive),
    ("olive green", Olive),
    ("yellow green", YellowGreen),
    ("yellowish green", Green),
    ("green", Green),
    ("bluish green", Green),
    ("greenish blue", Blue),
    ("blue", Blue),
    ("purplish blue", Blue),
    ("violet", Purple),
    ("purple", Purple),
    ("reddish purple", Purple),
    ("white", White),
    ("gray", Gray),
    ("black", Black),
];

impl Family {
    /// All families, in the order of the standard.
    pub const ALL: [Self; 13] = [
        Pink,
        Red,
        Orange,
        Brown,
        Yellow,
        Olive,
        YellowGreen,
        Green,
        Blue,
        Purple,
        White,
        Gray,
        Black,
    ];

    /// Its name in the standard, lower case: `yellow green`.
    pub fn name(self) -> &'static str {
        match self {
            Pink => "pink",
            Red => "red",
            Orange => "orange",
            Brown => "brown",
            Yellow => "yellow",
            Olive => "olive",
            YellowGreen => "yellow green",
            Green => "green",
            Blue => "blue",
            Purple => "purple",
            White => "white",
            Gray => "gray",
            Black => "black",
        }
    }

    /// More than one of it: `yellows`.
    pub fn plural(self) -> String {
        format!("{}s", self.name())
    }

    /// The family a word names: any of the 29 names of level 2, singular or plural, in any case; `grey` is `gray`, and
    /// words may be joined by a hyphen.
    pub fn from_word(word: &str) -> Option<Self> {
        let word = word.trim().to_lowercase().replace('-', " ");
        let word = word.replace("grey", "gray");
        let names = |name: &str| word == name || word.strip_suffix('s') == Some(name);
        HUES.iter()
            .find(|(name, _)| names(name))
            .map(|&(_, family)| family)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_family_is_known_by_its_names() {
        for family in Family::ALL {
            assert_eq!(Family::from_word(family.name()), Some(family));
            assert_eq!(Family::from_word(&family.plural()), Some(family));
        }
    }

    #[test]
    fn hues_belong_where_the_standard_puts_them() {
        // NBS Special Publication 440, the table of levels 1 and 2.
        for (word, family) in [
            ("Olive browns", Olive),
            ("olive green", Olive),
            ("violets", Purple),
            ("yellow-greens", YellowGreen),
            ("yellowish greens", Green),
            ("orange yellow", Yellow),
            ("Greys", Gray),
        ] {
            assert_eq!(Family::from_word(word), Some(family), "{word}");
        }
        for word in ["", "s", "blurple", "moderate yellow", "yellowss"] {
            assert_eq!(Family::from_word(word), None, "{word}");
        }
    }
}
