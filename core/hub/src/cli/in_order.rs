//! Several photos at once, told in the order given.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;

/// Photos decoded at the same time at the most: each may take 300 MB.
const AT_ONCE: usize = 4;

/// Does `work` on each photo, on as many threads as given, and hands each result to `tell` in
/// order, as soon as all before it were told. Ends early when `tell` fails.
pub(super) fn in_order<R: Send, E>(
    photos: &[PathBuf],
    threads: usize,
    work: impl Fn(&Path) -> R + Sync,
    mut tell: impl FnMut(R) -> Result<(), E>,
) -> Result<(), E> {
    let workers = photos.len().min(threads).clamp(1, AT_ONCE);
    let next = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        // At most one result a worker waits to be told, so memory stays bounded.
        let (send, receive) = mpsc::sync_channel(workers);
        for _ in 0..workers {
            let (send, next, work) = (send.clone(), &next, &work);
            scope.spawn(move || {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    let Some(photo) = photos.get(index) else {
                        return;
                    };
                    if send.send((index, work(photo))).is_err() {
                        return;
                    }
                }
            });
        }
        drop(send);
        let mut early = BTreeMap::new();
        let mut due = 0;
        for (index, result) in receive {
            early.insert(index, result);
            while let Some(result) = early.remove(&due) {
                tell(result)?;
                due += 1;
            }
        }
        Ok(())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_the_order_given_whoever_is_done_first() {
        let photos: Vec<PathBuf> = (0..20).map(|n| PathBuf::from(n.to_string())).collect();
        let mut told = Vec::new();
        let done: Result<(), ()> = in_order(
            &photos,
            3,
            |photo| {
                let number: u64 = photo.to_string_lossy().parse().expect("a number");
                std::thread::sleep(std::time::Duration::from_millis((20 - number) % 7));
                photo.to_owned()
            },
            |photo| {
                told.push(photo);
                Ok(())
            },
        );
        assert_eq!(done, Ok(()));
        assert_eq!(told, photos);
    }

    #[test]
    fn a_closed_output_ends_the_work() {
        let photos: Vec<PathBuf> = (0..50).map(|n| PathBuf::from(n.to_string())).collect();
        let done = in_order(&photos, 2, |_| (), |()| Err("closed"));
        assert_eq!(done, Err("closed"));
    }
}
