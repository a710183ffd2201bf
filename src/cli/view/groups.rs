use crate::ask::{Answer, Group};
use comfy_table::{CellAlignment, Table, TableStyle};
use std::io::{self, Write};

/// The groups of an answer as a table, best first.
pub(in crate::cli) fn groups(out: &mut dyn Write, answer: &Answer) -> io::Result<()> {
    let mut table = Table::new();
    table.load_style(TableStyle::new());
    table.set_header([
        answer.read_as.by.as_str(),
        answer.read_as.measure,
        "95 % between",
        "pieces",
        "pots",
    ]);
    for group in &answer.groups {
        table.add_row(row(answer, group));
    }
    for column in table.column_iter_mut().skip(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    for line in table.lines() {
        writeln!(out, "{}", line.trim_end())?;
    }
    Ok(())
}

fn row(answer: &Answer, group: &Group) -> [String; 5] {
    let between = group.low.zip(group.high).map_or_else(
        || "one pot: unknown".to_owned(),
        |(low, high)| format!("{} and {}", answer.show(low), answer.show(high)),
    );
    let pieces = match group.pieces == group.of_pieces {
        true => group.pieces.to_string(),
        false => format!("{} of {}", group.pieces, group.of_pieces),
    };
    [
        group.value.clone(),
        answer.show(group.mean),
        between,
        pieces,
        group.pots.to_string(),
    ]
}
