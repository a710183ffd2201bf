use crate::colour::Lab;

/// The radius that holds 68.27 % of a normal ball of unit standard deviation in three dimensions (scipy 1.17.1
/// `stats.chi.ppf(0.6827, 3)`): a doubt is such a radius.
pub(super) const BALL: f64 = 1.877_8;

/// Half the width of a 95 % interval in standard deviations.
pub(super) const NINETY_FIVE: f64 = 1.96;

/// No colour is read surer than this, CIEDE2000: what a camera's noise and a fold of the cloth change from one photo to the next. A
/// doubt that was given as less, such as 0, is taken as this. Our own figure, no source.
pub(super) const LEAST: f64 = 0.5;

/// The doubt of a colour that came without one where one is needed, CIEDE2000: what one tag in the picture leaves.
pub(super) const UNTOLD: f64 = 2.0;

/// One standard deviation of a colour along L\*, C\* and the arc of hue, given its doubt: that is taken as alike in all directions
/// in units of CIEDE2000, by S_L, S_C and S_H of ISO/CIE 11664-6, the last without its factor T.
pub fn deviations(lab: Lab, doubt: f64) -> [f64; 3] {
    let (from_middle, chroma) = ((lab.l - 50.0).powi(2), lab.a.hypot(lab.b));
    [
        1.0 + 0.015 * from_middle / (20.0 + from_middle).sqrt(),
        1.0 + 0.045 * chroma,
        1.0 + 0.015 * chroma,
    ]
    .map(|step| step * doubt / BALL)
}

/// Cosine and sine of a colour's hue; those of red for a grey.
pub(super) fn direction(lab: Lab) -> (f64, f64) {
    let (sin, cos) = lab.b.atan2(lab.a).sin_cos();
    (cos, sin)
}

/// A colour moved by `by` along L\* (axis 0), C\* (1) or the arc of hue (2); a grey's hue counts as 0°.
pub(super) fn moved(lab: Lab, axis: usize, by: f64) -> Lab {
    let (cos, sin) = direction(lab);
    match axis {
        0 => Lab::new(lab.l + by, lab.a, lab.b),
        1 => Lab::new(lab.l, lab.a + by * cos, lab.b + by * sin),
        _ => Lab::new(lab.l, lab.a - by * sin, lab.b + by * cos),
    }
}
