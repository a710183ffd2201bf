//! How far two palettes are apart.

use filemot::colour::{Lab, de00};
use filemot::stats::transport;
use serde_json::Value;

/// A palette of an export or of the truth: colours and shares.
pub fn palette(list: &Value) -> Vec<(Lab, f64)> {
    let read = |entry: &Value| {
        let lab: [f64; 3] = serde_json::from_value(entry["lab"].clone()).expect("a colour");
        (
            Lab::new(lab[0], lab[1], lab[2]),
            entry["share"].as_f64().expect("a share"),
        )
    };
    list.as_array()
        .expect("a palette")
        .iter()
        .map(read)
        .collect()
}

/// Colour distance moved per unit of cloth, CIEDE2000: the earth mover's distance between two palettes.
pub fn distance(one: &[(Lab, f64)], other: &[(Lab, f64)]) -> f64 {
    let shares =
        |palette: &[(Lab, f64)]| palette.iter().map(|(_, share)| *share).collect::<Vec<_>>();
    let moves = transport(&shares(one), &shares(other), |i, j| {
        de00(one[i].0, other[j].0)
    });
    moves
        .iter()
        .map(|&(i, j, amount)| amount * de00(one[i].0, other[j].0))
        .sum()
}
