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
    /// What stands in the form besides, by name.
    fields: Vec<(String, String)>,
}

impl Came {
    /// What stands in a field; nothing where the form has none of that name.
    pub(super) fn field(&self, name: &str) -> &str {
        let mut named = self.fields.iter().filter(|(known, _)| known == name);
        named.next().map_or("", |(_, value)| value.trim())
    }
}

/// The first file of a form; of several choosers the others are empty. `what` it is, with its article, for the sentence where none came.
pub(super) async fn one_file(house: &House, mut parts: Multipart, what: &str) -> Outcome<Came> {
    let folder = Arriving(house.folder.join("arriving").join(secret()?));
    let (mut file, mut fields) = (None, Vec::new());
    while let Some(part) = parts.next_part().await? {
        let name = part.name().unwrap_or_default().to_owned();
        match part.file_name().map(plain_or_none) {
            Some(Some(of_file)) if file.is_none() => {
                file = Some(save(part, &folder.0, &of_file).await?);
            }
            Some(_) => {}
            None => fields.push((name, words(part).await?)),
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
        return Err(Error::file("That file is empty; choose another.").into());
    }
    Ok(Came {
        file,
        folder,
        fields,
    })
}

/// A chooser that nothing was chosen in sends a file without a name.
fn plain_or_none(name: &str) -> Option<String> {
    (!name.is_empty()).then(|| plain(name))
}
