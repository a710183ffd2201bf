use super::{Done, World, place, view};
use crate::ask::{self, Answer, Evidence};
use crate::error::Result;
use crate::journal::{Degrees, Journal};
use clap::Args;

/// Ask the journal a question: "Which mordant gave the warmest yellows?"
///
/// A question names what to compare (mordant, plant, layer …) and what to look for (warmest, darkest …); if you like, also a
/// colour (yellows) and which pieces (with walnut, on silk, wet). It says how it read the question; a word it does not know is an error that lists what can be asked.
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
}

impl Ask {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let journal = place::open(world)?;
        // For other programs temperatures stay in °C, whatever the studio reads them in.
        let degrees = match self.json || self.csv {
            true => Degrees::Celsius,
            false => Degrees::of(&journal.studio()?),
        };
        let answer = ask(&journal, &self.question.join(" "), degrees)?;
        if self.json {
            return view::json(world, &answer);
        }
        if self.csv {
            return Ok(write!(world.out, "{}", answer.csv()?)?);
        }
        show(world, &answer)
    }
}

/// The answer from everything the journal holds.
pub(super) fn ask(journal: &Journal, question: &str, degrees: Degrees) -> Result<Answer> {
    ask::answer(&journal.pieces()?, &journal.photos()?, question, degrees)
}

/// First one sentence, then the groups, then the pieces behind them, then cautions.
pub(super) fn show(world: &mut World, answer: &Answer) -> Done {
    match (&answer.verdict, answer.groups.as_slice()) {
        (Some(verdict), _) => writeln!(world.out, "{}", view::wrapped(&verdict.text, "", ""))?,
        (None, [only]) => writeln!(
            world.out,
            "There is nothing to compare: {} is the only {} with an answer, {} in {}.",
            only.value,
            answer.read_as.by,
            answer.show(only.mean),
            view::count(only.pots, "pot", "pots")
        )?,
        (None, _) => writeln!(world.out, "No piece in the journal answers that.")?,
    }
    writeln!(world.out, "Read as: {}.\n", answer.reading())?;
    if answer.groups.is_empty() {
        return Ok(view::cautions(world.out, &answer.cautions)?);
    }
    view::groups(world.out, answer)?;
    examples(world, answer)?;
    writeln!(world.out)?;
    Ok(view::cautions(world.out, &answer.cautions)?)
}

/// This many pieces of a group are shown; `show` and `--csv` tell of the rest.
const EXAMPLES: usize = 2;

fn examples(world: &mut World, answer: &Answer) -> Done {
    let best = |group| answer.examples(group).take(EXAMPLES);
    let pieces: Vec<_> = answer
        .groups
        .iter()
        .flat_map(|group| best(&group.value))
        .collect();
    let wide = |text: fn(&Evidence) -> &str| {
        pieces
            .iter()
            .map(|piece| text(piece).chars().count())
            .max()
            .unwrap_or_default()
    };
    let (groups, codes) = (wide(|piece| &piece.group), wide(|piece| &piece.piece));
    let pots = wide(|piece| piece.pot.as_deref().unwrap_or_default());
    writeln!(world.out, "\nThe pieces that show it best, and their pots:")?;
    for piece in pieces {
        let colours = if world.colour {
            view::strip(&piece.colours)
        } else {
            String::new()
        };
        let line = format!(
            " {:<groups$}  {:<codes$}  {:>6}  {:<pots$}  {colours}",
            piece.group,
            piece.piece,
            answer.show(piece.value),
            piece.pot.as_deref().unwrap_or_default()
        );
        writeln!(world.out, "{}", line.trim_end())?;
    }
    Ok(())
}
