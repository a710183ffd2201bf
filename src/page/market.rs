//! Market: what is printed for customers.

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
    source = r##"<header class="head"><h1>Market</h1></header>"##
)]
struct Market;

/// The addresses of this place.
pub(super) fn routes() -> Router<Arc<House>> {
    Router::new().route(Place::Market.path(), get(market))
}

async fn market() -> Outcome<Response> {
    Ok(frame::page(Place::Market, "Market", &[], &Market))
}
