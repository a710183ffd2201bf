//! One row, understood: what it says of a piece and of one of its rounds.

use super::cell::{self, Decimals, Told, tidy};
use super::cells::Cells;
use super::column::{Column, Headings};
use super::recipe;
use super::table::Row;
use super::unit::{celsius_of_fahrenheit, cloth_mass_g, cm_of_inches, gsm_of_momme};
use crate::journal::record::{Heat, HeatKind, Piece, PlantUse, Round, Setting, Soak};
use std::ops::RangeInclusive;

/// Wider than these no cloth, pot or purse of a studio is.
const SIDES_CM: RangeInclusive<f64> = 0.1..=5_000.0;
const GSM: RangeInclusive<f64> = 1.0..=3_000.0;
const MASS_G: RangeInclusive<f64> = 0.01..=100_000.0;
const CELSIUS: RangeInclusive<f64> = 0.0..=150.0;
const MINUTES: RangeInclusive<f64> = 0.0..=20_000.0;
const PRICE: RangeInclusive<f64> = 0.0..=10_000_000.0;
const MOST_ROUNDS: u32 = 1_000;

/// How a piece can stand in the studio: the words of the column `status`.
pub const STATUS: [&str; 4] = ["kept", "for sale", "sold", "spoiled"];

/// A row that names its piece.
#[derive(Debug)]
pub(super) struct Line {
    pub number: usize,
    pub code: String,
    /// As written; the first round where it is not.
    pub round: Option<u32>,
    pub of_piece: OfPiece,
    pub of_round: OfRound,
}

/// What a row says of the cloth itself.
#[derive(Debug, Default)]
pub(super) struct OfPiece {
    fibre: Told<String>,
    weave: Told<String>,
    gsm: Told<f64>,
    dry_g: Told<f64>,
    width_cm: Told<f64>,
    length_cm: Told<f64>,
    status: Told<String>,
    price: Told<f64>,
    remarks: Told<String>,
}

/// What a row says of one round.
#[derive(Debug, Default)]
pub(super) struct OfRound {
    bundle: Told<String>,
    pot: Told<String>,
    made: Told<String>,
    layer: Told<u32>,
    soaks: Told<Vec<Soak>>,
    plants: Told<Vec<PlantUse>>,
    kind: Told<HeatKind>,
    low_c: Told<f64>,
    high_c: Told<f64>,
    minutes: Told<f64>,
    settings: Vec<(String, Told<Setting>)>,
}

impl Line {
    /// Understands a row; what is wrong with it goes to `problems`. `None` where it does not name a piece.
    pub fn read(
        row: &Row,
        headings: &Headings,
        decimals: Decimals,
        problems: &mut Vec<String>,
    ) -> Option<Self> {
        let mut cells = Cells {
            headings,
            row,
            decimals,
            problems,
        };
        cells.check_bare();
        let code = cells.code();
        let round = cells.read(Column::Round, |text| cell::count(text, MOST_ROUNDS));
        let of_piece = OfPiece::read(&mut cells);
        let of_round = OfRound::read(&mut cells);
        Some(Self {
            number: row.number,
            code: code?,
            round: round.value().copied(),
            of_piece,
            of_round,
        })
    }
}

fn status(text: &str) -> Result<String, String> {
    let plain = super::column::plain(text).replace('_', " ");
    STATUS
        .into_iter()
        .find(|word| *word == plain)
        .map(str::to_owned)
        .ok_or_else(|| format!("“{text}” is no status; write one of {}", STATUS.join(", ")))
}

fn heat_kind(text: &str) -> Result<HeatKind, String> {
    match text.to_lowercase().as_str() {
        "simmer" => Ok(HeatKind::Simmer),
        "steam" => Ok(HeatKind::Steam),
        _ => Err(format!(
            "“{text}” is no way of heating known here; write simmer or steam"
        )),
    }
}

impl OfPiece {
    fn read(cells: &mut Cells<'_>) -> Self {
        let lower = |text: &str| Ok(tidy(text).to_lowercase());
        Self {
            fibre: cells.read(Column::Fibre, lower),
            weave: cells.read(Column::Weave, lower),
            gsm: cells.either((Column::Gsm, Column::Momme), gsm_of_momme, &GSM),
            dry_g: cells.number(Column::DryG, &MASS_G),
            width_cm: cells.either((Column::WidthCm, Column::WidthIn), cm_of_inches, &SIDES_CM),
            length_cm: cells.either(
                (Column::LengthCm, Column::LengthIn),
                cm_of_inches,
                &SIDES_CM,
            ),
            status: cells.read(Column::Status, status),
            price: cells.number(Column::Price, &PRICE),
            remarks: cells.read(Column::Remarks, |text| Ok(text.to_owned())),
        }
    }

    /// Takes in what the row of a later round says of the same cloth, which then counts; remarks are gathered. Returns the
    /// columns in which the rows differ and one cloth cannot.
    pub fn merge(&mut self, later: Self) -> Vec<&'static str> {
        fn one<T: PartialEq>(mine: &mut Told<T>, later: Told<T>) -> bool {
            let differ = matches!((&*mine, &later), (Told::Value(a), Told::Value(b)) if a != b);
            if later.value().is_some() || *mine == Told::Silent {
                *mine = later;
            }
            differ
        }
        one(&mut self.dry_g, later.dry_g);
        one(&mut self.status, later.status);
        one(&mut self.price, later.price);
        match (&mut self.remarks, later.remarks) {
            (Told::Value(mine), Told::Value(text)) if *mine != text => {
                *mine += "\n";
                *mine += &text;
            }
            (mine, text) => drop(one(mine, text)),
        }
        [
            (one(&mut self.fibre, later.fibre), "fibre"),
            (one(&mut self.weave, later.weave), "weave"),
            (one(&mut self.gsm, later.gsm), "gsm or momme"),
            (one(&mut self.width_cm, later.width_cm), "width"),
            (one(&mut self.length_cm, later.length_cm), "length"),
        ]
        .into_iter()
        .filter_map(|(differ, name)| differ.then_some(name))
        .collect()
    }

    /// Brings a piece to what was told. Its dry mass follows its size and `gsm` unless it was weighed.
    pub fn apply(self, piece: &mut Piece) {
        let sized = [&self.gsm, &self.dry_g, &self.width_cm, &self.length_cm]
            .iter()
            .any(|told| **told != Told::Silent);
        let weighed = piece.dry_g.is_some() && piece.dry_g != computed_mass(piece);
        self.fibre.set(&mut piece.fibre);
        self.weave.set(&mut piece.weave);
        self.gsm.set(&mut piece.gsm);
        self.width_cm.set(&mut piece.width_cm);
        self.length_cm.set(&mut piece.length_cm);
        self.status.set(&mut piece.status);
        self.price.set(&mut piece.price);
        self.remarks.set(&mut piece.remarks);
        match self.dry_g {
            Told::Value(grams) => piece.dry_g = Some(grams),
            Told::Cleared => piece.dry_g = computed_mass(piece),
            Told::Silent if sized && !weighed => piece.dry_g = computed_mass(piece),
            Told::Silent => {}
        }
    }
}

fn computed_mass(piece: &Piece) -> Option<f64> {
    Some(cloth_mass_g(piece.gsm?, piece.width_cm?, piece.length_cm?))
}

impl OfRound {
    fn read(cells: &mut Cells<'_>) -> Self {
        Self {
            bundle: cells.text(Column::Bundle),
            pot: cells.text(Column::Pot),
            made: cells.read(Column::Made, cell::date),
            layer: cells.read(Column::Layer, |text| cell::count(text, 1_000)),
            soaks: cells.read(Column::Mordant, recipe::mordant),
            plants: cells.read(Column::Plants, recipe::plants),
            kind: cells.read(Column::Heat, heat_kind),
            low_c: cells.either(
                (Column::LowC, Column::LowF),
                celsius_of_fahrenheit,
                &CELSIUS,
            ),
            high_c: cells.either(
                (Column::HighC, Column::HighF),
                celsius_of_fahrenheit,
                &CELSIUS,
            ),
            minutes: cells.number(Column::Minutes, &MINUTES),
            settings: cells.settings(),
        }
    }

    /// Whether the row holds no value of the round.
    pub fn is_empty(&self) -> bool {
        fn no<T>(told: &Told<T>) -> bool {
            told.value().is_none()
        }
        no(&self.bundle)
            && no(&self.pot)
            && no(&self.made)
            && no(&self.layer)
            && no(&self.soaks)
            && no(&self.plants)
            && no(&self.kind)
            && no(&self.low_c)
            && no(&self.high_c)
            && no(&self.minutes)
            && self.settings.iter().all(|(_, told)| no(told))
    }

    /// Brings a round to what was told; `spelt` gives the spelling in which a setting is already kept.
    pub fn apply(self, round: &mut Round, spelt: impl Fn(&str) -> String) {
        self.bundle.set(&mut round.bundle);
        self.pot.set(&mut round.pot);
        self.made.set(&mut round.made);
        self.layer.set(&mut round.layer);
        list(self.soaks, &mut round.soaks);
        list(self.plants, &mut round.plants);
        let mut heat = round.heat.take().unwrap_or_default();
        // The columns are called simmer: who fills them and says nothing of steam has simmered.
        let simmered = [&self.low_c, &self.high_c, &self.minutes]
            .iter()
            .any(|told| told.value().is_some());
        self.kind.set(&mut heat.kind);
        self.low_c.set(&mut heat.low_c);
        self.high_c.set(&mut heat.high_c);
        self.minutes.set(&mut heat.minutes);
        if simmered && heat.kind.is_none() {
            heat.kind = Some(HeatKind::Simmer);
        }
        round.heat = (heat != Heat::default()).then_some(heat);
        for (name, told) in self.settings {
            let name = spelt(&name);
            match told {
                Told::Silent => {}
                Told::Cleared => drop(round.settings.remove(&name)),
                Told::Value(value) => drop(round.settings.insert(name, value)),
            }
        }
    }
}

fn list<T>(told: Told<Vec<T>>, target: &mut Vec<T>) {
    match told {
        Told::Silent => {}
        Told::Cleared => target.clear(),
        Told::Value(values) => *target = values,
    }
}
