//! Photos that somebody looks at and that are not kept yet: each lies in the folder `arriving` until it is kept, pushed out by newer
//! ones, or the program ends.

use super::arriving::Arriving;
use crate::journal::record::Photo;
use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// So many are held at a time.
const MOST: usize = 8;

/// The photos that are held.
#[derive(Debug, Default)]
pub(super) struct Held(Mutex<VecDeque<Arc<Glimpse>>>);

/// A photo, measured and not kept. Its file goes with it.
#[derive(Debug)]
pub(super) struct Glimpse {
    /// Its random name.
    pub name: String,
    /// Its file, under the name that it was sent with.
    pub file: PathBuf,
    /// What was measured.
    pub photo: Photo,
    /// The folder that goes with it.
    pub _folder: Arriving,
}

impl Held {
    /// Holds one more; the oldest may go for it.
    pub(super) fn hold(&self, glimpse: Glimpse) {
        let mut held = self.lock();
        held.push_back(Arc::new(glimpse));
        if held.len() > MOST {
            held.pop_front();
        }
    }

    /// The photo of that name, as long as it is held.
    pub(super) fn named(&self, name: &str) -> Option<Arc<Glimpse>> {
        self.lock()
            .iter()
            .find(|glimpse| glimpse.name == name)
            .cloned()
    }

    /// Lets a photo go.
    pub(super) fn let_go(&self, name: &str) {
        self.lock().retain(|glimpse| glimpse.name != name);
    }

    fn lock(&self) -> MutexGuard<'_, VecDeque<Arc<Glimpse>>> {
        // Every change is one step, so a panic leaves nothing half done.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
