use super::tags::{self, Paper};
use super::{Done, World, place};
use crate::intake::{self, chart_file};
use crate::measure::Chart;
use crate::tag;
use clap::Args;
use std::path::PathBuf;

/// Print and record a card of your own: a colour chart glued beside a code that the program knows it by
///
/// Glue the chart into the frame, flat, and ingest a photo that shows the card: the first photo teaches where beside the code the
/// chart lies; from then on the card's code alone says where to look.
#[derive(Args)]
pub(super) struct Card {
    /// A name for it, such as yard
    name: String,
    /// The chart's CGATS.17 file, which says which colours its patches have
    #[arg(long, value_name = "FILE")]
    chart: PathBuf,
    /// The file to write; its ending says which kind: .pdf or .svg
    #[arg(long, value_name = "FILE", default_value = "card.pdf")]
    out: PathBuf,
    /// The paper's size
    #[arg(long, value_enum, default_value = "a4")]
    page: Paper,
}

impl Card {
    pub(super) fn run(&self, world: &mut World) -> Done {
        let page = tag::card(&self.name, self.page.size())?;
        let (file, text) = chart_file(&self.chart)?;
        let chart = Chart::parse(&text, &file)?;
        let mut journal = place::open_or_create(world)?;
        // A card that could not be printed is not recorded.
        tags::write(world, &self.out, &[page])?;
        intake::record_card(&mut journal, &self.name, &file, &text)?;
        writeln!(
            world.out,
            "Print at actual size (100 %) on matte paper, glue the chart of {} ({} rows of {}) into the frame, both flat on one stiff board, and ingest a photo that shows it: that first photo teaches where the chart lies (where it is not found, say so with --corners), and from then on the card's code is enough.",
            file, chart.rows, chart.columns
        )?;
        Ok(())
    }
}
