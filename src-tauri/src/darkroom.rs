//! Where copies of photos are made: a few at a time.

use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

/// A decoded photo of 12 million pixels takes some 40 MB. A screen may ask for
/// sixty at once; made two at a time they fit any phone.
const AT_ONCE: usize = 2;

type Work = Box<dyn FnOnce() + Send>;

/// Does work in the order it came, [`AT_ONCE`] pieces at a time.
pub(crate) struct Darkroom {
    queue: Mutex<Sender<Work>>,
}

impl Darkroom {
    /// An idle one. Its threads end with it.
    pub(crate) fn new() -> Darkroom {
        let (queue, line) = channel::<Work>();
        let line = Arc::new(Mutex::new(line));
        for _ in 0..AT_ONCE {
            let line = Arc::clone(&line);
            thread::spawn(move || serve(&line));
        }
        Darkroom {
            queue: Mutex::new(queue),
        }
    }

    /// Puts a piece of work at the end of the line.
    pub(crate) fn ask(&self, work: impl FnOnce() + Send + 'static) {
        let queue = self.queue.lock().unwrap_or_else(PoisonError::into_inner);
        // It fails only when both threads are gone, and they stay while we do.
        let _ = queue.send(Box::new(work));
    }
}

fn serve(line: &Mutex<Receiver<Work>>) {
    loop {
        let next = line.lock().unwrap_or_else(PoisonError::into_inner).recv();
        let Ok(work) = next else { return };
        // One photo that breaks the decoder must not end the thread for the rest.
        let _ = std::panic::catch_unwind(std::panic::AssertUnwindSafe(work));
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::Duration;

    use super::*;

    #[test]
    fn no_more_than_allowed_run_at_once_and_all_are_done() {
        let darkroom = Darkroom::new();
        let (running, most) = (Arc::new(AtomicUsize::new(0)), Arc::new(AtomicUsize::new(0)));
        let (done, heard) = channel();
        for _ in 0..12 {
            let (running, most, done) = (running.clone(), most.clone(), done.clone());
            darkroom.ask(move || {
                let now = running.fetch_add(1, Ordering::SeqCst) + 1;
                most.fetch_max(now, Ordering::SeqCst);
                thread::sleep(Duration::from_millis(10));
                running.fetch_sub(1, Ordering::SeqCst);
                done.send(()).unwrap();
            });
        }
        for _ in 0..12 {
            heard.recv_timeout(Duration::from_secs(10)).unwrap();
        }
        assert_eq!(most.load(Ordering::SeqCst), AT_ONCE);
    }

    #[test]
    fn work_that_breaks_down_does_not_stop_the_next() {
        let darkroom = Darkroom::new();
        for _ in 0..AT_ONCE * 2 {
            darkroom.ask(|| panic!("on purpose"));
        }
        let (done, heard) = channel();
        darkroom.ask(move || done.send(()).unwrap());
        assert!(heard.recv_timeout(Duration::from_secs(10)).is_ok());
    }
}
