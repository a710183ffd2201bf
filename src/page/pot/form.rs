//! What is typed of a bundle, kept as it was typed, and the sheet that it makes.

use super::bundles::{Bundle, next};
use super::known::Known;
use super::layer::{Layer, number};
use crate::journal::Degrees;
use crate::journal::record::{HeatKind, Piece, Round, Setting};
use crate::sheet::{Moved, Row, Table};
use jiff::civil::Date;

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
        if form.bundle.is_empty() {
            form.bundle = known.bundles.first().map_or("B00", |name| name).to_owned();
        }
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

    /// A piece that waits for its first bundle; else the next free code after the last layer's, or after `start` where there is none.
    pub(super) fn next_code(&self, start: &str, known: &Known<'_>) -> String {
        let is_here = |code: &str| self.layers.iter().any(|layer| layer.code == code);
        if let Some(code) = known.waiting.iter().find(|code| !is_here(code)) {
            return (*code).to_owned();
        }
        let last = self.layers.last().map_or(start, |layer| &layer.code);
        next(last, |code| known.has(code) || is_here(code))
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
            let layer = layer.with_cloth_of(known.piece(&layer.code));
            let layer = layer.with_weight_in_grams();
            let own = layer.fields().map(|(name, value)| (name, value.clone()));
            let own = own.into_iter().filter(|(name, _)| *name != "known");
            let cells = own.map(|(_, value)| value);
            let shared = self.shared_by(known.round_of(&layer), degrees, now);
            let settings = self.settings.iter().map(|(_, value)| value.clone());
            let cells = cells.chain([self.bundle.clone()]).chain(shared);
            Row::new(number, cells.chain(settings))
        };
        let rows = (1..).zip(&self.layers).map(row);
        Table::filled("this bundle", &headings, rows.collect())
    }

    /// What became of the layers that the bundle has `now` and this form has not, or not as they were.
    pub(super) fn moved(&self, now: &Self) -> Vec<Moved> {
        let before = now.layers.iter().filter_map(Layer::was);
        let moved = before.map(|was| {
            let layer = self.layers.iter().find(|layer| layer.was() == Some(was));
            (was, layer.map(Layer::is))
        });
        let moved = moved.filter(|(was, is)| *is != Some(*was));
        moved
            .map(|((piece, round), to)| Moved {
                piece: piece.to_owned(),
                round,
                to: to.map(|(code, round)| (code.to_owned(), round)),
            })
            .collect()
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

    /// What all layers share, for the one that the journal has as this round.
    fn shared_by(
        &self,
        round: Option<&Round>,
        degrees: Degrees,
        now: Option<&Self>,
    ) -> [String; 6] {
        let typed = self.together();
        let mut cells = typed.map(Clone::clone);
        let (Some(now), Some(round)) = (now, round) else {
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
}
