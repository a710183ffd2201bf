//! The program with its page open on the demo season.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::OnceLock;
use tempfile::TempDir;

/// A journal of its own, and the program that shows it as a page.
pub struct Studio {
    folder: TempDir,
    program: Child,
    /// The page's address without the last stroke: `http://127.0.0.1:1737`.
    pub address: String,
    /// The path that lets a phone in; empty where the page is not shared.
    pub link: String,
}

impl Studio {
    /// The demo season, measured: nine pieces, each wet and dry.
    pub fn season() -> Self {
        Self::with(|_| ())
    }

    /// The demo season with photos that wait for a hand: one shows its tag but not its state, one shows no tag.
    pub fn waiting() -> Self {
        Self::with(|folder| {
            let photos = folder.join("photos");
            std::fs::create_dir(&photos).expect("made");
            std::fs::write(photos.join("IMG_0412.jpg"), unheard("LB004-dry.jpg")).expect("written");
            std::fs::write(photos.join("IMG_0413.jpg"), tagless("LB006-dry.jpg")).expect("written");
            run(folder, &["ingest", "photos"]);
        })
    }

    /// The demo season, open to phones as well: `address` is the one that they use, `link` the path that lets one in.
    pub fn shared() -> Self {
        let mut studio = Self::opened(|_| (), &["page", "--share"]);
        let out = studio.program.stdout.as_mut().expect("its output");
        let mut lines = BufReader::new(out)
            .lines()
            .map(|line| line.expect("a line"));
        let told = lines.find_map(|line| Some(line.split_once(" at http://")?.1.to_owned()));
        let told = told.expect("a link; this computer must be in a network");
        let (host, path) = told.split_once('/').expect("a path");
        studio.address = format!("http://{host}");
        studio.link = format!("/{path}");
        studio
    }

    fn with(prepare: impl FnOnce(&Path)) -> Self {
        Self::opened(prepare, &["page"])
    }

    fn opened(prepare: impl FnOnce(&Path), arguments: &[&str]) -> Self {
        let folder = tempfile::tempdir().expect("an empty folder");
        copy(made(), &folder.path().join("filemot-journal"));
        prepare(folder.path());
        let mut program = program(folder.path())
            .args(arguments)
            .stdout(Stdio::piped())
            .spawn()
            .expect("started");
        let mut line = String::new();
        let out = program.stdout.as_mut().expect("its output");
        BufReader::new(out).read_line(&mut line).expect("a line");
        let address = line.trim().rsplit(' ').next().expect("an address");
        let address = address.trim_end_matches('/').to_owned();
        Self {
            folder,
            program,
            address,
            link: String::new(),
        }
    }

    /// What a command prints about this journal.
    pub fn run(&self, arguments: &[&str]) -> String {
        run(self.folder.path(), arguments)
    }

    /// A file in the studio's folder.
    pub fn write(&self, name: &str, bytes: &[u8]) -> PathBuf {
        let path = self.folder.path().join(name);
        std::fs::write(&path, bytes).expect("written");
        path
    }
}

impl Drop for Studio {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

/// A photo of the demo season.
pub fn photo(name: &str) -> Vec<u8> {
    let season = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/photos");
    std::fs::read(season.join(name)).expect("a photo of the season")
}

/// The same photo with other bytes, so that it is another one: what stands after the picture's end has no meaning (ITU-T T.81).
pub fn unheard(name: &str) -> Vec<u8> {
    let mut bytes = photo(name);
    bytes.extend(b"\0\0");
    bytes
}

/// The middle of a photo, where there is cloth and no tag.
fn tagless(name: &str) -> Vec<u8> {
    let photo = image::load_from_memory(&photo(name)).expect("a picture");
    let (width, height) = (photo.width(), photo.height());
    let middle = photo.crop_imm(width / 4, height / 4, width / 2, height / 2);
    let mut bytes = std::io::Cursor::new(Vec::new());
    middle
        .write_to(&mut bytes, image::ImageFormat::Jpeg)
        .expect("written");
    bytes.into_inner()
}

/// The journal that `filemot tour` makes, made once.
fn made() -> &'static Path {
    static MADE: OnceLock<PathBuf> = OnceLock::new();
    MADE.get_or_init(|| {
        let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("browser-season");
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).expect("made");
        run(&folder, &["tour"]);
        folder.join("filemot-tour/journal")
    })
}

fn run(folder: &Path, arguments: &[&str]) -> String {
    let output = program(folder).args(arguments).output().expect("it runs");
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{arguments:?}: {told}");
    String::from_utf8(output.stdout).expect("UTF-8")
}

fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_filemot"));
    command.current_dir(folder).env_remove("FILEMOT_JOURNAL");
    command
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).expect("made");
    for entry in std::fs::read_dir(from).expect("a folder") {
        let entry = entry.expect("an entry");
        let to = to.join(entry.file_name());
        match entry.file_type().expect("its kind").is_dir() {
            true => copy(&entry.path(), &to),
            false => drop(std::fs::copy(entry.path(), to).expect("copied")),
        }
    }
}
