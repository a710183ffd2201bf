//! The middle of a region, from which a cloth can be seen whole.
//!
//! After Veksler 2008, Star shape prior for graph-cut image segmentation, doi 10.1007/978-3-540-88690-7_34, with a segment
//! in place of a point, so that long cloths count as well.

use super::cut::STEPS;
use crate::picture::Mask;

/// The middle part of a region's long axis: a cloth can be seen whole from there.
pub(super) struct Centre {
    middle: [f32; 2],
    axis: [f32; 2],
    reach: f32,
}

impl Centre {
    pub(super) fn of(region: &Mask) -> Self {
        let (mut n, mut sx, mut sy, mut xx, mut xy, mut yy) = (0f64, 0f64, 0f64, 0f64, 0f64, 0f64);
        for (i, _) in region.pixels.iter().enumerate().filter(|(_, p)| **p) {
            let (x, y) = ((i % region.width) as f64, (i / region.width) as f64);
            n += 1.0;
            sx += x;
            sy += y;
            xx += x * x;
            xy += x * y;
            yy += y * y;
        }
        let (mx, my) = (sx / n, sy / n);
        let (vxx, vxy, vyy) = (xx / n - mx * mx, xy / n - mx * my, yy / n - my * my);
        let angle = 0.5 * (2.0 * vxy).atan2(vxx - vyy);
        let spread = 0.5 * (vxx + vyy) + (0.25 * (vxx - vyy).powi(2) + vxy * vxy).sqrt();
        let narrow = 0.5 * (vxx + vyy) - (0.25 * (vxx - vyy).powi(2) + vxy * vxy).sqrt();
        // Half sides of a rectangle of these variances: the segment stops short of the ends by half the width.
        let reach = ((3.0 * spread).sqrt() - (3.0 * narrow.max(0.0)).sqrt()).max(0.0);
        Self {
            middle: [mx as f32, my as f32],
            axis: [angle.cos() as f32, angle.sin() as f32],
            reach: reach as f32,
        }
    }

    /// The direction of the neighbour that lies towards the centre.
    pub(super) fn towards(&self, x: usize, y: usize) -> Option<usize> {
        let (dx, dy) = (self.middle[0] - x as f32, self.middle[1] - y as f32);
        let along = (-dx * self.axis[0] - dy * self.axis[1]).clamp(-self.reach, self.reach);
        let (tx, ty) = (dx + along * self.axis[0], dy + along * self.axis[1]);
        let length = (tx * tx + ty * ty).sqrt();
        if length < 1.5 {
            return None;
        }
        let turn = |v: f32| {
            if v > 0.3827 * length {
                1
            } else if v < -0.3827 * length {
                -1
            } else {
                0
            }
        };
        let step = (turn(tx), turn(ty));
        STEPS.iter().position(|&s| s == step)
    }
}
