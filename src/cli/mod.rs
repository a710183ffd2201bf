//! The program's commands, one file each: read arguments, call, show.
mod ask;
mod backup;
mod card;
mod claim;
mod drying;
mod enter;
mod export;
mod foresee;
mod ingest;
mod note;
mod number;
mod page;
mod place;
mod plan;
mod progress;
mod remeasure;
mod set;
mod show;
mod tags;
mod telling;
mod tour;
mod view;
mod washing;
mod words;

use crate::error::{Error, refused, short, visible};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, Parser, Subcommand};
use jiff::Span;
use jiff::civil::Date;
use std::error::Error as _;
use std::ffi::OsString;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

/// Everything outside that a command needs, handed in so that a command can be tested without a terminal.
pub struct World<'a> {
    /// Where answers go.
    pub out: &'a mut dyn Write,
    /// Where messages for people go.
    pub err: &'a mut dyn Write,
    /// Whether answers may hold colour blocks.
    pub colour: bool,
    /// Whether a progress bar may be drawn on standard error.
    pub progress: bool,
    /// Today.
    pub today: Date,
    /// The folder the program was started in.
    pub here: PathBuf,
    /// The journal's folder from the environment, where it is set.
    pub journal: Option<PathBuf>,
}

/// Today by the machine's clock, in UTC: near midnight it may be a day off the studio's own, which no question turns on.
pub fn today() -> Date {
    let since = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
    let days = since.map_or(0, |since| since.as_secs() / 86_400);
    Date::constant(1970, 1, 1).saturating_add(Span::new().days(days as i64))
}

/// Why a command ended early.
#[derive(Debug)]
enum Failure {
    /// Something asked for could not be done.
    Asked(Error),
    /// The command line was wrong in a way that only the journal shows.
    Line(Error),
    /// The answer could not be written.
    Output(io::Error),
}

type Done = Result<(), Failure>;

impl From<Error> for Failure {
    fn from(error: Error) -> Self {
        Self::Asked(error)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

/// A result journal for leaf prints on cloth: from photos to measured colours and answers.
#[derive(Parser)]
#[command(
    name = "filemot",
    version,
    arg_required_else_help = true,
    subcommand_required = true
)]
struct Cli {
    /// The journal's folder; else $FILEMOT_JOURNAL, else the nearest one above, else ./filemot-journal
    #[arg(long, value_name = "DIR", global = true)]
    journal: Option<PathBuf>,
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    Tour(tour::Tour),
    Tags(tags::Tags),
    Card(card::Card),
    Enter(enter::Enter),
    Set(set::Set),
    Plan(plan::PlanArgs),
    Ingest(ingest::Ingest),
    Show(show::Show),
    Remeasure(remeasure::Remeasure),
    Claim(claim::Claim),
    Ask(ask::Ask),
    Drying(drying::Drying),
    Foresee(foresee::Foresee),
    Washing(washing::WashingArgs),
    Words(words::Words),
    Note(note::Note),
    Export(export::Export),
    Import(export::Import),
    Backup(backup::Backup),
    Check(backup::Check),
    Page(page::Page),
}

/// Runs one command line; the result is the exit status: 0 done, 1 could not be done, 2 the command line was wrong.
pub fn run(arguments: impl IntoIterator<Item = OsString>, mut world: World) -> u8 {
    let cli = match Cli::try_parse_from(arguments) {
        Ok(cli) => cli,
        Err(error) => return explain(&error, &mut world),
    };
    if cli.journal.is_some() {
        world.journal = cli.journal;
    }
    let done = dispatch(&cli.command, &mut world).and_then(|()| Ok(world.out.flush()?));
    match done {
        Ok(()) => 0,
        // Whoever read the answer has seen enough of it.
        Err(Failure::Output(error)) if error.kind() == io::ErrorKind::BrokenPipe => 0,
        Err(Failure::Output(error)) => {
            let error = refused("write", Path::new("the answer"), error);
            report(&mut world, &error, 1)
        }
        Err(Failure::Asked(error)) => report(&mut world, &error, 1),
        Err(Failure::Line(error)) => report(&mut world, &error, 2),
    }
}

fn dispatch(command: &Command, world: &mut World) -> Done {
    match command {
        Command::Tour(it) => it.run(world),
        Command::Tags(it) => it.run(world),
        Command::Card(it) => it.run(world),
        Command::Enter(it) => it.run(world),
        Command::Set(it) => it.run(world),
        Command::Plan(it) => it.run(world),
        Command::Ingest(it) => it.run(world),
        Command::Show(it) => it.run(world),
        Command::Remeasure(it) => it.run(world),
        Command::Claim(it) => it.run(world),
        Command::Ask(it) => it.run(world),
        Command::Drying(it) => it.run(world),
        Command::Foresee(it) => it.run(world),
        Command::Washing(it) => it.run(world),
        Command::Words(it) => it.run(world),
        Command::Note(it) => it.run(world),
        Command::Export(it) => it.run(world),
        Command::Import(it) => it.run(world),
        Command::Backup(it) => it.run(world),
        Command::Check(it) => it.run(world),
        Command::Page(it) => it.run(world),
    }
}

/// Help and version are answers; anything else is a wrong command line.
fn explain(error: &clap::Error, world: &mut World) -> u8 {
    let text = misfit(error).unwrap_or_else(|| error.render().to_string());
    // If even this cannot be written there is nobody to tell.
    let _ = match error.use_stderr() {
        true => write!(world.err, "{text}"),
        false => write!(world.out, "{text}").and_then(|()| world.out.flush()),
    };
    u8::try_from(error.exit_code()).unwrap_or(2)
}

/// One sentence about a value that does not fit its option.
fn misfit(error: &clap::Error) -> Option<String> {
    let told = |kind| match error.get(kind) {
        Some(ContextValue::String(text)) => Some(text.as_str()),
        _ => None,
    };
    let why = error
        .source()
        .filter(|_| error.kind() == ErrorKind::ValueValidation)?;
    let (option, value) = (
        told(ContextKind::InvalidArg)?,
        told(ContextKind::InvalidValue)?,
    );
    let (option, value) = (option.split_whitespace().next()?, short(value));
    Some(format!("filemot: {option} cannot be “{value}”: {why}.\n"))
}

/// Tells what went wrong; names from a journal or a file must not act on the screen. Gives `status` back.
fn report(world: &mut World, error: &Error, status: u8) -> u8 {
    let told = error.to_string();
    let lines: Vec<String> = told.split('\n').map(visible).collect();
    // If even this cannot be written there is nobody to tell.
    let _ = writeln!(world.err, "filemot: {}", lines.join("\n"));
    status
}

/// Name and one-line help of every command, for the test that holds the docs to them.
pub fn commands() -> Vec<(String, Option<String>)> {
    Cli::command()
        .get_subcommands()
        .map(|command| {
            (
                command.get_name().to_owned(),
                command.get_about().map(ToString::to_string),
            )
        })
        .collect()
}
