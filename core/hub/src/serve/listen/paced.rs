//! A connection whose reader must keep up: who asks for photos and never reads them would
//! hold their bytes for ever.

use std::future::Future;
use std::io;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;
use tokio::time::{Instant, Sleep, sleep};

/// How long a reader may take for [`SHARE`] bytes.
const SHARE_TIME: Duration = Duration::from_secs(20);
/// 20 s for this are 26 kbit/s, which any network has.
const SHARE: usize = 64 * 1024;

pub(super) struct Paced {
    stream: TcpStream,
    /// Runs while an answer is on its way.
    owed: Option<Owed>,
    share_time: Duration,
}

struct Owed {
    until: Pin<Box<Sleep>>,
    /// Bytes taken since the time began.
    taken: usize,
}

impl Paced {
    pub(super) fn new(stream: TcpStream) -> Paced {
        Paced {
            stream,
            owed: None,
            share_time: SHARE_TIME,
        }
    }

    /// Fails once the time is over; else has the task woken when it will be.
    fn in_time(&mut self, context: &mut Context<'_>) -> io::Result<()> {
        let share_time = self.share_time;
        let owed = self.owed.get_or_insert_with(|| Owed {
            until: Box::pin(sleep(share_time)),
            taken: 0,
        });
        match owed.until.as_mut().poll(context) {
            Poll::Ready(()) => Err(io::ErrorKind::TimedOut.into()),
            Poll::Pending => Ok(()),
        }
    }

    fn took(&mut self, bytes: usize) {
        if let Some(owed) = &mut self.owed {
            owed.taken += bytes;
            if owed.taken >= SHARE {
                owed.taken = 0;
                owed.until.as_mut().reset(Instant::now() + self.share_time);
            }
        }
    }
}

impl AsyncRead for Paced {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        into: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(context, into)
    }
}

impl AsyncWrite for Paced {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        self.in_time(context)?;
        let written = Pin::new(&mut self.stream).poll_write(context, bytes);
        if let Poll::Ready(Ok(bytes)) = written {
            self.took(bytes);
        }
        written
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        parts: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        self.in_time(context)?;
        let written = Pin::new(&mut self.stream).poll_write_vectored(context, parts);
        if let Poll::Ready(Ok(bytes)) = written {
            self.took(bytes);
        }
        written
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    /// All that was to be sent has been taken.
    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        let flushed = Pin::new(&mut self.stream).poll_flush(context);
        if flushed.is_ready() {
            self.owed = None;
        }
        flushed
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(context)
    }
}

#[cfg(test)]
mod tests {
    use std::future::poll_fn;
    use std::io::Read;
    use std::net::TcpStream as Caller;

    use super::*;

    const WHOLE: usize = 32 * 1024 * 1024;

    /// Sends `WHOLE` bytes to a caller that reads as `read` does; what came of it.
    async fn sent(
        share_time: Duration,
        read: impl FnOnce(Caller) + Send + 'static,
    ) -> io::Result<()> {
        let listener = tokio::net::TcpListener::bind("127.0.0.1:0").await.unwrap();
        let to = listener.local_addr().unwrap();
        let caller = std::thread::spawn(move || read(Caller::connect(to).unwrap()));
        let (stream, _) = listener.accept().await.unwrap();
        let mut paced = Paced::new(stream);
        paced.share_time = share_time;
        let (bytes, mut done) = (vec![7; 64 * 1024], 0);
        let all = poll_fn(|context| {
            while done < WHOLE {
                match Pin::new(&mut paced).poll_write(context, &bytes) {
                    Poll::Ready(Ok(written)) => done += written,
                    Poll::Ready(Err(error)) => return Poll::Ready(Err(error)),
                    Poll::Pending => return Poll::Pending,
                }
            }
            Pin::new(&mut paced).poll_flush(context)
        });
        let result = all.await;
        drop(paced);
        caller.join().unwrap();
        result
    }

    #[tokio::test]
    async fn who_reads_gets_all_and_who_does_not_is_cut_off() {
        let reads = sent(SHARE_TIME, |mut caller| {
            let mut all = Vec::new();
            caller.read_to_end(&mut all).unwrap();
            assert!(all.len() >= WHOLE, "{}", all.len());
        });
        assert!(reads.await.is_ok());
        let reads_nothing = sent(Duration::from_millis(500), |caller| {
            std::thread::sleep(Duration::from_secs(5));
            drop(caller);
        });
        let why = reads_nothing.await.unwrap_err().kind();
        assert_eq!(why, io::ErrorKind::TimedOut, "before the caller goes");
    }
}
