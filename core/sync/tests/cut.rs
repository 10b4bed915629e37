//! Cut anywhere and run again: the same end. Each run cuts the connection
//! after some bytes, sometimes kills either side, and at last lets one through.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::cell::Cell;
use std::sync::LazyLock;

use common::{Counted, CutAfter, Device, NOW_MILLIS, job};
use proptest::prelude::*;
use swarfbook_job::id::CustomerId;
use swarfbook_sync::{InProcess, PeerError, SyncError};
use uuid::Uuid;

/// Two devices with work of each kind, half of it on the hub already.
fn scene() -> (Device, Device, Device) {
    let (hub, bay, desk) = (Device::new(), Device::new(), Device::new());
    desk.tick(job(1), "a", 0);
    desk.take_photo(job(1), &vec![1; 700_000], 1);
    desk.sync_with(&hub).expect("up");
    hub.tick(job(1), "c", 2);
    bay.tick(job(1), "b", 3);
    bay.take_photo(job(1), &vec![2; 600_000], 4);
    bay.take_photo(job(1), b"small", 5);
    let id = CustomerId(Uuid::from_u128(5));
    bay.store()
        .save_customer(id, "Ada Invented", "1", common::at(6))
        .expect("saved");
    (hub, bay, desk)
}

fn assert_level(hub: &Device, bay: &Device) {
    let last = bay.sync_with(hub).expect("uncut");
    assert!(last.refused.is_empty(), "{last:?}");
    assert_eq!(bay.content(), hub.content());
    assert_eq!(bay.state(job(1)), hub.state(job(1)));
    assert!(
        hub.content()
            .photos
            .iter()
            .all(|(_, bytes)| bytes.is_some())
    );
    assert!(bay.sync_with(hub).expect("again").was_level());
}

/// How many calls and bytes the whole exchange takes.
fn whole() -> (usize, usize) {
    let (hub, bay, _) = scene();
    let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
    let counted = Counted {
        hub: &peer,
        calls: Cell::new(0),
        bytes: Cell::new(0),
    };
    bay.sync_over(&counted).expect("whole");
    (counted.calls.get(), counted.bytes.get())
}

static WHOLE_BYTES: LazyLock<usize> = LazyLock::new(|| whole().1);

#[test]
fn cut_before_and_after_every_call() {
    let (calls, _) = whole();
    assert!(calls > 8, "the scene has work of each kind");
    for last in 0..calls {
        for answer_lost in [false, true] {
            let (hub, bay, _) = scene();
            let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
            let cut = CutAtCall {
                hub: &peer,
                left: Cell::new(last),
                answer_lost,
            };
            let ended = bay.sync_over(&cut);
            assert!(
                matches!(ended, Err(SyncError::Peer(PeerError::Cut(_)))),
                "call {last}: {ended:?}"
            );
            bay.restart();
            hub.restart();
            assert_level(&hub, &bay);
        }
    }
}

struct CutAtCall<'a> {
    hub: &'a dyn swarfbook_sync::Peer,
    left: Cell<usize>,
    answer_lost: bool,
}

impl swarfbook_sync::Peer for CutAtCall<'_> {
    fn ask(
        &self,
        request: &swarfbook_sync::Request,
    ) -> Result<swarfbook_sync::Response, PeerError> {
        if let Some(left) = self.left.get().checked_sub(1) {
            self.left.set(left);
            return self.hub.ask(request);
        }
        if self.answer_lost {
            self.hub.ask(request)?;
        }
        Err(PeerError::Cut("cut".into()))
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(16))]
    #[test]
    fn cut_at_any_byte_any_number_of_times(
        cuts in prop::collection::vec((0.0..1.0f64, any::<bool>(), any::<bool>()), 1..5)
    ) {
        let bytes = *WHOLE_BYTES;
        let (hub, bay, _) = scene();
        for (share, kill_bay, kill_hub) in cuts {
            let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
            let budget = (share * bytes as f64) as usize;
            // Later runs have less to carry and may end before the cut.
            let _ = bay.sync_over(&CutAfter::bytes(&peer, budget));
            if kill_bay {
                bay.restart();
            }
            if kill_hub {
                hub.restart();
            }
        }
        assert_level(&hub, &bay);
    }
}

/// A photo goes on from where it was cut: its first pieces are not sent twice.
#[test]
fn a_cut_photo_goes_on_from_where_it_was() {
    let (hub, bay) = (Device::new(), Device::new());
    bay.take_photo(job(1), &vec![3; 3_000_000], 0);
    let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
    let cut = bay.sync_over(&CutAfter::bytes(&peer, 2_500_000));
    assert!(cut.is_err());
    let counted = Counted {
        hub: &peer,
        calls: Cell::new(0),
        bytes: Cell::new(0),
    };
    let rest = bay.sync_over(&counted).expect("the rest");
    assert_eq!(rest.photos_sent, 1);
    assert!(counted.bytes.get() < 1_200_000, "{}", counted.bytes.get());
}
