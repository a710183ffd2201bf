use crate::picture::Samples;

/// The samples as the picture is meant to be seen, with its new width and height. `orientation` is EXIF's, 1 to 8.
pub(super) fn turned(
    samples: Samples,
    width: usize,
    height: usize,
    orientation: u8,
) -> (Samples, usize, usize) {
    let samples = match samples {
        Samples::Eight(v) => Samples::Eight(turn(v, width, height, orientation)),
        Samples::Sixteen(v) => Samples::Sixteen(turn(v, width, height, orientation)),
    };
    if orientation >= 5 {
        (samples, height, width)
    } else {
        (samples, width, height)
    }
}

/// Orientations 5 to 8 are 1 to 4 of the transposed picture.
fn turn<S: Copy + Default>(
    samples: Vec<S>,
    width: usize,
    height: usize,
    orientation: u8,
) -> Vec<S> {
    if orientation >= 5 {
        let upright = transposed(&samples, width, height);
        drop(samples);
        return turn(upright, height, width, orientation - 4);
    }
    let mut samples = samples;
    let (pixels, _) = samples.as_chunks_mut::<3>();
    match orientation {
        2 => pixels.chunks_exact_mut(width).for_each(<[_]>::reverse),
        3 => pixels.reverse(),
        4 => upside_down(pixels, width),
        _ => {}
    }
    samples
}

fn upside_down<P: Copy>(pixels: &mut [P], width: usize) {
    let half = pixels.len() / width / 2 * width;
    let (upper, rest) = pixels.split_at_mut(half);
    for (up, down) in upper
        .chunks_exact_mut(width)
        .zip(rest.rchunks_exact_mut(width))
    {
        up.swap_with_slice(down);
    }
}

/// Rows become columns, in tiles small enough for the processor's cache; within a tile what is written lies side by side.
fn transposed<S: Copy + Default>(samples: &[S], width: usize, height: usize) -> Vec<S> {
    const TILE: usize = 64;
    let (from, _) = samples.as_chunks::<3>();
    let mut to = vec![[S::default(); 3]; from.len()];
    for left in (0..width).step_by(TILE) {
        for top in (0..height).step_by(TILE) {
            let bottom = (top + TILE).min(height);
            for x in left..(left + TILE).min(width) {
                let column = from[top * width + x..].iter().step_by(width);
                let row = &mut to[x * height + top..x * height + bottom];
                for (pixel, seen) in row.iter_mut().zip(column) {
                    *pixel = *seen;
                }
            }
        }
    }
    to.into_flattened()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A picture two pixels wide and three high, as a person should see it: A B / C D / E F.
    const SEEN: [u8; 6] = *b"ABCDEF";

    /// Where the standard puts each orientation's first row and first column: EXIF (JEITA CP-3451), tag 274, says on which
    /// side of the picture the stored 0th row lies and on which its 0th column.
    const SIDES: [(&str, &str); 8] = [
        ("top", "left"),
        ("top", "right"),
        ("bottom", "right"),
        ("bottom", "left"),
        ("left", "top"),
        ("right", "top"),
        ("right", "bottom"),
        ("left", "bottom"),
    ];

    /// The picture as a camera with that orientation stores it.
    fn stored(row_side: &str, column_side: &str) -> (Vec<u8>, usize, usize) {
        let sideways = matches!(row_side, "left" | "right");
        let (width, height) = if sideways { (3, 2) } else { (2, 3) };
        let mut stored = Vec::new();
        for row in 0..height {
            for column in 0..width {
                // How far the pixel lies from each named side, in the picture as seen.
                let from = |side| match () {
                    () if row_side == side => Some(row),
                    () if column_side == side => Some(column),
                    () => None,
                };
                let y = from("top").or(from("bottom").map(|d| 2 - d)).unwrap();
                let x = from("left").or(from("right").map(|d| 1 - d)).unwrap();
                stored.extend([SEEN[2 * y + x]; 3]);
            }
        }
        (stored, width, height)
    }

    #[test]
    fn every_orientation_stands_upright() {
        for (orientation, (row_side, column_side)) in (1..=8).zip(SIDES) {
            let (samples, width, height) = stored(row_side, column_side);
            let turned = turned(Samples::Eight(samples), width, height, orientation);
            let (Samples::Eight(samples), 2, 3) = turned else {
                panic!("orientation {orientation}: {turned:?}");
            };
            let seen: Vec<u8> = samples.iter().copied().step_by(3).collect();
            assert_eq!(seen, SEEN, "orientation {orientation}");
        }
    }

    #[test]
    fn large_pictures_turn_tile_by_tile() {
        let (width, height) = (170, 145);
        let stored: Vec<u16> = (0..width * height).flat_map(|n| [n as u16, 1, 2]).collect();
        let (Samples::Sixteen(seen), 145, 170) = turned(Samples::Sixteen(stored), width, height, 6)
        else {
            panic!("not turned");
        };
        // The stored 0th row is the right side, the stored 0th column the top.
        let at = |x: usize, y: usize| usize::from(seen[3 * (y * 145 + x)]);
        assert_eq!(at(144, 0), 0);
        assert_eq!(at(144, 169), 169);
        assert_eq!(at(0, 0), 144 * 170);
        assert_eq!(at(10, 133), 134 * 170 + 133);
    }
}
