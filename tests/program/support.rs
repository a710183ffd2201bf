//! An empty folder to run the program in.

use assert_cmd::Command;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Child, Stdio};
use tempfile::TempDir;

/// An empty folder; whatever is run, runs there.
pub struct Studio {
    folder: TempDir,
}

/// What a run of the program left.
pub struct Run {
    pub status: i32,
    pub out: String,
    pub err: String,
}

impl Studio {
    pub fn new() -> Self {
        Self {
            folder: tempfile::tempdir().expect("an empty folder"),
        }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        std::fs::write(&path, bytes).expect("written");
        path
    }

    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).expect("a readable file")
    }

    /// Copies photos of the small season into a folder of the studio.
    pub fn photos(&self, folder: &str, names: &[&str]) {
        for name in names {
            self.write(&format!("{folder}/{name}"), season_photo(name));
        }
    }

    /// Enters the small season's sheet.
    pub fn sheet(&self) {
        let sheet = self.write(
            "sheet.csv",
            std::fs::read(testdata("season/sheet.csv")).expect("the season's sheet"),
        );
        self.run(&["enter", sheet.to_str().expect("a plain path")])
            .good();
    }

    /// The program, ready to run here.
    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::cargo_bin("filemot").expect("the program is built");
        command
            .current_dir(self.folder.path())
            .env_remove("FILEMOT_JOURNAL")
            .args(arguments);
        command
    }

    /// The program, started here; its output can be read or closed.
    pub fn start(&self, arguments: &[&str]) -> Child {
        let mut command = std::process::Command::new(assert_cmd::cargo::cargo_bin!("filemot"));
        command
            .args(arguments)
            .current_dir(self.folder.path())
            .env_remove("FILEMOT_JOURNAL");
        command
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("started")
    }

    pub fn run(&self, arguments: &[&str]) -> Run {
        self.start(arguments).into()
    }

    /// Runs a command that prints JSON.
    pub fn json(&self, arguments: &[&str]) -> Value {
        serde_json::from_str(&self.run(arguments).good().out).expect("one JSON document")
    }

    pub fn export(&self) -> Value {
        self.json(&["export"])
    }
}

impl From<Child> for Run {
    /// Waits for the end.
    fn from(child: Child) -> Self {
        let output = child.wait_with_output().expect("ended");
        Self {
            status: output.status.code().expect("an exit status"),
            out: String::from_utf8(output.stdout).expect("UTF-8"),
            err: String::from_utf8(output.stderr).expect("UTF-8"),
        }
    }
}

impl Run {
    /// It must have gone well.
    pub fn good(self) -> Self {
        assert_eq!(self.status, 0, "{}\n{}", self.out, self.err);
        self
    }

    /// It must have failed with exit status 1, and a message on standard error that is one line, or a list, and holds each of
    /// `words`.
    pub fn refused(self, words: &[&str]) -> Self {
        assert_eq!(self.status, 1, "{}\n{}", self.out, self.err);
        let mut messages = self
            .err
            .lines()
            .filter(|line| line.starts_with("filemot: "));
        let first = messages.next().expect("a message");
        assert!(messages.next().is_none(), "{}", self.err);
        assert!(first.ends_with(['.', '?', ':']), "no sentence: {first}");
        for word in words {
            assert!(
                self.err.contains(word),
                "\"{word}\" is missing in: {}",
                self.err
            );
        }
        self
    }
}

pub fn testdata(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("testdata")
        .join(name)
}

pub fn season_photo(name: &str) -> Vec<u8> {
    std::fs::read(testdata("season/photos").join(name)).expect("a photo of the season")
}
