//! Work that keeps a core busy: photos that are counted, reports that are set. As much of it runs at a time as leaves
//! a core to everything else, so that a small call waits for none of it.

use std::sync::Arc;

use tokio::sync::{OwnedSemaphorePermit, Semaphore};

#[derive(Clone)]
pub(super) struct LongWork(Arc<Semaphore>);

impl LongWork {
    pub(super) fn on_this_machine() -> LongWork {
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        LongWork::on_cores(cores)
    }

    fn on_cores(cores: usize) -> LongWork {
        LongWork(Arc::new(Semaphore::new(cores.saturating_sub(1).max(1))))
    }

    /// Waits for room. To be kept by the work itself, which goes on when its caller leaves.
    pub(super) async fn room(&self) -> Option<OwnedSemaphorePermit> {
        self.0.clone().acquire_owned().await.ok()
    }
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use tokio::time::timeout;

    use super::*;

    #[tokio::test]
    async fn one_core_is_left_where_there_are_more() {
        const SHORT: Duration = Duration::from_millis(20);
        for (cores, together) in [(1, 1), (2, 1), (4, 3)] {
            let work = LongWork::on_cores(cores);
            let mut rooms = Vec::new();
            for _ in 0..together {
                rooms.push(timeout(SHORT, work.room()).await.unwrap().unwrap());
            }
            assert!(timeout(SHORT, work.room()).await.is_err(), "{cores}");
            rooms.pop();
            assert!(timeout(SHORT, work.room()).await.is_ok(), "{cores}");
        }
    }
}
