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
        self.told(1, words)
    }

    /// The same with exit status 2: the command line was wrong.
    pub fn misused(self, words: &[&str]) -> Self {
        self.told(2, words)
    }

    fn told(self, status: i32, words: &[&str]) -> Self {
        assert_eq!(self.status, status, "{}\n{}", self.out, self.err);
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

/// A JPEG with what a camera writes beside it (Exif 2.32), in place of what stood there: its model, of four letters or more, when
/// the photo was taken, `YYYY:MM:DD HH:MM:SS`, 1/100 s and ISO 64.
pub fn with_exif(jpeg: &[u8], model: &str, taken: &str) -> Vec<u8> {
    let texts = [format!("{model}\0"), format!("{taken}\0")];
    // Places are counted from the start of the TIFF header; the first directory holds two entries, the second three.
    let (first, second) = (8, 8 + 2 + 2 * 12 + 4);
    let rational = second + 2 + 3 * 12 + 4;
    let model_at = rational + 8;
    let taken_at = model_at + texts[0].len();
    let entry = |tag: u16, kind: u16, count: usize, value: u32| {
        let mut bytes = [tag.to_be_bytes(), kind.to_be_bytes()].concat();
        bytes.extend((count as u32).to_be_bytes());
        bytes.extend(value.to_be_bytes());
        bytes
    };
    let mut tiff = b"MM\0\x2a".to_vec();
    tiff.extend((first as u32).to_be_bytes());
    tiff.extend(2u16.to_be_bytes());
    tiff.extend(entry(0x0110, 2, texts[0].len(), model_at as u32));
    tiff.extend(entry(0x8769, 4, 1, second as u32));
    tiff.extend(0u32.to_be_bytes());
    tiff.extend(3u16.to_be_bytes());
    tiff.extend(entry(0x829a, 5, 1, rational as u32));
    tiff.extend(entry(0x8827, 3, 1, 64 << 16));
    tiff.extend(entry(0x9003, 2, texts[1].len(), taken_at as u32));
    tiff.extend(0u32.to_be_bytes());
    tiff.extend([1u32, 100].map(u32::to_be_bytes).concat());
    tiff.extend(texts.concat().as_bytes());
    let length = (2 + 6 + tiff.len()) as u16;
    [
        &jpeg[..2],
        b"\xff\xe1",
        &length.to_be_bytes(),
        b"Exif\0\0",
        &tiff,
        &without_exif(jpeg)[2..],
    ]
    .concat()
}

/// A JPEG without its segments APP1 (ISO/IEC 10918-1: marker, length, content).
fn without_exif(jpeg: &[u8]) -> Vec<u8> {
    let mut kept = jpeg[..2].to_vec();
    let mut at = 2;
    while jpeg[at + 1] != 0xda {
        let length = 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
        if jpeg[at + 1] != 0xe1 {
            kept.extend(&jpeg[at..at + length]);
        }
        at += length;
    }
    kept.extend(&jpeg[at..]);
    kept
}
