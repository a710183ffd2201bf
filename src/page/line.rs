//! Line: photos taken in, and what waits for a hand.

use super::frame::{self, Place};
use super::house::House;
use super::trouble::Outcome;
use askama::Template;
use axum::Router;
use axum::response::Response;
use axum::routing::get;
use std::sync::Arc;

#[derive(Template)]
#[template(
    ext = "html",
    source = r##"<header class="head"><h1>Line</h1></header>"##
)]
struct Line;

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new().route(Place::Line.path(), get(line))
}

async fn line() -> Outcome<Response> {
    Ok(frame::page(Place::Line, "Line", &[], &Line))
}
