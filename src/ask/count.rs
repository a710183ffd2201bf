//! How many pieces are as asked.

use super::language::{Question, Wanted};
use super::survey::Survey;

/// The rows of the survey that have the colours asked about.
pub fn of(survey: &Survey, question: &Question) -> Vec<usize> {
    let any = question.colours.is_none() && question.part.is_none();
    let all = any || matches!(question.wanted, Wanted::Count { seen: false });
    (0..survey.rows.len())
        .filter(|&row| all || !survey.rows[row].colours(survey).is_empty())
        .collect()
}
