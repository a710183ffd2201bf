use super::{Done, World, place};
use crate::error::Error;
use crate::journal::record::Studio;
use crate::journal::{Habit, wof_name};
use crate::measure;
use crate::sheet;
use clap::Args;

/// Keep or show the studio's own values: paper, ink, unit, and the habits that plans are reckoned with
///
/// Measure the paper and the ink of your printed tags once with an instrument, or take the values from the paper's data sheet:
/// colours become surer by it. Habits: liquor-ratio, scour-g-per-l, soak-hours, iron-hours, cool-hours, cure-days, and wof MORDANT for how
/// strong you always take it, in % of the weight of fibre. NAME none takes a value back.
#[derive(Args)]
pub(super) struct Set {
    /// Names and values in turn: paper 95.2,0.4,-1.1 ink 22,0,1 unit F liquor-ratio 30 wof alum 12
    #[arg(value_name = "NAME VALUE", allow_hyphen_values = true)]
    values: Vec<String>,
}

impl Set {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open_or_create(world)?;
        let mut studio = journal.studio()?;
        let told = told(&self.values)?;
        for (name, value) in &told {
            match value {
                Some(value) => studio.insert(name.clone(), value.clone()),
                None => studio.remove(name),
            };
        }
        check(&studio)?;
        for (name, value) in &told {
            sheet::check_strength(name, value.as_deref())?;
        }
        for (name, value) in &told {
            journal.set(name, value.as_deref())?;
        }
        show(world, &studio)?;
        if told
            .iter()
            .any(|(name, _)| name == "paper" || name == "ink")
        {
            writeln!(
                world.out,
                "Photos measured before now keep the old values until you say “filemot remeasure”."
            )?;
        }
        Ok(())
    }
}

/// Every value, the studio's own or what is assumed.
fn show(world: &mut World, studio: &Studio) -> Done {
    let habits = Habit::ALL.map(|habit| (habit.name(), format!("{}, assumed", habit.assumed())));
    let colours = [
        ("paper", "96,0,0, assumed"),
        ("ink", "25,0,0, assumed"),
        ("unit", "C"),
    ];
    let usual = colours
        .map(|(name, usual)| (name, usual.to_owned()))
        .into_iter()
        .chain(habits);
    for (name, usual) in usual {
        let value = studio.get(name).unwrap_or(&usual);
        writeln!(world.out, "{name:<14} {value}")?;
    }
    for (name, value) in studio.iter().filter(|(name, _)| name.starts_with("wof ")) {
        writeln!(world.out, "{name:<14} {value}")?;
    }
    Ok(())
}

/// A name and the value that is told, `None` where it is taken back.
type Told = (String, Option<String>);

/// Names and values, as they are kept. The strength of a mordant has two words for its name.
fn told(words: &[String]) -> Result<Vec<Told>, Error> {
    let mut told = Vec::new();
    let mut words = words.iter();
    while let Some(word) = words.next() {
        let name = match (word.as_str(), words.as_slice().first()) {
            ("wof", None) => return Err(no_value("wof")),
            ("wof", Some(_)) => words.next().map(|mordant| wof_name(mordant)),
            _ => Some(known(word)?.to_owned()),
        }
        .unwrap_or_default();
        let value = words.next().ok_or_else(|| no_value(&name))?;
        told.push((name, Some(value.clone()).filter(|value| value != "none")));
    }
    Ok(told)
}

fn known(name: &str) -> Result<&str, Error> {
    let unknown = || {
        let number = name.trim_matches(',').parse::<f64>().is_ok();
        Error::caller(match number {
            true => format!(
                "“{name}” stands apart from its colour: write the three numbers with commas and without spaces, such as: set paper 95.2,0.4,-1.1."
            ),
            false => format!(
                "“{name}” cannot be set; {} and wof can, each followed by its value, such as: set ink 22,0,1.",
                names().collect::<Vec<_>>().join(", ")
            ),
        })
    };
    names().find(|known| *known == name).ok_or_else(unknown)
}

fn names() -> impl Iterator<Item = &'static str> {
    ["paper", "ink", "unit"]
        .into_iter()
        .chain(Habit::ALL.map(Habit::name))
}

fn no_value(name: &str) -> Error {
    let such = match Habit::ALL.iter().find(|habit| habit.name() == name) {
        Some(habit) => format!("{name} {}", habit.assumed()),
        None if name.starts_with("wof") => "wof alum 12".to_owned(),
        None => "paper 95.2,0.4,-1.1".to_owned(),
    };
    Error::caller(format!("“{name}” needs a value, such as: set {such}."))
}

/// Whether all values together make sense.
fn check(studio: &Studio) -> Result<(), Error> {
    let value = |name: &str| studio.get(name).map(String::as_str);
    measure::references(value("paper"), value("ink"))?;
    sheet::check_studio(studio)
}

#[cfg(test)]
mod tests {
    use super::{check, known, told};

    #[test]
    fn a_number_alone_is_told_to_belong_to_a_colour() {
        let check = |name: &str, told: &str| {
            let said = known(name).unwrap_err().to_string();
            assert!(said.contains(told), "{said}");
        };
        check("0.4", "without spaces");
        check("-1.1,", "without spaces");
        check("papr", "cannot be set");
        assert_eq!(known("paper").unwrap(), "paper");
    }

    #[test]
    fn habits_are_told_in_pairs_and_strengths_in_threes() {
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let pairs = told(&words(
            "soak-hours 12 wof Alum 15 unit F ink none wof iron none",
        ))
        .unwrap();
        let pairs: Vec<_> = pairs
            .iter()
            .map(|(n, v)| (n.as_str(), v.as_deref().unwrap_or("taken back")))
            .collect();
        assert_eq!(
            pairs,
            [
                ("soak-hours", "12"),
                ("wof alum", "15"),
                ("unit", "F"),
                ("ink", "taken back"),
                ("wof iron", "taken back"),
            ]
        );
        let refused = |text: &str, part: &str| {
            let said = told(&words(text)).unwrap_err().to_string();
            assert!(said.contains(part), "{said}");
        };
        refused("wof", "wof alum 12");
        refused("wof alum", "wof alum 12");
        refused("cure-days", "cure-days 7");
        let studio = [("wof alum".to_owned(), "200".to_owned())].into();
        assert!(
            check(&studio)
                .unwrap_err()
                .to_string()
                .contains("at most 100")
        );
    }
}
