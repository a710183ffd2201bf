//! From CIELAB to Munsell hue, value and chroma.
//!
//! Value follows ASTM D1535 from luminance. Hue and chroma come from the Munsell renotation (Newhall, Nickerson & Judd
//! 1943, J. Opt. Soc. Am. 33, 385, doi 10.1364/JOSA.33.000385) as the crate `munsellspace` carries it, turned round:
//! between the 40 hues, the even chromas and the whole values of the table, the angle and the radius in CIELAB are
//! interpolated linearly. In CIELAB the lines of one hue and the rings of one chroma are nearly straight and round, so
//! this differs little from the graphical method of ASTM D1535 (0.04 of a chroma step on average, 0.3 at most below value 9),
//! never fails to converge, and takes microseconds where the crate's own inversion takes milliseconds.

use crate::colour::{D65, Lab, Matrix, White, Xyz, apply, bradford};
use munsellspace::constants::MUNSELL_RENOTATION_DATA;
use palette::convert::FromColorUnclamped;
use std::f64::consts::{PI, TAU};
use std::sync::LazyLock;

/// Illuminant C, 2°, x 0.31006, y 0.31616: the light of the renotation.
const C: White = [0.98071, 1.0, 1.18225];

/// The hue letters round the circle; each spans ten steps.
const LETTERS: [&str; 10] = ["R", "YR", "Y", "GY", "G", "BG", "B", "PB", "P", "RP"];

/// A colour in the Munsell system.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Munsell {
    /// Steps round the circle, 0 to 100, both included: 5 is 5R, 15 is 5YR, 100 is 10RP. Meaningless where chroma is 0.
    pub hue: f64,
    /// 0 (black) to 10 (the perfect diffuser).
    pub value: f64,
    /// 0 (neutral) upwards; beyond the table it is extrapolated.
    pub chroma: f64,
}

/// A place in the a\*b\* plane under illuminant C.
#[derive(Clone, Copy, Debug)]
struct Polar {
    angle: f64,
    radius: f64,
}

/// The places of one hue at chroma 0, 2, 4, … to 50 on one value; inside chroma 2 the line runs straight to the neutral, beyond
/// the renotation it runs straight on.
type Spoke = [Polar; 26];

/// The 40 hues of the renotation, 2.5 steps apart from 10RP, on the whole values 1 to 10.
static RENOTATION: LazyLock<[[Spoke; 40]; 10]> = LazyLock::new(renotation);

/// From D65 to illuminant C.
static TO_C: LazyLock<Matrix> = LazyLock::new(|| bradford(D65, C));

/// A colour under illuminant C: its luminance, and its place.
#[derive(Clone, Copy, Debug)]
pub struct UnderC {
    luminance: f64,
    place: Polar,
}

impl UnderC {
    /// The colour that has this CIELAB under D65.
    pub fn of(lab: Lab) -> Self {
        let xyz = Xyz::from_color_unclamped(lab);
        let xyz = apply(*TO_C, [xyz.x, xyz.y, xyz.z]);
        Self {
            luminance: xyz[1],
            place: polar(xyz),
        }
    }

    /// The angle in the a\*b\* plane, -π to π.
    pub fn angle(self) -> f64 {
        self.place.angle
    }
}

/// The angles, in radians from some π below 0 on, between which a colour lies whose hue is in the gap of 2.5 steps from
/// `2.5 gap` on, `gap` from 0 to 39.
pub fn angles(gap: usize) -> (f64, f64) {
    let middle = RENOTATION[4][gap][4].angle;
    let lines = RENOTATION
        .iter()
        .flat_map(|plane| [&plane[gap], &plane[(gap + 1) % 40]]);
    let from_middle = lines.flatten().map(|place| turn(middle, place.angle));
    let ends = |(low, high): (f64, f64), way: f64| (low.min(way), high.max(way));
    let (low, high) = from_middle.fold((0.0, 0.0), ends);
    (middle + low, middle + high)
}

/// Hue, value and chroma of a colour; hue and chroma below value 1 are those of the same place on value 1.
pub fn munsell(colour: UnderC) -> Munsell {
    let value = value_of(colour.luminance);
    let place = colour.place;
    let slice = Slice::at(value);
    let turned = if place.angle < 0.0 { TAU } else { 0.0 };
    let (mut hue, mut chroma) = ((place.angle + turned) / TAU * 40.0, place.radius / 5.0);
    for _ in 0..20 {
        let before = (hue, chroma);
        hue = slice.hue(place.angle, hue, chroma);
        chroma = slice.chroma(place.radius, hue, chroma);
        if (hue - before.0).abs() < 1e-5 && (chroma - before.1).abs() < 1e-5 {
            break;
        }
    }
    Munsell {
        hue: 2.5 * hue,
        value,
        chroma,
    }
}

/// The table on one value, between two whole ones.
struct Slice {
    below: &'static [Spoke; 40],
    above: &'static [Spoke; 40],
    up: f64,
}

impl Slice {
    fn at(value: f64) -> Self {
        let value = value.clamp(1.0, 10.0);
        let whole = value.floor().min(9.0);
        let plane = whole as usize - 1;
        Self {
            below: &RENOTATION[plane],
            above: &RENOTATION[plane + 1],
            up: value - whole,
        }
    }

    fn place(&self, spoke: usize, chroma: f64) -> Polar {
        let (below, above) = (
            on_spoke(&self.below[spoke], chroma),
            on_spoke(&self.above[spoke], chroma),
        );
        between(below, above, self.up)
    }

    /// The hue, 0 to 40, at which a ring of `chroma` passes `angle`, sought from `near`, 0 to 40, on.
    fn hue(&self, angle: f64, near: f64, chroma: f64) -> f64 {
        let mut spoke = near as usize % 40;
        for _ in 0..40 {
            let this = self.place(spoke, chroma).angle;
            let next = self.place((spoke + 1) % 40, chroma).angle;
            let (gone, whole) = (turn(this, angle), turn(this, next));
            if gone < 0.0 {
                spoke = (spoke + 39) % 40;
            } else if gone >= whole {
                spoke = (spoke + 1) % 40;
            } else {
                return spoke as f64 + gone / whole;
            }
        }
        near
    }

    fn radius(&self, spoke: usize, chroma: f64) -> f64 {
        let (below, above) = (
            on_spoke(&self.below[spoke], chroma).radius,
            on_spoke(&self.above[spoke], chroma).radius,
        );
        below + self.up * (above - below)
    }

    /// The chroma at which the line of `hue` (0 to 40) lies `radius` from the neutral, sought from `near` on.
    fn chroma(&self, radius: f64, hue: f64, near: f64) -> f64 {
        let spoke = hue as usize;
        let (spoke, along) = (spoke % 40, hue - spoke as f64);
        let reach = |chroma: f64| {
            let this = self.radius(spoke, chroma);
            let next = self.radius((spoke + 1) % 40, chroma);
            this + along * (next - this)
        };
        // On every line the radius rises with the chroma, so it does not matter where the search begins.
        let mut chroma = 2.0 * (0.5 * near).clamp(0.0, 24.0).trunc();
        let (mut inner, mut outer) = (reach(chroma), reach(chroma + 2.0));
        while inner > radius && chroma > 0.0 {
            chroma -= 2.0;
            (inner, outer) = (reach(chroma), inner);
        }
        while outer < radius && chroma < 48.0 {
            chroma += 2.0;
            (inner, outer) = (outer, reach(chroma + 2.0));
        }
        chroma + 2.0 * (radius - inner) / (outer - inner)
    }
}

/// A colour far outside the table may have any chroma.
fn on_spoke(spoke: &Spoke, chroma: f64) -> Polar {
    let place = chroma / 2.0;
    let entry = (place as usize).min(spoke.len() - 2);
    between(spoke[entry], spoke[entry + 1], place - entry as f64)
}

fn between(one: Polar, other: Polar, along: f64) -> Polar {
    Polar {
        angle: one.angle + along * turn(one.angle, other.angle),
        radius: one.radius + along * (other.radius - one.radius),
    }
}

/// The way from one angle to another, -π to π. Both lie between -π and π or little beyond, so one turn is enough.
fn turn(from: f64, to: f64) -> f64 {
    let way = to - from;
    if way >= PI {
        way - TAU
    } else if way < -PI {
        way + TAU
    } else {
        way
    }
}

/// Luminance (Y = 1 for the perfect diffuser) of a Munsell value, ASTM D1535.
fn luminance_of(v: f64) -> f64 {
    v * (1.1914 + v * (-0.22533 + v * (0.23352 + v * (-0.020484 + v * 0.00081939)))) / 100.0
}

/// ASTM D1535 turned round, by Newton's method; luminance beyond the perfect diffuser's counts as 10.
fn value_of(luminance: f64) -> f64 {
    if luminance >= 1.0 {
        return 10.0;
    }
    // What is no number counts as black.
    if luminance.is_nan() || luminance <= 0.0 {
        return 0.0;
    }
    let mut value = (11.6 * luminance.cbrt() - 1.6).max(0.0);
    for _ in 0..20 {
        let step = (luminance_of(value) - luminance) / slope_at(value);
        value -= step;
        // The next step would be about the square of this one.
        if step.abs() < 1e-6 {
            break;
        }
    }
    value.clamp(0.0, 10.0)
}

/// The slope of [`luminance_of`].
fn slope_at(v: f64) -> f64 {
    (1.1914 + v * (-0.45066 + v * (0.70056 + v * (-0.081936 + v * 0.00409695)))) / 100.0
}

fn polar(xyz: [f64; 3]) -> Polar {
    // CIELAB knows a white only by ratios, so C is rescaled to the white that the type carries.
    let [x, y, z] = [0, 1, 2].map(|axis| xyz[axis] / C[axis] * D65[axis]);
    let lab = Lab::from_color_unclamped(Xyz::new(x, y, z));
    Polar {
        angle: lab.b.atan2(lab.a),
        radius: lab.a.hypot(lab.b),
    }
}

fn renotation() -> [[Spoke; 40]; 10] {
    let mut rows: Vec<_> = MUNSELL_RENOTATION_DATA
        .iter()
        .filter(|((_, value, _), _)| *value >= 1.0)
        .collect();
    rows.sort_by(|((_, _, one), _), ((_, _, other), _)| one.total_cmp(other));
    let mut table: [[Vec<Polar>; 40]; 10] =
        std::array::from_fn(|_| std::array::from_fn(|_| vec![]));
    for ((hue, value, _), (x, y, _)) in rows {
        let luminance = luminance_of(*value);
        let place = polar([x / y * luminance, luminance, (1.0 - x - y) / y * luminance]);
        table[*value as usize - 1][(steps(hue) / 2.5).round() as usize % 40].push(place);
    }
    table.map(|spokes| spokes.map(|places| spoke(&places)))
}

/// The line of one hue from the places that the renotation has, the first at chroma 2.
fn spoke(places: &[Polar]) -> Spoke {
    let last = places.len() - 1;
    std::array::from_fn(|ring| match ring {
        0 => Polar {
            angle: places[0].angle,
            radius: 0.0,
        },
        ring if ring <= last + 1 => places[ring - 1],
        ring => Polar {
            angle: places[last].angle,
            radius: places[last].radius * ring as f64 / (last + 1) as f64,
        },
    })
}

/// Steps round the circle of a hue written `2.5YR`: over 0, up to 100.
pub fn steps(hue: &str) -> f64 {
    let letters = hue.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let number: f64 = hue[..hue.len() - letters.len()].parse().unwrap_or(0.0);
    let decade = LETTERS.iter().position(|l| *l == letters).unwrap_or(0);
    10.0 * decade as f64 + number
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn value_follows_the_standard() {
        // ASTM D1535, the polynomial evaluated with colour-science 0.4.7: luminance in per cent of whole values.
        let printed = [
            1.1799, 3.0481, 6.3912, 11.7008, 19.2718, 29.3012, 41.9854, 57.6196, 76.6956, 100.0,
        ];
        for (value, luminance) in (1..=10).map(f64::from).zip(printed) {
            let off = 100.0 * luminance_of(value) - luminance;
            assert!(off.abs() < 6e-5, "value {value}: {off}");
            assert!((value_of(luminance / 100.0) - value).abs() < 2e-5);
        }
    }

    #[test]
    fn the_table_is_whole() {
        for (plane, spokes) in RENOTATION.iter().enumerate() {
            for (hue, spoke) in spokes.iter().enumerate() {
                let rises = spoke.is_sorted_by(|one, next| one.radius < next.radius);
                assert!(rises, "value {}, hue {hue}", plane + 1);
            }
        }
    }

    #[test]
    fn hue_and_chroma_are_as_another_library_has_them() {
        // xyY_to_munsell_specification of colour-science 0.4.7 (the graphical method of ASTM D1535 over the same
        // renotation), after linear Bradford from D65 to C.
        let table = include_str!("../../testdata/published/munsell-of-cielab.csv");
        let (mut sum, mut rows) = (0.0, 0.0);
        for line in table.lines().skip(1) {
            let cells: Vec<&str> = line.split(',').collect();
            let number = |n: usize| cells[n].parse::<f64>().unwrap();
            let found = munsell(UnderC::of(Lab::new(number(0), number(1), number(2))));
            let turned = (found.hue - steps(cells[3]) + 50.0).rem_euclid(100.0) - 50.0;
            let off = (turned / 100.0 * TAU * number(5)).hypot(found.chroma - number(5));
            assert!((found.value - number(4)).abs() < 2e-3, "{line}: {found:?}");
            // Above value 9 the other library narrows to white at value 10, where the renotation still has chroma.
            let bound = if number(4) > 9.0 { 0.9 } else { 0.3 };
            assert!(off < bound, "{line}: {found:?}");
            (sum, rows) = (sum + off, rows + 1.0);
        }
        assert!(rows == 160.0 && sum / rows < 0.05, "{}", sum / rows);
    }
}
