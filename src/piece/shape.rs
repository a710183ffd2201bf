//! Regions grown, shrunk, closed and opened by round distances.

use super::trace;
use crate::picture::Mask;

/// The distance of each pixel from the nearest one that belongs, in pixels, within 8.3 % (a chamfer of 1 and √2; Borgefors
/// 1986, doi 10.1016/S0734-189X(86)80047-0). What lies outside the picture counts as far away.
pub(super) fn distances(mask: &Mask) -> Vec<f32> {
    let (width, height) = (mask.width, mask.height);
    let far = (width + height) as f32;
    let mut near: Vec<f32> = mask
        .pixels
        .iter()
        .map(|&p| if p { 0.0 } else { far })
        .collect();
    let root = std::f32::consts::SQRT_2;
    for y in 0..height {
        for x in 0..width {
            let i = y * width + x;
            let mut least = near[i];
            if x > 0 {
                least = least.min(near[i - 1] + 1.0);
            }
            if y > 0 {
                least = least.min(near[i - width] + 1.0);
                if x > 0 {
                    least = least.min(near[i - width - 1] + root);
                }
                if x + 1 < width {
                    least = least.min(near[i - width + 1] + root);
                }
            }
            near[i] = least;
        }
    }
    for y in (0..height).rev() {
        for x in (0..width).rev() {
            let i = y * width + x;
            let mut least = near[i];
            if x + 1 < width {
                least = least.min(near[i + 1] + 1.0);
            }
            if y + 1 < height {
                least = least.min(near[i + width] + 1.0);
                if x + 1 < width {
                    least = least.min(near[i + width + 1] + root);
                }
                if x > 0 {
                    least = least.min(near[i + width - 1] + root);
                }
            }
            near[i] = least;
        }
    }
    near
}

/// The region grown by `radius` pixels.
pub(super) fn grown(mask: &Mask, radius: f32) -> Mask {
    within(mask, |distance| distance <= radius)
}

/// The region shrunk by `radius` pixels; the frame does not shrink it.
pub(super) fn shrunk(mask: &Mask, radius: f32) -> Mask {
    within(&mask.map(|p| !p), |distance| distance > radius)
}

/// Gaps and bays narrower than `2 * radius` pixels filled.
pub(super) fn closed(mask: &Mask, radius: f32) -> Mask {
    shrunk(&trace::filled(&grown(mask, radius)), radius)
}

/// Spurs and bridges narrower than `2 * radius` pixels taken away.
pub(super) fn opened(mask: &Mask, radius: f32) -> Mask {
    grown(&shrunk(mask, radius), radius)
}

fn within(mask: &Mask, keep: impl Fn(f32) -> bool) -> Mask {
    Mask {
        width: mask.width,
        height: mask.height,
        pixels: distances(mask).into_iter().map(keep).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the distances from the definition.
    #[test]
    fn distances_are_round_within_a_twelfth() {
        let mut mask = Mask::empty(40, 30);
        for (x, y) in [(3, 4), (30, 20)] {
            mask.pixels[y * 40 + x] = true;
        }
        for (i, &distance) in distances(&mask).iter().enumerate() {
            let to = |x: f32, y: f32| ((i % 40) as f32 - x).hypot((i / 40) as f32 - y);
            let exact = to(3.0, 4.0).min(to(30.0, 20.0));
            assert!((exact - 1e-3..=1.083 * exact + 1e-3).contains(&distance));
        }
    }

    #[test]
    fn a_spur_is_opened_and_a_bay_closed() {
        let mut square = Mask::empty(40, 40);
        for y in 10..30 {
            square.pixels[y * 40 + 10..y * 40 + 30].fill(true);
        }
        let mut spurred = square.clone();
        spurred.pixels[20 * 40 + 30..20 * 40 + 38].fill(true);
        assert!(!*opened(&spurred, 3.0).at(36, 20));
        let mut bayed = square.clone();
        bayed.pixels[20 * 40 + 24..20 * 40 + 30].fill(false);
        assert!(*closed(&bayed, 3.0).at(26, 20));
    }
}
