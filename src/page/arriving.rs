//! Where files lie that are on their way in.

use std::fs::{DirEntry, read_dir, remove_dir, remove_dir_all};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The folder that they lie in.
const ARRIVING: &str = "arriving";

/// What has lain there for so long was left by a program that was stopped in its work.
const OLD: Duration = Duration::from_secs(60 * 60);

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

/// Takes away what a program left that was stopped in its work: photos hold the place where they were taken. What is newer may be on
/// its way in by another program.
pub(super) fn forget_old(journal: &Path) {
    let arriving = journal.join(ARRIVING);
    for entry in read_dir(&arriving).into_iter().flatten().flatten() {
        if is_old(&entry) {
            // What cannot be taken away now is tried again at the next start.
            let _ = remove_dir_all(entry.path());
        }
    }
    let _ = remove_dir(arriving);
}

fn is_old(entry: &DirEntry) -> bool {
    let about = entry.metadata().ok().filter(std::fs::Metadata::is_dir);
    let touched = about.and_then(|about| about.modified().ok());
    let age = touched.and_then(|touched| touched.elapsed().ok());
    age.is_some_and(|age| age > OLD)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_left_long_ago_goes() {
        let journal = tempfile::tempdir().unwrap();
        let arriving = journal.path().join(ARRIVING);
        let folder = |name: &str, age: Duration| {
            let folder = arriving.join(name);
            std::fs::create_dir_all(&folder).unwrap();
            std::fs::write(folder.join("LB001.jpg"), "a photo").unwrap();
            let opened = std::fs::File::open(&folder).unwrap();
            let now = opened.metadata().unwrap().modified().unwrap();
            opened.set_modified(now - age).unwrap();
            folder
        };
        let (old, new) = (folder("a", 2 * OLD), folder("b", Duration::ZERO));
        forget_old(journal.path());
        assert!(!old.exists() && new.join("LB001.jpg").exists());
        drop(Arriving(new));
        assert!(!arriving.exists());
        forget_old(journal.path());
    }
}
