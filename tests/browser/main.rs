//! The page in a real browser: Debian's Chromium, driven over WebDriver, on a phone's screen and on a desk's, offline.
//!
//! Needs `chromium`, `chromedriver` and `pdftotext`; `.ci/run` installs them, and sets `CI`, without which a test that lacks one of them
//! only says so. With `PICTURES=1` the pictures in `docs/` are made anew.

mod access;
mod browser;
mod driver;
mod keyboard;
mod line;
mod links;
mod mend;
mod palette;
mod paper;
mod pictures;
mod pot;
mod question;
mod share;
mod studio;
mod views;
