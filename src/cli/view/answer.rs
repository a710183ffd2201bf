use super::{cautions, strip, wrapped};
use crate::ask::{Answer, Evidence, Found, Group, Near, Next, Recipe, Shade};
use crate::error::{listed, visible};
use comfy_table::{CellAlignment, Table, TableStyle};
use std::io::{self, Write};

/// An answer: first one sentence, then a table, then the pieces behind it, then cautions.
pub(in crate::cli) fn answer(out: &mut dyn Write, colour: bool, answer: &Answer) -> io::Result<()> {
    writeln!(out, "{}", wrapped(&answer.sentence(), "", ""))?;
    writeln!(
        out,
        "{}\n",
        wrapped(&format!("Read as: {}.", answer.reading()), "", "")
    )?;
    match &answer.found {
        Found::Groups {
            groups,
            adjusted_for,
            ..
        } if !groups.is_empty() => {
            table(out, answer, groups, adjusted_for)?;
            // Where each group is a piece, the table has said it all.
            if groups.iter().any(|group| group.of_pieces > 1) {
                writeln!(out, "\nThe pieces that show it best, and their pots:")?;
                let shown = groups.iter().take(MOST_ROWS);
                let best = shown.flat_map(|group| answer.examples(&group.value).take(EXAMPLES));
                examples(out, colour, answer, &best.collect::<Vec<_>>())?;
            }
            writeln!(out)?;
        }
        Found::Slope { slope: Some(_), .. } => {
            writeln!(out, "The pieces at the ends, and their pots:")?;
            examples(out, colour, answer, &ends(answer))?;
            writeln!(out)?;
        }
        Found::Nearest { nearest, .. } if !nearest.is_empty() => {
            near(out, colour, nearest)?;
            writeln!(out)?;
        }
        Found::Next { next, rolls, .. } if !next.is_empty() => {
            next_ones(out, answer, next)?;
            bundle(out, &next[0].settings, rolls)?;
        }
        _ => {}
    }
    cautions(out, &answer.cautions)
}

/// This many groups are shown.
const MOST_ROWS: usize = 15;

/// This many pieces of a group are shown; `--csv` tells of the rest.
const EXAMPLES: usize = 2;

fn table(
    out: &mut dyn Write,
    answer: &Answer,
    groups: &[Group],
    adjusted_for: &[String],
) -> io::Result<()> {
    let adjusted = groups.iter().any(|group| group.adjusted.is_some());
    let mut header = vec![
        answer.read_as.by.clone().unwrap_or_default(),
        answer.read_as.measure.to_owned(),
        "95 % between".to_owned(),
        "pieces".to_owned(),
        "pots".to_owned(),
    ];
    if adjusted {
        header.push("adjusted".to_owned());
    }
    let mut table = Table::new();
    table.load_style(TableStyle::new());
    table.set_header(header);
    for group in groups.iter().take(MOST_ROWS) {
        table.add_row(row(answer, group, adjusted));
    }
    for column in table.column_iter_mut().skip(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    for line in table.lines() {
        writeln!(out, "{}", visible(line.trim_end()))?;
    }
    if groups.len() > MOST_ROWS {
        let more = groups.len() - MOST_ROWS;
        writeln!(out, "  … and {more} more, which --csv lists.")?;
    }
    if adjusted {
        let text = format!(
            "adjusted: the mean had {} been alike in all.",
            listed(adjusted_for)
        );
        writeln!(out, "{}", wrapped(&text, "  ", "  "))?;
    }
    Ok(())
}

fn row(answer: &Answer, group: &Group, adjusted: bool) -> Vec<String> {
    let between = group.low.zip(group.high).map_or_else(
        || {
            if group.pots == 1 {
                "one pot: unknown".to_owned()
            } else {
                "unknown".to_owned()
            }
        },
        |(low, high)| format!("{} and {}", answer.show(low), answer.show(high)),
    );
    let pieces = match group.pieces == group.of_pieces {
        true => group.pieces.to_string(),
        false => format!("{} of {}", group.pieces, group.of_pieces),
    };
    let mut row = vec![
        group.value.clone(),
        answer.show(group.mean),
        between,
        pieces,
        group.pots.to_string(),
    ];
    if adjusted {
        row.push(
            group
                .adjusted
                .map_or_else(|| "unknown".to_owned(), |mean| answer.show(mean)),
        );
    }
    row
}

/// The pieces with the lowest and the highest setting.
fn ends(answer: &Answer) -> Vec<&Evidence> {
    let mut all: Vec<&Evidence> = answer
        .evidence
        .iter()
        .filter(|e| !e.colours.is_empty() || e.setting.is_some())
        .collect();
    all.sort_by(|a, b| {
        a.setting
            .unwrap_or_default()
            .total_cmp(&b.setting.unwrap_or_default())
    });
    let first = all.len().min(EXAMPLES);
    let last = all.len().saturating_sub(EXAMPLES).max(first);
    let mut ends = all[..first].to_vec();
    ends.extend(&all[last..]);
    ends
}

fn examples(
    out: &mut dyn Write,
    colour: bool,
    answer: &Answer,
    pieces: &[&Evidence],
) -> io::Result<()> {
    let first = |piece: &Evidence| match piece.setting {
        Some(number) if piece.group.is_empty() => format!("{}", (number * 10.0).round() / 10.0),
        _ => piece.group.to_string(),
    };
    let wide = |text: &dyn Fn(&Evidence) -> String| {
        pieces
            .iter()
            .map(|piece| text(piece).chars().count())
            .max()
            .unwrap_or_default()
    };
    let pot = |piece: &Evidence| piece.pot.as_deref().unwrap_or_default().to_owned();
    let (groups, codes, pots) = (wide(&first), wide(&|p| p.piece.to_string()), wide(&pot));
    let values = wide(&|p| answer.show(p.value));
    for piece in pieces {
        let line = format!(
            " {:<groups$}  {:<codes$}  {:>values$}  {:<pots$}  {}",
            first(piece),
            piece.piece,
            answer.show(piece.value),
            pot(piece),
            colours(colour, &piece.colours),
        );
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}

fn colours(colour: bool, shades: &[Shade]) -> String {
    match colour {
        true => strip(shades.iter().map(|shade| (shade.lab, shade.share))),
        false => String::new(),
    }
}

fn near(out: &mut dyn Write, colour: bool, nearest: &[Near]) -> io::Result<()> {
    let codes = nearest
        .iter()
        .map(|near| near.piece.chars().count())
        .max()
        .unwrap_or_default();
    for near in nearest {
        let strip = colours(colour, &near.colours);
        let gap = if strip.is_empty() { "" } else { "  " };
        writeln!(
            out,
            " {:<codes$}  {:>5.1} ΔE00  {strip}{gap}{}",
            near.piece,
            near.de00,
            near.settings.name()
        )?;
    }
    Ok(())
}

fn next_ones(out: &mut dyn Write, answer: &Answer, next: &[Next]) -> io::Result<()> {
    for (n, one) in next.iter().enumerate() {
        let head = format!(
            "{}: about {} ({} to {} in 19 of 20 cases)",
            one.settings.name(),
            answer.show(one.expected),
            answer.show(one.low),
            answer.show(one.high)
        );
        writeln!(
            out,
            "{}",
            wrapped(&head, &format!("  {}. ", n + 1), "     ")
        )?;
        writeln!(out, "{}", wrapped(&one.why, "     ", "     "))?;
    }
    Ok(())
}

/// A pot that compares fairly: what shares a pot shares its liquor and its heat.
fn bundle(out: &mut dyn Write, first: &Recipe, rolls: &[Vec<String>]) -> io::Result<()> {
    if rolls.is_empty() {
        return Ok(());
    }
    let plants = match first.plants.is_empty() {
        true => "the same plants".to_owned(),
        false => first.plants.join(" and "),
    };
    let cloth = first.fibre.as_deref().unwrap_or("the same cloth");
    let text = format!(
        "The next pot, so that it compares fairly: {cloth} with {plants} in all of it, two cloths of each mordant, not next to one another."
    );
    writeln!(out, "\n{}", wrapped(&text, "", ""))?;
    for (n, roll) in rolls.iter().enumerate() {
        writeln!(out, "  roll {}: {}", n + 1, roll.join("; "))?;
    }
    let again = match rolls.len() {
        1 => "Do it again in a second pot: one pot proves nothing.",
        _ => {
            "Iron wanders from cloth to cloth, so it has a roll of its own. Do it again in a second pot: one pot proves nothing."
        }
    };
    writeln!(out, "{}", wrapped(again, "", ""))?;
    let care = "Before you soak: “filemot plan SHEET” tells grams, litres and days, with the cautions for each salt and for hot water.";
    writeln!(out, "{}\n", wrapped(care, "", ""))
}
