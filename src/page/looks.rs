//! Pictures in true light for the pages: made once from the kept photo, without anything else that the photo's file holds (no
//! place, no camera), and kept in the journal's folder `looks`, which may be deleted at any time.

use super::files::{has, tagged};
use super::house::House;
use super::trouble::{Outcome, Trouble};
use crate::error::{Error, Result, refused};
use crate::intake;
use crate::journal::Journal;
use crate::journal::record::Photo;
use crate::note;
use crate::photo;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::http::header::HeaderMap;
use axum::response::Response;
use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;

/// Which picture of a photo.
#[derive(Clone, Copy, Debug)]
enum Look {
    /// The piece, for a list.
    Small,
    /// The piece.
    Piece,
    /// The whole photo, upright.
    Whole,
}

impl Look {
    fn named(name: &str) -> Option<Self> {
        match name {
            "small" => Some(Self::Small),
            "piece" => Some(Self::Piece),
            "whole" => Some(Self::Whole),
            _ => None,
        }
    }

    /// The longer side at most, pixels.
    fn side(self) -> usize {
        match self {
            Self::Small => 300,
            Self::Piece => 1000,
            Self::Whole => 1600,
        }
    }
}

/// A picture of a photo.
pub(super) async fn picture(
    State(house): State<Arc<House>>,
    Path((id, name)): Path<(i64, String)>,
    headers: HeaderMap,
) -> Outcome<Response> {
    let look = Look::named(&name).ok_or_else(no_picture)?;
    let photo = house.with(move |journal| journal.photo(id)).await?;
    let photo = photo.ok_or_else(no_picture)?;
    let stem = format!(
        "{}-{}-{name}",
        photo.hash.as_deref().unwrap_or("none"),
        photo.earlier.len()
    );
    let tag = format!("\"{stem}\"");
    if has(&headers, &tag) {
        return Ok(tagged(&headers, &tag, JPEG, ()));
    }
    let place = house.folder.join("looks").join(format!("{stem}.jpg"));
    let kept = tokio::fs::read(&place).await;
    let jpeg = match kept {
        Ok(jpeg) => jpeg,
        Err(_) => {
            // The house lives as long as the program, and nobody closes this.
            let _turn = house.pictures.acquire().await.ok();
            house
                .with(move |journal| made(journal, &photo, look, &place))
                .await?
        }
    };
    Ok(tagged(&headers, &tag, JPEG, jpeg))
}

const JPEG: &str = "image/jpeg";

fn no_picture() -> Trouble {
    Trouble::new(StatusCode::NOT_FOUND, "There is no such picture.")
}

/// Makes a picture and keeps it; a journal on a disk that cannot be written still shows it.
fn made(journal: &mut Journal, photo: &Photo, look: Look, place: &FilePath) -> Result<Vec<u8>> {
    let (_, bytes) = intake::original(journal, photo)?;
    let opened = photo::decode(&bytes, photo.file.as_deref().unwrap_or("a photo"))?;
    let jpeg = match look {
        Look::Small | Look::Piece => {
            note::piece_seen(&opened.photograph, &photo.reading, look.side())?
        }
        Look::Whole => None,
    };
    let jpeg = match jpeg {
        Some(jpeg) => jpeg,
        None => note::photo_seen(&opened.photograph, &photo.reading, look.side())?,
    };
    let _ = keep(place, &jpeg);
    Ok(jpeg)
}

/// Under another name until it is whole, so that nobody is shown half of it.
fn keep(place: &FilePath, jpeg: &[u8]) -> Result<()> {
    let folder = place.parent().unwrap_or(FilePath::new("."));
    std::fs::create_dir_all(folder).map_err(|e| refused("make the folder", folder, e))?;
    let part: PathBuf = folder.join(format!("{}.part", super::share::secret()?));
    let kept = std::fs::write(&part, jpeg).and_then(|()| std::fs::rename(&part, place));
    kept.map_err(|error| {
        let _ = std::fs::remove_file(&part);
        Error::machine("The picture could not be kept.").because(error)
    })
}
