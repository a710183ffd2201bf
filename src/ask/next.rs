//! What to try next: the recipes that promise most over the best so far, and a pot that compares them fairly.

use super::language::{Factor, Measure, Order};
use super::setting::{self, Value};
use super::survey::{Row, Survey};
use crate::stats::{Fit, Pieces, Shrunk, Sparse, Spread, improvement};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// How a piece is made, as far as it is chosen anew for the next one.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Recipe {
    /// The whole sequence of soaks; empty without any.
    pub mordant: String,
    /// Plants, by name.
    pub plants: Vec<String>,
    /// What the cloth is made of, where the journal tells.
    pub fibre: Option<String>,
}

/// A recipe worth trying.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Next {
    /// What it is.
    pub settings: Recipe,
    /// The value of the measure that is expected of it.
    pub expected: f64,
    /// Lower end of the range that holds it in 19 of 20 cases.
    pub low: f64,
    /// Upper end of that range.
    pub high: f64,
    /// How much it betters the best so far on average, where no better counts as nothing; in the measure's unit.
    pub gain: f64,
    /// Pieces made so until now.
    pub pieces: usize,
    /// Why it is worth trying.
    pub why: String,
}

/// The recipes worth trying, the most promising first, and the pot that compares them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outlook {
    /// At most five.
    pub next: Vec<Next>,
    /// The best recipe so far and the value expected of it.
    pub best: Option<(Recipe, f64)>,
    /// The rolls of one pot: each the mordants of its cloths; those with iron lie in a roll of their own.
    pub rolls: Vec<Vec<String>>,
}

/// So many mordants, plants and cloths have a part of their own in the model, those used most.
const MOST_PARTS: usize = 80;
/// Of each part of a recipe so many are combined, those used most.
const MOST: usize = 12;
/// So many recipes are told.
const TOLD: usize = 5;
/// A recipe that promises less than this part of what the first one does is not worth its cloth.
const WORTH: f64 = 0.05;
/// A part that does less than this part of what the strongest one does is not named as a reason.
const NOTABLE: f64 = 0.2;

/// The outlook from the rows of `survey`: only soaks, plants and cloths that occur in them are combined.
///
/// Mordant, each plant and cloth add their part, each recipe as a whole a part of its own, all drawn towards nothing; the
/// chance that a recipe gives the colour at all weighs its gain.
pub fn outlook(survey: &Survey, measure: Measure, order: Order) -> Outlook {
    // What is not told cannot be tried again: pieces without a word of their mordant are passed over.
    let told = |row: &&Row| !setting::mordant(row.seen.rounds).is_empty();
    let rows: Vec<&Row> = survey.rows.iter().filter(told).collect();
    let recipes: Vec<Recipe> = rows.iter().map(|row| Recipe::of(survey, row)).collect();
    let columns = Columns::of(&recipes);
    let sign = if order == Order::Highest { 1.0 } else { -1.0 };
    let Some(model) = fitted(&rows, &recipes, &columns, sign) else {
        return Outlook::default();
    };
    let tried: BTreeSet<&Recipe> = recipes.iter().collect();
    let expect = |recipe: &Recipe| model.expect(&columns.row(recipe));
    let seen = |recipe: &Recipe| {
        let all = rows.iter().zip(&recipes);
        all.filter(|(row, r)| *r == recipe && row.measured.is_some())
            .count()
    };
    let of_tried = tried.iter().filter(|recipe| seen(recipe) > 0);
    let best = of_tried
        .map(|&recipe| (recipe.clone(), expect(recipe).0))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    let Some((best, top)) = best else {
        return Outlook::default();
    };
    let mut next: Vec<Next> = candidates(&recipes)
        .into_iter()
        .map(|recipe| {
            let (mean, doubt) = expect(&recipe);
            let ends = [mean - 1.96 * doubt, mean + 1.96 * doubt].map(|end| sign * end);
            let pieces = seen(&recipe);
            Next {
                expected: sign * mean,
                low: ends[0].min(ends[1]),
                high: ends[0].max(ends[1]),
                gain: chance(&rows, &recipes, &recipe) * improvement(mean, doubt, top),
                pieces,
                why: why(&recipe, pieces, &columns, &model, measure),
                settings: recipe,
            }
        })
        .collect();
    next.sort_by(|a, b| {
        b.gain
            .total_cmp(&a.gain)
            .then_with(|| a.settings.cmp(&b.settings))
    });
    let least = next.first().map_or(0.0, |first| WORTH * first.gain);
    next.retain(|one| one.gain > 0.0 && one.gain >= least);
    let rolls = rolls(&next, &best);
    next.truncate(TOLD);
    Outlook {
        next,
        best: Some((best, sign * top)),
        rolls,
    }
}

impl Recipe {
    /// How the piece of this row was made.
    pub fn of(survey: &Survey, row: &Row) -> Self {
        let (piece, rounds) = (row.seen.piece, row.seen.rounds);
        let plants = match setting::value(&Factor::Plant, survey.known, piece, rounds) {
            Some(Value::Words(plants)) => plants,
            _ => Vec::new(),
        };
        Self {
            mordant: setting::mordant(rounds),
            plants,
            fibre: piece.fibre.as_deref().map(str::to_owned),
        }
    }

    /// `alum > iron, walnut, silk`.
    pub fn name(&self) -> String {
        let mordant = match self.mordant.as_str() {
            "" => "mordant not told",
            mordant => mordant,
        };
        let plants = self.plants.join(" and ");
        let parts = [mordant, &plants, self.fibre.as_deref().unwrap_or_default()];
        let parts: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
        parts.join(", ")
    }

    /// Whether iron is in it: iron wanders from cloth to cloth in a roll (common practice, no source).
    fn has_iron(&self) -> bool {
        self.mordant.contains("iron") || self.mordant.contains("ferrous")
    }
}

/// The columns of the model: a level, each mordant, plant and cloth, each recipe tried, and one for what was never tried.
struct Columns {
    parts: BTreeMap<Part, usize>,
    recipes: BTreeMap<Recipe, usize>,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Part {
    Mordant(String),
    Plant(String),
    Fibre(String),
}

impl Part {
    fn all(recipe: &Recipe) -> impl Iterator<Item = Self> {
        let plants = recipe.plants.iter().cloned().map(Self::Plant);
        let fibre = recipe.fibre.iter().cloned().map(Self::Fibre);
        std::iter::once(Self::Mordant(recipe.mordant.clone()))
            .chain(plants)
            .chain(fibre)
    }

    fn name(&self) -> &str {
        match self {
            Self::Mordant(name) | Self::Plant(name) | Self::Fibre(name) => name,
        }
    }
}

impl Columns {
    fn of(recipes: &[Recipe]) -> Self {
        let parts = most_used(recipes.iter().flat_map(Part::all), MOST_PARTS);
        let recipes = most_used(recipes.iter().cloned(), MOST * MOST);
        let first = parts.len() + 1;
        Self {
            parts: parts.into_iter().zip(1..).collect(),
            recipes: recipes.into_iter().zip(first..).collect(),
        }
    }

    fn untried(&self) -> usize {
        self.parts.len() + self.recipes.len() + 1
    }

    fn row(&self, recipe: &Recipe) -> Vec<(usize, f64)> {
        let parts = Part::all(recipe).filter_map(|part| self.parts.get(&part).copied());
        let own = self.recipes.get(recipe).copied().unwrap_or(self.untried());
        parts.chain([own]).map(|column| (column, 1.0)).collect()
    }
}

fn fitted(rows: &[&Row], recipes: &[Recipe], columns: &Columns, sign: f64) -> Option<Shrunk> {
    let mut pieces = Sparse {
        columns: columns.untried() + 1,
        ..Sparse::default()
    };
    for (row, recipe) in rows.iter().zip(recipes) {
        if let Some(measured) = &row.measured {
            pieces.rows.push(columns.row(recipe));
            pieces.y.push(sign * measured.value.value);
            pieces.pot.push(row.trial);
            pieces.known.push(measured.value.variance);
        }
    }
    let spread = scatter(&pieces)?;
    Shrunk::of(&pieces, &spread)
}

/// How pots and pieces of one mordant, plants and cloth scatter.
fn scatter(pieces: &Sparse) -> Option<Spread> {
    let mut kinds: Vec<&Vec<(usize, f64)>> = pieces.rows.iter().collect();
    kinds.sort_by(|a, b| a.iter().map(|c| c.0).cmp(b.iter().map(|c| c.0)));
    kinds.dedup();
    let kinds: Vec<_> = kinds.into_iter().take(MOST).collect();
    let mut x = vec![0.0; pieces.rows.len() * (kinds.len() + 1)];
    for (n, row) in pieces.rows.iter().enumerate() {
        let kind = kinds
            .iter()
            .position(|kind| *kind == row)
            .unwrap_or(kinds.len());
        x[n * (kinds.len() + 1) + kind] = 1.0;
    }
    let fit = Fit::of(Pieces {
        x,
        columns: kinds.len() + 1,
        y: pieces.y.clone(),
        pot: pieces.pot.clone(),
        known: pieces.known.clone(),
    })?;
    Some(fit.spread())
}

/// The values used most, at most `most`, in their order.
fn most_used<T: Ord>(all: impl Iterator<Item = T>, most: usize) -> BTreeSet<T> {
    let mut count: BTreeMap<T, usize> = BTreeMap::new();
    for one in all {
        *count.entry(one).or_default() += 1;
    }
    let mut ranked: Vec<(T, usize)> = count.into_iter().collect();
    ranked.sort_by_key(|one| std::cmp::Reverse(one.1));
    ranked.into_iter().take(most).map(|(one, _)| one).collect()
}

/// Every mordant with every set of plants and every cloth, of those used most.
fn candidates(recipes: &[Recipe]) -> Vec<Recipe> {
    let mordants = most_used(recipes.iter().map(|r| r.mordant.clone()), MOST);
    let plants = most_used(recipes.iter().map(|r| r.plants.clone()), MOST);
    let fibres = most_used(recipes.iter().map(|r| r.fibre.clone()), MOST);
    let mut all = Vec::new();
    for mordant in &mordants {
        for plants in &plants {
            for fibre in &fibres {
                all.push(Recipe {
                    mordant: mordant.clone(),
                    plants: plants.clone(),
                    fibre: fibre.clone(),
                });
            }
        }
    }
    all
}

/// The chance that a recipe gives the colour at all, by the pieces with its mordant and those with its plants, the rarer of
/// the two; by Laplace's rule of succession, so that nothing unseen is impossible.
fn chance(rows: &[&Row], recipes: &[Recipe], recipe: &Recipe) -> f64 {
    let share = |alike: &dyn Fn(&Recipe) -> bool| {
        let rows = rows.iter().zip(recipes).filter(|(_, r)| alike(r));
        let (mut all, mut with) = (0, 0);
        for (row, _) in rows {
            all += 1;
            with += usize::from(row.measured.is_some());
        }
        f64::from(with as u32 + 1) / f64::from(all as u32 + 2)
    };
    share(&|r| r.mordant == recipe.mordant).min(share(&|r| r.plants == recipe.plants))
}

fn why(
    recipe: &Recipe,
    pieces: usize,
    columns: &Columns,
    model: &Shrunk,
    measure: Measure,
) -> String {
    let effect = |part: &Part| {
        columns
            .parts
            .get(part)
            .map_or(0.0, |&column| model.effect(column))
    };
    let mut parts: Vec<Part> = Part::all(recipe).collect();
    parts.sort_by(|a, b| effect(b).total_cmp(&effect(a)));
    let largest = columns
        .parts
        .values()
        .map(|&c| model.effect(c).abs())
        .fold(0.0, f64::max);
    let helpful: Vec<String> = parts
        .iter()
        .filter(|part| effect(part) > NOTABLE * largest)
        .take(2)
        .map(|part| {
            format!(
                "{} ({} better than the mean)",
                part.name(),
                measure.show_difference(effect(part))
            )
        })
        .collect();
    let tried = match pieces {
        0 => "never tried together".to_owned(),
        1 => "tried on one piece only, so it may be better than it looks".to_owned(),
        n => format!("tried on {n} pieces, and may still be better than it looks"),
    };
    match helpful.is_empty() {
        true => tried,
        false => format!("{tried}; what does well in it: {}", helpful.join(" and ")),
    }
}

/// The mordants of one pot with the plants and cloth of the first recipe: up to three of them, and the best so far to compare
/// with. Cloths with iron lie in a roll of their own.
fn rolls(ranked: &[Next], best: &Recipe) -> Vec<Vec<String>> {
    const TRIED_AT_ONCE: usize = 3;
    let Some(first) = ranked.first() else {
        return Vec::new();
    };
    let alike = |next: &&Next| {
        next.settings.plants == first.settings.plants && next.settings.fibre == first.settings.fibre
    };
    let mut recipes: Vec<Recipe> = ranked
        .iter()
        .filter(alike)
        .take(TRIED_AT_ONCE)
        .map(|next| next.settings.clone())
        .collect();
    let control = Recipe {
        mordant: best.mordant.clone(),
        ..first.settings.clone()
    };
    if !recipes.contains(&control) {
        recipes.push(control);
    }
    let (iron, without): (Vec<Recipe>, Vec<Recipe>) =
        recipes.into_iter().partition(Recipe::has_iron);
    let names = |recipes: Vec<Recipe>| -> Vec<String> {
        recipes.into_iter().map(|recipe| recipe.mordant).collect()
    };
    [without, iron]
        .into_iter()
        .map(names)
        .filter(|roll| !roll.is_empty())
        .collect()
}
