//! The question language: what can be asked, and how a question is read.

mod codes;
mod date;
mod filter;
mod found;
mod kind;
mod names;
mod nearest;
mod number;
mod quantity;
mod question;
mod reader;
mod refusal;
mod said;
mod target;
mod terms;
#[cfg(test)]
mod tests;
mod unit;
mod vocabulary;
mod wanted;
mod words;

pub use filter::Filter;
#[cfg(test)]
pub use filter::{Bound, End};
pub use names::Names;
pub use question::{Colours, Question, Target, Wanted};
pub use reader::read;
pub use terms::{Factor, Measure, Order, Part};
#[cfg(test)]
pub use unit::Unit;
