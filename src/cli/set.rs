use super::{Done, World, place};
use crate::error::Error;
use crate::journal::Degrees;
use crate::journal::record::Studio;
use crate::measure;
use clap::Args;

/// Keep or show the studio's own values: paper L,a,b; ink L,a,b; unit C or F
///
/// Measure the paper and the ink of your printed tags once with an instrument, or take the values from the paper's data sheet:
/// colours become surer by it.
#[derive(Args)]
pub(super) struct Set {
    /// Names and values in turn: paper 95.2,0.4,-1.1 ink 22,0,1 unit F
    #[arg(value_name = "NAME VALUE", allow_hyphen_values = true)]
    values: Vec<String>,
}

impl Set {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open_or_create(world)?;
        let mut studio = journal.studio()?;
        for pair in self.values.chunks(2) {
            let name = known(&pair[0])?;
            let value = pair.get(1).ok_or_else(|| no_value(name))?;
            studio.insert(name.to_owned(), value.clone());
        }
        check(&studio)?;
        for name in self.values.iter().step_by(2) {
            journal.set(name, studio.get(name).map(String::as_str))?;
        }
        for (name, usual) in [
            ("paper", "96,0,0, assumed"),
            ("ink", "25,0,0, assumed"),
            ("unit", "C"),
        ] {
            writeln!(
                world.out,
                "{name:<6} {}",
                studio.get(name).map_or(usual, String::as_str)
            )?;
        }
        let names = || self.values.iter().step_by(2);
        if names().any(|name| name != "unit") {
            writeln!(
                world.out,
                "Photos measured before now keep the old values until you say “filemot remeasure”."
            )?;
        }
        Ok(())
    }
}

fn known(name: &str) -> Result<&str, Error> {
    let unknown = || {
        let number = name.trim_matches(',').parse::<f64>().is_ok();
        Error::caller(match number {
            true => format!(
                "“{name}” stands apart from its colour: write the three numbers with commas and without spaces, such as: set paper 95.2,0.4,-1.1."
            ),
            false => format!(
                "“{name}” cannot be set; paper, ink and unit can, each followed by its value, such as: set ink 22,0,1."
            ),
        })
    };
    ["paper", "ink", "unit"]
        .into_iter()
        .find(|known| *known == name)
        .ok_or_else(unknown)
}

fn no_value(name: &str) -> Error {
    Error::caller(format!(
        "“{name}” needs a value, such as: set paper 95.2,0.4,-1.1."
    ))
}

/// Whether all values together make sense.
fn check(studio: &Studio) -> Result<(), Error> {
    let value = |name: &str| studio.get(name).map(String::as_str);
    measure::references(value("paper"), value("ink"))?;
    value("unit").map_or(Ok(()), |unit| Degrees::from_word(unit).map(|_| ()))
}

#[cfg(test)]
mod tests {
    use super::known;

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
}
