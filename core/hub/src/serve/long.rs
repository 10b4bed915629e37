//! Work that keeps a core busy: photos that are counted, reports that are set. As much of it runs at a time as leaves
//! a core to everything else, so that a small call waits for none of it.
//!
//! Nobody can end such work once it has begun, and who asked for it may be gone: so it has its place for a time only,
//! and reports wait for each other where photos do not wait.

use std::convert::Infallible;
use std::sync::Arc;
use std::time::Duration;

use swarfbook_app::command::LongWork;
use tokio::sync::{OwnedSemaphorePermit, Semaphore, oneshot};
use tokio::time::timeout;

/// What takes longer than this goes on beside others: it is stuck, or the machine is very slow.
const LONGEST: Duration = Duration::from_secs(10);

#[derive(Clone)]
pub(super) struct LongWorkPlaces {
    places: Arc<Semaphore>,
    /// As many reports as there are places wait for one; the others wait here, behind no photo's back.
    reports: Arc<Semaphore>,
    longest: Duration,
}

/// A place, given back when this is dropped or its time is over.
pub(super) struct Room {
    _held: oneshot::Sender<Infallible>,
}

impl LongWorkPlaces {
    pub(super) fn on_this_machine() -> LongWorkPlaces {
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        LongWorkPlaces::on_cores(cores, LONGEST)
    }

    fn on_cores(cores: usize, longest: Duration) -> LongWorkPlaces {
        let places = cores.saturating_sub(1).max(1);
        LongWorkPlaces {
            places: Arc::new(Semaphore::new(places)),
            reports: Arc::new(Semaphore::new(places)),
            longest,
        }
    }

    /// Waits for room. To be kept by the work itself, which goes on when its caller leaves.
    pub(super) async fn room(&self, kind: LongWork) -> Option<Room> {
        let turn = match kind {
            LongWork::Photo => None,
            LongWork::Report => Some(self.reports.clone().acquire_owned().await.ok()?),
        };
        let place = self.places.clone().acquire_owned().await.ok()?;
        Some(self.for_a_time((turn, place)))
    }

    fn for_a_time(&self, held: (Option<OwnedSemaphorePermit>, OwnedSemaphorePermit)) -> Room {
        let (room, dropped) = oneshot::channel();
        let longest = self.longest;
        tokio::spawn(async move {
            // Nothing is ever sent.
            let _ = timeout(longest, dropped).await;
            drop(held);
        });
        Room { _held: room }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHORT: Duration = Duration::from_millis(20);
    const EVER: Duration = Duration::from_secs(3600);
    const PATIENCE: Duration = Duration::from_secs(10);

    #[tokio::test]
    async fn one_core_is_left_where_there_are_more() {
        for (cores, together) in [(1, 1), (2, 1), (4, 3)] {
            let work = LongWorkPlaces::on_cores(cores, EVER);
            let mut rooms = Vec::new();
            for _ in 0..together {
                rooms.push(
                    timeout(SHORT, work.room(LongWork::Photo))
                        .await
                        .unwrap()
                        .unwrap(),
                );
            }
            assert!(
                timeout(SHORT, work.room(LongWork::Photo)).await.is_err(),
                "{cores}"
            );
            rooms.pop();
            assert!(
                timeout(PATIENCE, work.room(LongWork::Photo)).await.is_ok(),
                "{cores}"
            );
        }
    }

    #[tokio::test]
    async fn what_never_ends_has_its_place_for_a_time_only() {
        let work = LongWorkPlaces::on_cores(2, SHORT);
        let stuck = work.room(LongWork::Report).await;
        let more = timeout(PATIENCE, work.room(LongWork::Report)).await;
        assert!(more.is_ok_and(|room| room.is_some()));
        drop(stuck);
    }

    #[tokio::test]
    async fn a_photo_waits_for_the_report_that_has_begun_and_for_none_behind_it() {
        let work = LongWorkPlaces::on_cores(2, EVER);
        let first = work.room(LongWork::Report).await;
        let mut waiting: Vec<_> = (0..5)
            .map(|_| {
                let work = work.clone();
                tokio::spawn(async move {
                    let _room = work.room(LongWork::Report).await;
                    std::future::pending::<()>().await;
                })
            })
            .collect();
        tokio::task::yield_now().await;
        let photo = tokio::spawn({
            let work = work.clone();
            async move { work.room(LongWork::Photo).await.is_some() }
        });
        tokio::task::yield_now().await;
        drop(first);
        assert!(timeout(PATIENCE, photo).await.unwrap().unwrap());
        waiting.drain(..).for_each(|report| report.abort());
    }
}
