//! Where files lie that are on their way in.

use std::path::PathBuf;

/// A folder for files on their way in; it goes with them, whatever happens.
#[derive(Debug)]
pub(super) struct Arriving(pub(super) PathBuf);

impl Drop for Arriving {
    fn drop(&mut self) {
        // What cannot be taken away now may be deleted by hand; nothing is lost with it.
        let _ = std::fs::remove_dir_all(&self.0);
        let _ = self.0.parent().map(std::fs::remove_dir);
    }
}
