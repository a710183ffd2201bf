//! Who may come in, decided before anything else is looked at.
//!
//! Three wrongs are kept out. A page elsewhere that makes the studio's browser ask or write here (it would send another `Host`,
//! after it bent a name of its own to this address, or another `Origin`). Somebody else on the same network (holds no key). And
//! markup that might have slipped into a page (no script but the page's own files runs: `Content-Security-Policy`).

use super::share::Share;
use super::trouble::Trouble;
use axum::extract::{Request, State};
use axum::http::StatusCode;
use axum::http::header::{CONTENT_TYPE, COOKIE, HOST, HeaderMap, HeaderName, HeaderValue, ORIGIN};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::sync::Arc;

/// A way in: the address that is listened on.
#[derive(Clone, Debug)]
pub(super) struct Door {
    /// Names and ports it may be called by, as a browser sends them in `Host`.
    pub hosts: Vec<String>,
    /// Whose keys open it; `None` for the door that only this computer has.
    pub share: Option<Arc<Share>>,
}

/// Who asks: whoever sits at this computer, or a phone that was let in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Guest {
    Here,
    Phone,
}

/// Where links that let in lead.
pub(super) const LET_IN: &str = "/let-in/";

/// What a page may load: its own files, and pictures it was given.
const POLICY: &str = "default-src 'none'; img-src 'self' data: blob:; style-src 'self'; script-src 'self'; \
    connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

/// What a note may load, which brings its style and its pictures with it and needs no script.
pub(super) const NOTE_POLICY: &str = "default-src 'none'; img-src data:; style-src 'unsafe-inline'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'";

const HEADERS: [(&str, &str); 6] = [
    // Pages say so themselves; a note or an export is to lie in no browser's store.
    ("cache-control", "no-store"),
    ("content-security-policy", POLICY),
    ("x-content-type-options", "nosniff"),
    // With no-referrer a browser would send a form's Origin as “null”.
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
];

/// Lets a request pass, or says why not; every answer gets the headers that keep the page to itself.
pub(super) async fn guard(
    State(door): State<Arc<Door>>,
    mut request: Request,
    next: Next,
) -> Response {
    request.extensions_mut().insert(match door.share {
        Some(_) => Guest::Phone,
        None => Guest::Here,
    });
    let mut response = match door.check(&request) {
        Ok(()) => in_words(next.run(request).await),
        Err(trouble) => trouble.into_response(),
    };
    for (name, value) in HEADERS {
        let name = HeaderName::from_static(name);
        let header = response.headers_mut().entry(name);
        // What an answer says itself counts.
        header.or_insert(HeaderValue::from_static(value));
    }
    response
}

/// What cannot be read at all is refused before any page sees it, in words for programmers; these are for the person.
fn in_words(response: Response) -> Response {
    let status = response.status();
    let kind = response
        .headers()
        .get(CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok());
    if !status.is_client_error() || !kind.is_some_and(|kind| kind.starts_with("text/plain")) {
        return response;
    }
    let told = match status {
        StatusCode::PAYLOAD_TOO_LARGE => {
            "That is more than this page takes at once; send less of it."
        }
        _ => "What was asked for could not be understood; go back, and try it from there.",
    };
    Trouble::new(status, told).into_response()
}

impl Door {
    fn check(&self, request: &Request) -> Result<(), Trouble> {
        let headers = request.headers();
        // Two of them would leave open which one counts.
        let hosts: Vec<_> = headers.get_all(HOST).iter().collect();
        let host = match hosts[..] {
            [host] => host.to_str().unwrap_or_default(),
            _ => "",
        };
        if !self
            .hosts
            .iter()
            .any(|known| known.eq_ignore_ascii_case(host))
        {
            return Err(Trouble::not_let_in(
                "This page answers only under the address that the program printed; open that one.",
            ));
        }
        if !request.method().is_safe() && !is_from_here(headers, host) {
            return Err(Trouble::not_let_in(
                "That was sent from another page, so nothing was changed; do it again on this one.",
            ));
        }
        let path = request.uri().path();
        let open = path.starts_with(LET_IN) || path.starts_with("/files/");
        match &self.share {
            Some(share) if !open && !keys(headers, host).any(|key| share.knows(key)) => {
                Err(Trouble::not_let_in(
                    "This studio lets a phone in by a link that works once: on the studio's computer open Studio, then “Let a phone in”.",
                ))
            }
            _ => Ok(()),
        }
    }
}

/// Whether a browser says that a page of this very address wrote. Phones send no `Sec-Fetch-Site` to an address without
/// encryption, so `Origin` decides, and the other may only forbid.
fn is_from_here(headers: &HeaderMap, host: &str) -> bool {
    let text = |name: HeaderName| headers.get(name).map(|value| value.to_str().unwrap_or(""));
    let site = text(HeaderName::from_static("sec-fetch-site"));
    let origin = text(ORIGIN);
    match (origin, site) {
        (Some(origin), site) => {
            let same = origin
                .strip_prefix("http://")
                .is_some_and(|it| it.eq_ignore_ascii_case(host));
            same && site.is_none_or(|site| site == "same-origin")
        }
        (None, site) => site == Some("same-origin"),
    }
}

/// The keys that a browser brings for this address.
fn keys<'a>(headers: &'a HeaderMap, host: &str) -> impl Iterator<Item = &'a str> {
    let name = key_name(host);
    let cookies = headers.get_all(COOKIE).iter();
    cookies
        .filter_map(|value| value.to_str().ok())
        .flat_map(|cookies| cookies.split(';'))
        .filter_map(move |cookie| cookie.trim().strip_prefix(&name)?.strip_prefix('='))
}

/// The name of the cookie that holds the key. Browsers give a cookie to every port of an address, so the port stands in it.
pub(super) fn key_name(host: &str) -> String {
    let port = host.rsplit_once(':').map_or("80", |(_, port)| port);
    format!("filemot-key-{port}")
}
