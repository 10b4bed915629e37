//! How long a body may take to arrive, from its first wait to its end. (A pause alone may be
//! timed by a layer of `tower-http`; who sends a byte now and then makes none.)

use std::future::Future;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;

use axum::body::{Body, Bytes, HttpBody};
use axum::extract::Request;
use axum::middleware::Next;
use axum::response::Response;
use http_body::Frame;
use tokio::time::{Instant, Sleep, sleep};

/// A small body: a command, a form.
const SMALL: Duration = Duration::from_secs(20);

/// Each so many bytes of a photo or of lines give a second more, beside [`SMALL`]:
/// half a megabit a second.
const BYTES_A_SECOND: u64 = 64 * 1024;

/// Times the bodies of all requests: those of photos and of sync by their size.
pub(super) async fn time(request: Request, next: Next) -> Response {
    let path = request.uri().path();
    let large = path == "/photo" || (path.starts_with("/sync/") && path != "/sync/pair");
    let pace = if large { Some(BYTES_A_SECOND) } else { None };
    let timed = request.map(|body| {
        Body::new(Timed {
            body,
            whole: SMALL,
            bytes_a_second: pace,
            begun: None,
            arrived: 0,
        })
    });
    next.run(timed).await
}

struct Timed {
    body: Body,
    whole: Duration,
    bytes_a_second: Option<u64>,
    /// Since when it is waited for, and until when.
    begun: Option<(Instant, Pin<Box<Sleep>>)>,
    arrived: u64,
}

/// The body did not arrive in its time.
#[derive(Debug, thiserror::Error)]
#[error("the body did not arrive in its time")]
struct TooSlow;

impl HttpBody for Timed {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        let this = &mut *self;
        let (begun, until) = this
            .begun
            .get_or_insert_with(|| (Instant::now(), Box::pin(sleep(this.whole))));
        if until.as_mut().poll(context).is_ready() {
            return Poll::Ready(Some(Err(axum::Error::new(TooSlow))));
        }
        let frame = Pin::new(&mut this.body).poll_frame(context);
        if let Poll::Ready(Some(Ok(frame))) = &frame
            && let (Some(data), Some(pace)) = (frame.data_ref(), this.bytes_a_second)
        {
            this.arrived += data.len() as u64;
            let more = Duration::from_secs(this.arrived / pace);
            until.as_mut().reset(*begun + this.whole + more);
        }
        frame
    }

    fn is_end_stream(&self) -> bool {
        self.body.is_end_stream()
    }

    fn size_hint(&self) -> http_body::SizeHint {
        self.body.size_hint()
    }
}

#[cfg(test)]
mod tests {
    use axum::body::to_bytes;

    use super::*;

    /// Gives a piece of `bytes` every 50 ms, `pieces` times.
    struct Trickle {
        bytes: usize,
        pieces: usize,
        next: Pin<Box<Sleep>>,
    }

    impl HttpBody for Trickle {
        type Data = Bytes;
        type Error = axum::Error;

        fn poll_frame(
            mut self: Pin<&mut Self>,
            context: &mut Context<'_>,
        ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
            if self.pieces == 0 {
                return Poll::Ready(None);
            }
            if self.next.as_mut().poll(context).is_pending() {
                return Poll::Pending;
            }
            self.pieces -= 1;
            self.next
                .as_mut()
                .reset(Instant::now() + Duration::from_millis(50));
            Poll::Ready(Some(Ok(Frame::data(vec![b'x'; self.bytes].into()))))
        }
    }

    async fn arrives(bytes: usize, pieces: usize, bytes_a_second: Option<u64>) -> bool {
        let body = Body::new(Timed {
            body: Body::new(Trickle {
                bytes,
                pieces,
                next: Box::pin(sleep(Duration::ZERO)),
            }),
            whole: Duration::from_millis(500),
            bytes_a_second,
            begun: None,
            arrived: 0,
        });
        let got = to_bytes(body, usize::MAX).await;
        got.is_ok_and(|got| got.len() == bytes * pieces)
    }

    #[tokio::test]
    async fn a_body_has_its_time_however_it_is_sent() {
        assert!(arrives(1, 3, None).await);
        assert!(!arrives(1, 40, None).await, "a byte now and then");
        assert!(
            arrives(1_000, 40, Some(5_000)).await,
            "2 s, but at its pace"
        );
        assert!(!arrives(1, 40, Some(5_000)).await);
    }
}
