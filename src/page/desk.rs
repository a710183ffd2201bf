//! Desk: questions, and what stands behind the answers.

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
    source = r##"<header class="head"><h1>Desk</h1></header>"##
)]
struct Desk;

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new().route(Place::Desk.path(), get(desk))
}

async fn desk() -> Outcome<Response> {
    Ok(frame::page(Place::Desk, "Desk", &[], &Desk))
}
