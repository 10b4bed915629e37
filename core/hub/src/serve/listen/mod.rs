//! The socket: TLS, timeouts, a limit on connections, a quiet end.
//!
//! One port takes both: a TLS client begins with a byte that no HTTP request begins with.

mod paced;
mod room;

use std::future::Future;
use std::io::{self, Write};
use std::net::{IpAddr, Ipv6Addr, SocketAddr};
use std::time::{Duration, Instant};

use axum::Router;
use hyper::server::conn::http1;
use hyper::service::{Service, service_fn};
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::{GracefulShutdown, Watcher};
use hyper_util::service::TowerToHyperService;
use serde_json::json;
use tokio::io::{AsyncRead, AsyncWrite};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{OwnedSemaphorePermit, watch};
use tokio_rustls::TlsAcceptor;
use tokio_rustls::server::TlsStream;

use self::paced::Paced;
use self::room::Rooms;
use super::wire::Wire;
use super::{Hub, router};

/// Time for a first byte, and for the handshake that it may begin.
const OPENING_TIME: Duration = Duration::from_secs(10);
/// Time for a request's head to arrive.
const HEAD_TIME: Duration = Duration::from_secs(10);
/// The longest pause in a body before it counts as lost.
pub(super) const BODY_PAUSE: Duration = Duration::from_secs(15);
/// How long requests in hand may take once the hub is told to stop, and what was begun for them.
const LAST_REQUESTS: Duration = Duration::from_secs(10);

/// Where a request comes from.
#[derive(Clone, Copy)]
pub(super) struct From(pub IpAddr);

impl From {
    /// The address that this caller's connections and guesses are counted under. One machine
    /// has as many numbers of IPv6 as it likes within its network of 64 bits.
    pub(super) fn counted_as(self) -> IpAddr {
        match self.0.to_canonical() {
            IpAddr::V6(v6) => {
                let [a, b, c, d, ..] = v6.segments();
                Ipv6Addr::new(a, b, c, d, 0, 0, 0, 0).into()
            }
            v4 => v4,
        }
    }
}

/// The first byte of a TLS client: a record of a handshake (RFC 8446, 5.1).
const HANDSHAKE: u8 = 22;

/// Serves until `stop`, then lets the requests in hand finish. Until the time that it gives back,
/// work that goes on without its caller may, too.
pub async fn run(listener: TcpListener, hub: Hub, stop: impl Future<Output = ()>) -> Instant {
    let graceful = GracefulShutdown::new();
    let acceptor = TlsAcceptor::from(hub.certificates.config());
    let (router, log) = (router(hub.clone()), hub.log);
    log.write("start", json!({ "version": env!("CARGO_PKG_VERSION") }));
    let (ending, _) = watch::channel(());
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
                let _ = writeln!(io::stderr(), "A connection could not be taken: {error}.");
                tokio::time::sleep(Duration::from_millis(200)).await;
                continue;
            }
        };
        // Small answers follow small requests; waiting to fill a packet only delays them.
        let _ = stream.set_nodelay(true);
        let Some(place) = rooms.place(from) else {
            // All of it or none: nobody waits for a caller that has too many already.
            let _ = stream.try_write(TOO_MANY);
            hub.counts.turn_away();
            continue;
        };
        let (router, acceptor) = (router.clone(), acceptor.clone());
        let connected = hub.counts.connected();
        let (watcher, mut ends) = (graceful.watcher(), ending.subscribe());
        tokio::spawn(async move {
            let opened = tokio::select! {
                opened = tokio::time::timeout(OPENING_TIME, open(stream, &acceptor)) => opened,
                // Nothing was asked yet.
                _ = ends.changed() => return,
            };
            match opened {
                Ok(Ok(Opened::Encrypted(stream))) => {
                    answer(*stream, router, from, Wire::Encrypted, watcher).await;
                }
                Ok(Ok(Opened::Plain(stream, wire))) => {
                    answer(stream, router, from, wire, watcher).await;
                }
                // A caller that breaks off, or waits too long, is its own business.
                Ok(Err(_)) | Err(_) => {}
            }
            drop((place, room, connected));
        });
    }
    let until = Instant::now() + LAST_REQUESTS;
    drop(ending);
    drop(listener);
    let _ = tokio::time::timeout_at(until.into(), graceful.shutdown()).await;
    log.write("stop", json!({}));
    until
}

enum Opened {
    Plain(Paced, Wire),
    Encrypted(Box<TlsStream<Paced>>),
}

/// Looks at the first byte, and shakes hands where it asks for that.
async fn open(stream: TcpStream, acceptor: &TlsAcceptor) -> io::Result<Opened> {
    let mut first = [0];
    if stream.peek(&mut first).await? == 0 {
        return Err(io::ErrorKind::UnexpectedEof.into());
    }
    if first == [HANDSHAKE] {
        let encrypted = acceptor.accept(Paced::new(stream)).await?;
        return Ok(Opened::Encrypted(Box::new(encrypted)));
    }
    // Only this machine reaches an address of its loopback.
    let inside = stream.local_addr()?.ip().to_canonical().is_loopback();
    let wire = if inside { Wire::Inside } else { Wire::Open };
    Ok(Opened::Plain(Paced::new(stream), wire))
}

async fn answer(
    stream: impl AsyncRead + AsyncWrite + Send + Unpin + 'static,
    router: Router,
    from: IpAddr,
    wire: Wire,
    watcher: Watcher,
) {
    let answers = TowerToHyperService::new(router);
    let service = service_fn(move |mut request: hyper::Request<hyper::body::Incoming>| {
        request.extensions_mut().insert(From(from.to_canonical()));
        request.extensions_mut().insert(wire);
        answers.call(request)
    });
    // axum's own `serve` sets no time limit on a request's head.
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_TIME)
        .serve_connection(TokioIo::new(stream), service);
    // A caller that breaks off is its own business.
    let _ = watcher.watch(connection).await;
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
