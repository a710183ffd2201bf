use super::{Done, World, export, place, view};
use crate::ask;
use crate::draw::Drawing;
use crate::error::Result;
use crate::journal::Degrees;
use clap::Args;
use clap::builder::{PathBufValueParser, TypedValueParser};
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
    #[arg(long, value_name = "FILE.svg|.png", value_parser = drawing())]
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
        let draw = |file| save(file, &ask::plot(&answer)?);
        if self.json || self.csv {
            self.plot.as_deref().map(draw).transpose()?;
            return match self.json {
                true => view::json(world, &answer),
                false => Ok(write!(world.out, "{}", answer.csv()?)?),
            };
        }
        // First the answer: where there is nothing to draw, its cautions say why.
        view::answer(world.out, world.colour, &answer)?;
        if let Some(file) = &self.plot {
            draw(file)?;
            writeln!(world.out, "Drawn in {}.", file.display())?;
        }
        Ok(())
    }
}

/// Dots a millimetre in a picture: 300 an inch, as printers want them.
const DENSITY: f64 = 300.0 / 25.4;

/// Reads the name of a drawing for the command line.
pub(super) fn drawing() -> impl TypedValueParser<Value = PathBuf> {
    let named = |file: PathBuf| match is_png(&file) {
        Some(_) => Ok(file),
        None => Err("the name of a drawing ends in .svg or .png"),
    };
    PathBufValueParser::new().try_map(named)
}

/// Whether a drawing's name ends in `.png`, else in `.svg`; `None` where it ends in neither.
fn is_png(file: &Path) -> Option<bool> {
    match file.extension()?.to_str()?.to_lowercase().as_str() {
        "png" => Some(true),
        "svg" => Some(false),
        _ => None,
    }
}

/// Saves a plot as PNG or SVG by the ending of a name that [`drawing`] took.
pub(super) fn save(file: &Path, plot: &Drawing) -> Result<()> {
    let bytes = match is_png(file) {
        Some(true) => plot.png(DENSITY)?,
        _ => plot.svg().into_bytes(),
    };
    export::save(file, &bytes)
}
