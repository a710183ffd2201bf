//! How far the kept photos are that are being measured again.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// Kept photos that are measured again, or were last.
#[derive(Debug, Default)]
pub(super) struct Anew(Mutex<Option<Arc<Run>>>);

/// One time that kept photos are measured again.
#[derive(Debug, Default)]
pub(super) struct Run {
    /// How many are done.
    pub done: AtomicUsize,
    /// How many there are.
    pub all: AtomicUsize,
    /// What came of it, a sentence each; empty as long as it goes on.
    ended: Mutex<Vec<String>>,
}

impl Anew {
    /// Begins; `None` where it goes on already.
    pub(super) fn begin(&self) -> Option<Arc<Run>> {
        let mut run = lock(&self.0);
        if run.as_ref().is_some_and(|run| run.ended().is_empty()) {
            return None;
        }
        let new = Arc::new(Run::default());
        *run = Some(Arc::clone(&new));
        Some(new)
    }

    /// The one that goes on, or was last.
    pub(super) fn last(&self) -> Option<Arc<Run>> {
        lock(&self.0).clone()
    }
}

impl Run {
    /// One more is done.
    pub(super) fn step(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }

    /// What came of it.
    pub(super) fn end(&self, told: Vec<String>) {
        *lock(&self.ended) = told;
    }

    /// What came of it; empty as long as it goes on.
    pub(super) fn ended(&self) -> Vec<String> {
        lock(&self.ended).clone()
    }
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // Every change is one assignment, so a panic leaves nothing half done.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
