//! Which files are meant.

use super::Refused;
use crate::error::{Error, Result, is_invisible};
use crate::journal::Journal;
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

/// Every photo under `paths`, in order of path, and what could not be looked at. A file named by itself counts whatever its
/// ending is; in folders, photos are known by their ending, links are followed, and hidden files and journals are left out.
pub(super) fn photos(paths: &[PathBuf]) -> Result<(Vec<File>, Vec<Refused>)> {
    let (mut files, mut refused) = (Vec::new(), Vec::new());
    for path in paths {
        if path.is_dir() {
            below(path, &mut files, &mut refused)?;
        } else if path.is_file() {
            files.push(File::new(
                path.clone(),
                path.parent().unwrap_or(Path::new("")),
            ));
        } else if path.exists() {
            return Err(Error::caller(format!(
                "{} is neither a photo nor a folder; name photos, or the folder that holds them.",
                path.display()
            )));
        } else {
            return Err(Error::caller(format!(
                "There is no file or folder {}; check the name, or drag the folder into the window.",
                path.display()
            )));
        }
    }
    files.sort_by(|one, other| one.path.cmp(&other.path));
    files.dedup_by(|one, other| one.path == other.path);
    Ok((files, refused))
}

fn below(folder: &Path, files: &mut Vec<File>, refused: &mut Vec<Refused>) -> Result<()> {
    let entries = WalkDir::new(folder)
        .follow_links(true)
        .sort_by_file_name()
        .into_iter()
        .filter_entry(|entry| !left_out(entry));
    for entry in entries {
        match entry {
            Ok(entry) if entry.file_type().is_file() && photo::is_photo(entry.path()) => {
                files.push(File::new(entry.into_path(), folder));
            }
            Ok(_) => {}
            Err(error) if error.depth() == 0 => return Err(unreadable(folder, error)),
            Err(error) => refused.extend(left_unread(folder, &error)),
        }
    }
    Ok(())
}

/// A folder or link that leads nowhere; one that leads back to where it hangs hides nothing.
fn left_unread(folder: &Path, error: &walkdir::Error) -> Option<Refused> {
    let path = error.path().filter(|path| !is_hidden(path))?;
    if error.loop_ancestor().is_some() {
        return None;
    }
    let photo = name_below(folder, path);
    let why = format!(
        "{photo} cannot be read; check that it is there and that you may open it, then ingest again."
    );
    Some(Refused { photo, why })
}

fn is_hidden(path: &Path) -> bool {
    path.file_name()
        .is_some_and(|name| name.to_string_lossy().starts_with('.'))
}

fn left_out(entry: &DirEntry) -> bool {
    let hidden = entry.depth() > 0 && is_hidden(entry.path());
    hidden || (entry.file_type().is_dir() && Journal::exists(entry.path()))
}

fn unreadable(folder: &Path, error: walkdir::Error) -> Error {
    let place = error.path().unwrap_or(folder).display().to_string();
    Error::machine(format!(
        "The folder {place} cannot be read; check that you may open it, then ingest again."
    ))
    .because(error)
}

/// The path below the folder, with `/` between. What shows nothing of itself, or would command the terminal, is marked as
/// bytes that are no text are.
fn name_below(root: &Path, path: &Path) -> String {
    let inside = path.strip_prefix(root).unwrap_or(path);
    let parts: Vec<_> = inside.iter().map(|part| part.to_string_lossy()).collect();
    parts.join("/").replace(
        is_invisible,
        char::REPLACEMENT_CHARACTER.encode_utf8(&mut [0; 4]),
    )
}

impl File {
    fn new(path: PathBuf, root: &Path) -> Self {
        let name = name_below(root, &path);
        let inside = path.strip_prefix(root).unwrap_or(&path);
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
            .0
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
