//! What a touch does to a bundle that is being written down: a chip chosen, a layer added. Nothing of it is saved.

use super::bundles::soak;
use super::form::Form;
use super::known::Known;
use super::layer::Layer;
use crate::sheet;

/// What a touch did: the layer it was about, from 0, and the sentence for who cannot see it.
#[derive(Debug, Default, PartialEq, Eq)]
pub(super) struct Done {
    pub layer: Option<usize>,
    pub told: String,
}

/// Does what the button's value says: `add`, `drop 1`, `as 1`, `soak 0 alum 12%`, `plant 0 walnut`.
pub(super) fn does(form: &mut Form, deed: &str, known: &Known<'_>) -> Done {
    let mut words = deed.splitn(3, ' ');
    let what = words.next().unwrap_or_default();
    let layer: Option<usize> = words.next().and_then(|word| word.parse().ok());
    let name = words.next().unwrap_or_default();
    let about = layer.filter(|layer| *layer < form.layers.len());
    match (what, about) {
        ("add", _) => add(form, known),
        ("drop", Some(layer)) => {
            let gone = form.layers.remove(layer);
            told(None, format!("{} is taken out.", gone.code))
        }
        ("as", Some(layer)) if layer > 0 => {
            let before = form.layers[layer - 1].clone();
            let own = &mut form.layers[layer];
            own.mordant = before.again(String::new()).mordant;
            own.plants = before.plants;
            told(
                about,
                format!(
                    "Mordants and plants of {} are those of {}.",
                    own.code, before.code
                ),
            )
        }
        ("soak", Some(layer)) => {
            let own = &mut form.layers[layer];
            own.mordant = with_soak(&own.mordant, name);
            told(
                about,
                format!("Mordants of {}: {}.", own.code, or_none(&own.mordant)),
            )
        }
        ("plant", Some(layer)) => {
            let own = &mut form.layers[layer];
            own.plants = with_plant(&own.plants, name);
            told(
                about,
                format!("Plants of {}: {}.", own.code, or_none(&own.plants)),
            )
        }
        _ => Done::default(),
    }
}

fn told(layer: Option<usize>, told: String) -> Done {
    Done { layer, told }
}

fn or_none(text: &str) -> &str {
    if text.is_empty() { "none" } else { text }
}

fn add(form: &mut Form, known: &Known<'_>) -> Done {
    let code = form.next_code("", known);
    let mut new = form.layers.last().cloned().unwrap_or_default().again(code);
    let places = form
        .layers
        .iter()
        .filter_map(|layer| layer.layer.parse::<u32>().ok());
    new.layer = places
        .max()
        .map_or(1, |last| last.saturating_add(1))
        .to_string();
    let told = format!("Layer {}, {}, is added.", new.layer, new.code);
    form.layers.push(new);
    Done {
        layer: Some(form.layers.len() - 1),
        told,
    }
}

/// A sequence of soaks with one more at its end, or without it where it was there. What cannot be read is left, and added to.
fn with_soak(text: &str, name: &str) -> String {
    let soaks = sheet::mordant(text).unwrap_or_default();
    let others: Vec<_> = soaks
        .iter()
        .filter(|one| soak(one) != name)
        .cloned()
        .collect();
    if others.len() < soaks.len() {
        return sheet::print_mordant(&others);
    }
    joined(text, " > ", name)
}

/// The same of plants; how a plant was used goes with it.
fn with_plant(text: &str, name: &str) -> String {
    let plants = sheet::plants(text).unwrap_or_default();
    let others: Vec<_> = plants
        .iter()
        .filter(|plant| plant.name != name)
        .cloned()
        .collect();
    if others.len() < plants.len() {
        return sheet::print_plants(&others);
    }
    joined(text, "; ", name)
}

fn joined(text: &str, between: &str, name: &str) -> String {
    match text.is_empty() {
        true => name.to_owned(),
        false => format!("{text}{between}{name}"),
    }
}

impl Layer {
    /// Where a soak stands in its sequence, from 1; `None` where it does not.
    pub(super) fn place_of_soak(&self, name: &str) -> Option<usize> {
        let soaks = sheet::mordant(&self.mordant).ok()?;
        let place = soaks.iter().position(|one| soak(one) == name)?;
        Some(place + 1)
    }

    /// Whether a plant is laid on it.
    pub(super) fn has_plant(&self, name: &str) -> bool {
        let plants = sheet::plants(&self.plants).unwrap_or_default();
        plants.iter().any(|plant| plant.name == name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_touch_chooses_and_a_second_one_takes_back() {
        let check = |text: &str, name: &str, wanted: &str| {
            assert_eq!(with_soak(text, name), wanted);
        };
        check("", "alum 12%", "alum 12%");
        check("tannin", "alum 12%", "tannin > alum 12%");
        check(
            "tannin > alum 12% [2026-05-01, bath A1]",
            "alum 12%",
            "tannin",
        );
        check("alum > iron", "alum", "iron");
        check("alum ,", "iron", "alum , > iron");
        assert_eq!(with_plant("walnut [fresh]; birch", "walnut"), "birch");
        assert_eq!(with_plant("birch", "walnut"), "birch; walnut");
    }

    #[test]
    fn a_layer_is_added_with_the_next_code_and_the_same_cloth() {
        let mut form = Form {
            layers: vec![Layer {
                code: "LB009".to_owned(),
                layer: "1".to_owned(),
                fibre: "silk".to_owned(),
                mordant: "alum [2026-05-01]".to_owned(),
                known: "1 LB009".to_owned(),
                ..Layer::default()
            }],
            ..Form::default()
        };
        let known = Known::of(&[], &[]);
        assert_eq!(does(&mut form, "add", &known).layer, Some(1));
        let new = form.layers[1].clone();
        assert_eq!(
            [new.code, new.layer, new.fibre, new.mordant, new.known],
            ["LB010", "2", "silk", "alum", ""]
        );
        for odd in ["drop 7", "as 0", "soak 9 alum", "", "fly"] {
            assert_eq!(does(&mut form, odd, &known), Done::default(), "{odd}");
        }
        does(&mut form, "drop 1", &known);
        assert_eq!(form.layers.len(), 1);
    }
}
