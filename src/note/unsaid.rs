//! What a note leaves unsaid, since it would promise what a photo cannot show.

use super::language::Messages;
use super::sentences::Teller;
use crate::care::must_not_say;
use crate::error::Caution;
use crate::journal::record::Piece;

/// Keeps promises out of the note of a piece, and an account of them.
pub struct Unsaid<'a> {
    code: &'a str,
    cautions: Vec<Caution>,
}

impl<'a> Unsaid<'a> {
    /// Of the piece with this code.
    pub fn of(code: &'a str) -> Self {
        Self {
            code,
            cautions: vec![],
        }
    }

    /// Whether the note may say this; what it may not is told to the studio.
    pub fn allows(&mut self, words: &str) -> bool {
        let Some(why) = must_not_say(words) else {
            return true;
        };
        let text = format!("The note of {} leaves out “{words}”: {why}.", self.code);
        let caution = Caution::new("not-in-note", text);
        if !self.cautions.contains(&caution) {
            self.cautions.push(caution);
        }
        false
    }

    /// What stands in the note for the piece's code: the code, unless that is a promise, then what the piece is.
    pub fn name(&mut self, thing: &str) -> String {
        let Some(why) = must_not_say(self.code) else {
            return self.code.to_owned();
        };
        let text = format!(
            "The note calls {} “{thing}” and not by its code, which is a promise: {why}.",
            self.code
        );
        self.cautions.push(Caution::new("code-not-in-note", text));
        thing.to_owned()
    }

    /// The piece without the words that promise something together though none does alone: a `chemical` weave and a `free scarf`.
    pub fn apart(&mut self, piece: &Piece, messages: &Messages) -> Piece {
        let mut piece = piece.clone();
        let drop: [fn(&mut Piece); 3] = [
            |piece| {
                for round in &mut piece.rounds {
                    round.settings.clear();
                }
            },
            |piece| piece.weave = None,
            |piece| piece.fibre = None,
        ];
        for drop in drop {
            let mut teller = Teller {
                messages,
                allowed: |words: &str| self.allows(words),
            };
            let thing = teller.thing(&piece);
            if self.allows(&thing) {
                break;
            }
            drop(&mut piece);
        }
        piece
    }

    /// What was left out and why.
    pub fn cautions(self) -> Vec<Caution> {
        self.cautions
    }
}

/// That no note will call a colour by this word, and why; `None` where notes may.
pub fn never_said(word: &str) -> Option<String> {
    let why = must_not_say(word)?;
    Some(format!(
        "No note will call a colour “{word}”, though questions know it: {why}."
    ))
}
