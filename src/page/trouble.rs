//! What could not be done, as a plain page: the sentence, whose move it is as a status, and nothing of the program's inside.

use super::{frame, shown};
use crate::error::{Error, Kind};
use askama::Template;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use std::path::Path;

/// Why a page is not what was asked for.
#[derive(Debug)]
pub(super) struct Trouble {
    status: StatusCode,
    message: String,
}

/// What a page's work gives.
pub(super) type Outcome<T> = Result<T, Trouble>;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<div class="trouble" role="alert">
<h1>{{ heading }}</h1>
<p>{{ message }}</p>
{% if inside %}<p><a href="/" class="button">To the shelf</a></p>{% endif %}
</div>"##
)]
struct Told<'a> {
    heading: &'a str,
    message: &'a str,
    /// Whether whoever asks may go to the shelf.
    inside: bool,
}

impl Trouble {
    /// A sentence under a status of RFC 9110.
    pub(super) fn new(status: StatusCode, message: impl Into<String>) -> Self {
        Self {
            status,
            message: message.into(),
        }
    }

    /// There is no such thing.
    pub(super) fn not_there(message: impl Into<String>) -> Self {
        Self::new(StatusCode::NOT_FOUND, message)
    }

    /// The same, where it names the journal's folder without saying where on this computer that is.
    pub(super) fn without_place(mut self, folder: &Path) -> Self {
        // A name of one part could be any word.
        if folder.components().count() > 1 {
            let place = folder.display().to_string();
            self.message = self.message.replace(&format!("{place}/"), "");
            self.message = self.message.replace(&place, "its folder");
        }
        self
    }

    /// Who asks may not come in.
    pub(super) fn not_let_in(message: impl Into<String>) -> Self {
        Self::new(StatusCode::FORBIDDEN, message)
    }
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl From<Error> for Trouble {
    fn from(error: Error) -> Self {
        let status = match error.kind() {
            Kind::Caller | Kind::File => StatusCode::BAD_REQUEST,
            Kind::Journal => StatusCode::CONFLICT,
            Kind::Machine => StatusCode::INTERNAL_SERVER_ERROR,
        };
        Self::new(status, error.to_string())
    }
}

impl IntoResponse for Trouble {
    fn into_response(self) -> Response {
        let heading = match self.status {
            StatusCode::NOT_FOUND => "Nothing is here",
            StatusCode::FORBIDDEN => "This door is closed",
            StatusCode::CONFLICT => "Something was in the way",
            status if status.is_server_error() => "That did not work",
            _ => "That cannot be done so",
        };
        let told = Told {
            heading,
            message: &shown::advice(&self.message),
            inside: self.status != StatusCode::FORBIDDEN,
        };
        let mut response = frame::page(None, heading, &[], &told);
        *response.status_mut() = self.status;
        response
    }
}
