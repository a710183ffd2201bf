//! Pages asked for as a browser would, without a network.

mod baths;
mod begun;
mod charts;
mod claim;
mod desk;
mod line;
mod market;
mod mend;
mod pot;
mod safety;
mod standing;
mod studio;
mod views;

use super::guard::Door;
use super::house::House;
use super::rooms::rooms;
use crate::journal::Journal;
use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode};
use jiff::civil::{Date, date};
use std::path::Path;
use std::sync::Arc;
use tempfile::TempDir;
use tower::ServiceExt;

const HOST: &str = "127.0.0.1:1737";
const PHONES: &str = "192.168.7.20:1737";

/// A studio with an empty journal, and its two doors.
struct Studio {
    folder: TempDir,
    house: Arc<House>,
    here: Router,
    phones: Router,
}

/// What came back.
struct Reply {
    status: StatusCode,
    headers: HeaderMap,
    bytes: Vec<u8>,
}

impl Reply {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).into_owned()
    }

    fn header(&self, name: &str) -> &str {
        self.headers
            .get(name)
            .map_or("", |value| value.to_str().expect("plain"))
    }

    #[track_caller]
    fn good(self) -> Self {
        assert_eq!(self.status, StatusCode::OK, "{}", self.text());
        self
    }
}

impl Studio {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("an empty folder");
        Journal::open_or_create(folder.path()).expect("a new journal");
        let at = Some(format!("http://{PHONES}"));
        let house = Arc::new(House::new(folder.path().to_owned(), today, at));
        let door = |host: &str, share| Door {
            hosts: vec![host.to_owned()],
            share,
        };
        Self {
            here: rooms(Arc::clone(&house), door(HOST, None)),
            phones: rooms(
                Arc::clone(&house),
                door(PHONES, Some(Arc::clone(&house.share))),
            ),
            folder,
            house,
        }
    }

    fn journal(&self) -> Journal {
        Journal::open(self.folder.path()).expect("the journal")
    }

    /// Takes photos of the small season in, as a folder would be.
    fn photos(&self, names: &[&str]) {
        let season = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/photos");
        let paths: Vec<_> = names.iter().map(|name| season.join(name)).collect();
        let options = crate::intake::Options::default();
        let summary = crate::intake::ingest(&mut self.journal(), &paths, &options, &|_| ());
        assert_eq!(summary.expect("ingested").new, names.len());
    }

    fn ask(&self, request: Request<Body>) -> Reply {
        reply(&self.here, request)
    }

    fn get(&self, path: &str) -> Reply {
        self.ask(asked("GET", HOST, path, &[], ""))
    }

    /// One file in a form sent by the page itself.
    fn send_file(&self, path: &str, field: &str, name: &str, bytes: Vec<u8>) -> Reply {
        self.send_parts(path, &[], field, &[(name, bytes)])
    }

    /// A form (RFC 7578) of fields, and of files by name, sent by the page itself.
    fn send_parts(
        &self,
        path: &str,
        fields: &[(&str, &str)],
        field: &str,
        files: &[(&str, Vec<u8>)],
    ) -> Reply {
        let mut body = Vec::new();
        let mut part = |name: &str, file: &str, bytes: &[u8]| {
            let head =
                format!("--cut\r\nContent-Disposition: form-data; name=\"{name}\"{file}\r\n\r\n");
            body.extend([head.as_bytes(), bytes, b"\r\n"].concat());
        };
        for (name, value) in fields {
            part(name, "", value.as_bytes());
        }
        for (name, bytes) in files {
            part(field, &format!("; filename=\"{name}\""), bytes);
        }
        body.extend(b"--cut--\r\n");
        self.send_body(path, body)
    }

    fn send_body(&self, path: &str, body: Vec<u8>) -> Reply {
        let request = Request::builder()
            .method("POST")
            .uri(path)
            .header("host", HOST)
            .header("origin", format!("http://{HOST}"))
            .header("content-type", "multipart/form-data; boundary=cut");
        self.ask(request.body(Body::from(body)).expect("a request"))
    }

    /// A form sent by the page itself.
    fn send(&self, path: &str, form: &str) -> Reply {
        let origin = format!("http://{HOST}");
        let headers = [("origin", origin.as_str()), ("content-type", FORM)];
        self.ask(asked("POST", HOST, path, &headers, form))
    }
}

#[track_caller]
fn shows(reply: &Reply, all: &[&str]) {
    let text = reply.text();
    for words in all {
        assert!(text.contains(words), "no “{words}” in {text}");
    }
}

/// A studio with the small season's sheet and some of its photos.
fn season(photos: &[&str]) -> Studio {
    let studio = Studio::new();
    let sheet = Path::new(env!("CARGO_MANIFEST_DIR")).join("testdata/season/sheet.csv");
    crate::sheet::enter(&mut studio.journal(), &sheet).expect("entered");
    studio.photos(photos);
    studio
}

const FORM: &str = "application/x-www-form-urlencoded";

fn today() -> Date {
    date(2026, 5, 20)
}

fn asked(
    method: &str,
    host: &str,
    path: &str,
    headers: &[(&str, &str)],
    body: &str,
) -> Request<Body> {
    let request = Request::builder()
        .method(method)
        .uri(path)
        .header("host", host);
    let all = headers.iter().fold(request, |request, (name, value)| {
        request.header(*name, *value)
    });
    all.body(Body::from(body.to_owned())).expect("a request")
}

fn reply(rooms: &Router, request: Request<Body>) -> Reply {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .expect("threads");
    runtime.block_on(async {
        let response = rooms.clone().oneshot(request).await.expect("an answer");
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, usize::MAX).await.expect("its body");
        Reply {
            status: parts.status,
            headers: parts.headers,
            bytes: bytes.to_vec(),
        }
    })
}
