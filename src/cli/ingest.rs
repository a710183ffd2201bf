use super::telling::TellingArgs;
use super::{Done, World, number, place, progress, view};
use crate::error::Error;
use crate::intake::{self, Options, Summary};
use crate::journal::Journal;
use crate::reading::State;
use clap::Args;
use std::io::Write;
use std::path::PathBuf;

/// Take photos in: find each piece, correct the light, measure its colours
///
/// JPEG, HEIC, PNG, TIFF and WebP are read. Photos the journal knows already are left alone, so the
/// same folder can be ingested again and again. One bad photo never stops the others.
#[derive(Args)]
pub(super) struct Ingest {
    /// Folders or photos; folders with all that is in them
    #[arg(required = true, value_name = "FOLDER|FILE")]
    paths: Vec<PathBuf>,
    /// What all these photos show the pieces as: wet, dry, washed or worn
    #[arg(long, value_parser = state, value_name = "STATE")]
    state: Option<State>,
    /// How often all these pieces had been washed; goes with --state washed, which is meant unless it is worn
    #[arg(long, value_name = "N", allow_hyphen_values = true, value_parser = number::washes)]
    washes: Option<u32>,
    /// Leave the originals where they are; else the journal keeps copies
    #[arg(long)]
    in_place: bool,
    #[command(flatten)]
    telling: TellingArgs,
    /// Print the summary as JSON
    #[arg(long)]
    json: bool,
}

/// Reads a state for the command line.
pub(super) fn state(word: &str) -> Result<State, String> {
    State::from_word(word).ok_or_else(|| "a state is wet, dry, washed or worn".to_owned())
}

/// The state that was said, or meant by saying how often a piece was washed.
///
/// # Errors
/// Washes of a piece that is said to be wet or dry, which is one that was never washed.
pub(super) fn washed(state: Option<State>, washes: Option<u32>) -> Result<Option<State>, Error> {
    match (state, washes) {
        (Some(State::Wet | State::Dry), Some(_)) => Err(Error::caller(
            "Wet and dry are what a piece is before its first wash, so --washes goes with --state washed or --state worn alone.",
        )),
        (None, Some(_)) => Ok(Some(State::Washed)),
        (state, _) => Ok(state),
    }
}

impl Ingest {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let mut journal = place::open_or_create(world)?;
        let options = Options {
            state: washed(self.state, self.washes)?,
            washes: self.washes,
            in_place: self.in_place,
            telling: self.telling.read()?,
        };
        let summary = take_in(&mut journal, &self.paths, &options, world.progress)?;
        if self.json {
            return view::json(world, &summary);
        }
        show(world, &summary)
    }
}

/// Ingests with a progress bar.
pub(super) fn take_in(
    journal: &mut Journal,
    paths: &[PathBuf],
    options: &Options,
    progress: bool,
) -> crate::error::Result<Summary> {
    let bar = progress::bar(progress);
    let summary = intake::ingest(journal, paths, options, &|count| match count {
        0 => bar.inc(1),
        count => {
            bar.set_message("Measuring");
            bar.set_length(count as u64);
        }
    });
    bar.finish_and_clear();
    summary
}

/// The summary in words; lists say which photos need a hand.
pub(super) fn show(world: &mut World, summary: &Summary) -> Done {
    let out = &mut world.out;
    writeln!(out, "{}.", counts(summary))?;
    if summary.found == 0 {
        writeln!(
            out,
            "No JPEG, HEIC, PNG, TIFF or WebP picture lies there; check which folder the phone's photos went to."
        )?;
    }
    list(
        out,
        "No piece is known for these; say which with “filemot claim PHOTO PIECE”:",
        &summary.unclaimed,
    )?;
    list(
        out,
        "No cloth was found in these; they are kept, measured as nothing:",
        &summary.without_cloth,
    )?;
    let (told, untold): (Vec<_>, Vec<_>) =
        (summary.light_assumed.iter().cloned()).partition(|name| summary.unclaimed.contains(name));
    list(
        out,
        "No chart and no tag was readable in these, so their light is a guess and their colours doubtful:",
        &untold,
    )?;
    if !told.is_empty() {
        writeln!(
            out,
            "In {} of those no chart and no tag was readable, so their light is a guess and their colours doubtful.",
            view::count(told.len(), "photo", "photos")
        )?;
    }
    if summary.told_in_vain > 0 {
        writeln!(
            out,
            "What the journal knew already was not measured by the chart; to do that, run “filemot remeasure PIECE|PHOTO… --chart FILE”."
        )?;
    }
    if summary.taken_as_dry > 0 {
        writeln!(
            out,
            "{} taken as dry, since nothing said otherwise: {}. Where that is wrong, say “filemot claim PHOTO PIECE --state wet”; for the next ones put wet, dry or washed in the folder's name.",
            view::count(summary.taken_as_dry, "photo was", "photos were"),
            first(&summary.dry_untold)
        )?;
    }
    for refused in &summary.refused {
        writeln!(world.err, "Refused: {}", refused.why)?;
    }
    Ok(())
}

/// The first three names, and how many more there are.
fn first(names: &[String]) -> String {
    let shown = names.len().min(3);
    match names.len() - shown {
        0 => names.join(", "),
        more => format!("{} and {more} more", names[..shown].join(", ")),
    }
}

fn counts(summary: &Summary) -> String {
    let mut parts = vec![
        view::count(summary.found, "photo found", "photos found"),
        format!("{} new and measured", summary.new),
    ];
    if summary.known > 0 {
        parts.push(format!("{} known already", summary.known));
    }
    if !summary.refused.is_empty() {
        parts.push(format!("{} refused", summary.refused.len()));
    }
    parts.join(", ")
}

/// At most this many names are listed; a season's worth would bury the rest.
const LISTED: usize = 12;

fn list(out: &mut dyn Write, heading: &str, names: &[String]) -> std::io::Result<()> {
    if names.is_empty() {
        return Ok(());
    }
    writeln!(out, "{heading}")?;
    for name in names.iter().take(LISTED) {
        writeln!(out, "  {name}")?;
    }
    match names.len().saturating_sub(LISTED) {
        0 => Ok(()),
        more => writeln!(out, "  and {more} more"),
    }
}
