//! What keeps a journal safe: a backup to fetch, everything written out and taken in again, and a look over all of it.

use super::super::arriving::Arriving;
use super::super::frame::{self, Place};
use super::super::house::House;
use super::super::one_file::one_file;
use super::super::share::secret;
use super::super::shown;
use super::super::trouble::Outcome;
use crate::error::refused;
use crate::journal::{Export, Finding, Imported};
use crate::sheet;
use askama::Template;
use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::{DefaultBodyLimit, Multipart, State};
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use futures_util::stream::unfold;
use std::path::Path;
use std::sync::Arc;
use tokio::fs::File;
use tokio::io::AsyncReadExt;

/// Bytes that are read and sent at a time.
const CHUNK: usize = 256 * 1024;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>The journal, looked over</h1><p><a href="/studio">Back to Studio</a></p></header>
<p id="verdict" role="status"><strong>{{ verdict }}</strong></p>
<ul class="cautions">{% for finding in findings %}<li><strong>{% if finding.serious %}Damaged{% else %}Note{% endif %}:</strong> {{ self.told(finding) }}</li>{% endfor %}</ul>"##
)]
struct LookedOver {
    verdict: String,
    findings: Vec<Finding>,
}

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Taken in</h1><p><a href="/studio">Back to Studio</a></p></header>
<p role="status" id="imported">Pieces: {{ done.pieces_new }} new, {{ done.pieces_changed }} changed. Photos: {{ done.photos_new }} new, {{ done.photos_changed }} changed. Baths: {{ done.baths_changed }} new or changed. What the file does not speak of stayed as it was.</p>
{% if done.photos_new > 0 %}<p>The pictures are not in such a file: copy what lies in the other journal’s folder “photos” into this one’s.</p>{% endif %}"##
)]
struct TakenIn {
    done: Imported,
}

pub(super) fn routes() -> Router<Arc<House>> {
    Router::new()
        .route("/studio/backup", get(backup))
        .route("/studio/export.csv", get(pieces))
        .route("/studio/export.json", get(everything))
        .route(
            "/studio/import",
            post(import).layer(DefaultBodyLimit::disable()),
        )
        .route("/studio/check", post(check))
}

/// A file to keep, under a name with the day.
fn to_keep(house: &House, kind: &'static str, ending: &str, body: impl IntoResponse) -> Response {
    let name = format!("journal-{}.{ending}", (house.today)());
    let kept = format!("attachment; filename=\"{name}\"");
    (
        [(CONTENT_TYPE, kind.to_owned()), (CONTENT_DISPOSITION, kept)],
        body,
    )
        .into_response()
}

async fn backup(State(house): State<Arc<House>>) -> Outcome<Response> {
    let folder = Arriving(house.folder.join("arriving").join(secret()?));
    let file = folder.0.join("backup.sqlite");
    let copy = file.clone();
    house
        .with(move |journal| {
            let parent = copy.parent().unwrap_or(&copy);
            std::fs::create_dir_all(parent).map_err(|e| refused("make the folder", parent, e))?;
            journal.backup(&copy)
        })
        .await?;
    let open = File::open(&file)
        .await
        .map_err(|e| refused("read", &file, e))?;
    // The folder goes when the last of it is sent, or nobody wants it any more; the file is closed first.
    let bytes = unfold((open, folder), async |(mut file, folder)| {
        let mut chunk = vec![0; CHUNK];
        match file.read(&mut chunk).await {
            Ok(0) => None,
            Ok(read) => {
                chunk.truncate(read);
                Some((Ok(Bytes::from(chunk)), (file, folder)))
            }
            Err(error) => Some((Err(error), (file, folder))),
        }
    });
    let body = Body::from_stream(bytes);
    Ok(to_keep(&house, "application/vnd.sqlite3", "sqlite", body))
}

async fn pieces(State(house): State<Arc<House>>) -> Outcome<Response> {
    let text = house
        .with(|journal| Ok(sheet::write_csv(&journal.pieces()?)))
        .await?;
    Ok(to_keep(&house, "text/csv; charset=utf-8", "csv", text))
}

async fn everything(State(house): State<Arc<House>>) -> Outcome<Response> {
    let text = house.with(|journal| journal.export()?.to_json()).await?;
    Ok(to_keep(&house, "application/json", "json", text))
}

async fn import(State(house): State<Arc<House>>, parts: Multipart) -> Outcome<Response> {
    let came = one_file(&house, parts, "an exported journal").await?;
    let done = house.change(move |journal| {
        let name = Path::new(came.file.file_name().unwrap_or_default());
        let text = std::fs::read_to_string(&came.file).map_err(|e| refused("read", name, e))?;
        Ok(journal.import(&Export::from_json(&text)?)?)
    });
    Ok(frame::page(
        Place::Studio,
        "Taken in",
        &[],
        &TakenIn { done: done.await? },
    ))
}

async fn check(State(house): State<Arc<House>>) -> Outcome<Response> {
    let findings = house.with(|journal| journal.check()).await?;
    let damaged = findings.iter().filter(|finding| finding.serious).count();
    let verdict = match damaged {
        0 => "The journal is sound.".to_owned(),
        count => format!(
            "The journal is damaged in {}.",
            shown::count(count, "place", "places")
        ),
    };
    let page = LookedOver { verdict, findings };
    Ok(frame::page(
        Place::Studio,
        "The journal, looked over",
        &[],
        &page,
    ))
}

impl LookedOver {
    fn told(&self, finding: &Finding) -> String {
        shown::advice(&format!("{} {}", finding.what, finding.advice))
    }
}
