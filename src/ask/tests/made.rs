//! Journals made for the tests of answers.

use super::super::*;
use crate::colour::Lab;
use crate::journal::Journal;
use crate::journal::record::{Photo, Piece, PlantUse, Round, Soak};
use crate::reading::{Reading, State, Swatch};
use jiff::civil::date;

const BROWN: [f64; 3] = [35.0, 10.0, 12.0];

/// A made journal, entered piece by piece.
#[derive(Default)]
pub struct Made {
    pub pieces: Vec<Piece>,
    pub photos: Vec<Photo>,
}

impl Made {
    /// A piece of one round; an empty pot is an unknown one. Mordants and plants are separated by ` > `.
    pub fn piece(&mut self, code: &str, pot: &str, mordant: &str, plants: &str) -> &mut Self {
        let soak = |name: &str| Soak {
            mordant: name.to_owned(),
            ..Soak::default()
        };
        let plant = |name: &str| PlantUse {
            name: name.to_owned(),
            how: Vec::new(),
        };
        let list = |names: &str| -> Vec<String> {
            let names = names.split(" > ").filter(|n| !n.is_empty());
            names.map(str::to_owned).collect()
        };
        self.pieces.push(Piece {
            code: code.to_owned(),
            rounds: vec![Round {
                round: 1,
                pot: Some(pot.to_owned()).filter(|p| !p.is_empty()),
                soaks: list(mordant).iter().map(|s| soak(s)).collect(),
                plants: list(plants).iter().map(|p| plant(p)).collect(),
                ..Round::default()
            }],
            ..Piece::default()
        });
        self
    }

    /// A photo of the piece entered last.
    pub fn photo(&mut self, state: State, colours: &[([f64; 3], f64)]) -> &mut Self {
        let swatch = |&([l, a, b], share): &([f64; 3], f64)| Swatch {
            lab: Lab::new(l, a, b),
            share,
            doubt: None,
            word: None,
            word_level: None,
            srgb: None,
            part: None,
            plant: None,
        };
        self.photos.push(Photo {
            piece: self.pieces.last().map(|p| p.code.clone()),
            state: Some(state),
            reading: Reading {
                swatches: colours.iter().map(swatch).collect(),
                ..Reading::default()
            },
            ..Photo::default()
        });
        self
    }

    /// Pieces by mordant and pot with one dry colour, a grey of this L\*.
    pub fn greys(rows: &[(&str, &str, f64)]) -> Self {
        let mut made = Self::default();
        for (n, &(mordant, pot, l)) in rows.iter().enumerate() {
            let code = format!("G{n}");
            made.piece(&code, pot, mordant, "")
                .photo(State::Dry, &[([l, 0.0, 0.0], 1.0)]);
        }
        made
    }

    /// The answer from a journal that holds these pieces and photos; today is 2026-07-15.
    #[track_caller]
    pub fn ask(&self, question: &str) -> Answer {
        self.try_ask(question).unwrap()
    }

    /// The same, or the refusal.
    pub fn try_ask(&self, question: &str) -> Result<Answer> {
        let names = Names::of(&self.gist(&[]).pieces, &[]);
        let asked = read(question, &names, date(2026, 7, 15))?;
        let gist = self.gist(states(&asked));
        let changed = self.journal(|journal| Changed::of(journal, &asked).unwrap());
        let known = Known {
            gist: &gist,
            baths: &[],
            own: &[],
            changed: &changed,
            degrees: Degrees::Celsius,
        };
        answer(question, asked, &known)
    }

    fn gist(&self, states: &[State]) -> Gist {
        self.journal(|journal| journal.gist(states).unwrap())
    }

    /// What is found in a journal that holds these pieces and photos.
    pub fn journal<T>(&self, find: impl Fn(&Journal) -> T) -> T {
        let folder = tempfile::tempdir().unwrap();
        let mut journal = Journal::open_or_create(folder.path()).unwrap();
        let mut all = journal.export().unwrap();
        (all.pieces, all.photos) = (self.pieces.clone(), self.photos.clone());
        journal.import(&all).unwrap();
        find(&journal)
    }
}

/// Nine pieces of three mordants, each in a pot of its own but two; one of them has no yellow at all.
pub fn yellows() -> Made {
    let mut made = Made::default();
    let mut add = |code: &str, pot: &str, mordant: &str, yellows: &[([f64; 3], f64)]| {
        let rest = 1.0 - yellows.iter().map(|y| y.1).sum::<f64>();
        let mut colours = yellows.to_vec();
        colours.push((BROWN, rest));
        made.piece(code, pot, mordant, "walnut")
            .photo(State::Dry, &colours);
    };
    add(
        "A1",
        "1",
        "alum > iron",
        &[([72.0, 14.0, 62.0], 0.5), ([70.0, 12.0, 50.0], 0.25)],
    );
    add("A2", "8", "alum > iron", &[([74.0, 13.0, 58.0], 0.4)]);
    add("A3", "2", "alum > iron", &[([71.0, 15.0, 60.0], 0.6)]);
    add("A4", "3", "alum > iron", &[([73.0, 13.0, 66.0], 0.3)]);
    add("B1", "4", "alum", &[([76.0, 5.0, 45.0], 0.5)]);
    add("B2", "5", "alum", &[([78.0, 4.0, 48.0], 0.7)]);
    add("B3", "6", "alum", &[([77.0, 5.0, 41.0], 0.2)]);
    add("B4", "6", "alum", &[]);
    add("C1", "7", "iron", &[([60.0, 3.0, 35.0], 0.1)]);
    made
}
