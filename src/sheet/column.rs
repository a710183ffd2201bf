//! The columns a sheet may have, and the headings people write over them.

use crate::error::{Caution, slips};
use std::collections::BTreeMap;

/// A column whose meaning is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Column {
    Piece,
    Round,
    Bundle,
    Pot,
    Made,
    Layer,
    Fibre,
    Weave,
    Momme,
    Gsm,
    DryG,
    WidthCm,
    WidthIn,
    LengthCm,
    LengthIn,
    Mordant,
    Plants,
    Heat,
    LowC,
    LowF,
    HighC,
    HighF,
    Minutes,
    CoolH,
    CureDays,
    WaterPh,
    Blanket,
    Barrier,
    WashedOn,
    Status,
    Price,
    Remarks,
}

impl Column {
    /// Every column with its heading, in the order in which sheets are written.
    pub const ALL: [(Self, &str); 32] = [
        (Self::Piece, "piece"),
        (Self::Round, "round"),
        (Self::Bundle, "bundle"),
        (Self::Pot, "pot"),
        (Self::Made, "made"),
        (Self::Layer, "layer"),
        (Self::Fibre, "fibre"),
        (Self::Weave, "weave"),
        (Self::Momme, "momme"),
        (Self::Gsm, "gsm"),
        (Self::DryG, "dry_g"),
        (Self::WidthCm, "width_cm"),
        (Self::WidthIn, "width_in"),
        (Self::LengthCm, "length_cm"),
        (Self::LengthIn, "length_in"),
        (Self::Mordant, "mordant"),
        (Self::Plants, "plants"),
        (Self::Heat, "heat"),
        (Self::LowC, "simmer_low_c"),
        (Self::LowF, "simmer_low_f"),
        (Self::HighC, "simmer_high_c"),
        (Self::HighF, "simmer_high_f"),
        (Self::Minutes, "simmer_min"),
        (Self::CoolH, "cool_h"),
        (Self::CureDays, "cure_days"),
        (Self::WaterPh, "water_ph"),
        (Self::Blanket, "blanket"),
        (Self::Barrier, "barrier"),
        (Self::WashedOn, "washed_on"),
        (Self::Status, "status"),
        (Self::Price, "price"),
        (Self::Remarks, "remarks"),
    ];

    /// Columns that are settings of a round, kept under their own names.
    pub const SETTINGS: [Self; 6] = [
        Self::CoolH,
        Self::CureDays,
        Self::WaterPh,
        Self::Blanket,
        Self::Barrier,
        Self::WashedOn,
    ];

    /// Its heading.
    pub fn name(self) -> &'static str {
        Self::ALL
            .iter()
            .find(|(column, _)| *column == self)
            .map_or("", |(_, name)| name)
    }

    /// The column of a heading in any case, with spaces, hyphens or brackets where the name has `_`.
    fn of_heading(heading: &str) -> Option<Self> {
        let plain = plain(heading);
        let plain = if plain == "fiber" { "fibre" } else { &plain };
        Self::ALL
            .iter()
            .find(|(_, name)| *name == plain)
            .map(|(column, _)| *column)
    }
}

/// A heading in lower case, words joined by `_`: `Width (cm)` is `width_cm`.
pub(super) fn plain(heading: &str) -> String {
    let lower = heading.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric());
    words
        .filter(|word| !word.is_empty())
        .collect::<Vec<_>>()
        .join("_")
}

/// Which column stands where.
#[derive(Debug, Default)]
pub(super) struct Headings {
    known: BTreeMap<Column, usize>,
    /// The studio's own columns, as written, with their places.
    pub own: Vec<(String, usize)>,
    /// How many columns have a heading or stand before one that has.
    width: usize,
    /// Places without a heading, before the last heading.
    gaps: Vec<usize>,
    pub cautions: Vec<Caution>,
}

impl Headings {
    /// Understands headings; what is wrong with them goes to `problems`.
    pub fn new(headings: &[String], problems: &mut Vec<String>) -> Self {
        let mut found = Self {
            width: headings.len(),
            ..Self::default()
        };
        let mut seen: BTreeMap<String, usize> = BTreeMap::new();
        for (place, heading) in headings.iter().enumerate() {
            let heading = super::cell::tidy(heading);
            if heading.is_empty() {
                found.gaps.push(place);
                continue;
            }
            if let Some(first) = seen.insert(plain(&heading), place) {
                problems.push(format!(
                    "The heading “{heading}” stands over columns {} and {}; rename or remove one.",
                    first + 1,
                    place + 1
                ));
                continue;
            }
            match Column::of_heading(&heading) {
                Some(column) => {
                    found.known.insert(column, place);
                }
                None => found.own.push((heading, place)),
            }
        }
        found.check_piece(problems);
        found.cautions = found.typing_errors();
        found
    }

    fn check_piece(&self, problems: &mut Vec<String>) {
        if self.known.contains_key(&Column::Piece) {
            return;
        }
        let meant = self
            .own
            .iter()
            .find(|(own, _)| is_near(&plain(own), "piece"));
        problems.push(match meant {
            Some((own, _)) => format!("There is no column “piece”; if “{own}” is meant, write it as “piece”."),
            None => "There is no column “piece” in the first row; add one with the code of each piece, such as LB007.".to_owned(),
        });
    }

    fn typing_errors(&self) -> Vec<Caution> {
        let near = |own: &str| {
            let plain = plain(own);
            Column::ALL.iter().find(|(_, name)| is_near(&plain, name))
        };
        self.own
            .iter()
            .filter_map(|(own, _)| near(own).map(|(_, name)| (own, name)))
            .map(|(own, name)| {
                Caution::new(
                    "heading-unknown",
                    format!(
                        "The column “{own}” is kept as a setting of its own; if you meant “{name}”, write it so and enter the \
                         sheet again."
                    ),
                )
            })
            .collect()
    }

    /// Where a column stands, from 0.
    pub fn place(&self, column: Column) -> Option<usize> {
        self.known.get(&column).copied()
    }

    /// Places of a row that have no heading above them.
    pub fn bare(&self, cells: usize) -> impl Iterator<Item = usize> {
        let gaps = self
            .gaps
            .iter()
            .copied()
            .filter(move |place| *place < cells);
        gaps.chain(self.width..cells)
    }
}

/// Whether two headings differ by what fingers do: one letter in four or five, two in longer words.
fn is_near(written: &str, name: &str) -> bool {
    let longest = written.chars().count().max(name.chars().count());
    let most = match longest {
        0..=3 => 0,
        4..=5 => 1,
        _ => 2,
    };
    (1..=most).contains(&slips(written, name))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headings(text: &str) -> (Headings, Vec<String>) {
        let mut problems = Vec::new();
        let cells: Vec<String> = text.split(',').map(str::to_owned).collect();
        (Headings::new(&cells, &mut problems), problems)
    }

    #[test]
    fn headings_are_read_kindly() {
        let (found, problems) = headings("Piece, Width (cm) ,simmer low °C,Dry-G,FIBER,Moon phase");
        assert!(problems.is_empty(), "{problems:?}");
        let known: Vec<_> = found.known.keys().map(|c| c.name()).collect();
        assert_eq!(
            known,
            ["piece", "fibre", "dry_g", "width_cm", "simmer_low_c"]
        );
        assert_eq!(found.own, [("Moon phase".to_owned(), 5)]);
        assert!(found.cautions.is_empty());
    }

    #[track_caller]
    fn check(heading: &str, meant: Option<&str>) {
        let (found, _) = headings(&format!("piece,{heading}"));
        let text = found.cautions.first().map(|c| c.text.clone());
        match meant {
            None => assert_eq!(text, None, "{heading}"),
            Some(name) => assert!(
                text.is_some_and(|t| t.contains(&format!("“{name}”"))),
                "{heading}"
            ),
        }
    }

    #[test]
    fn slips_of_the_finger_are_named() {
        check("mordent", Some("mordant"));
        check("plant", Some("plants"));
        check("simmer_hihg_c", Some("simmer_high_c"));
        check("lenght_cm", Some("length_cm"));
        for own in ["stick", "moon", "sun", "vat", "width", "helper", "day"] {
            check(own, None);
        }
    }

    #[test]
    fn headings_that_cannot_be() {
        assert!(headings("peice,made").1[0].contains("“peice”"));
        assert!(headings("code,made").1[0].contains("no column “piece”"));
        assert!(headings("piece,made,Made").1[0].contains("columns 2 and 3"));
    }
}
