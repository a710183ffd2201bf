//! Tables in and out: the settings of pieces, bundles and pots, as a studio writes them in a spreadsheet.
//!
//! A sheet becomes a [`Table`] of plain text ([`read`]), each row is understood whole, and only then does anything reach the
//! journal ([`enter()`]). `docs/sheet.md` is the format in full.

mod bath;
mod caution;
mod cell;
mod cells;
mod column;
mod delimited;
mod enter;
mod entered;
mod file;
mod moved;
mod plan;
mod recipe;
mod row;
mod soaked;
mod studio;
mod table;
mod unit;
mod workbook;
mod write;

pub use bath::plan_baths;
pub use caution::{cautions, strange_soak};
pub use enter::{enter, enter_bath_events, enter_bundle, enter_table, plan_changes};
pub use entered::{Change, Entered, Subject, reasons};
pub use file::read;
pub use moved::Moved;
pub use plan::{
    Day, Known, Plan, Step, Weigh, pages as plan_pages, plan_like, plan_sheet, text as plan_text,
};
pub use recipe::{mordant, plants, print_mordant, print_plants};
pub use row::STATUS;
pub use soaked::bath_told;
pub use studio::{check_strength, check_studio};
pub use table::{Row, Table};
pub use unit::{GRAMS_PER_MOMME, cloth_mass_g};
pub use write::write_csv;

/// A filled sheet to learn from: `docs/example-sheet.csv`.
pub fn example() -> &'static str {
    include_str!("../../docs/example-sheet.csv")
}

/// An empty sheet to fill in: `docs/blank-sheet.csv`.
pub fn blank() -> &'static str {
    include_str!("../../docs/blank-sheet.csv")
}

#[cfg(test)]
mod tests {
    use super::*;
    use column::Column;

    /// The format in full says what every column is.
    #[test]
    fn every_column_stands_in_the_docs() {
        let docs = include_str!("../../docs/sheet.md");
        let blank: Vec<&str> = blank().trim_end().split(',').collect();
        for (_, name) in Column::ALL {
            assert!(
                docs.contains(&format!("`{name}`")),
                "{name} in docs/sheet.md"
            );
        }
        for name in blank {
            assert!(
                Column::ALL.iter().any(|(_, known)| *known == name),
                "{name} in docs/blank-sheet.csv"
            );
        }
        assert!(docs.contains(example().lines().next().unwrap_or_default()));
    }
}
