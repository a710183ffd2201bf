use super::cautions::cautions;
use super::question::Question;
use super::survey::{Gathered, Survey};
use super::verdict::{Verdict, verdict};
use crate::error::{Caution, Error, Result};
use crate::reading::Swatch;
use serde::Serialize;

/// The answer to a question, with what it rests on. As JSON it is what other programs may rely on.
#[derive(Clone, Debug, Serialize)]
pub struct Answer {
    /// The question as it was asked.
    pub question: String,
    /// How it was understood.
    pub read_as: ReadAs,
    /// The values compared, best first.
    pub groups: Vec<Group>,
    /// What can be said of the first; `None` where there is one group or none.
    pub verdict: Option<Verdict>,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
    /// The pieces behind the groups: groups in their order, in each the best piece first.
    #[serde(skip)]
    pub evidence: Vec<Evidence>,
    #[serde(skip)]
    asked: Question,
}

/// How a question was understood.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReadAs {
    /// `warmth`, `lightness`, `chroma`, `share` or `lightening`.
    pub measure: &'static str,
    /// The colour family, where one was named.
    pub family: Option<&'static str>,
    /// The setting whose values are compared.
    pub by: String,
    /// What narrows it: `with walnut`.
    #[serde(rename = "where")]
    pub narrowed: Vec<String>,
    /// The state the pieces were photographed in.
    pub state: &'static str,
    /// Which end comes first: `highest` or `lowest`.
    pub first: &'static str,
}

/// One value of the setting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Group {
    /// The value.
    pub value: String,
    /// Pieces with a colour of the family, on which the mean rests.
    pub pieces: usize,
    /// All pieces of this value that were photographed in the state; a family bounds the measure, so its share counts too.
    pub of_pieces: usize,
    /// Pots the mean rests on.
    pub pots: usize,
    /// Mean over pots of each pot's mean, in the measure's unit.
    pub mean: f64,
    /// Lower end of its 95 % interval (Student's t over pots); `None` with fewer than two pots.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// The mean adjusted for other settings; `None` while that is not done.
    pub adjusted: Option<f64>,
}

/// One piece behind a group.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// The group's value.
    pub group: String,
    /// Code of the piece.
    pub piece: String,
    /// Its pot, or bundle where no pot is known; `None` where neither is.
    pub pot: Option<String>,
    /// Its value of the measure, area-weighted over its colours of the family and its photos in the state.
    pub value: f64,
    /// Share of the cloth that is of the family, 0 to 1.
    pub share: f64,
    /// Those colours, largest share first; shares are of the whole cloth.
    pub colours: Vec<Swatch>,
}

impl Answer {
    /// Puts together what was found.
    pub(super) fn of(question: &str, asked: Question, survey: &Survey) -> Self {
        let (gathered, empty) = survey.groups(&asked);
        Self {
            question: question.to_owned(),
            read_as: ReadAs::of(&asked),
            groups: gathered.iter().map(Group::of).collect(),
            verdict: verdict(&asked, &gathered),
            cautions: cautions(&asked, survey, &gathered, &empty),
            evidence: gathered.iter().flat_map(Evidence::of).collect(),
            asked,
        }
    }

    /// How the question was understood, in one line: `warmth of yellows, by mordant, dry pieces, warmest first`.
    pub fn reading(&self) -> String {
        self.asked.to_string()
    }

    /// A value of the measure as people read it, with its unit: `0.84`, `61.2 L*`, `31 %`.
    pub fn show(&self, value: f64) -> String {
        self.asked.measure.show(value)
    }

    /// The pieces behind one group, best first.
    pub fn examples<'a>(&'a self, group: &'a str) -> impl Iterator<Item = &'a Evidence> {
        self.evidence.iter().filter(move |e| e.group == group)
    }

    /// The evidence as a table, one row a piece and group, for one's own analysis: `group,piece,pot,measure,value,share`.
    ///
    /// # Errors
    /// The machine's, where the text cannot be made.
    pub fn csv(&self) -> Result<String> {
        let machine = |e: csv::Error| Error::machine("The table could not be written.").because(e);
        let mut table = csv::Writer::from_writer(Vec::new());
        table
            .write_record(["group", "piece", "pot", "measure", "value", "share"])
            .map_err(machine)?;
        for row in &self.evidence {
            let (value, share) = (row.value.to_string(), row.share.to_string());
            let pot = row.pot.as_deref().unwrap_or_default();
            table
                .write_record([
                    &row.group,
                    &row.piece,
                    pot,
                    self.read_as.measure,
                    &value,
                    &share,
                ])
                .map_err(machine)?;
        }
        let bytes = table.into_inner().map_err(|e| {
            Error::machine("The table could not be written.").because(e.into_error())
        })?;
        String::from_utf8(bytes)
            .map_err(|e| Error::machine("The table could not be written.").because(e))
    }
}

impl ReadAs {
    fn of(asked: &Question) -> Self {
        Self {
            measure: asked.measure.name(),
            family: asked.family.map(|family| family.name()),
            by: asked.by.to_string(),
            narrowed: asked.filters.iter().map(ToString::to_string).collect(),
            state: asked.state.word(),
            first: asked.order.word(),
        }
    }
}

impl Group {
    fn of(gathered: &Gathered) -> Self {
        let interval = gathered.estimate.interval;
        Self {
            value: gathered.label.clone(),
            pieces: gathered.rows.len(),
            of_pieces: gathered.of_pieces,
            pots: gathered.estimate.count,
            mean: gathered.estimate.mean,
            low: interval.map(|i| i.0),
            high: interval.map(|i| i.1),
            adjusted: None,
        }
    }
}

impl Evidence {
    fn of(gathered: &Gathered) -> Vec<Self> {
        let each = gathered.rows.iter().map(|(row, measured)| Self {
            group: gathered.label.clone(),
            piece: row.seen.piece.code.clone(),
            pot: row.trial.name().map(str::to_owned),
            value: measured.value,
            share: measured.share,
            colours: measured.colours.clone(),
        });
        each.collect()
    }
}
