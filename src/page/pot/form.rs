//! What is typed of a bundle, kept as it was typed, and the sheet that it makes.

use super::bundles::{Bundle, next, soak};
use crate::error::Error;
use crate::journal::Degrees;
use crate::journal::record::{HeatKind, Piece, Round, Setting};
use crate::sheet::{self, Row, Table};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// Settings that every new bundle is asked for, beside those of the last one.
const ASKED: [&str; 4] = ["cool_h", "water_ph", "blanket", "barrier"];

/// Settings that belong to a day and are not offered again.
const OF_A_DAY: [&str; 2] = ["washed_on", "cure_days"];

/// A bundle as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Form {
    /// The name under which the journal knows the bundle; empty for a new one.
    pub of: String,
    /// The edition that it was made from.
    pub based_on: String,
    pub bundle: String,
    pub pot: String,
    pub made: String,
    pub heat: String,
    /// The lowest temperature, in the studio's unit.
    pub low: String,
    /// The highest.
    pub high: String,
    pub minutes: String,
    /// Other settings that all layers share, by name.
    pub settings: Vec<(String, String)>,
    pub layers: Vec<Layer>,
}

/// A layer as it is typed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Layer {
    /// Anything where the journal has it in this bundle.
    pub known: String,
    pub code: String,
    pub round: String,
    /// 1 is next to the stick.
    pub layer: String,
    pub mordant: String,
    pub plants: String,
    pub fibre: String,
    pub weave: String,
    pub width_cm: String,
    pub length_cm: String,
    pub gsm: String,
}

impl Layer {
    /// Its fields by name.
    fn fields(&self) -> [(&'static str, &String); 11] {
        [
            ("code", &self.code),
            ("known", &self.known),
            ("round", &self.round),
            ("layer", &self.layer),
            ("mordant", &self.mordant),
            ("plants", &self.plants),
            ("fibre", &self.fibre),
            ("weave", &self.weave),
            ("width_cm", &self.width_cm),
            ("length_cm", &self.length_cm),
            ("gsm", &self.gsm),
        ]
    }

    fn field(&mut self, name: &str) -> Option<&mut String> {
        Some(match name {
            "known" => &mut self.known,
            "code" => &mut self.code,
            "round" => &mut self.round,
            "layer" => &mut self.layer,
            "mordant" => &mut self.mordant,
            "plants" => &mut self.plants,
            "fibre" => &mut self.fibre,
            "weave" => &mut self.weave,
            "width_cm" => &mut self.width_cm,
            "length_cm" => &mut self.length_cm,
            "gsm" => &mut self.gsm,
            _ => return None,
        })
    }

    fn of(piece: &Piece, round: &Round) -> Self {
        let text = |value: &Option<String>| value.clone().unwrap_or_default();
        Self {
            known: "yes".to_owned(),
            code: piece.code.clone(),
            round: round.round.to_string(),
            layer: round
                .layer
                .map_or_else(String::new, |layer| layer.to_string()),
            mordant: sheet::print_mordant(&round.soaks),
            plants: sheet::print_plants(&round.plants),
            fibre: text(&piece.fibre),
            weave: text(&piece.weave),
            width_cm: number(piece.width_cm),
            length_cm: number(piece.length_cm),
            gsm: number(piece.gsm),
        }
    }

    /// The same cloth and settings, for another piece.
    pub(super) fn again(&self, code: String) -> Self {
        let soaks = sheet::mordant(&self.mordant);
        let again = |soaks: Vec<_>| soaks.iter().map(soak).collect::<Vec<_>>().join(" > ");
        Self {
            known: String::new(),
            code,
            round: "1".to_owned(),
            mordant: soaks.map_or_else(|_| self.mordant.clone(), again),
            ..self.clone()
        }
    }
}

/// A number as it is kept.
fn number(value: Option<f64>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

impl Form {
    /// A form by its fields: those of a layer follow its `code`, the value of a setting follows its name.
    pub(super) fn read(fields: &[(String, String)]) -> Self {
        let mut form = Self::default();
        for (name, value) in fields {
            let value = value.trim().to_owned();
            match name.as_str() {
                "of" => form.of = value,
                "based_on" => form.based_on = value,
                "bundle" => form.bundle = value,
                "pot" => form.pot = value,
                "made" => form.made = value,
                "heat" => form.heat = value,
                "low" => form.low = value,
                "high" => form.high = value,
                "minutes" => form.minutes = value,
                "setting" => form.settings.push((value, String::new())),
                "value" => {
                    if let Some((_, last)) = form.settings.last_mut() {
                        *last = value;
                    }
                }
                "code" => form.layers.push(Layer {
                    code: value,
                    ..Layer::default()
                }),
                other => {
                    let layer = form.layers.last_mut();
                    if let Some(field) = layer.and_then(|layer| layer.field(other)) {
                        *field = value;
                    }
                }
            }
        }
        form
    }

    /// Its fields, to be [`read`](Self::read) again.
    pub(super) fn fields(&self) -> Vec<(&'static str, String)> {
        let own = [
            ("of", &self.of),
            ("based_on", &self.based_on),
            ("bundle", &self.bundle),
            ("pot", &self.pot),
            ("made", &self.made),
            ("heat", &self.heat),
            ("low", &self.low),
            ("high", &self.high),
            ("minutes", &self.minutes),
        ];
        let settings = self.settings.iter();
        let settings = settings.flat_map(|(name, value)| [("setting", name), ("value", value)]);
        let layers = self.layers.iter().flat_map(Layer::fields);
        let all = own.into_iter().chain(settings).chain(layers);
        all.map(|(name, value)| (name, value.clone())).collect()
    }

    /// A bundle of the journal.
    pub(super) fn of(bundle: &Bundle<'_>, degrees: Degrees) -> Self {
        let first = bundle.layers.first().map(|(_, round)| *round);
        let [pot, made, heat, low, high, minutes] = first
            .map(|round| together(round, degrees))
            .unwrap_or_default();
        Self {
            of: bundle.name.to_owned(),
            based_on: String::new(),
            bundle: bundle.name.to_owned(),
            pot,
            made,
            heat,
            low,
            high,
            minutes,
            settings: shared(&bundle.layers),
            layers: bundle
                .layers
                .iter()
                .map(|(piece, round)| Layer::of(piece, round))
                .collect(),
        }
    }

    /// A new bundle: as the `last` one, with the next free names.
    pub(super) fn like(last: Option<&Self>, today: Date, known: &Known<'_>) -> Self {
        let mut form = last.cloned().unwrap_or_else(|| Self {
            bundle: "B00".to_owned(),
            heat: HeatKind::Simmer.word().to_owned(),
            layers: vec![Layer {
                code: "LB000".to_owned(),
                layer: "1".to_owned(),
                ..Layer::default()
            }],
            ..Self::default()
        });
        form.of.clear();
        form.bundle = next(&form.bundle, |name| known.bundles.contains(&name));
        if !form.pot.is_empty() {
            form.pot = next(&form.pot, |name| known.pots.contains(&name));
        }
        form.made = today.to_string();
        form.settings
            .retain(|(name, _)| !OF_A_DAY.contains(&name.as_str()));
        for asked in ASKED {
            if !form.settings.iter().any(|(name, _)| name == asked) {
                form.settings.push((asked.to_owned(), String::new()));
            }
        }
        let old = std::mem::take(&mut form.layers);
        let start = known.last_code.map_or_else(
            || {
                old.first()
                    .map(|layer| layer.code.clone())
                    .unwrap_or_default()
            },
            str::to_owned,
        );
        for (place, layer) in (1..).zip(old) {
            let code = form.next_code(&start, known);
            let mut layer = layer.again(code);
            layer.layer = place.to_string();
            form.layers.push(layer);
        }
        form
    }

    /// The next free code after the last layer's, or after `start` where there is none.
    pub(super) fn next_code(&self, start: &str, known: &Known<'_>) -> String {
        let last = self.layers.last().map_or(start, |layer| &layer.code);
        next(last, |code| {
            known.has(code) || self.layers.iter().any(|layer| layer.code == code)
        })
    }

    /// The sheet that it makes, a row for each layer. What is not typed of a known piece's cloth stays as the journal has it, and so
    /// does what all layers share where it still says what it does `now`: they may differ in it.
    pub(super) fn table(&self, degrees: Degrees, known: &Known<'_>, now: Option<&Self>) -> Table {
        let (low, high) = match degrees {
            Degrees::Celsius => ("simmer_low_c", "simmer_high_c"),
            Degrees::Fahrenheit => ("simmer_low_f", "simmer_high_f"),
        };
        let mut headings = vec![
            "piece",
            "round",
            "layer",
            "mordant",
            "plants",
            "fibre",
            "weave",
            "width_cm",
            "length_cm",
            "gsm",
            "bundle",
            "pot",
            "made",
            "heat",
            low,
            high,
            "simmer_min",
        ];
        headings.extend(self.settings.iter().map(|(name, _)| name.as_str()));
        let row = |(number, layer): (usize, &Layer)| {
            let piece = known.piece(&layer.code);
            let layer = layer.with_cloth_of(piece);
            let own = layer.fields().map(|(name, value)| (name, value.clone()));
            let own = own.into_iter().filter(|(name, _)| *name != "known");
            let cells = own.map(|(_, value)| value);
            let shared = self.shared_by(&layer, piece, degrees, now);
            let settings = self.settings.iter().map(|(_, value)| value.clone());
            let cells = cells.chain([self.bundle.clone()]).chain(shared);
            Row::new(number, cells.chain(settings))
        };
        let rows = (1..).zip(&self.layers).map(row);
        Table::filled("this bundle", &headings, rows.collect())
    }

    fn together(&self) -> [&String; 6] {
        [
            &self.pot,
            &self.made,
            &self.heat,
            &self.low,
            &self.high,
            &self.minutes,
        ]
    }

    /// What all layers share, for one of them.
    fn shared_by(
        &self,
        layer: &Layer,
        piece: Option<&Piece>,
        degrees: Degrees,
        now: Option<&Self>,
    ) -> [String; 6] {
        let typed = self.together();
        let mut cells = typed.map(Clone::clone);
        let rounds = piece.map_or(&[][..], |piece| &piece.rounds);
        let round = rounds
            .iter()
            .find(|round| round.round.to_string() == layer.round);
        let (Some(now), Some(round), false) = (now, round, layer.known.is_empty()) else {
            return cells;
        };
        let own = together(round, degrees);
        for (((cell, own), typed), now) in cells.iter_mut().zip(own).zip(typed).zip(now.together())
        {
            if typed == now {
                *cell = own;
            }
        }
        cells
    }
}

/// What the layers of a bundle share, as it is typed: pot, day, kind of heat, lowest and highest temperature, minutes.
fn together(round: &Round, degrees: Degrees) -> [String; 6] {
    let heat = round.heat.clone().unwrap_or_default();
    let warmth = |celsius: Option<f64>| {
        celsius.map_or_else(String::new, |celsius| {
            super::super::shown::number(degrees.of_celsius(celsius))
        })
    };
    let text = |value: &Option<String>| value.clone().unwrap_or_default();
    [
        text(&round.pot),
        text(&round.made),
        heat.kind.map_or("", HeatKind::word).to_owned(),
        warmth(heat.low_c),
        warmth(heat.high_c),
        number(heat.minutes),
    ]
}

impl Layer {
    /// With what the journal knows of its cloth where nothing is typed, unless it is changed as a layer that is known.
    fn with_cloth_of(&self, piece: Option<&Piece>) -> Self {
        let mut filled = self.clone();
        let Some(piece) = piece.filter(|_| self.known.is_empty()) else {
            return filled;
        };
        let cloth = Self::of(piece, &Round::default());
        for (field, kept) in [
            (&mut filled.fibre, cloth.fibre),
            (&mut filled.weave, cloth.weave),
            (&mut filled.width_cm, cloth.width_cm),
            (&mut filled.length_cm, cloth.length_cm),
            (&mut filled.gsm, cloth.gsm),
        ] {
            if field.is_empty() {
                *field = kept;
            }
        }
        filled
    }
}

/// Which names are taken.
pub(super) struct Known<'a> {
    pub bundles: Vec<&'a str>,
    pub pots: Vec<&'a str>,
    /// The code after which new ones are counted on.
    pub last_code: Option<&'a str>,
    pieces: BTreeMap<String, &'a Piece>,
}

impl<'a> Known<'a> {
    pub(super) fn of(pieces: &'a [Piece], bundles: &[Bundle<'a>]) -> Self {
        let rounds = pieces.iter().flat_map(|piece| &piece.rounds);
        let newest = bundles.first();
        let last =
            newest.and_then(|bundle| bundle.layers.iter().map(|(piece, _)| &piece.code).max());
        Self {
            bundles: bundles.iter().map(|bundle| bundle.name).collect(),
            pots: rounds.filter_map(|round| round.pot.as_deref()).collect(),
            last_code: last
                .or(pieces.last().map(|piece| &piece.code))
                .map(String::as_str),
            pieces: pieces
                .iter()
                .map(|piece| (piece.code.to_lowercase(), piece))
                .collect(),
        }
    }

    /// The piece of that code, in whatever capitals.
    pub(super) fn piece(&self, code: &str) -> Option<&'a Piece> {
        self.pieces.get(&code.to_lowercase()).copied()
    }

    fn has(&self, code: &str) -> bool {
        self.piece(code).is_some()
    }
}

/// Settings in which all layers agree, by name.
fn shared(layers: &[(&Piece, &Round)]) -> Vec<(String, String)> {
    let rounds: Vec<&Round> = layers.iter().map(|(_, round)| *round).collect();
    let Some((first, rest)) = rounds.split_first() else {
        return Vec::new();
    };
    let same = |(name, value): &(&String, &Setting)| {
        rest.iter()
            .all(|round| round.settings.get(*name) == Some(*value))
    };
    let print = |(name, value): (&String, &Setting)| {
        let value = match value {
            Setting::Number(value) => value.to_string(),
            Setting::Text(text) => text.clone(),
        };
        (name.clone(), value)
    };
    first.settings.iter().filter(same).map(print).collect()
}

/// Columns of a layer, and the word that stands over each on the page.
const OF_LAYER: [(&str, &str); 10] = [
    ("piece", "code"),
    ("round", "round"),
    ("layer", "layer"),
    ("mordant", "mordants"),
    ("plants", "plants"),
    ("fibre", "fibre"),
    ("weave", "weave"),
    ("width_cm", "width"),
    ("length_cm", "length"),
    ("gsm", "weight"),
];

/// Columns that all layers share, likewise.
const SHARED: [(&str, &str); 4] = [
    ("made", "day"),
    ("simmer_low_", "lowest temperature"),
    ("simmer_high_", "highest temperature"),
    ("simmer_min", "minutes"),
];

/// What a sheet was refused for, in the words of the page, each once.
pub(super) fn refusals(error: &Error) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for reason in sheet::reasons(error) {
        let told = in_words_of_the_page(&reason);
        if !found.contains(&told) {
            found.push(told);
        }
    }
    found
}

/// `Row 2, column piece: …` is layer 2's code.
fn in_words_of_the_page(reason: &str) -> String {
    let parts = reason.strip_prefix("Row ").and_then(|rest| {
        let (row, rest) = rest.split_once(", column")?;
        let (column, what) = rest.trim_start_matches('s').split_once(": ")?;
        Some((row, column.trim(), what))
    });
    let Some((row, column, what)) = parts else {
        return reason.to_owned();
    };
    if let Some((_, word)) = OF_LAYER.iter().find(|(name, _)| *name == column) {
        return format!("Layer {row}, {word}: {what}");
    }
    let shared = SHARED.iter().find(|(name, _)| column.starts_with(name));
    let word = match column {
        "simmer_low and simmer_high" => "temperatures",
        _ => shared.map_or(column, |(_, word)| word),
    };
    format!("{}: {what}", crate::error::capital(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_form_comes_back_as_it_was_sent() {
        let form = Form {
            bundle: "B7".to_owned(),
            settings: vec![
                ("cool_h".to_owned(), "12".to_owned()),
                ("moon".to_owned(), String::new()),
            ],
            layers: vec![
                Layer {
                    code: "LB001".to_owned(),
                    plants: "walnut; birch".to_owned(),
                    ..Layer::default()
                },
                Layer {
                    code: String::new(),
                    gsm: "52".to_owned(),
                    ..Layer::default()
                },
            ],
            ..Form::default()
        };
        let fields: Vec<(String, String)> = form
            .fields()
            .into_iter()
            .map(|(name, value)| (name.to_owned(), value))
            .collect();
        assert_eq!(Form::read(&fields), form);
    }

    #[test]
    fn refusals_speak_of_layers() {
        let check = |text: &str, wanted: &[&str]| {
            assert_eq!(refusals(&Error::file(text)), wanted);
        };
        check(
            "The sheet “this bundle” was not entered. Row 2, column piece: no code is written.",
            &["Layer 2, code: no code is written."],
        );
        check(
            "The sheet “this bundle” was not entered, for 3 reasons:\n  Row 1, column simmer_high_f: too hot.\n  Row 2, column simmer_high_f: too hot.\n  Row 2, columns simmer_low and simmer_high: the low is above.",
            &[
                "Highest temperature: too hot.",
                "Temperatures: the low is above.",
            ],
        );
        check("Something else.", &["Something else."]);
    }
}
