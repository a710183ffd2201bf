use crate::error::Error;
use crate::intake::{Saying, Telling, chart_file};
use clap::Args;
use std::path::PathBuf;

/// What a person tells about photos that are measured.
#[derive(Args)]
pub(super) struct TellingArgs {
    /// A chart lies in the picture: the CGATS.17 file that says which colours its patches have; “none” takes it back
    #[arg(long, value_name = "FILE")]
    chart: Option<PathBuf>,
    /// Where the chart's corners are, clockwise from patch A1, in pixels from the top left; else it is found; “none” takes them back
    #[arg(long, value_name = "X,Y,X,Y,X,Y,X,Y", value_parser = corners, allow_hyphen_values = true)]
    corners: Option<Saying<[[f64; 2]; 4]>>,
    /// Where the piece is: the corners of its outline, in pixels from the top left; “none” takes it back
    #[arg(long, value_name = "X,Y X,Y …", allow_hyphen_values = true)]
    outline: Option<String>,
}

/// The word that takes back what was told.
const NONE: &str = "none";

/// Reads the four corners of a chart, or that they are taken back.
fn corners(text: &str) -> Result<Saying<[[f64; 2]; 4]>, String> {
    if text == NONE {
        return Ok(Saying::Back);
    }
    let wrong =
        "four corners are eight numbers with commas between, such as 80,529,624,545,613,913,69,896";
    let numbers: Option<Vec<f64>> = text
        .split(',')
        .map(|part| part.trim().parse().ok().filter(|n: &f64| n.is_finite()))
        .collect();
    match numbers.as_deref() {
        Some(&[a, b, c, d, e, f, g, h]) => Ok(Saying::This([[a, b], [c, d], [e, f], [g, h]])),
        _ => Err(wrong.to_owned()),
    }
}

impl TellingArgs {
    /// Reads the files that are named.
    pub(super) fn read(&self) -> Result<Telling, Error> {
        let chart = match &self.chart {
            Some(path) if path.as_os_str() == NONE => Saying::Back,
            Some(path) => Saying::This(chart_file(path)?),
            None => Saying::Nothing,
        };
        let outline = match self.outline.as_deref() {
            Some(NONE) => Saying::Back,
            Some(text) => Saying::This(text.to_owned()),
            None => Saying::Nothing,
        };
        Ok(Telling {
            chart,
            corners: self.corners.clone().unwrap_or_default(),
            outline,
        })
    }
}
