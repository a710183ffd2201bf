//! The program `filemot`: hands the terminal, the clock and the arguments to the library.

use filemot::cli::{World, run, today};
use std::io::IsTerminal;
use std::process::ExitCode;

fn main() -> ExitCode {
    let (out, mut err) = (std::io::stdout(), std::io::stderr());
    let terminal = out.is_terminal();
    let world = World {
        progress: err.is_terminal(),
        colour: terminal
            && std::env::var_os("NO_COLOR").is_none()
            && std::env::var("TERM").as_deref() != Ok("dumb"),
        today: today(),
        here: std::env::current_dir().unwrap_or_default(),
        journal: std::env::var_os("FILEMOT_JOURNAL")
            .filter(|folder| !folder.is_empty())
            .map(Into::into),
        out: &mut out.lock(),
        // Not locked: the progress bar is drawn on it from other threads.
        err: &mut err,
    };
    ExitCode::from(run(std::env::args_os(), world))
}
