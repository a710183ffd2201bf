//! How soon the page shows a large journal, how much it moves, and how much longer a photo takes over it than by an ingest.
//!
//! `cargo bench --bench page` makes a journal of 10,000 pieces in `target/tmp`, opens the page on it and on an empty one, and asks
//! over the loopback as a browser would.

#[allow(dead_code)]
mod made;

use filemot::intake::{self, Options};
use filemot::journal::Journal;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const PIECES: usize = 10_000;
const RUNS: usize = 9;

/// Pictures that a phone loads for its first view: those in sight and, with lazy loading, a few rows below.
const IN_SIGHT: usize = 12;

fn main() {
    let page = Page::open(&large());
    let mut shelf = Vec::new();
    let took = median((0..RUNS).map(|_| timed(|| shelf = page.get("/"))));
    println!(
        "first view of {PIECES} pieces: {:.0} ms on the server",
        1e3 * took.as_secs_f64()
    );
    for path in ["/?words=walnut", "/?words=lb00077", "/?page=200", "/line"] {
        let took = median((0..RUNS).map(|_| timed(|| drop(page.get(path)))));
        println!("{path}: {:.0} ms", 1e3 * took.as_secs_f64());
    }
    let (by_page, by_ingest, pictures) = photos();
    let files = page.get("/files/page.css").len() + page.get("/files/sign.svg").len();
    let moved = shelf.len() + files + IN_SIGHT * pictures;
    println!(
        "moved: {} KB of HTML, {} KB of style, {IN_SIGHT} pictures of {} KB: {} KB",
        shelf.len() / 1000,
        files / 1000,
        pictures / 1000,
        moved / 1000
    );
    println!(
        "one photo: {:.0} ms over the page, {:.0} ms by ingest, {:.2} times",
        1e3 * by_page.as_secs_f64(),
        1e3 * by_ingest.as_secs_f64(),
        by_page.as_secs_f64() / by_ingest.as_secs_f64()
    );
}

/// One photo sent and measured, one ingested (medians of the season's dry ones), and the mean bytes of a small picture.
fn photos() -> (Duration, Duration, usize) {
    let season = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/photos");
    let paths: Vec<PathBuf> = (1..=RUNS)
        .map(|n| season.join(format!("LB00{n}-dry.jpg")))
        .collect();
    let folder = empty("page-photos");
    let page = Page::open(&folder);
    let by_page = median(paths.iter().enumerate().map(|(n, path)| {
        let body = form(path);
        timed(|| page.send(&format!("/line/photos/{n:040x}"), &body))
    }));
    let beside = empty("page-ingest");
    let mut journal = Journal::open_or_create(&beside).expect("a new journal");
    let by_ingest = median(paths.iter().map(|path| {
        let one = std::slice::from_ref(path);
        timed(|| {
            drop(intake::ingest(&mut journal, one, &Options::default(), &|_| ()).expect("ingested"))
        })
    }));
    let sizes = (1..=RUNS).map(|n| page.get(&format!("/picture/{n}/small")).len());
    (by_page, by_ingest, sizes.sum::<usize>() / RUNS)
}

fn form(photo: &Path) -> Vec<u8> {
    let name = photo.file_name().expect("a name").to_string_lossy();
    let mut body = format!(
        "--cut\r\nContent-Disposition: form-data; name=\"photos\"; filename=\"{name}\"\r\n\r\n"
    )
    .into_bytes();
    body.extend(std::fs::read(photo).expect("a photo of the season"));
    body.extend(b"\r\n--cut--\r\n");
    body
}

/// The program with its page open.
struct Page {
    program: Child,
    address: String,
}

impl Page {
    fn open(journal: &Path) -> Self {
        let mut program = Command::new(env!("CARGO_BIN_EXE_filemot"))
            .arg("--journal")
            .arg(journal)
            .arg("page")
            .stdout(Stdio::piped())
            .spawn()
            .expect("started");
        let mut line = String::new();
        let out = program.stdout.as_mut().expect("its output");
        BufReader::new(out).read_line(&mut line).expect("a line");
        let address = line.split("http://").nth(1).expect("an address");
        let address = address.trim().trim_end_matches('/').to_owned();
        Self { program, address }
    }

    /// The body of a page.
    fn get(&self, path: &str) -> Vec<u8> {
        self.asked(
            format!(
                "GET {path} HTTP/1.1\r\nHost: {}\r\nConnection: close\r\n\r\n",
                self.address
            )
            .as_bytes(),
            "200",
        )
    }

    fn send(&self, path: &str, body: &[u8]) {
        let head = format!(
            "POST {path} HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nConnection: close\r\nContent-Length: {1}\r\nContent-Type: multipart/form-data; boundary=cut\r\n\r\n",
            self.address,
            body.len()
        );
        self.asked(&[head.as_bytes(), body].concat(), "303");
    }

    fn asked(&self, request: &[u8], status: &str) -> Vec<u8> {
        let mut stream = TcpStream::connect(&self.address).expect("it listens");
        stream.write_all(request).expect("sent");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("answered");
        assert!(answer.starts_with(format!("HTTP/1.1 {status}").as_bytes()));
        let head = answer
            .windows(4)
            .position(|it| it == b"\r\n\r\n")
            .expect("a head");
        answer.split_off(head + 4)
    }
}

impl Drop for Page {
    fn drop(&mut self) {
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

fn empty(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    folder
}

/// Imported under another name first: one that was broken off is not opened.
fn large() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("page-{PIECES}"));
    if !Journal::exists(&folder) {
        let unfinished = empty("page-unfinished");
        let mut journal = Journal::open_or_create(&unfinished).expect("a new journal");
        journal
            .import(&made::export(0..PIECES))
            .expect("it is imported");
        drop(journal);
        std::fs::rename(&unfinished, &folder).expect("the folder gets its name");
    }
    folder
}

fn timed(work: impl FnOnce()) -> Duration {
    let start = Instant::now();
    work();
    start.elapsed()
}

fn median(times: impl Iterator<Item = Duration>) -> Duration {
    let mut times: Vec<Duration> = times.collect();
    times.sort();
    times[times.len() / 2]
}
