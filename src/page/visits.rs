//! Answers whoever comes to a door, until the program is ended.

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use std::sync::Arc;
use std::time::Duration;
use tokio::net::TcpListener;
use tokio::sync::Semaphore;

/// How long a browser may take to say what it wants. Who opens connections and says nothing keeps nobody else out for long.
const SAYING: Duration = Duration::from_secs(10);

/// So many connections are open at a door at one time; a browser opens about six, and systems allow some 1,000 files.
const MOST: usize = 300;

/// How long an answer that has begun may take after the program is ended.
const GRACE: Duration = Duration::from_secs(3);

/// How long is waited after a connection could not be taken, such as where too many files are open.
const PAUSE: Duration = Duration::from_millis(100);

/// Answers at one address until the program is ended.
pub(super) async fn answer(listener: TcpListener, rooms: Router) {
    let mut http = http1::Builder::new();
    http.timer(TokioTimer::new()).header_read_timeout(SAYING);
    let (visits, places) = (GracefulShutdown::new(), Arc::new(Semaphore::new(MOST)));
    let ended = ended();
    tokio::pin!(ended);
    loop {
        let next = async {
            // Nobody closes this; it is waited for, so that who comes meanwhile waits as well.
            let place = Arc::clone(&places).acquire_owned().await;
            (listener.accept().await, place)
        };
        let (came, place) = tokio::select! {
            next = next => next,
            () = &mut ended => break,
        };
        let Ok((stream, _)) = came else {
            tokio::time::sleep(PAUSE).await;
            continue;
        };
        let service = TowerToHyperService::new(rooms.clone());
        let visit = visits.watch(http.serve_connection(TokioIo::new(stream), service));
        tokio::spawn(async move {
            // A connection that breaks concerns only whoever had it.
            let _ = visit.await;
            drop(place);
        });
    }
    // Whoever still watches a progress must not keep the program open.
    let _ = tokio::time::timeout(GRACE, visits.shutdown()).await;
}

/// Waits until the program is to end: interrupted, told to, or its terminal closed.
async fn ended() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        let kinds = [SignalKind::terminate(), SignalKind::hangup()];
        if let [Ok(mut terminate), Ok(mut hangup)] = kinds.map(signal) {
            tokio::select! {
                () = interrupted() => {}
                _ = terminate.recv() => {}
                _ = hangup.recv() => {}
            }
            return;
        }
    }
    interrupted().await;
}

async fn interrupted() {
    if tokio::signal::ctrl_c().await.is_err() {
        // Then only the system can end the program.
        std::future::pending::<()>().await;
    }
}
