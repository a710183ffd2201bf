//! How things look in the terminal: blocks of colour where it has colour, words always.

mod answer;
mod drying;
mod outlook;
mod piece;
mod reading;
mod washing;

use super::{Done, World};
use crate::error::{Caution, visible};
use serde::Serialize;
use std::io::{self, Write};

pub(super) use answer::answer;
pub(super) use drying::{drying, line as dried};
pub(super) use outlook::outlook;
pub(super) use piece::piece;
pub(super) use reading::{brief, cells, photo, strip};
pub(super) use washing::washing;

/// Prints one JSON document.
pub(super) fn json(world: &mut World, document: &impl Serialize) -> Done {
    serde_json::to_writer_pretty(&mut world.out, document).map_err(io::Error::from)?;
    writeln!(world.out)?;
    Ok(())
}

/// `1 photo`, `3 photos`.
pub(super) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// Cautions as an indented list, wrapped.
pub(super) fn cautions(out: &mut dyn Write, cautions: &[Caution]) -> io::Result<()> {
    for caution in cautions {
        writeln!(out, "{}", wrapped(&caution.text, "  ! ", "    "))?;
    }
    Ok(())
}

/// The cautions of several things, each once, with the things it is about where that is not all of them.
pub(super) fn gathered(out: &mut dyn Write, things: &[(&str, &[Caution])]) -> io::Result<()> {
    let mut about: Vec<(&Caution, Vec<&str>)> = Vec::new();
    for (name, cautions) in things {
        for caution in *cautions {
            match about
                .iter_mut()
                .find(|(known, _)| known.text == caution.text)
            {
                Some((_, names)) => names.push(name),
                None => about.push((caution, vec![name])),
            }
        }
    }
    for (caution, names) in about {
        let which = if names.len() == things.len() {
            String::new()
        } else {
            format!("{}: ", names.join(", "))
        };
        writeln!(
            out,
            "{}",
            wrapped(&format!("{which}{}", caution.text), "  ! ", "    ")
        )?;
    }
    Ok(())
}

/// Width of prose in the terminal.
const WIDTH: usize = 96;

/// A paragraph, in which nothing acts on the screen, wrapped to the terminal's usual width, with its first and later indents.
pub(super) fn wrapped(text: &str, first: &str, later: &str) -> String {
    let words: Vec<String> = text.split_whitespace().map(visible).collect();
    filled(words.iter().map(String::as_str), first, later)
}

/// Words, or whole colours, in lines of the terminal's usual width; none is broken.
fn filled<'a>(words: impl Iterator<Item = &'a str>, first: &str, later: &str) -> String {
    let mut lines = vec![first.to_owned()];
    for word in words {
        let line = lines
            .last_mut()
            .filter(|line| line.chars().count() + 1 + word.chars().count() <= WIDTH);
        match line {
            Some(line) => {
                if !line.ends_with(' ') && !line.is_empty() {
                    line.push(' ');
                }
                line.push_str(word);
            }
            None => lines.push(format!("{later}{word}")),
        }
    }
    lines.join("\n")
}
