//! Pot: a bundle written down, a wet piece foreseen.

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
    source = r##"<header class="head"><h1>Pot</h1></header>"##
)]
struct Pot;

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new().route(Place::Pot.path(), get(pot))
}

async fn pot() -> Outcome<Response> {
    Ok(frame::page(Place::Pot, "Pot", &[], &Pot))
}
