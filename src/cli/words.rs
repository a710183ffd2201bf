use super::number::number;
use super::{Done, World, place, view};
use crate::ask;
use crate::note;
use crate::words::{Family, Own};
use clap::{Args, Subcommand};

/// Colour words of your own: show them, add one, or drop one
///
/// A word is a middle and how far from it a colour may be. Where several reach a colour, the one with the nearest middle counts.
/// In a note a colour bears the word only if it is known well enough.
/// Questions know them: “Which mordant gave most rust?”
#[derive(Args)]
pub(super) struct Words {
    #[command(subcommand)]
    change: Option<Change>,
}

#[derive(Subcommand)]
enum Change {
    /// Add a colour word, or give one another meaning
    Add(Add),
    /// Drop a colour word
    Drop {
        /// The word
        name: String,
    },
}

#[derive(Args)]
struct Add {
    /// The word, such as rust; several words in quotation marks
    name: String,
    /// Its middle as L*,a*,b*, such as 45,32,40, or a piece: the largest colour of its latest washed photo, else of a dry one
    #[arg(value_name = "L,a,b|PIECE")]
    middle: String,
    /// How far from the middle a colour may be, in CIEDE2000, 0.1 to 30: 1 is just seen side by side
    #[arg(
        long,
        value_name = "DE",
        default_value = "5",
        allow_hyphen_values = true,
        value_parser = number("how far a colour may be", 0.1..=30.0)
    )]
    within: f64,
}

impl Words {
    pub(super) fn run(&self, world: &mut World) -> Done {
        match &self.change {
            None => show(world, &ask::own_words(&place::open(world)?.studio()?)),
            Some(Change::Add(add)) => add.run(world),
            Some(Change::Drop { name }) => drop(world, name),
        }
    }
}

fn show(world: &mut World, words: &[Own]) -> Done {
    if words.is_empty() {
        let text = "There are no colour words of your own yet. Add one by its numbers, “filemot words add rust 45,32,40”, or by a piece \
             that shows it, “filemot words add rust LB007”.";
        writeln!(world.out, "{}", view::wrapped(text, "", ""))?;
    }
    for word in words {
        writeln!(world.out, "{}", line(word, world.colour))?;
    }
    let families: Vec<String> = Family::ALL.map(Family::plural).into();
    let text = format!(
        "The standard's, which every question knows: {}.",
        families.join(", ")
    );
    Ok(writeln!(world.out, "{}", view::wrapped(&text, "", ""))?)
}

/// One word: block, name, CIELAB, reach.
fn line(word: &Own, colour: bool) -> String {
    let block = match colour {
        true => format!("{} ", view::cells(word.lab, 4)),
        false => String::new(),
    };
    let Own { name, lab, within } = word;
    format!(
        "{block}{name:<20} L* {:5.1}  a* {:6.1}  b* {:6.1}  within {within}",
        lab.l, lab.a, lab.b
    )
}

impl Add {
    fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open_or_create(world)?;
        let named = ask::name_colour(
            &mut journal,
            &self.name,
            &self.middle,
            self.within,
            world.today,
        )?;
        writeln!(world.out, "{}", line(&named.word, world.colour))?;
        let unsaid = note::never_said(&named.word.name);
        for text in named.told.iter().chain(&unsaid) {
            writeln!(world.out, "{}", view::wrapped(text, "", ""))?;
        }
        Ok(())
    }
}

fn drop(world: &mut World, name: &str) -> Done {
    let word = ask::drop_colour_word(&mut place::open(world)?, name)?;
    Ok(writeln!(world.out, "Dropped “{}”.", word.name)?)
}
