//! The local web page: everything the program can do, on the studio's computer and on the phone that took the photos.
//!
//! Six places, named by where the person stands: shelf, pot, line, desk, market, studio. Every page is made here as HTML; the
//! scripts only add what HTML cannot do (progress while photos are measured, corners to drag), and nothing comes from elsewhere.
//! Who may come in is decided in one place, `guard`, before anything else is looked at.

mod anew;
mod arrive;
mod arriving;
mod came;
mod claim;
mod desk;
mod edition;
mod files;
mod frame;
mod guard;
mod held;
mod house;
mod line;
mod looks;
mod market;
mod mend;
mod one_file;
mod photo;
mod piece;
mod pot;
mod progress;
mod rooms;
mod serve;
mod share;
mod shelf;
mod shown;
mod standing;
mod studio;
#[cfg(test)]
mod tests;
mod trouble;
mod unknown;
mod visits;
mod waits;

pub use serve::{Open, Options, serve};
