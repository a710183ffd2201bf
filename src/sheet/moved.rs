//! Rounds that were written to the wrong piece, or should not be there at all.

use super::column::Column;
use super::entered::Change;
use crate::journal::record::{Piece, Round};

/// A round that a piece does not have any more.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// The code of the piece that has it so far.
    pub piece: String,
    /// Its number there, from 1.
    pub round: u32,
    /// The piece that it really belongs to and its number there; `None` where it is nobody's.
    pub to: Option<(String, u32)>,
}

impl Moved {
    fn is_of(&self, piece: &Piece, round: &Round) -> bool {
        piece.code == self.piece && round.round == self.round
    }

    fn of<'a>(&self, pieces: &'a [Piece]) -> Option<&'a Round> {
        let piece = pieces.iter().find(|piece| piece.code == self.piece)?;
        piece.rounds.iter().find(|round| self.is_of(piece, round))
    }

    /// What is told of it.
    pub(super) fn change(&self) -> Change {
        Change {
            piece: self.piece.clone(),
            round: Some(self.round),
            field: Column::Round.name().to_owned(),
            from: self.round.to_string(),
            to: String::new(),
        }
    }
}

/// The pieces without the rounds that moved away.
pub(super) fn without(pieces: &[Piece], moved: &[Moved]) -> Vec<Piece> {
    let mut left = pieces.to_vec();
    for piece in &mut left {
        let away: Vec<bool> = piece
            .rounds
            .iter()
            .map(|round| moved.iter().any(|one| one.is_of(piece, round)))
            .collect();
        let mut away = away.into_iter();
        piece.rounds.retain(|_| !away.next().unwrap_or_default());
    }
    left
}

/// Gives the rounds that moved to one of `put` the settings that they had before and that no table told.
pub(super) fn carry(before: &[Piece], moved: &[Moved], put: &mut [Piece]) {
    for one in moved {
        let (Some(old), Some((code, number))) = (one.of(before), &one.to) else {
            continue;
        };
        let piece = put.iter_mut().find(|piece| piece.code == *code);
        let rounds = piece.into_iter().flat_map(|piece| &mut piece.rounds);
        for round in rounds.filter(|round| round.round == *number) {
            for (name, value) in &old.settings {
                let kept = round.settings.entry(name.clone());
                kept.or_insert_with(|| value.clone());
            }
        }
    }
}

/// Those of `left` that lost a round and are not `put` anyway.
pub(super) fn emptied(before: &[Piece], left: Vec<Piece>, put: &[Piece]) -> Vec<Piece> {
    let pairs = before.iter().zip(left);
    let lost = pairs.filter(|(before, left)| before.rounds.len() > left.rounds.len());
    lost.map(|(_, left)| left)
        .filter(|left| put.iter().all(|piece| piece.code != left.code))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::super::{Table, delimited, enter_bundle, enter_table};
    use super::*;
    use crate::journal::Journal;

    fn table(csv: &str) -> Table {
        delimited::parse("s.csv", csv.as_bytes()).expect("the test's own sheet")
    }

    #[test]
    fn a_round_moves_to_the_piece_it_belongs_to() {
        let folder = tempfile::tempdir().unwrap();
        let mut journal = Journal::open_or_create(folder.path()).unwrap();
        let sheet =
            table("piece,bundle,mordant,cool_h\nLB001,B1,alum 12%,10\nLB002,B1,iron 2%,12\n");
        enter_table(&mut journal, &sheet).unwrap();
        let to = |to: &str| Moved {
            piece: "LB001".to_owned(),
            round: 1,
            to: (!to.is_empty()).then(|| (to.to_owned(), 1)),
        };
        let right = table("piece,bundle,mordant\nLB003,B1,alum 12%\nLB002,B1,iron 2%\n");
        let told = enter_bundle(&mut journal, &right, &[to("LB003")]).unwrap();
        assert_eq!(told.new, ["LB003"]);
        assert_eq!(told.changed[0].to_string(), "LB001: round 1 is taken out");
        let round = |journal: &Journal, code: &str| {
            let piece = journal.piece(code).unwrap().expect("there");
            piece.rounds.first().map(|round| round.settings.clone())
        };
        assert_eq!(round(&journal, "LB001"), None);
        assert_eq!(round(&journal, "LB003").expect("moved").len(), 1);
        // Two codes that were mixed up.
        let swapped = table("piece,bundle,mordant\nLB002,B1,alum 12%\nLB003,B1,iron 2%\n");
        let moves = [("LB003", "LB002"), ("LB002", "LB003")].map(|(from, to)| Moved {
            piece: from.to_owned(),
            round: 1,
            to: Some((to.to_owned(), 1)),
        });
        let before = [round(&journal, "LB002"), round(&journal, "LB003")];
        enter_bundle(&mut journal, &swapped, &moves).unwrap();
        assert_eq!([round(&journal, "LB003"), round(&journal, "LB002")], before);
        // The last layer taken out leaves no table.
        let none = Table::filled("this bundle", &["piece"], Vec::new());
        let gone = ["LB002", "LB003"].map(|code| Moved {
            piece: code.to_owned(),
            round: 1,
            to: None,
        });
        enter_bundle(&mut journal, &none, &gone).unwrap();
        assert_eq!(round(&journal, "LB002"), None);
        assert!(enter_table(&mut journal, &none).is_err());
    }
}
