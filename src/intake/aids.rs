//! What the journal holds for measuring: paper and ink, charts, the studio's own cards.

use crate::error::{Error, Result, refused};
use crate::journal::record::{Studio, Told};
use crate::journal::{self, Journal};
use crate::measure::{self, Card, Chart, Corners, Known, References};
use std::collections::HashMap;
use std::path::Path;

/// What a person tells about photos on the way in.
#[derive(Clone, Debug, Default)]
pub struct Telling {
    /// The chart that lies in them: the name of its file and its text.
    pub chart: Saying<(String, String)>,
    /// Where the chart is: the outer corners of its patches from A1 clockwise, pixels of the upright photo. For one photo only.
    pub corners: Saying<Corners>,
    /// Where the piece is, as `x,y x,y …`, pixels of the upright photo. For one photo only.
    pub outline: Saying<String>,
}

/// What is told of one thing.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Saying<T> {
    /// Nothing: what was told before counts on.
    #[default]
    Nothing,
    /// What was told before is taken back.
    Back,
    /// This from now on.
    This(T),
}

impl<T> Saying<T> {
    /// What counts from now on, after `before`.
    fn after(self, before: Option<T>) -> Option<T> {
        match self {
            Self::Nothing => before,
            Self::Back => None,
            Self::This(told) => Some(told),
        }
    }
}

impl Telling {
    /// Whether it can only be true of one photo.
    pub fn is_of_one(&self) -> bool {
        self.corners != Saying::Nothing || self.outline != Saying::Nothing
    }

    /// Refuses what can only be true of one photo where there are `photos`.
    ///
    /// # Errors
    /// `Caller`.
    pub(super) fn check(&self, photos: usize) -> Result<()> {
        if self.is_of_one() && photos != 1 {
            return Err(Error::caller(format!(
                "Corners and outlines belong to one photo, but {photos} were named; name that photo alone."
            )));
        }
        Ok(())
    }

    /// What is then told of a photo of `size`, of which `before` was told before; the chart is kept already, as `chart`.
    ///
    /// # Errors
    /// `Caller` where the outline is none, or corners are told without any chart.
    pub(super) fn of(&self, before: &Told, chart: Option<&String>, size: [u32; 2]) -> Result<Told> {
        let outline = match &self.outline {
            Saying::This(text) => Saying::This(measure::outline(text, size)?),
            Saying::Back => Saying::Back,
            Saying::Nothing => Saying::Nothing,
        };
        let chart = match (&self.chart, chart) {
            (Saying::Back, _) => Saying::Back,
            (_, Some(hash)) => Saying::This(hash.clone()),
            (_, None) => Saying::Nothing,
        };
        if let Saying::This(corners) = &self.corners {
            let far = |[x, y]: &[f64; 2]| {
                let within = |v: f64, side: u32| (0.0..=f64::from(side)).contains(&v);
                !within(*x, size[0]) || !within(*y, size[1])
            };
            if let Some([x, y]) = corners.iter().find(|corner| far(corner)) {
                return Err(Error::caller(format!(
                    "The chart's corner {x},{y} lies outside the photo, which is {} by {} pixels; count from its top left corner.",
                    size[0], size[1]
                )));
            }
        }
        Ok(Told {
            chart: chart.after(before.chart.clone()),
            corners: self.corners.clone().after(before.corners),
            outline: outline.after(before.outline.clone()),
        })
    }
}

/// What the journal holds for measuring, read once for many photos.
pub(super) struct Aids {
    references: References,
    charts: HashMap<String, Chart>,
    cards: Vec<Card>,
}

impl Aids {
    /// Reads them, and keeps the chart that is told now; with the hash of that one.
    ///
    /// # Errors
    /// `File` where the chart's file is none; `Journal` where one that was kept is not.
    pub fn load(journal: &mut Journal, telling: &Telling) -> Result<(Self, Option<String>)> {
        let told = match &telling.chart {
            Saying::This((name, text)) => {
                Chart::parse(text, name)?;
                Some(journal.keep_chart(name, text)?)
            }
            Saying::Back | Saying::Nothing => None,
        };
        let mut charts = HashMap::new();
        for file in journal.charts()? {
            charts.insert(file.hash, Chart::parse(&file.text, &file.name)?);
        }
        let mut cards = Vec::new();
        for card in journal.cards()? {
            if let Some(chart) = charts.get(&card.chart) {
                cards.push(Card {
                    name: card.name,
                    chart: chart.clone(),
                    corners: card.corners,
                });
            }
        }
        if matches!(telling.corners, Saying::This(_)) && charts.is_empty() {
            return Err(Error::caller(
                "Corners alone say nothing: name the chart's file too, with “--chart FILE”.",
            ));
        }
        let aids = Self {
            references: references(&journal.studio()?)?,
            charts,
            cards,
        };
        Ok((aids, told))
    }

    /// What is known of a photo of which this was told.
    pub fn known<'a>(&'a self, told: &'a Told) -> Known<'a> {
        Known {
            references: self.references,
            chart: told.chart.as_ref().and_then(|hash| self.charts.get(hash)),
            corners: told.corners,
            cards: &self.cards,
            outline: told.outline.as_ref(),
            borrowed: None,
        }
    }
}

/// No chart's file is larger, bytes.
const LARGEST: u64 = 4_000_000;

/// The name and the text of a chart's file.
///
/// # Errors
/// `File` where it cannot be read or is too large to be one.
pub fn chart_file(path: &Path) -> Result<(String, String)> {
    let size = std::fs::metadata(path).map_err(|error| refused("read", path, error))?;
    if !size.is_file() || size.len() > LARGEST {
        return Err(Error::file(format!(
            "{} is no chart's file: those are a few pages of text; take the CGATS.17 file that came with the chart.",
            path.display()
        )));
    }
    let bytes = std::fs::read(path).map_err(|error| refused("read", path, error))?;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    // Names in such files may be in an old encoding; the numbers never are.
    Ok((
        name.into_owned(),
        String::from_utf8_lossy(&bytes).into_owned(),
    ))
}

/// Records the studio's own card `name` with the chart of a file; where its chart lies beside its code is learnt from the first
/// photo that shows it.
///
/// # Errors
/// `Caller` where the name cannot be one, `File` where the chart's file is none.
pub fn record_card(journal: &mut Journal, name: &str, file: &str, text: &str) -> Result<()> {
    Chart::parse(text, file)?;
    let card = journal::record::Card {
        name: name.to_owned(),
        chart: journal.keep_chart(file, text)?,
        corners: None,
    };
    journal.put_card(&card)
}

/// What the studio said of its tags' paper and ink.
fn references(studio: &Studio) -> Result<References> {
    measure::references(
        studio.get("paper").map(String::as_str),
        studio.get("ink").map(String::as_str),
    )
}
