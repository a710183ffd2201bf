//! What is foreseen, as a record and in words.

use super::super::opened::own_words;
use crate::change::Foreseen;
use crate::colour::{Lab, hex_to_lab, triple};
use crate::error::{Caution, Error, Result, short};
use crate::journal::{Journal, colour_word_name};
use crate::words::lab_from_text;
use serde::Serialize;

/// What is foreseen of a photo; its serde form is `foresee --json`.
#[derive(Clone, Debug, Serialize)]
pub struct Outlook {
    /// The photo's file.
    pub photo: Option<String>,
    /// The piece it shows, where that is known.
    pub piece: Option<String>,
    /// `physics`, or `journal` where pieces that were seen wet and dry have a say.
    pub basis: &'static str,
    /// How many such pieces.
    pub pairs: usize,
    /// The mean error of such forecasts in this journal, each piece foreseen from all others, CIEDE2000; `None` without pairs.
    pub off: Option<f64>,
    /// The colours, largest share first.
    pub swatches: Vec<Foreseen>,
    /// The chance that it comes near to what is wished for; `None` where nothing is.
    pub toward: Option<Chance>,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
}

/// The chance that the dry piece comes near to what is wished for.
#[derive(Clone, Debug, Serialize)]
pub struct Chance {
    /// The piece it is to look like.
    pub piece: Option<String>,
    /// Or the colour one of its colours is to be, CIELAB.
    #[serde(with = "perhaps")]
    pub lab: Option<Lab>,
    /// How near counts, CIEDE2000.
    pub within: f64,
    /// 0 to 1.
    pub chance: f64,
}

/// What a dry piece is wished to look like.
#[derive(Clone, Debug, PartialEq)]
pub enum Toward {
    /// As this piece of the journal did, dry.
    Piece(String),
    /// It is to have this colour.
    Colour(Lab),
}

impl Toward {
    /// A piece of the journal, else the middle of one of the studio's own colour words, both in whatever capitals, else a colour.
    ///
    /// # Errors
    /// `Caller` where it is neither.
    pub fn read(text: &str, journal: Option<&Journal>) -> Result<Self> {
        let piece = match journal {
            Some(journal) => journal.piece(text)?,
            None => None,
        };
        if let Some(piece) = piece {
            return Ok(Self::Piece(piece.code));
        }
        let words = match journal {
            Some(journal) => own_words(&journal.studio()?),
            None => Vec::new(),
        };
        let key = colour_word_name(text.trim());
        match words.iter().find(|word| colour_word_name(&word.name) == key) {
            Some(word) => Ok(Self::Colour(word.lab)),
            None if text.trim().is_empty() => Err(Error::caller(
                "What to aim at is empty: write a piece's code, or a colour such as 62,14,38.",
            )),
            None if text.starts_with('#') => hex_to_lab(text).map(Self::Colour).ok_or_else(|| {
                Error::caller(format!(
                    "“{}” is not a colour; write # and six digits or letters from a to f, such as #b08a4e.",
                    short(text)
                ))
            }),
            None if text.contains(',') => Ok(Self::Colour(lab_from_text(text)?)),
            None => Err(Error::caller(format!(
                "“{}” is neither a piece of the journal, nor a colour word of your own, nor a colour in numbers: write a piece's code, a word that you named a colour with, L*, a* and b* with commas between, such as 62,14,38, or a screen's colour such as #b08a4e.",
                short(text)
            ))),
        }
    }
}

/// What is aimed at, and how near counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Aim {
    /// Towards what.
    pub toward: Toward,
    /// How near counts, CIEDE2000, above 0.
    pub within: f64,
}

impl Outlook {
    /// Whether another round is worth thinking about, in a sentence or two, and what it rests on.
    pub fn in_words(&self) -> (String, String) {
        let piece = self.piece.as_deref().unwrap_or("The piece");
        let lighter: f64 = self
            .swatches
            .iter()
            .map(|s| s.share * (s.dry.l - s.wet.l))
            .sum();
        let mut told = match whole(lighter) {
            0.0 => format!("{piece} will be as light dry as it is wet, as far as this can tell."),
            darker if darker < 0.0 => format!("{piece} will dry about {:.0} L* darker.", -darker),
            lighter => format!("{piece} will dry about {lighter:.0} L* lighter."),
        };
        if let Some(aim) = &self.toward {
            told.push_str(&format!(" {}", aim.in_words()));
        }
        let rests = match (self.pairs, self.off) {
            (1, Some(off)) => format!("From what water does to cloth and one piece seen wet and dry; water alone was off by {off:.1} CIEDE2000 there."),
            (pairs, Some(off)) => format!("From what water does to cloth and {pairs} pieces seen wet and dry; each foreseen from the others was off by {off:.1} CIEDE2000 on average."),
            _ => "From what water does to cloth alone: no other piece has been seen both wet and dry.".to_owned(),
        };
        (
            told,
            format!(
                "{rests} Of twenty dry photos nineteen should show each number within its range. A step of 1, in L* or in CIEDE2000, is just seen side by side; 5 is another colour."
            ),
        )
    }
}

impl Chance {
    /// The chance as a sentence.
    fn in_words(&self) -> String {
        let near = format!("within {} CIEDE2000", self.within);
        let hundred = match 100.0 * self.chance {
            least if least < 1.0 => "less than 1".to_owned(),
            most if most > 99.0 => "more than 99".to_owned(),
            chance => format!("about {chance:.0}"),
        };
        let aim = match (&self.piece, self.lab) {
            (Some(code), _) => format!("it comes {near} of {code} as that dried"),
            (None, Some(lab)) => format!(
                "it has a colour {near} of {:.0},{:.0},{:.0}",
                lab.l, lab.a, lab.b
            ),
            (None, None) => format!("it comes {near}"),
        };
        format!("The chance that {aim}: {hundred} in a hundred.")
    }

    /// Of what is aimed at.
    pub(super) fn of(aim: &Aim, chance: f64) -> Self {
        let (piece, lab) = match &aim.toward {
            Toward::Piece(code) => (Some(code.clone()), None),
            Toward::Colour(lab) => (None, Some(*lab)),
        };
        Self {
            piece,
            lab,
            within: aim.within,
            chance,
        }
    }
}

/// A number without its decimals, and without a minus where nothing is left of it.
pub fn whole(number: f64) -> f64 {
    number.round() + 0.0
}

/// Serde form of a colour that may be missing.
mod perhaps {
    use super::{Lab, triple};
    use serde::{Serialize, Serializer};

    pub fn serialize<S: Serializer>(lab: &Option<Lab>, to: S) -> Result<S::Ok, S::Error> {
        #[derive(Serialize)]
        struct Told(#[serde(with = "triple")] Lab);
        lab.map(Told).serialize(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, wanted: Option<[f64; 3]>) {
        let wanted = wanted.map(|[l, a, b]| Toward::Colour(Lab::new(l, a, b)));
        assert_eq!(Toward::read(text, None).ok(), wanted, "{text}");
    }

    #[test]
    fn a_wish_is_a_colour_that_there_is() {
        check("62, -4,38.5", Some([62.0, -4.0, 38.5]));
        check("62, 8, 45", Some([62.0, 8.0, 45.0]));
        let white = hex_to_lab("#ffffff").map(|lab| [lab.l, lab.a, lab.b]);
        check("#FFFFFF", white);
        for text in [
            "LB007", "62,14", "62,nan,3", "620,8,45", "101,0,0", "62,8,450", "62 8 45", "", "#b08",
            "#b08a4g",
        ] {
            check(text, None);
        }
    }
}
