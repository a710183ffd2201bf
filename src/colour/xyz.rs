use super::{Lab, Xyz};
use palette::convert::FromColorUnclamped;

/// XYZ under D65, a perfect diffuser with Y = 1; nothing is clipped.
pub fn lab_to_xyz(lab: Lab) -> [f64; 3] {
    let xyz = Xyz::from_color_unclamped(lab);
    [xyz.x, xyz.y, xyz.z]
}

/// CIELAB of an XYZ under D65, a perfect diffuser with Y = 1; nothing is clipped.
pub fn xyz_to_lab([x, y, z]: [f64; 3]) -> Lab {
    Lab::from_color_unclamped(Xyz::new(x, y, z))
}
