//! The 267 blocks of the ISCC-NBS system and their names on its three levels of words.
//!
//! NBS Special Publication 440 (Kelly & Judd 1976). The crate `munsellspace` carries the blocks as polygons of value and
//! chroma over ranges of hue. A block ends at, and includes, its upper bounds.

use super::family::Family;
use super::munsell::{Munsell, angles, steps};
use munsellspace::ColorMetadata;
use munsellspace::constants::{
    ISCC_NBS_COLORS, IsccNbsColorEntry, PolygonDefinition, get_polygon_definitions,
};
use std::collections::HashMap;
use std::f64::consts::TAU;
use std::sync::LazyLock;

/// What the standard calls a block.
#[derive(Debug, PartialEq, Eq)]
pub struct Name {
    /// One of 267: `moderate yellow`.
    pub full: String,
    /// One of 29: `greenish yellow`.
    pub hue: String,
    /// One of 13.
    pub family: Family,
}

/// A polygon of value and chroma with its name.
#[derive(Debug)]
struct Block {
    /// Its upright sides.
    sides: Vec<Side>,
    name: Name,
}

/// An upright side of a polygon, over values from `over` (not included) to `up_to`.
#[derive(Clone, Copy, Debug)]
struct Side {
    over: f64,
    up_to: f64,
    chroma: f64,
}

/// Blocks by step of the hue circle: entry 0 holds the hues over 10RP up to 1R.
static WEDGES: LazyLock<Vec<Vec<Block>>> = LazyLock::new(wedges);

/// Into so many equal parts the circle of angles is cut.
const PARTS: usize = 256;

/// The families that colours of each part of the circle of angles may belong to, one bit each.
static FAMILIES: LazyLock<[u16; PARTS]> = LazyLock::new(families);

/// Whether a colour at this angle (radians) under illuminant C may belong to the family.
pub fn may_be(family: Family, angle: f64) -> bool {
    FAMILIES[part(angle) as usize % PARTS] & 1 << family as u16 != 0
}

/// The part that an angle of -2π or more lies in, not yet brought round the circle.
fn part(angle: f64) -> f64 {
    (angle / TAU + 2.0) * PARTS as f64
}

fn families() -> [u16; PARTS] {
    let mut all = [0; PARTS];
    for gap in 0..40_usize {
        // Of two steps that meet at its begin a gap touches the one before, too.
        let steps = (5 * gap).div_ceil(2) + 99..(5 * gap + 5).div_ceil(2) + 100;
        let blocks = steps.flat_map(|step| &WEDGES[step % 100]);
        let families = blocks.fold(0, |all, block| all | 1 << block.name.family as u16);
        let (low, high) = angles(gap);
        for part in part(low) as usize..=part(high) as usize {
            all[part % PARTS] |= families;
        }
    }
    all
}

/// What the standard calls this colour.
pub fn name(colour: Munsell) -> &'static Name {
    let wedge = &WEDGES[(colour.hue.ceil() as usize + 99) % 100];
    // The polygons start at 0 without including it, and end at value 10 and chroma 50.
    let value = colour.value.clamp(1e-9, 10.0);
    let chroma = colour.chroma.clamp(1e-9, 50.0);
    let found = wedge.iter().find(|block| block.holds(value, chroma));
    &found.unwrap_or(&wedge[0]).name
}

/// The names of all blocks, some of them several times.
pub fn names() -> impl Iterator<Item = &'static Name> {
    WEDGES.iter().flatten().map(|block| &block.name)
}

impl Block {
    fn of(polygon: &PolygonDefinition, entry: &IsccNbsColorEntry) -> Self {
        let corners = polygon.points.iter();
        let next = polygon.points.iter().cycle().skip(1);
        let sides = corners.zip(next).map(|(from, to)| Side {
            over: from.value.min(to.value),
            up_to: from.value.max(to.value),
            chroma: from.chroma,
        });
        Self {
            sides: sides.filter(|side| side.over < side.up_to).collect(),
            name: name_of(entry),
        }
    }

    /// Even-odd rule, so that of two blocks that touch only one holds the border.
    fn holds(&self, value: f64, chroma: f64) -> bool {
        let beyond =
            |side: &&Side| side.over < value && value <= side.up_to && chroma <= side.chroma;
        self.sides.iter().filter(beyond).count() % 2 == 1
    }
}

fn wedges() -> Vec<Vec<Block>> {
    let entries: HashMap<u16, &IsccNbsColorEntry> = ISCC_NBS_COLORS
        .iter()
        .map(|entry| (entry.color_number, entry))
        .collect();
    let mut wedges: Vec<_> = (0..100).map(|_| vec![]).collect();
    for polygon in get_polygon_definitions() {
        let (from, to) = (steps(polygon.hue1) as usize, steps(polygon.hue2) as usize);
        let Some(entry) = entries.get(&polygon.color_number) else {
            continue;
        };
        for step in 0..(to + 99 - from) % 100 + 1 {
            wedges[(from + step) % 100].push(Block::of(polygon, entry));
        }
    }
    wedges
}

/// Full name and hue name of the blocks that the crate names otherwise than the standard (Special Publication 440, table of
/// names): number, full name, hue name.
const AS_IN_STANDARD: [(u16, &str, &str); 9] = [
    (18, "light grayish red", "red"),
    (33, "brownish pink", "yellowish pink"),
    (45, "light grayish reddish brown", "reddish brown"),
    (60, "light grayish brown", "brown"),
    (79, "light grayish yellowish brown", "yellowish brown"),
    (109, "light grayish olive", "olive"),
    (254, "vivid purplish red", "purplish red"),
    (255, "strong purplish red", "purplish red"),
    (261, "light grayish purplish red", "purplish red"),
];

/// The names of a block on each level.
///
/// The standard's table sorts tinted neutrals with their tint: `yellowish white` under yellow. Nobody who asks for yellows
/// means white cloth, so here the noun decides: it is a white.
fn name_of(entry: &IsccNbsColorEntry) -> Name {
    let number = entry.color_number;
    let (full, hue) = match AS_IN_STANDARD.iter().find(|(n, ..)| *n == number) {
        Some(&(_, full, hue)) => (full.to_owned(), hue),
        None => {
            let tint = entry.iscc_nbs_color_name;
            let pattern = entry.iscc_nbs_formatter.unwrap_or("{0}");
            let full = ColorMetadata::construct_descriptor(pattern, tint);
            let noun = ["white", "gray", "black"]
                .into_iter()
                .find(|noun| full.ends_with(noun));
            (full, noun.unwrap_or(tint))
        }
    };
    Name {
        family: Family::from_word(hue).unwrap_or(Family::Gray),
        hue: hue.to_owned(),
        full,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    fn check(hue: &str, value: f64, chroma: f64, published: &str) {
        let colour = Munsell {
            hue: steps(hue),
            value,
            chroma,
        };
        assert_eq!(name(colour).full, published, "{hue} {value}/{chroma}");
    }

    #[test]
    fn blocks_are_the_standard_s() {
        // NBS Circular 553, "How to use": 9PB to 1R, value 2.5 to 4.5, chroma 0.5 to 1.5.
        check("5P", 3.5, 1.0, "dark purplish gray");
        check("9.5PB", 2.6, 0.6, "dark purplish gray");
        // Centore, ISCC-NBS data: 9P to 9RP, value over 7.5, chroma 5 to 9.
        check("4RP", 8.5, 7.0, "light purplish pink");
    }

    #[test]
    fn centroids_lie_in_their_blocks() {
        // Kelly 1958, J. Res. NBS 61(5) 427, centroids in Munsell notation; the names of the numbers are from memory.
        check("5.0R", 4.0, 15.5, "vivid red");
        check("4.5YR", 6.6, 16.5, "vivid orange");
        check("9.5Y", 8.8, 9.5, "brilliant greenish yellow");
        check("9.5Y", 7.2, 6.6, "moderate greenish yellow");
        check("6.0G", 4.5, 5.1, "moderate green");
        check("2.1YR", 8.8, 2.2, "pale yellowish pink");
        check("9.5YR", 2.4, 1.8, "dark grayish yellowish brown");
    }

    #[test]
    fn every_colour_has_one_block() {
        let mut names = BTreeSet::new();
        for (step, wedge) in WEDGES.iter().enumerate() {
            for value in (1..200).map(|v| f64::from(v) * 0.05) {
                for chroma in (0..250).map(|c| f64::from(c) * 0.1) {
                    let held = wedge
                        .iter()
                        .filter(|block| block.holds(value, chroma.max(1e-9)));
                    assert_eq!(held.count(), 1, "{step} {value}/{chroma}");
                }
            }
            names.extend(wedge.iter().map(|block| &block.name.full));
        }
        // NBS Special Publication 440: 267 names on level 3, 29 on level 2, 13 on level 1.
        assert_eq!(names.len(), 267);
        let all = || WEDGES.iter().flatten().map(|block| &block.name);
        let hues: BTreeSet<_> = all().map(|name| &name.hue).collect();
        let families: BTreeSet<_> = all().map(|name| name.family).collect();
        assert_eq!((hues.len(), families.len()), (29, 13));
    }
}
