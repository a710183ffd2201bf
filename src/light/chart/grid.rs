//! Where each patch of a chart lies, from the outer corners of its corner patches.

use super::homography::Homography;
use super::{Chart, Corners};

/// A chart laid into a photo. Its own coordinates count patches: patch (row, column) has its middle at (column, row).
pub(super) struct Grid {
    /// From the chart's coordinates to pixels of the photo.
    pub to_photo: Homography,
    /// How wide and high a patch is, as part of the distance from one to the next.
    pub patch: [f64; 2],
}

impl Grid {
    /// The grid whose outer corners are `corners`, for patches of such a size; `None` for corners on a line.
    pub fn new(chart: &Chart, corners: Corners, patch: [f64; 2]) -> Option<Self> {
        let [left, top] = patch.map(|p| -p / 2.0);
        let right = chart.columns as f64 - 1.0 - left;
        let bottom = chart.rows as f64 - 1.0 - top;
        let own = [[left, top], [right, top], [right, bottom], [left, bottom]];
        let pairs: Vec<_> = own.into_iter().zip(corners).collect();
        let to_photo = Homography::fitted(&pairs)?;
        Some(Self { to_photo, patch })
    }

    /// A point of a patch in pixels; `across` and `down` go from -1 to 1 over the patch.
    pub fn point(&self, row: usize, column: usize, [across, down]: [f64; 2]) -> [f64; 2] {
        let [width, height] = self.patch;
        self.to_photo.at([
            column as f64 + across * width / 2.0,
            row as f64 + down * height / 2.0,
        ])
    }
}
