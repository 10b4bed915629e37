//! Peers that lie, and copies that were changed: nothing of it gets in, and
//! the rest goes through.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::sync::mpsc;
use std::time::Duration;

use common::{Changed, Device, NOW_MILLIS, job};
use swarfbook_job::entry::{Entry, Sealed};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::StoreError;
use swarfbook_sync::auth::{self, DeviceKey, Gate, PairCode, PairRequest, Signed};
use swarfbook_sync::{InProcess, MAX_BODY_BYTES, Peer, PeerError, Request, Response, SyncError};
use uuid::Uuid;

fn post(hub: &Device, from: DeviceId, target: &str, body: Vec<u8>) -> (u16, String) {
    let request = Request {
        method: "POST",
        target: target.into(),
        body,
    };
    let peer = InProcess::new(|| hub.store(), from, NOW_MILLIS);
    let answer = peer.ask(&request).expect("answers");
    (
        answer.status,
        String::from_utf8_lossy(&answer.body).into_owned(),
    )
}

fn lines_of(device: &Device) -> Vec<Sealed> {
    let store = device.store();
    store
        .entries_after(store.device(), 0, usize::MAX)
        .expect("lines")
}

fn body(lines: &[Sealed]) -> Vec<u8> {
    lines
        .iter()
        .flat_map(|line| format!("{}\n", line.bytes).into_bytes())
        .collect()
}

/// A device's folder was copied and both copies were written on: the second to
/// come is refused with words, and the lines of others still pass.
#[test]
fn a_forked_device_is_refused_and_others_still_pass() {
    let (hub, bay, fork, relay) = (Device::new(), Device::new(), Device::new(), Device::new());
    bay.tick(job(1), "a", 0);
    let first = lines_of(&bay);
    bay.tick(job(1), "b", 1);
    bay.sync_with(&hub).expect("the true one");
    // The other copy went another way after line 1.
    fork.store().import(&first, 0).expect("copied");
    let other = Entry {
        seq: 2,
        prev: first[0].hash,
        id: swarfbook_job::id::EntryId(Uuid::from_u128(99)),
        body: Fact::StepTicked { step: "c".into() }.into(),
        ..first[0].entry.clone()
    }
    .seal()
    .expect("sealed");
    // The copy of the folder holds the device's key.
    let other = bay.store().own_key().expect("a key").signed(other);
    fork.store().import(&[other], 0).expect("written on");
    fork.tick(job(1), "own", 3);
    hub.tick(job(1), "desk", 4);
    let before = hub.content().lines.len();

    let told = fork.sync_with(&hub).expect("goes through");
    assert_eq!(told.refused.len(), 1, "{told:?}");
    assert_eq!(told.refused[0].device, Some(bay.id()));
    assert!(told.refused[0].words.contains("two different histories"));
    assert_eq!((told.lines_sent, told.lines_taken), (1, 1));
    assert_eq!(hub.content().lines.len(), before + 1);

    // Nor does a longer wrong history get in, and a longer true one does not
    // get into the wrong copy.
    bay.tick(job(1), "d", 5);
    bay.sync_with(&hub).expect("on");
    let told = fork.sync_with(&hub).expect("goes through");
    assert!(told.refused[0].words.contains("two different histories"));
    relay.sync_with(&hub).expect("down");
    assert_eq!(relay.content(), hub.content());
}

/// Lines that another device wrote may be passed on, but only along its chain.
#[test]
fn a_device_passes_on_lines_of_others_and_makes_none_up() {
    let (hub, bay, relay) = (Device::new(), Device::new(), Device::new());
    bay.tick(job(1), "a", 0);
    relay.store().import(&lines_of(&bay), 0).expect("has them");
    let passed = relay.sync_with(&hub).expect("passes on");
    assert_eq!(passed.lines_sent, 1);
    // Line 3 without line 2, and a line 2 that names another line before it.
    let first = &lines_of(&bay)[0];
    for (seq, prev) in [(3, first.hash), (2, Sha256Hex::of(b"made up"))] {
        let made_up = Entry {
            seq,
            prev,
            id: swarfbook_job::id::EntryId(Uuid::from_u128(7)),
            ..first.entry.clone()
        }
        .seal()
        .expect("sealed");
        let (status, words) = post(&hub, relay.id(), "/sync/lines", body(&[made_up]));
        assert_eq!(status, 200);
        assert!(words.contains("\"new\":0"), "{words}");
        assert!(words.contains(&bay.id().to_string()), "{words}");
    }
    assert_eq!(hub.content().lines.len(), 1);
}

#[test]
fn lines_that_are_none_are_refused_one_by_one() {
    let (hub, bay, desk) = (Device::new(), Device::new(), Device::new());
    bay.tick(job(1), "a", 0);
    desk.tick(job(1), "b", 0);
    let good = lines_of(&bay).remove(0);
    let spaced = lines_of(&desk).remove(0).bytes.replace("\":", "\": ");
    let same_id = Entry {
        device: DeviceId(Uuid::from_u128(4)),
        seq: 1,
        ..good.entry.clone()
    }
    .seal()
    .expect("sealed");
    let far = Entry {
        device: DeviceId(Uuid::from_u128(5)),
        seq: u64::MAX,
        ..good.entry.clone()
    };
    let mut sent = b"nonsense\n\xff\xfe\n{\"id\":1}\n".to_vec();
    sent.extend(format!("{spaced}\n{}\n", good.bytes).into_bytes());
    if let Ok(far) = far.seal() {
        sent.extend(format!("{}\n", far.bytes).into_bytes());
    }
    let (status, words) = post(&hub, bay.id(), "/sync/lines", sent);
    assert_eq!(status, 200, "{words}");
    assert!(words.contains("\"new\":1"), "{words}");
    assert!(
        words.contains("canonical") && words.contains("not text"),
        "{words}"
    );
    let (status, words) = post(&hub, bay.id(), "/sync/lines", body(&[same_id]));
    assert_eq!(status, 200, "{words}");
    assert!(words.contains("id that another line has"), "{words}");
    assert_eq!(hub.content().lines, [good.bytes]);
}

#[test]
fn what_is_too_large_or_not_asked_for_is_refused() {
    let (hub, bay) = (Device::new(), Device::new());
    let photo = bay.take_photo(job(1), b"photo", 0);
    let big = vec![b'x'; MAX_BODY_BYTES + 1];
    assert_eq!(post(&hub, bay.id(), "/sync/lines", big).0, 413);
    let piece = |target: &str, body: &[u8]| post(&hub, bay.id(), target, body.to_vec());
    let unnamed = format!("/sync/photo?photo={photo}&from=0&total=5");
    assert_eq!(piece(&unnamed, b"photo").0, 422, "no line names it yet");
    hub.store()
        .import(&lines_of(&bay), 0)
        .expect("now one does");
    for (query, status) in [
        (format!("photo={photo}&from=0&total=4"), 422),
        (format!("photo={photo}&from=0&total=999999999999"), 422),
        (
            format!("photo={photo}&from=18446744073709551615&total=5"),
            422,
        ),
        ("photo=../../etc/passwd&from=0&total=5".to_owned(), 400),
        (format!("photo={photo}&from=0"), 400),
    ] {
        let (was, words) = piece(&format!("/sync/photo?{query}"), b"photo");
        assert_eq!(was, status, "{query}: {words}");
    }
    for (target, body) in [
        ("/sync/customers", "[{\"id\":1}]"),
        ("/sync/procedure", "{}"),
        ("/sync/nothing", ""),
    ] {
        let (status, _) = piece(target, body.as_bytes());
        assert!(status == 400 || status == 404, "{target}: {status}");
    }
    assert!(!hub.store().has_photo(photo));
    assert_eq!(piece(&unnamed, b"photo"), (200, "\"whole\"".to_owned()));
}

/// Wrong bytes never take a photo's name, whoever sends them, and the right
/// ones get in afterwards.
#[test]
fn wrong_bytes_never_take_the_name_of_a_photo() {
    let (hub, bay) = (Device::new(), Device::new());
    let right = vec![5; 900_000];
    let photo = bay.take_photo(job(1), &right, 0);
    hub.store().import(&lines_of(&bay), 0).expect("named");
    // The same device's first piece arrived damaged: it is sent again whole.
    let target = format!("/sync/photo?photo={photo}&from=0&total=900000");
    assert_eq!(
        post(&hub, bay.id(), &target, vec![6; 500_000]),
        (200, "{\"upto\":500000}".to_owned())
    );
    // Another device's wrong bytes are its own affair.
    let stranger = DeviceId(Uuid::from_u128(1));
    post(&hub, stranger, &target, vec![9; 500_000]);
    let done = bay.sync_with(&hub).expect("through");
    assert_eq!((done.photos_sent, done.refused.len()), (1, 0), "{done:?}");
    assert_eq!(hub.store().photo(photo).expect("right"), right);

    // A hub that gives wrong bytes: told, not kept, and the rest goes through.
    let phone = Device::new();
    let peer = InProcess::new(|| hub.store(), phone.id(), NOW_MILLIS);
    let lying = Changed {
        hub: &peer,
        change: |request: &Request, mut response: Response| {
            if request.target.starts_with("/sync/photo?")
                && let Some(last) = response.body.last_mut()
            {
                *last ^= 1;
            }
            response
        },
    };
    let told = phone.sync_over(&lying).expect("through");
    assert_eq!((told.lines_taken, told.photos_taken), (1, 0));
    assert!(told.refused[0].words.contains("damaged"), "{told:?}");
    assert!(!phone.store().has_photo(photo));
    let done = phone.sync_with(&hub).expect("an honest hub");
    assert_eq!(done.photos_taken, 1);
    assert_eq!(phone.store().photo(photo).expect("right"), right);
}

/// Begins a photo with other bytes, in the name of who asks, before its first piece comes.
struct Before<'a> {
    hub: &'a dyn Peer,
    begun: std::cell::Cell<bool>,
}

impl Peer for Before<'_> {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        if request.target.starts_with("/sync/photo?") && !self.begun.replace(true) {
            let body = vec![7; 237];
            self.hub.ask(&Request {
                body,
                ..request.clone()
            })?;
        }
        self.hub.ask(request)
    }
}

/// Found by the simulator (seeds 6329 and 7552 of its first form).
#[test]
fn wrong_bytes_that_came_before_a_photo_cost_one_more_try() {
    let (hub, bay) = (Device::new(), Device::new());
    let photo = bay.take_photo(job(1), &vec![9; 1000], 0);
    let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
    let before = Before {
        hub: &peer,
        begun: std::cell::Cell::new(false),
    };
    let told = bay.sync_over(&before).expect("through");
    assert!(before.begun.get());
    assert!(told.refused.is_empty(), "{told:?}");
    assert_eq!(told.photos_sent, 1);
    assert!(hub.store().photo(photo).is_ok());
}

/// A hub whose answers are cut short or changed, and that says they are whole.
#[test]
fn a_garbled_answer_gets_nothing_wrong_in() {
    let (hub, bay) = (Device::new(), Device::new());
    hub.tick(job(1), "a", 0);
    hub.take_photo(job(1), &vec![4; 100_000], 1);
    let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
    for keep in [0, 1, 9, 60, 300, 5_000] {
        for only in [
            "/sync/standing",
            "/sync/lines",
            "/sync/customers",
            "/sync/photo",
        ] {
            let cutting = Changed {
                hub: &peer,
                change: |request: &Request, mut response: Response| {
                    if request.target.starts_with(only) {
                        response.body.truncate(keep);
                    }
                    response
                },
            };
            match bay.sync_over(&cutting) {
                Ok(_) | Err(SyncError::Peer(PeerError::Garbled(_))) => {}
                other => panic!("{only} cut to {keep}: {other:?}"),
            }
            let (here, there) = (bay.content(), hub.content());
            assert!(here.lines.iter().all(|line| there.lines.contains(line)));
        }
    }
    bay.sync_with(&hub).expect("an honest hub");
    assert_eq!(bay.content(), hub.content());
}

/// A customer may not come back under the flag that it was erased, nor with a
/// time that no store can hold.
#[test]
fn customers_that_can_not_be_are_refused() {
    let (hub, bay) = (Device::new(), Device::new());
    let sent = format!(
        r#"[{{"id":"{0}","name":"n","contact":"","erased":true,"hlc":{{"millis":1,"counter":0}},"device":"{0}"}},
            {{"id":"{0}","name":"n","contact":"","erased":false,"hlc":{{"millis":18446744073709551615,"counter":0}},"device":"{0}"}},
            {{"id":"{0}","name":"{1}","contact":"","erased":false,"hlc":{{"millis":1,"counter":0}},"device":"{0}"}}]"#,
        Uuid::from_u128(3),
        "long".repeat(1_000)
    );
    let (status, words) = post(&hub, bay.id(), "/sync/customers", sent.into_bytes());
    assert_eq!(
        (status, words.matches("can't be as it was sent").count()),
        (200, 3)
    );
    assert!(hub.content().customers.is_empty());
}

/// A disk that takes its time over one device's key: whoever else asks is answered meanwhile.
#[test]
fn a_key_that_is_slow_to_read_keeps_no_other_device_out() {
    let gate = &Gate::default();
    let (keys, hub) = ([0, 1].map(|_| DeviceKey::make().expect("random")), job(9).0);
    let headers: Vec<String> = (1..3_u128)
        .zip(&keys)
        .map(|(device, key)| {
            let request = Request {
                method: "GET",
                target: "/sync/standing".into(),
                body: Vec::new(),
            };
            Signed::sign(
                &request,
                DeviceId(Uuid::from_u128(device)),
                DeviceId(hub),
                key,
                NOW_MILLIS,
            )
            .expect("signed")
            .header()
        })
        .collect();
    let let_in = |at: usize, wait: &dyn Fn()| {
        let key_of = |_| {
            wait();
            Some(keys[at].public_hex())
        };
        let what = ("GET", "/sync/standing");
        gate.check(&headers[at], what, &[DeviceId(hub)], key_of, NOW_MILLIS)
    };
    let (asks, asked) = mpsc::channel();
    let (passed, other_passed) = mpsc::channel();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            asked.recv().expect("asked");
            passed.send(let_in(1, &|| ()).is_ok()).expect("heard");
        });
        let slow = let_in(0, &|| {
            asks.send(()).expect("waits");
            let other = other_passed.recv_timeout(Duration::from_secs(10));
            assert_eq!(other, Ok(true), "the other one waits for this one's key");
        });
        assert!(slow.is_ok(), "{slow:?}");
    });
}

/// A store that takes its time over a new device: codes are shown and refused meanwhile.
#[test]
fn a_pairing_that_waits_for_the_store_keeps_no_code_from_being_shown() {
    let hub = Device::new();
    let (store, code) = (&hub.store(), &PairCode::default());
    let key = DeviceKey::make().expect("random");
    let now = common::at(0);
    let millis = u64::try_from(now.timestamp_millis()).expect("after 1970");
    let shown = code.show(millis).expect("random");
    let request = PairRequest::new(&shown, DeviceId(job(3).0), "phone", &key);
    let body = serde_json::to_vec(&request).expect("JSON");
    std::thread::scope(|scope| {
        let mut pairing = None;
        store
            .together(|_| {
                pairing = Some(scope.spawn(|| auth::admit(store, code, &body, now)));
                let (showed, shown) = mpsc::channel();
                scope.spawn(move || {
                    std::thread::sleep(Duration::from_millis(200));
                    showed.send(code.show(millis).is_ok()).expect("heard");
                });
                let shown = shown.recv_timeout(Duration::from_secs(10));
                assert_eq!(shown, Ok(true), "no code while a pairing waits");
                Ok::<_, StoreError>(())
            })
            .expect("written");
        let admitted = pairing.expect("began").join().expect("ended");
        assert_eq!(admitted.response.status, 200);
    });
}
