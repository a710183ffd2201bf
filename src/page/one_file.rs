//! A form that brings one file: a photo to look at, a sheet, an export.

use super::arrive::{Parts, plain, save, words};
use super::arriving::Arriving;
use super::house::House;
use super::share::secret;
use super::trouble::{Outcome, Trouble};
use crate::error::Error;
use axum::extract::Multipart;
use std::path::PathBuf;

/// A file on its way in, in a folder that goes with it.
#[derive(Debug)]
pub(super) struct Came {
    /// Where it lies.
    pub file: PathBuf,
    /// Its folder.
    pub folder: Arriving,
    /// The button that sent it, where it says something.
    pub deed: String,
}

/// The first file of a form; of several choosers the others are empty. `what` it is, with its article, for the sentence where none came.
pub(super) async fn one_file(house: &House, mut parts: Multipart, what: &str) -> Outcome<Came> {
    let folder = Arriving(house.folder.join("arriving").join(secret()?));
    let (mut file, mut deed) = (None, String::new());
    while let Some(part) = parts.next_part().await? {
        if part.name() == Some("deed") {
            deed = words(part).await?;
            continue;
        }
        let name = part.file_name().unwrap_or_default().to_owned();
        if file.is_none() && !name.is_empty() {
            file = Some(save(part, &folder.0, &plain(&name)).await?);
        }
    }
    let file = file.ok_or_else(|| {
        Trouble::from(Error::caller(format!(
            "With that came no file; choose {what} first."
        )))
    })?;
    let size = tokio::fs::metadata(&file)
        .await
        .map_or(0, |about| about.len());
    if size == 0 {
        return Err(
            Error::file("That file is empty, or larger than 100 MB; choose another.").into(),
        );
    }
    Ok(Came { file, folder, deed })
}
