//! Which address leads where.

use super::guard::{Door, LET_IN, guard};
use super::house::House;
use super::trouble::Trouble;
use super::{
    claim, desk, files, line, looks, market, mend, photo, piece, pot, shelf, standing, studio,
};
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::routing::{get, post};
use axum::{Router, middleware};
use std::sync::Arc;

/// A form holds a few words, or the corners of an outline.
const FORM: usize = 256 * 1024;

/// Every page behind a door.
pub(super) fn rooms(house: Arc<House>, door: Door) -> Router {
    Router::new()
        .route("/", get(shelf::shelf))
        .route("/piece/{code}", get(piece::piece))
        .route("/piece/{code}/stands", post(standing::stands))
        .route("/photo/{id}", get(photo::photo))
        .route("/photo/{id}/shows", post(claim::shows))
        .route("/photo/{id}/aside", post(claim::aside))
        .route("/photo/{id}/outline", post(mend::outline))
        .route("/photo/{id}/chart", post(mend::chart))
        .route("/photo/{id}/colour", post(mend::colour))
        .route("/picture/{id}/{look}", get(looks::picture))
        .route("/files/{name}", get(files::file))
        .route(
            &format!("{LET_IN}{{token}}"),
            get(studio::knock).post(studio::let_in),
        )
        .merge(pot::routes())
        .merge(line::routes())
        .merge(desk::routes())
        .merge(market::routes())
        .merge(studio::routes())
        .fallback(async || Trouble::not_there("There is no such page; the places below lead on."))
        .method_not_allowed_fallback(async || {
            let told = "That cannot be done here; go back and try again.";
            Trouble::new(StatusCode::METHOD_NOT_ALLOWED, told)
        })
        .layer(DefaultBodyLimit::max(FORM))
        .layer(middleware::from_fn_with_state(Arc::new(door), guard))
        .with_state(house)
}
