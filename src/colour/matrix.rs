/// A 3×3 matrix, row by row.
pub type Matrix = [[f64; 3]; 3];

/// XYZ of a white, Y = 1.
pub type White = [f64; 3];

/// Daylight of 6504 K, 2°: the ASTM E308 white, which all colour here refers to.
pub const D65: White = [0.95047, 1.0, 1.08883];

/// Chromaticities of red, green and blue, each `[x, y]`.
pub type Primaries = [[f64; 2]; 3];

/// The primaries of sRGB, IEC 61966-2-1.
const SRGB: Primaries = [[0.64, 0.33], [0.30, 0.60], [0.15, 0.06]];

/// Linear RGB of these primaries to XYZ (D65, Y = 1 for white): the amounts of the primaries are those that make white.
pub fn rgb_to_xyz(primaries: Primaries) -> Matrix {
    let columns = primaries.map(|[x, y]| [x / y, 1.0, (1.0 - x - y) / y]);
    let unscaled = transposed(columns);
    let amounts = apply(inverse(unscaled), D65);
    unscaled.map(|row| [0, 1, 2].map(|c| row[c] * amounts[c]))
}

/// Linear sRGB to XYZ (D65, Y = 1 for white).
pub fn srgb_to_xyz() -> Matrix {
    rgb_to_xyz(SRGB)
}

/// The linear Bradford adaptation: XYZ seen under the white `from` to the corresponding XYZ under the white `to`.
///
/// Lam 1985, in the linear form of ICC.1 Annex E: each cone-like response is scaled by the ratio of the whites'.
pub fn bradford(from: White, to: White) -> Matrix {
    const M: Matrix = [
        [0.8951, 0.2664, -0.1614],
        [-0.7502, 1.7135, 0.0367],
        [0.0389, -0.0685, 1.0296],
    ];
    let (seen, wanted) = (apply(M, from), apply(M, to));
    let scaled = [0, 1, 2].map(|r| M[r].map(|m| m * wanted[r] / seen[r]));
    product(inverse(M), scaled)
}

/// A matrix times a column.
pub fn apply(matrix: Matrix, column: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row[0] * column[0] + row[1] * column[1] + row[2] * column[2])
}

/// One matrix after another: `product(a, b)` applied to a column is `a` of `b` of it.
pub fn product(after: Matrix, before: Matrix) -> Matrix {
    let columns = transposed(before).map(|column| apply(after, column));
    transposed(columns)
}

/// The inverse; entries are infinite or NaN where there is none.
pub fn inverse(m: Matrix) -> Matrix {
    let [a, b, c] = m;
    let cofactors = [cross(b, c), cross(c, a), cross(a, b)];
    let determinant: f64 = (0..3).map(|i| a[i] * cofactors[0][i]).sum();
    transposed(cofactors).map(|row| row.map(|v| v / determinant))
}

fn transposed(m: Matrix) -> Matrix {
    [0, 1, 2].map(|c| m.map(|row| row[c]))
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Daylight of 5003 K, 2°: the ASTM E308 white, which ICC profiles refer to.
    const D50: White = [0.96422, 1.0, 0.82521];

    /// The primaries of Display P3, SMPTE EG 432-1; its white is D65.
    const DISPLAY_P3: Primaries = [[0.680, 0.320], [0.265, 0.690], [0.150, 0.060]];

    fn check(found: Matrix, published: Matrix, off: f64, source: &str) {
        for (found, published) in found.iter().flatten().zip(published.iter().flatten()) {
            assert!(
                (found - published).abs() <= off,
                "{source}: {found} is not {published}"
            );
        }
    }

    #[test]
    fn srgb_is_the_standard_s() {
        // IEC 61966-2-1:1999, the printed matrices. They rest on the chromaticity of D65 to four digits (Z 1.0891 where the
        // E308 white has 1.08883), which moves the last row by up to 0.0002.
        let iec = [
            [0.4124, 0.3576, 0.1805],
            [0.2126, 0.7152, 0.0722],
            [0.0193, 0.1192, 0.9505],
        ];
        check(srgb_to_xyz(), iec, 2.1e-4, "IEC 61966-2-1");
        let back = [
            [3.2406, -1.5372, -0.4986],
            [-0.9689, 1.8758, 0.0415],
            [0.0557, -0.2040, 1.0570],
        ];
        check(inverse(srgb_to_xyz()), back, 5.0e-4, "IEC 61966-2-1");
        // The same with the E308 white to seven digits, as widely published (Lindbloom).
        let seven = [
            [0.4124564, 0.3575761, 0.1804375],
            [0.2126729, 0.7151522, 0.0721750],
            [0.0193339, 0.1191920, 0.9503041],
        ];
        check(srgb_to_xyz(), seven, 6.0e-8, "Lindbloom, sRGB");
    }

    #[test]
    fn display_p3_is_as_another_library_has_it() {
        // colour-science 0.4.7, RGB_COLOURSPACES["Display P3"]; its white is the four-digit chromaticity of D65.
        let theirs = [
            [0.486571, 0.265668, 0.198217],
            [0.228975, 0.691739, 0.079287],
            [0.0, 0.045113, 1.043944],
        ];
        check(rgb_to_xyz(DISPLAY_P3), theirs, 3.0e-4, "Display P3");
        let to_srgb = [
            [1.224940, -0.224940, 0.0],
            [-0.042057, 1.042057, 0.0],
            [-0.019638, -0.078636, 1.098274],
        ];
        let found = product(inverse(srgb_to_xyz()), rgb_to_xyz(DISPLAY_P3));
        check(found, to_srgb, 2.0e-4, "Display P3 to sRGB");
    }

    #[test]
    fn bradford_between_the_daylights() {
        // Lindbloom, "Chromatic Adaptation", the two matrices for the E308 whites.
        let d65_to_d50 = [
            [1.0478112, 0.0228866, -0.0501270],
            [0.0295424, 0.9904844, -0.0170491],
            [-0.0092345, 0.0150436, 0.7521316],
        ];
        let d50_to_d65 = [
            [0.9555766, -0.0230393, 0.0631636],
            [-0.0282895, 1.0099416, 0.0210077],
            [0.0122982, -0.0204830, 1.3299098],
        ];
        check(bradford(D65, D50), d65_to_d50, 1.0e-6, "D65 to D50");
        check(bradford(D50, D65), d50_to_d65, 1.0e-6, "D50 to D65");
    }

    #[test]
    fn a_white_becomes_the_other_white() {
        let white = apply(bradford(D50, D65), D50);
        for (found, wanted) in white.into_iter().zip(D65) {
            assert!((found - wanted).abs() < 1e-12);
        }
    }

    proptest! {
        #[test]
        fn adaptation_there_and_back_is_nothing(xyz in [0.0..1.2f64, 0.0..1.2f64, 0.0..1.2f64]) {
            let back = apply(bradford(D65, D50), apply(bradford(D50, D65), xyz));
            for (found, given) in back.into_iter().zip(xyz) {
                prop_assert!((found - given).abs() < 1e-12);
            }
        }
    }
}
