//! What is known before a photo is looked at.

use super::{Chart, Corners, References};
use crate::error::{Error, Result};
use crate::picture::Polygon;
use crate::reading::Light;
use crate::words::lab_from_text;

/// What is known before a photo is looked at; by default nothing.
#[derive(Clone, Debug, Default)]
pub struct Known<'a> {
    /// The colours of the tags' paper and ink.
    pub references: References,
    /// The chart that lies in the picture.
    pub chart: Option<&'a Chart>,
    /// Where the person says that the chart lies, or that of a card, in pixels of the upright photo.
    pub corners: Option<Corners>,
    /// The studio's own cards.
    pub cards: &'a [Card],
    /// Where the person says that the piece lies, in pixels of the upright photo.
    pub outline: Option<&'a Polygon>,
    /// The light of a neighbour that was taken in the same light, for a photo that has no reference of its own.
    pub borrowed: Option<&'a Light>,
}

/// A chart beside a printed code that says `card:` and its name.
#[derive(Clone, Debug)]
pub struct Card {
    /// Its name.
    pub name: String,
    /// Its chart.
    pub chart: Chart,
    /// The corners of the chart in modules of the code, whose own top left corner is 0, 0; `None` before they were seen.
    pub corners: Option<Corners>,
}

/// The studio's paper and ink, each `L,a,b` as the studio gave it, or the usual values where it gave none.
///
/// # Errors
/// A value that is not three numbers in the range of CIELAB.
pub fn references(paper: Option<&str>, ink: Option<&str>) -> Result<References> {
    let mut references = References::default();
    if let Some(text) = paper {
        references.paper = lab_from_text(text)?;
        references.paper_known = true;
    }
    if let Some(text) = ink {
        references.ink = lab_from_text(text)?;
        references.ink_known = true;
    }
    if references.paper.l - references.ink.l < APART {
        return Err(Error::caller(format!(
            "Ink of L* {} on paper of L* {} cannot be a tag's, whose paper is light (L* about 96) and ink dark (about 25): give both again.",
            references.ink.l, references.paper.l
        )));
    }
    Ok(references)
}

/// Paper and ink stand apart by this at least, L\*.
const APART: f64 = 30.0;
