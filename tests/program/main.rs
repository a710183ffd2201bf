//! The whole program, run as a person would run it, each test in an empty folder.

mod bad;
mod change;
mod docs;
mod foresee;
mod ingest;
mod journal;
mod light;
mod note;
mod page;
mod palettes;
mod plan;
mod season;
mod studio;
mod support;
mod words;
