use crate::colour::Lab;
use crate::error::visible;
use crate::journal::record::Photo;
use crate::reading::{Basis, LIGHT_BORROWED, Light, Swatch};
use std::io::{self, Write};

/// A photo's reading: heading and colours.
pub(in crate::cli) fn photo(out: &mut dyn Write, colour: bool, photo: &Photo) -> io::Result<()> {
    writeln!(out, "{}", heading(photo))?;
    if photo.told.outline.is_some() {
        let name = visible(photo.file.as_deref().unwrap_or("PHOTO"));
        writeln!(
            out,
            "  You gave the outline of the piece yourself; “filemot remeasure {name} --outline none” takes it back."
        )?;
    }
    if colour && !photo.reading.swatches.is_empty() {
        writeln!(out, "  {}", strip(shares(&photo.reading.swatches)))?;
    }
    for swatch in &photo.reading.swatches {
        writeln!(out, "  {}", line(swatch, colour))?;
    }
    Ok(())
}

/// A piece: its colours side by side where the terminal has colour, then in words; else in one line, for other programs.
pub(in crate::cli) fn brief(
    out: &mut dyn Write,
    colour: bool,
    code: &str,
    photo: &Photo,
) -> io::Result<()> {
    let swatches = &photo.reading.swatches;
    let words = visible(&in_words(swatches));
    if !colour {
        return writeln!(out, "{code:<7} {words}");
    }
    writeln!(out, "{code:<8}{}", strip(shares(swatches)))?;
    let colours = words.split_inclusive(", ").map(str::trim_end);
    writeln!(out, "{}", super::filled(colours, INDENT, INDENT))
}

/// As wide as a piece's code.
const INDENT: &str = "        ";

/// Words with the share of the cloth each covers, largest first.
fn in_words(swatches: &[Swatch]) -> String {
    let mut words: Vec<(&str, f64)> = Vec::new();
    for swatch in swatches {
        let word = swatch.word.as_deref().unwrap_or("no word");
        match words.iter_mut().find(|(known, _)| *known == word) {
            Some((_, share)) => *share += swatch.share,
            None => words.push((word, swatch.share)),
        }
    }
    words.sort_by(|one, other| other.1.total_cmp(&one.1));
    words
        .iter()
        .map(|(word, share)| format!("{word} {:.0} %", 100.0 * share))
        .collect::<Vec<_>>()
        .join(", ")
}

fn heading(photo: &Photo) -> String {
    let state = photo.state.map_or("state unknown", |state| state.word());
    let file = visible(photo.file.as_deref().unwrap_or("measured elsewhere"));
    let light = photo
        .reading
        .light
        .as_ref()
        .map_or_else(String::new, |light| {
            let borrowed = photo.reading.has_caution(LIGHT_BORROWED);
            format!(", {}", basis(light, borrowed))
        });
    let taken = photo.taken.as_deref().map_or_else(String::new, |taken| {
        format!(", taken {}", taken.replace('T', " "))
    });
    format!("{state}: {file}{taken}{light}")
}

fn basis(light: &Light, borrowed: bool) -> String {
    let from = match (light.basis, borrowed) {
        (Basis::Chart, false) => "light from a chart",
        (Basis::Tag, false) => "light from the tag",
        (Basis::Chart, true) => "light borrowed from a photo of the same minutes with a chart",
        (Basis::Tag, true) => "light borrowed from a photo of the same minutes with the tag",
        (Basis::Assumed, _) => "light guessed",
    };
    light.residual.map_or_else(
        || from.to_owned(),
        |residual| format!("{from}, off by {residual:.1} there"),
    )
}

/// One colour: block, share, word, CIELAB, doubt.
fn line(swatch: &Swatch, colour: bool) -> String {
    let block = if colour {
        format!("{} ", cells(swatch.lab, 4))
    } else {
        String::new()
    };
    let word = visible(swatch.word.as_deref().unwrap_or("no word"));
    let doubt = swatch
        .doubt
        .map_or_else(String::new, |doubt| format!("  give or take {doubt:.1}"));
    format!(
        "{block}{:>4.0} %  {word:<30} L* {:5.1}  a* {:6.1}  b* {:6.1}{doubt}",
        100.0 * swatch.share,
        swatch.lab.l,
        swatch.lab.a,
        swatch.lab.b
    )
}

/// Cells in the strip of a piece's colours.
const STRIP: f64 = 48.0;

/// All colours of a piece side by side, each as long as its share.
pub(in crate::cli) fn strip(colours: impl IntoIterator<Item = (Lab, f64)>) -> String {
    let (mut strip, mut done, mut drawn) = (String::new(), 0.0, 0.0);
    for (lab, share) in colours {
        done += share;
        let end = (STRIP * done).round();
        strip.push_str(&cells(lab, (end - drawn) as usize));
        drawn = end;
    }
    strip
}

fn shares(swatches: &[Swatch]) -> impl Iterator<Item = (Lab, f64)> {
    swatches.iter().map(|swatch| (swatch.lab, swatch.share))
}

/// A block of `count` cells in the colour, for terminals with 24-bit colour.
pub(in crate::cli) fn cells(lab: Lab, count: usize) -> String {
    let [r, g, b] = crate::colour::lab_to_srgb8(lab);
    format!("\x1b[48;2;{r};{g};{b}m{:count$}\x1b[0m", "")
}
