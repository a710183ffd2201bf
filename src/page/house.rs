//! What all pages share: where the journal is, the clock, who was let in.

use super::anew::Anew;
use super::held::Held;
use super::progress::Batches;
use super::share::Share;
use super::trouble::{Outcome, Trouble};
use crate::error::{Result, refused};
use crate::journal::Journal;
use axum::http::StatusCode;
use jiff::civil::Date;
use std::fs::File;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use tokio::sync::{Mutex, Semaphore};
use tokio::task::spawn_blocking;

/// Pictures made at one time: each holds a whole photo in memory.
const PICTURES: usize = 2;

/// What all pages share.
#[derive(Debug)]
pub(super) struct House {
    /// The journal's folder.
    pub folder: PathBuf,
    /// Today, by the clock of whoever started the program.
    pub today: fn() -> Date,
    /// Who was let in.
    pub share: Arc<Share>,
    /// The address for phones, `http://…:port`, where the journal is shared.
    pub shared_at: Option<String>,
    /// Photos on their way in.
    pub batches: Batches,
    /// Photos that were looked at and are not kept yet.
    pub held: Held,
    /// Kept photos that are measured again.
    pub anew: Anew,
    /// Held by who measures photos: one batch uses all processors there are.
    pub measuring: Semaphore,
    /// Held by who makes a picture.
    pub pictures: Semaphore,
    /// Held from looking what a change is based on until it is made; by the file of that name other programs that show the same
    /// journal wait as well.
    writing: Arc<Mutex<()>>,
}

impl House {
    /// The house of the journal in `folder`.
    pub(super) fn new(folder: PathBuf, today: fn() -> Date, shared_at: Option<String>) -> Self {
        Self {
            folder,
            today,
            share: Arc::default(),
            shared_at,
            batches: Batches::default(),
            held: Held::default(),
            anew: Anew::default(),
            measuring: Semaphore::new(1),
            pictures: Semaphore::new(PICTURES),
            writing: Arc::default(),
        }
    }

    /// Works with the journal where waiting for it holds nobody else up. Each request has a connection of its own.
    pub(super) async fn with<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Journal) -> Result<T> + Send + 'static,
    ) -> Outcome<T> {
        self.with_trouble(|journal| Ok(work(journal)?)).await
    }

    /// The same, for work that knows more kinds of trouble.
    pub(super) async fn with_trouble<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Journal) -> Outcome<T> + Send + 'static,
    ) -> Outcome<T> {
        let folder = self.folder.clone();
        let done = spawn_blocking(move || match Journal::open(&folder) {
            Ok(mut journal) => work(&mut journal),
            Err(_) if !folder.is_dir() => Err(moved_away()),
            Err(error) => Err(error.into()),
        });
        // A panic is a fault of this program; its text is not for the page.
        let done = done.await.unwrap_or_else(|_| Err(broken()));
        done.map_err(|trouble| trouble.without_place(&self.folder))
    }

    /// Changes something that was looked at before: of two people who change the same, the later one finds the other's change.
    pub(super) async fn change<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Journal) -> Outcome<T> + Send + 'static,
    ) -> Outcome<T> {
        let turn = Arc::clone(&self.writing).lock_owned().await;
        let file = self.folder.join(WRITING);
        self.with_trouble(move |journal| {
            // Both are held until the work is done, also where whoever asked for it does not wait any longer.
            let _turn = turn;
            let _file = locked(&file)?;
            work(journal)
        })
        .await
    }
}

/// The file that is locked while a change is made.
const WRITING: &str = "page.lock";

/// The file, locked as long as it is open. Some disks of a network know no locks; there only this program's own changes wait.
fn locked(path: &Path) -> Result<File> {
    let open = || {
        let file = File::options().create(true).append(true).open(path)?;
        match file.lock() {
            Err(error) if error.kind() != ErrorKind::Unsupported => Err(error),
            _ => Ok(file),
        }
    };
    open().map_err(|error| refused("write", path, error))
}

fn moved_away() -> Trouble {
    Trouble::new(
        StatusCode::CONFLICT,
        "The journal is not where it was when this page was opened: put its folder back, or end the program and start it again.",
    )
}

fn broken() -> Trouble {
    Trouble::new(
        StatusCode::INTERNAL_SERVER_ERROR,
        "The program met something it was not made for, and stopped at it; the journal is as it was. Try it another way.",
    )
}
