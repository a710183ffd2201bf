use super::filter::Filter;
use super::names::Name;
use super::question::{Colours, Target};
use super::terms::{Factor, Part};
use super::vocabulary::Meaning;

/// One thing that a question says.
#[derive(Debug)]
pub enum Said {
    /// Words of the language.
    Word(Meaning, String),
    /// What narrows it.
    Filter(Filter),
    /// Which colours.
    Colours(Colours),
    /// Where on the cloth.
    Part(Part),
    /// What is compared.
    By(Factor),
    /// A name by itself.
    Name(Name),
    /// What pieces should be near to.
    Target(Target),
}
