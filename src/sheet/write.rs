//! Pieces as a sheet: one row a round, in columns that `enter` takes back.

use super::column::{Column, plain};
use super::recipe::{print_mordant, print_plants};
use crate::journal::record::{HeatKind, Piece, Round, Setting};
use std::collections::BTreeMap;

/// Columns of the cloth itself, in the units that are kept.
pub(super) const OF_PIECE: [Column; 9] = [
    Column::Fibre,
    Column::Weave,
    Column::Gsm,
    Column::DryG,
    Column::WidthCm,
    Column::LengthCm,
    Column::Status,
    Column::Price,
    Column::Remarks,
];

/// Columns of a round, settings aside.
pub(super) const OF_ROUND: [Column; 10] = [
    Column::Bundle,
    Column::Pot,
    Column::Made,
    Column::Layer,
    Column::Mordant,
    Column::Plants,
    Column::Heat,
    Column::LowC,
    Column::HighC,
    Column::Minutes,
];

/// CSV (RFC 4180, comma, UTF-8, `\n` between lines) of every round of every piece; a piece without rounds has one row with an
/// empty `round`. Settings follow in columns of their own, by name.
///
/// Entered into an empty journal it gives the same pieces, as long as they came from sheets; an import may hold what a sheet
/// cannot say (a strength without unit, text with spaces at its ends).
pub fn write_csv(pieces: &[Piece]) -> String {
    let settings = setting_names(pieces);
    let mut rows = vec![heading_row(&settings)];
    for piece in pieces {
        if piece.rounds.is_empty() {
            rows.push(row(piece, None, &settings));
        }
        rows.extend(
            piece
                .rounds
                .iter()
                .map(|round| row(piece, Some(round), &settings)),
        );
    }
    let cells = |row: &Vec<String>| {
        row.iter()
            .map(|cell| quoted(cell))
            .collect::<Vec<_>>()
            .join(",")
            + "\n"
    };
    rows.iter().map(cells).collect()
}

/// Names of settings by their plain form; two spellings share a column.
fn setting_names(pieces: &[Piece]) -> BTreeMap<String, String> {
    let rounds = pieces.iter().flat_map(|piece| &piece.rounds);
    let names = rounds.flat_map(|round| round.settings.keys());
    names.map(|name| (plain(name), name.clone())).collect()
}

fn heading_row(settings: &BTreeMap<String, String>) -> Vec<String> {
    let known = [Column::Piece, Column::Round]
        .into_iter()
        .chain(OF_ROUND)
        .chain(OF_PIECE);
    known
        .map(|column| column.name().to_owned())
        .chain(settings.values().cloned())
        .collect()
}

fn row(piece: &Piece, round: Option<&Round>, settings: &BTreeMap<String, String>) -> Vec<String> {
    let number = round.map_or_else(String::new, |round| round.round.to_string());
    let mut cells = vec![piece.code.clone(), number];
    cells.extend(
        OF_ROUND.map(|column| round.map_or_else(String::new, |round| of_round(round, column))),
    );
    cells.extend(OF_PIECE.map(|column| of_piece(piece, column)));
    cells.extend(settings.keys().map(|key| {
        let kept =
            round.and_then(|round| round.settings.iter().find(|(name, _)| plain(name) == *key));
        kept.map_or_else(String::new, |(_, value)| print_setting(value))
    }));
    cells
}

/// What a cell of [`OF_PIECE`] says; empty where nothing is known.
pub(super) fn of_piece(piece: &Piece, column: Column) -> String {
    let text = |value: &Option<String>| value.clone().unwrap_or_default();
    match column {
        Column::Fibre => text(&piece.fibre),
        Column::Weave => text(&piece.weave),
        Column::Gsm => number(piece.gsm),
        Column::DryG => number(piece.dry_g),
        Column::WidthCm => number(piece.width_cm),
        Column::LengthCm => number(piece.length_cm),
        Column::Status => text(&piece.status),
        Column::Price => number(piece.price),
        Column::Remarks => text(&piece.remarks),
        _ => String::new(),
    }
}

/// What a cell of [`OF_ROUND`] says; empty where nothing is known.
pub(super) fn of_round(round: &Round, column: Column) -> String {
    let text = |value: &Option<String>| value.clone().unwrap_or_default();
    let heat = round.heat.clone().unwrap_or_default();
    match column {
        Column::Bundle => text(&round.bundle),
        Column::Pot => text(&round.pot),
        Column::Made => text(&round.made),
        Column::Layer => round
            .layer
            .map_or_else(String::new, |layer| layer.to_string()),
        Column::Mordant => print_mordant(&round.soaks),
        Column::Plants => print_plants(&round.plants),
        Column::Heat => heat.kind.map_or("", HeatKind::word).to_owned(),
        Column::LowC => number(heat.low_c),
        Column::HighC => number(heat.high_c),
        Column::Minutes => number(heat.minutes),
        _ => String::new(),
    }
}

/// The text of a setting.
pub(super) fn print_setting(value: &Setting) -> String {
    match value {
        Setting::Number(value) => value.to_string(),
        Setting::Text(text) => text.clone(),
    }
}

fn number(value: Option<f64>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\n', '\r', ';', '\t']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::super::{delimited, plan_changes};
    use super::*;
    use crate::journal::record::{Heat, PlantUse, Soak, StrengthUnit};
    use proptest::collection::{btree_map, vec};
    use proptest::option::of;
    use proptest::prelude::*;

    /// Text as a sheet can hold it: nothing at its ends, single spaces, all that CSV must quote.
    const TEXT: &str = "[a-zé][a-zé,;\"]{0,6}( [a-z\"]{1,4})?";
    const WORD: &str = "[a-z]{1,8}";

    /// No side is shorter than a tenth of a centimetre: a sheet takes less for a slip.
    fn amount() -> impl Strategy<Value = Option<f64>> {
        of((10..50_000_u32).prop_map(|n| f64::from(n) / 100.0))
    }

    fn a_heat() -> impl Strategy<Value = Heat> {
        (
            prop_oneof![Just(HeatKind::Simmer), Just(HeatKind::Steam)],
            0..100_u32,
            amount(),
        )
            .prop_map(|(kind, low, minutes)| Heat {
                kind: Some(kind),
                low_c: Some(f64::from(low)),
                high_c: Some(f64::from(low) + 5.5),
                minutes,
            })
    }

    fn a_round() -> impl Strategy<Value = Round> {
        let soaks = vec((WORD, of(1..900_u32)), 0..3).prop_map(|soaks| {
            let soak = |(mordant, strength): (String, Option<u32>)| Soak {
                mordant,
                strength: strength.map(f64::from),
                unit: strength.map(|_| StrengthUnit::PercentOfFibre),
                on: None,
                bath: None,
            };
            soaks.into_iter().map(soak).collect()
        });
        let plants = vec((WORD, vec(WORD, 0..3)), 0..3);
        let plants = plants.prop_map(|p| {
            p.into_iter()
                .map(|(name, how)| PlantUse { name, how })
                .collect()
        });
        let setting = prop_oneof![
            TEXT.prop_map(Setting::Text),
            (-1e9..1e9_f64).prop_map(Setting::Number)
        ];
        let settings = btree_map("own [a-z]{1,2}", setting, 0..3);
        (
            of(TEXT),
            of(TEXT),
            of(1..9_u32),
            soaks,
            plants,
            of(a_heat()),
            settings,
        )
            .prop_map(
                |(bundle, pot, layer, soaks, plants, heat, settings)| Round {
                    round: 0,
                    bundle,
                    pot,
                    made: Some("2026-05-03".to_owned()),
                    layer,
                    soaks,
                    plants,
                    heat,
                    settings,
                },
            )
    }

    fn a_piece() -> impl Strategy<Value = Piece> {
        let numbers = (amount(), amount(), amount(), amount());
        (of(TEXT), of(WORD), numbers, of(TEXT), vec(a_round(), 0..3)).prop_map(
            |(remarks, fibre, (dry_g, width_cm, length_cm, price), weave, mut rounds)| {
                for (number, round) in (1..).zip(&mut rounds) {
                    round.round = number;
                }
                Piece {
                    dry_g,
                    width_cm,
                    length_cm,
                    price,
                    fibre,
                    weave,
                    remarks,
                    status: Some("for sale".to_owned()),
                    rounds,
                    ..Piece::default()
                }
            },
        )
    }

    proptest! {
        #[test]
        fn what_is_written_is_entered_again(mut pieces in vec(a_piece(), 1..4)) {
            for (number, piece) in pieces.iter_mut().enumerate() {
                piece.code = format!("LB{number:03}");
            }
            let table = delimited::parse("s.csv", write_csv(&pieces).as_bytes()).unwrap();
            let (put, _) = plan_changes(&[], &table).unwrap();
            prop_assert_eq!(&put, &pieces);
            let (put, entered) = plan_changes(&pieces, &table).unwrap();
            prop_assert_eq!((put.len(), entered.unchanged), (0, pieces.len()));
        }
    }
}
