//! The socket: timeouts, a limit on connections, a quiet end.

use std::future::Future;
use std::io;
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// Time for a request's head to arrive.
const HEAD_TIME: Duration = Duration::from_secs(10);
/// The longest pause in a body before it counts as lost.
pub(super) const BODY_PAUSE: Duration = Duration::from_secs(30);
/// Connections at the same time.
const CONNECTIONS: usize = 200;
/// How long requests in hand may take once the hub is told to stop.
const LAST_REQUESTS: Duration = Duration::from_secs(10);

/// Serves until `stop`, then lets the requests in hand finish.
pub async fn run(listener: TcpListener, router: Router, stop: impl Future<Output = ()>) {
    let graceful = GracefulShutdown::new();
    let room = Arc::new(Semaphore::new(CONNECTIONS));
    tokio::pin!(stop);
    loop {
        let (accepted, place) = tokio::select! {
            both = next(&listener, room.clone()) => both,
            () = &mut stop => break,
        };
        let stream = match accepted {
            Ok((stream, _)) => stream,
            Err(error) => {
                // Out of file handles, or the caller went away: not the end of the hub.
                eprintln!("A connection could not be taken: {error}.");
                tokio::time::sleep(Duration::from_millis(200)).await;
                continue;
            }
        };
        // Small answers follow small requests; waiting to fill a packet only delays them.
        let _ = stream.set_nodelay(true);
        let service = TowerToHyperService::new(router.clone());
        // axum's own `serve` sets no time limit on a request's head.
        let connection = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(HEAD_TIME)
            .serve_connection(TokioIo::new(stream), service);
        let watched = graceful.watch(connection);
        tokio::spawn(async move {
            // A caller that breaks off is its own business.
            let _ = watched.await;
            drop(place);
        });
    }
    drop(listener);
    let _ = tokio::time::timeout(LAST_REQUESTS, graceful.shutdown()).await;
}

/// The next connection, once there is room for it.
async fn next(
    listener: &TcpListener,
    room: Arc<Semaphore>,
) -> (
    io::Result<(TcpStream, SocketAddr)>,
    Option<OwnedSemaphorePermit>,
) {
    // Never closed, so there is always a permit in the end.
    let place = room.acquire_owned().await.ok();
    (listener.accept().await, place)
}
