//! The page's own style, scripts and sign, held in the program.

use super::trouble::{Outcome, Trouble};
use axum::extract::Path;
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE, ETAG, HeaderMap, IF_NONE_MATCH};
use axum::response::{IntoResponse, Response};
use std::hash::{DefaultHasher, Hash, Hasher};

const CSS: &str = "text/css; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";

const FILES: [(&str, &str, &str); 7] = [
    ("page.css", CSS, include_str!("files/page.css")),
    ("line.js", SCRIPT, include_str!("files/line.js")),
    ("pot.js", SCRIPT, include_str!("files/pot.js")),
    ("studio.js", SCRIPT, include_str!("files/studio.js")),
    ("market.js", SCRIPT, include_str!("files/market.js")),
    ("corners.js", SCRIPT, include_str!("files/corners.js")),
    ("sign.svg", "image/svg+xml", include_str!("files/sign.svg")),
];

/// One of the files.
pub(super) async fn file(Path(name): Path<String>, headers: HeaderMap) -> Outcome<Response> {
    let found = FILES.iter().find(|(known, ..)| *known == name);
    let (_, kind, text) = found.ok_or_else(|| Trouble::not_there("There is no such file here."))?;
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    let tag = format!("\"{:016x}\"", hasher.finish());
    Ok(tagged(&headers, &tag, kind, *text))
}

/// What may be kept by the browser as long as its tag (RFC 9110, `ETag`) stays the same: all of it, or word that it has.
pub(super) fn tagged(
    asked: &HeaderMap,
    tag: &str,
    kind: &'static str,
    body: impl IntoResponse,
) -> Response {
    let headers = [(CACHE_CONTROL, "private, no-cache"), (ETAG, tag)];
    if has(asked, tag) {
        return (StatusCode::NOT_MODIFIED, headers).into_response();
    }
    (headers, [(CONTENT_TYPE, kind)], body).into_response()
}

/// Whether the browser has what bears this tag.
pub(super) fn has(asked: &HeaderMap, tag: &str) -> bool {
    let known = asked
        .get(IF_NONE_MATCH)
        .and_then(|known| known.to_str().ok());
    known.is_some_and(|known| known.split(',').any(|one| one.trim() == tag))
}
