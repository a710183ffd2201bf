use super::{Done, World, export, place, view};
use crate::ask::{self, Answer};
use crate::draw::Drawing;
use crate::error::{Error, Result};
use crate::journal::Degrees;
use clap::Args;
use std::path::{Path, PathBuf};

/// Ask the journal a question: "Which mordant gave the warmest yellows?"
///
/// A question names what to compare (mordant, plant, layer …) and what to look for (warmest, darkest …); if you like, also a
/// colour (yellows) and which pieces (with walnut, on silk, wet). Others ask how many, what is nearest, how a number changes a
/// measure, and what to try next. It says how it read the question; a word it does not know is an error that lists what can be
/// asked.
#[derive(Args)]
pub(super) struct Ask {
    /// The question, in plain words
    #[arg(required = true, num_args = 1..)]
    question: Vec<String>,
    /// Print the answer as JSON
    #[arg(long, conflicts_with = "csv")]
    json: bool,
    /// Print the pieces behind the answer as a table, for one's own analysis
    #[arg(long)]
    csv: bool,
    /// Draw the answer as well: every piece a dot in its own colour, means with their intervals
    #[arg(long, value_name = "FILE.svg|.png")]
    plot: Option<PathBuf>,
}

impl Ask {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        // For other programs temperatures stay in °C, whatever the studio reads them in.
        let degrees = match self.json || self.csv {
            true => Degrees::Celsius,
            false => Degrees::of(&journal.studio()?),
        };
        let answer = ask::of_journal(&journal, &self.question.join(" "), degrees, world.today)?;
        if let Some(file) = &self.plot {
            draw_into(file, &answer)?;
        }
        if self.json {
            return view::json(world, &answer);
        }
        if self.csv {
            return Ok(write!(world.out, "{}", answer.csv()?)?);
        }
        view::answer(world.out, world.colour, &answer)?;
        if let Some(file) = &self.plot {
            writeln!(world.out, "Drawn in {}.", file.display())?;
        }
        Ok(())
    }
}

/// Dots a millimetre in a picture: 300 an inch, as printers want them.
const DENSITY: f64 = 300.0 / 25.4;

fn draw_into(file: &Path, answer: &Answer) -> Result<()> {
    save(file, &ask::plot(answer)?)
}

/// Saves a plot as SVG or PNG by the file's ending.
pub(super) fn save(file: &Path, plot: &Drawing) -> Result<()> {
    let ending = file.extension().and_then(|ending| ending.to_str());
    let bytes = match ending.map(str::to_lowercase).as_deref() {
        Some("svg") => plot.svg().into_bytes(),
        Some("png") => plot.png(DENSITY)?,
        _ => {
            return Err(Error::caller(format!(
                "{} ends in neither .svg nor .png, so it is not clear what to draw: give the file one of these endings.",
                file.display()
            )));
        }
    };
    export::save(file, &bytes)
}
