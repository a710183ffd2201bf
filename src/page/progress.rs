//! Photos on their way in, and what came of each, for whoever watches (server-sent events, WHATWG HTML).

use axum::response::sse::Event;
use futures_util::Stream;
use futures_util::stream::unfold;
use std::collections::VecDeque;
use std::convert::Infallible;
use std::sync::atomic::{AtomicBool, Ordering::Relaxed};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use tokio::sync::watch;

/// The newest batches are remembered, so that a page can be looked at again.
const REMEMBERED: usize = 24;

/// The batches of photos that came lately.
#[derive(Debug, Default)]
pub(super) struct Batches(Mutex<VecDeque<Arc<Batch>>>);

/// Photos that were sent together.
#[derive(Debug)]
pub(super) struct Batch {
    name: String,
    told: Mutex<Vec<Told>>,
    /// Whether its photos began to come: somebody may watch before that.
    begun: AtomicBool,
    changed: watch::Sender<()>,
}

/// One thing that is told about a batch.
#[derive(Clone, Debug)]
pub(super) struct Told {
    /// What kind of news it is.
    pub kind: News,
    /// The same as HTML.
    pub html: String,
}

/// Kinds of news.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum News {
    /// A photo was measured, or known already.
    Photo,
    /// A photo was refused.
    Refused,
    /// All are done.
    Done,
}

impl Batches {
    /// The batch of this name that photos came in, if it is remembered.
    pub(super) fn known(&self, name: &str) -> Option<Arc<Batch>> {
        let batches = lock(&self.0);
        let batch = batches.iter().find(|batch| batch.name == name)?;
        batch.begun.load(Relaxed).then(|| Arc::clone(batch))
    }

    /// The batch of this name, begun now where there is none.
    pub(super) fn named(&self, name: &str) -> Arc<Batch> {
        let mut batches = lock(&self.0);
        if let Some(batch) = batches.iter().find(|batch| batch.name == name) {
            return Arc::clone(batch);
        }
        let batch = Arc::new(Batch {
            name: name.to_owned(),
            told: Mutex::default(),
            begun: AtomicBool::default(),
            changed: watch::Sender::default(),
        });
        batches.push_back(Arc::clone(&batch));
        if batches.len() > REMEMBERED {
            batches.pop_front();
        }
        batch
    }
}

impl Batch {
    /// Photos begin to come.
    pub(super) fn begin(&self) {
        self.begun.store(true, Relaxed);
    }

    /// Tells everybody who watches.
    pub(super) fn tell(&self, kind: News, html: String) {
        lock(&self.told).push(Told { kind, html });
        self.changed.send_replace(());
    }

    /// All that was told so far.
    pub(super) fn told(&self) -> Vec<Told> {
        lock(&self.told).clone()
    }

    /// What is told, from the `first` news on, until all is done.
    pub(super) fn events(
        self: Arc<Self>,
        first: usize,
    ) -> impl Stream<Item = Result<Event, Infallible>> {
        let changed = self.changed.subscribe();
        unfold(
            (self, changed, Some(first)),
            async |(batch, mut changed, next)| {
                let next = next?;
                let told = loop {
                    let told = lock(&batch.told).get(next).cloned();
                    match told {
                        Some(told) => break told,
                        None => changed.changed().await.ok()?,
                    }
                };
                let after = (told.kind != News::Done).then_some(next + 1);
                Some((Ok(event(next, &told)), (batch, changed, after)))
            },
        )
    }
}

fn event(number: usize, told: &Told) -> Event {
    let kind = match told.kind {
        News::Photo => "photo",
        News::Refused => "refused",
        News::Done => "done",
    };
    // A carriage return would end the event's line.
    let html = told.html.replace('\r', " ");
    Event::default()
        .id(number.to_string())
        .event(kind)
        .data(html)
}

fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    // Every change is one push, so a panic leaves nothing half done.
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
