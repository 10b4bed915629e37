//! The socket: timeouts, a limit on connections, a quiet end.

mod paced;
mod room;

use std::future::Future;
use std::io;
use std::net::{IpAddr, SocketAddr};
use std::time::Duration;

use axum::Router;
use hyper::server::conn::http1;
use hyper::service::{Service, service_fn};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::OwnedSemaphorePermit;

use self::paced::Paced;
use self::room::Rooms;

/// Time for a request's head to arrive.
const HEAD_TIME: Duration = Duration::from_secs(10);
/// The longest pause in a body before it counts as lost.
pub(super) const BODY_PAUSE: Duration = Duration::from_secs(15);
/// How long requests in hand may take once the hub is told to stop.
const LAST_REQUESTS: Duration = Duration::from_secs(10);

/// Where a request comes from.
#[derive(Clone, Copy)]
pub(super) struct From(pub IpAddr);

/// Serves until `stop`, then lets the requests in hand finish.
pub async fn run(listener: TcpListener, router: Router, stop: impl Future<Output = ()>) {
    let graceful = GracefulShutdown::new();
    let rooms = Rooms::new();
    tokio::pin!(stop);
    loop {
        let (accepted, room) = tokio::select! {
            both = next(&listener, &rooms) => both,
            () = &mut stop => break,
        };
        let (stream, from) = match accepted {
            Ok((stream, address)) => (stream, address.ip()),
            Err(error) => {
                // Out of file handles, or the caller went away: not the end of the hub.
                eprintln!("A connection could not be taken: {error}.");
                tokio::time::sleep(Duration::from_millis(200)).await;
                continue;
            }
        };
        // Small answers follow small requests; waiting to fill a packet only delays them.
        let _ = stream.set_nodelay(true);
        let Some(place) = rooms.place(from) else {
            // All of it or none: nobody waits for a caller that has too many already.
            let _ = stream.try_write(TOO_MANY);
            continue;
        };
        let answers = TowerToHyperService::new(router.clone());
        let service = service_fn(move |mut request: hyper::Request<hyper::body::Incoming>| {
            request.extensions_mut().insert(From(from.to_canonical()));
            answers.call(request)
        });
        // axum's own `serve` sets no time limit on a request's head.
        let connection = http1::Builder::new()
            .timer(TokioTimer::new())
            .header_read_timeout(HEAD_TIME)
            .serve_connection(TokioIo::new(Paced::new(stream)), service);
        let watched = graceful.watch(connection);
        tokio::spawn(async move {
            // A caller that breaks off is its own business.
            let _ = watched.await;
            drop((place, room));
        });
    }
    drop(listener);
    let _ = tokio::time::timeout(LAST_REQUESTS, graceful.shutdown()).await;
}

/// For a caller whose address has as many connections as it may.
const TOO_MANY: &[u8] = b"HTTP/1.1 503 Service Unavailable\r\nConnection: close\r\n\
    Content-Type: text/plain; charset=utf-8\r\n\r\n\
    Too many connections from this address. Close some and try again.\n";

/// The next connection, once there is room for it.
async fn next(
    listener: &TcpListener,
    rooms: &Rooms,
) -> (
    io::Result<(TcpStream, SocketAddr)>,
    Option<OwnedSemaphorePermit>,
) {
    let room = rooms.room().await;
    (listener.accept().await, room)
}
