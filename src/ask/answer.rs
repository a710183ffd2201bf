use super::cautions::{self, cautions};
use super::compare::{Compared, Gathered};
use super::language::{Factor, Order, Question, Wanted};
use super::near::{self, Near};
use super::next::{self, Outlook};
use super::of_change;
use super::slope::Slope;
use super::survey::Survey;
use super::value::Shade;
use super::verdict::{Verdict, verdict};
use super::{Known, count};
use crate::colour::Lab;
use crate::error::{Caution, Error, Result};
use crate::journal::gist::Round;
use serde::Serialize;
use std::sync::Arc;

/// The answer to a question, with what it rests on. As JSON it is what other programs may rely on.
#[derive(Clone, Debug, Serialize)]
pub struct Answer {
    /// The question as it was asked.
    pub question: String,
    /// How it was understood.
    pub read_as: ReadAs,
    /// What was found.
    #[serde(flatten)]
    pub found: Found,
    /// What the reader must know.
    pub cautions: Vec<Caution>,
    /// The pieces behind it: groups in their order, in each the best piece first.
    #[serde(skip)]
    pub evidence: Vec<Evidence>,
    #[serde(skip)]
    asked: Question,
}

/// What was found, by the kind of question.
#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
pub enum Found {
    /// Groups compared.
    Groups {
        /// The values compared, best first.
        groups: Vec<Group>,
        /// What can be said of the first; `None` where there is one group or none.
        verdict: Option<Verdict>,
        /// The settings that `adjusted` is adjusted for.
        adjusted_for: Vec<String>,
    },
    /// How a number changes a measure.
    Slope {
        /// The change; `None` where it cannot be reckoned.
        slope: Option<Slope>,
        /// The same in words.
        text: String,
    },
    /// The pieces nearest to a colour or a piece, nearest first.
    Nearest {
        /// The colours that the pieces are near to.
        #[serde(skip)]
        target: Vec<Shade>,
        /// At most ten.
        nearest: Vec<Near>,
    },
    /// How many pieces.
    Count {
        /// Pieces that are as asked.
        count: usize,
        /// Of so many that were looked at.
        of: usize,
    },
    /// What to try next.
    Next {
        /// The most promising first, at most five.
        next: Vec<next::Next>,
        /// The best recipe so far.
        best: Option<next::Recipe>,
        /// What is expected of that recipe.
        best_expected: Option<f64>,
        /// The rolls of one pot that compares them: each the mordants of its cloths.
        rolls: Vec<Vec<String>>,
    },
}

/// How a question was understood.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReadAs {
    /// The measure's name where values are compared; else the kind of question: `slope`, `nearest`, `count` or `next`.
    pub measure: &'static str,
    /// What is measured, where something is.
    pub of: Option<&'static str>,
    /// The colour family or the studio's own colour word, where one was named.
    pub family: Option<String>,
    /// Only colours that the studio marked so: `in prints`.
    pub part: Option<String>,
    /// The setting whose values are compared.
    pub by: Option<String>,
    /// What narrows it: `with walnut`.
    #[serde(rename = "where")]
    pub narrowed: Vec<String>,
    /// The state the pieces were photographed in.
    pub state: &'static str,
    /// Which end comes first: `highest` or `lowest`.
    pub first: Option<&'static str>,
}

/// One value of the setting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Group {
    /// The value.
    pub value: String,
    /// Pieces with a value of the measure, on which the mean rests.
    pub pieces: usize,
    /// All pieces of this value that were photographed in the state; a family bounds the measure, so its share counts too.
    pub of_pieces: usize,
    /// Pots the mean rests on.
    pub pots: usize,
    /// The mean, in the measure's unit; pots, not pieces, count as independent.
    pub mean: f64,
    /// Lower end of its 95 % interval; `None` where there is too little to say.
    pub low: Option<f64>,
    /// Upper end of its 95 % interval.
    pub high: Option<f64>,
    /// The mean had all other settings been alike; `None` where that cannot be told.
    pub adjusted: Option<f64>,
}

/// One piece behind an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Evidence {
    /// The group's value; empty where nothing is grouped.
    pub group: Arc<str>,
    /// Code of the piece.
    pub piece: Arc<str>,
    /// Its pot, or bundle where no pot is known; `None` where neither is.
    pub pot: Option<Arc<str>>,
    /// Its value of the measure.
    pub value: f64,
    /// Its value of the setting, where that is a number.
    pub setting: Option<f64>,
    /// Share of the cloth that the value rests on, 0 to 1.
    pub share: f64,
    /// The mean of the colours it rests on.
    pub lab: Lab,
    /// Those colours, largest share first, where the piece is one of the best of its group; shares are of the whole cloth.
    pub colours: Vec<Shade>,
}

/// So many pieces of a group carry their colours.
const WITH_COLOURS: usize = 3;

impl Answer {
    /// Finds what was asked for.
    ///
    /// # Errors
    /// The caller's, where the piece that others are to be near to was not photographed so.
    pub(super) fn of(question: &str, asked: Question, known: &Known) -> Result<Self> {
        let survey = Survey::of(known, &asked);
        let mut evidence = Vec::new();
        let mut own = Vec::new();
        let found = match &asked.wanted {
            Wanted::Compare { measure, order, by } => {
                let compared = Compared::of(&survey, *order, by);
                for gathered in &compared.groups {
                    evidence.extend(of_rows(&survey, &gathered.label, &gathered.rows));
                }
                let otherwise = cautions::otherwise_adjusted(&asked, &compared);
                let unlike = of_change::washed_unlike(&survey, &compared);
                own.extend(cautions::of_groups(&asked, by, &compared));
                own.extend(otherwise.clone());
                own.extend(unlike.clone());
                Found::Groups {
                    verdict: verdict(
                        &asked,
                        (*measure, *order, by),
                        &compared,
                        otherwise.is_some() || unlike.is_some(),
                    ),
                    groups: compared.groups.iter().map(Group::of).collect(),
                    adjusted_for: compared
                        .adjusted_for
                        .iter()
                        .map(ToString::to_string)
                        .collect(),
                }
            }
            Wanted::Slope { measure, by } => {
                let slope = Slope::of(&survey, by, known.degrees);
                own.extend(slope.as_ref().and_then(|slope| slope.caution(by)));
                let rows: Vec<usize> = (0..survey.rows.len()).collect();
                evidence = of_rows(&survey, "", &rows);
                let text = match &slope {
                    Some(slope) => slope.text(*measure, by),
                    None => format!(
                        "No change can be told: the pieces show no two different values of {by}."
                    ),
                };
                Found::Slope { slope, text }
            }
            Wanted::Nearest { to } => {
                let (target, nearest) = near::nearest(&survey, to)?;
                Found::Nearest { target, nearest }
            }
            Wanted::Count { .. } => {
                let counted = count::of(&survey, &asked);
                evidence = of_rows(&survey, "", &counted);
                Found::Count {
                    count: counted.len(),
                    of: survey.rows.len(),
                }
            }
            Wanted::Next { measure, order } => {
                let Outlook { next, best, rolls } = next::outlook(&survey, *measure, *order);
                let (best, best_expected) = best.unzip();
                let rows: Vec<usize> = (0..survey.rows.len()).collect();
                evidence = of_rows(&survey, "", &rows);
                Found::Next {
                    next,
                    best,
                    best_expected,
                    rolls,
                }
            }
        };

        let mut all = cautions(&asked, &survey);
        all.splice(0..0, own);
        Ok(Self {
            question: question.to_owned(),
            read_as: ReadAs::of(&asked),
            cautions: all,
            found,
            evidence,
            asked,
        })
    }

    /// How the question was understood, in one line: `warmth of yellows, by mordant, dry pieces, warmest first`.
    pub fn reading(&self) -> String {
        self.asked.to_string()
    }

    /// The question as it was understood.
    pub fn asked(&self) -> &Question {
        &self.asked
    }

    /// A value of the measure as people read it, with its unit: `0.84`, `61.2 L*`, `31 %`.
    pub fn show(&self, value: f64) -> String {
        match self.asked.wanted.measure() {
            Some(measure) => measure.show(value),
            None => format!("{value:.1}"),
        }
    }

    /// The pieces behind one group, best first.
    pub fn examples<'a>(&'a self, group: &'a str) -> impl Iterator<Item = &'a Evidence> {
        self.evidence.iter().filter(move |e| *e.group == *group)
    }

    /// The evidence as a table, one row a piece and group, for one's own analysis:
    /// `group,piece,pot,measure,value,share,L,a,b`; the setting where it is a number stands in `setting`.
    ///
    /// # Errors
    /// The caller's where the question has no such table; the machine's where the text cannot be made.
    pub fn csv(&self) -> Result<String> {
        let machine = |e: csv::Error| Error::machine("The table could not be written.").because(e);
        let mut table = csv::Writer::from_writer(Vec::new());
        let header = [
            "group", "piece", "pot", "setting", "measure", "value", "share", "L", "a", "b",
        ];
        table.write_record(header).map_err(machine)?;
        for row in &self.evidence {
            let numbers = [row.value, row.share, row.lab.l, row.lab.a, row.lab.b].map(decimals);
            let [value, share, l, a, b] = &numbers;
            let setting = row.setting.map_or_else(String::new, decimals);
            let pot = row.pot.as_deref().unwrap_or_default();
            let (group, piece) = (&*row.group, &*row.piece);
            table
                .write_record([
                    group,
                    piece,
                    pot,
                    &setting,
                    self.read_as.of.unwrap_or("share"),
                    value,
                    share,
                    l,
                    a,
                    b,
                ])
                .map_err(machine)?;
        }
        if let Found::Nearest { nearest, .. } = &self.found {
            for near in nearest {
                let numbers = [near.de00, near.lab.l, near.lab.a, near.lab.b].map(decimals);
                let [de00, l, a, b] = &numbers;
                table
                    .write_record(["", near.piece.as_str(), "", "", "de00", de00, "", l, a, b])
                    .map_err(machine)?;
            }
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
        let (by, first) = match &asked.wanted {
            Wanted::Compare { by, order, .. } => (Some(by), Some(*order)),
            Wanted::Slope { by, .. } => (Some(by), None),
            Wanted::Next { order, .. } => (None, Some(*order)),
            Wanted::Nearest { .. } | Wanted::Count { .. } => (None, None),
        };
        Self {
            measure: match &asked.wanted {
                Wanted::Compare { measure, .. } => measure.name(),
                Wanted::Slope { .. } => "slope",
                Wanted::Nearest { .. } => "nearest",
                Wanted::Count { .. } => "count",
                Wanted::Next { .. } => "next",
            },
            of: asked.wanted.measure().map(|measure| measure.name()),
            part: asked.part.as_ref().map(ToString::to_string),
            family: asked
                .colours
                .as_ref()
                .map(|colours| colours.name().to_owned()),
            by: by.map(Factor::to_string),
            narrowed: asked.filters.iter().map(ToString::to_string).collect(),
            state: asked.state.word(),
            first: first.map(Order::word),
        }
    }
}

impl Group {
    fn of(gathered: &Gathered) -> Self {
        Self {
            value: gathered.label.clone(),
            pieces: gathered.rows.len(),
            of_pieces: gathered.of_pieces,
            pots: gathered.pots.len(),
            mean: gathered.mean,
            low: gathered.interval.map(|i| i.0),
            high: gathered.interval.map(|i| i.1),
            adjusted: gathered.adjusted,
        }
    }
}

/// A number to four decimals: no reading is nearer to the truth.
fn decimals(number: f64) -> String {
    ((number * 1e4).round() / 1e4 + 0.0).to_string()
}

/// The evidence of these rows of the survey.
fn of_rows(survey: &Survey, group: &str, rows: &[usize]) -> Vec<Evidence> {
    let group: Arc<str> = group.into();
    let each = rows.iter().enumerate().filter_map(|(n, &row)| {
        let row = &survey.rows[row];
        let measured = row.measured.or_else(|| row.of_colours(survey))?;
        let mut colours = Vec::new();
        if n < WITH_COLOURS {
            colours = row.colours(survey);
            colours.sort_by(|a, b| b.share.total_cmp(&a.share));
        }
        Some(Evidence {
            group: Arc::clone(&group),
            piece: Arc::clone(&row.seen.piece.code),
            pot: row.seen.rounds.last().and_then(Round::trial).cloned(),
            value: measured.value.value,
            setting: row.setting.number().map(|n| survey.shown(n)),
            share: measured.share,
            lab: measured.lab,
            colours,
        })
    });
    each.collect()
}
