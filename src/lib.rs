//! Filemot: a photo-based result journal that measures the colours of leaf prints on cloth.
//!
//! The areas stand in the order in which data flows; each imports only areas above it (see `DEVELOPERS.md`, and the test
//! `architecture`).

#![warn(missing_docs)]

pub mod ask;
pub mod care;
pub mod change;
pub mod cli;
pub mod colour;
pub mod draw;
pub mod error;
pub mod intake;
pub mod journal;
pub mod light;
pub mod measure;
pub mod note;
pub mod page;
pub mod photo;
pub mod picture;
pub mod piece;
pub mod reading;
pub mod sheet;
pub mod stats;
pub mod swatch;
pub mod tag;
pub mod words;
