//! Which files are meant.

use crate::error::{Error, Result};
use crate::photo;
use std::path::{Path, PathBuf};
use walkdir::{DirEntry, WalkDir};

/// A photo file to take in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct File {
    /// Where it is, absolute: an original left in place must be found from any folder.
    pub path: PathBuf,
    /// Its name in the journal: the path below the folder that was named, with `/` between.
    pub name: String,
    /// Names that may say what it shows, nearest first: the file's own without its ending, then its folders' up to the
    /// folder that was named.
    pub hints: Vec<String>,
}

/// The file in which a journal keeps its records; a folder that holds one is not searched for photos.
const JOURNAL_FILE: &str = "journal.sqlite";

/// Every photo under `paths`, in order of path. A file named by itself counts whatever its ending is; in folders, photos
/// are known by their ending, and hidden files and journals are left out.
pub(super) fn photos(paths: &[PathBuf]) -> Result<Vec<File>> {
    let mut files = Vec::new();
    for path in paths {
        if path.is_dir() {
            below(path, &mut files)?;
        } else if path.exists() {
            files.push(File::new(
                path.clone(),
                path.parent().unwrap_or(Path::new("")),
            ));
        } else {
            return Err(Error::caller(format!(
                "There is no file or folder {}; check the name, or drag the folder into the window.",
                path.display()
            )));
        }
    }
    files.sort_by(|one, other| one.path.cmp(&other.path));
    files.dedup_by(|one, other| one.path == other.path);
    Ok(files)
}

fn below(folder: &Path, files: &mut Vec<File>) -> Result<()> {
    let entries = WalkDir::new(folder)
        .sort_by_file_name()
        .into_iter()
        .filter_entry(|entry| !left_out(entry));
    for entry in entries {
        let entry = entry.map_err(|error| unreadable(folder, error))?;
        if entry.file_type().is_file() && photo::is_photo(entry.path()) {
            files.push(File::new(entry.into_path(), folder));
        }
    }
    Ok(())
}

fn left_out(entry: &DirEntry) -> bool {
    let hidden = entry.depth() > 0 && entry.file_name().to_string_lossy().starts_with('.');
    hidden || (entry.file_type().is_dir() && entry.path().join(JOURNAL_FILE).is_file())
}

fn unreadable(folder: &Path, error: walkdir::Error) -> Error {
    let place = error.path().unwrap_or(folder).display().to_string();
    Error::machine(format!(
        "The folder {place} cannot be read; check that you may open it, then ingest again."
    ))
    .because(error)
}

impl File {
    fn new(path: PathBuf, root: &Path) -> Self {
        let inside = path.strip_prefix(root).unwrap_or(&path);
        let name = inside
            .iter()
            .map(|part| part.to_string_lossy())
            .collect::<Vec<_>>()
            .join("/");
        let own = path.file_stem().unwrap_or_default();
        let folders = inside
            .parent()
            .into_iter()
            .flat_map(|parent| parent.iter().rev());
        // A relative root such as "." has no name of its own; its absolute form has.
        let root = std::path::absolute(root).unwrap_or_else(|_| root.to_path_buf());
        let hints = std::iter::once(own).chain(folders).chain(root.file_name());
        let hints = hints
            .map(|part| part.to_string_lossy().into_owned())
            .collect();
        Self {
            path: std::path::absolute(&path).unwrap_or(path),
            name,
            hints,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(root: &Path) -> Vec<String> {
        photos(&[root.to_path_buf()])
            .expect("a readable folder")
            .into_iter()
            .map(|file| file.name)
            .collect()
    }

    #[test]
    fn folders_are_walked_and_journals_and_hidden_files_left_out() {
        let root = tempfile::tempdir().expect("an empty folder");
        for file in [
            "b/LB002.JPG",
            "a.png",
            ".hidden.jpg",
            "notes.txt",
            "j/journal.sqlite",
            "j/photos/kept.jpg",
        ] {
            let path = root.path().join(file);
            std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
            std::fs::write(path, b"x").expect("written");
        }
        assert_eq!(names(root.path()), ["a.png", "b/LB002.JPG"]);
    }

    #[test]
    fn a_file_brings_its_folders_as_hints() {
        let file = File::new("season/wet/LB001.jpg".into(), Path::new("season"));
        assert_eq!(file.hints, ["LB001", "wet", "season"]);
        assert_eq!(file.name, "wet/LB001.jpg");
    }

    #[test]
    fn a_missing_folder_is_said() {
        let error = photos(&["no/such/folder".into()]).expect_err("it is not there");
        assert!(error.to_string().contains("no/such/folder"));
    }
}
