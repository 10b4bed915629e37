//! Who may write as whom: a paired phone that lies, and a hub that does.
#![allow(clippy::expect_used)] // helpers of tests are outside of them

mod common;

use common::{Changed, Device, NOW_MILLIS, at, job};
use swarfbook_job::entry::{Entry, Sealed};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, EntryId, Sha256Hex};
use swarfbook_store::{PairedDevice, Source};
use swarfbook_sync::{InProcess, Peer, Request, Response};
use uuid::Uuid;

fn pair(hub: &Device, phone: &Device) -> bool {
    let public_key = phone.store().own_key().expect("a key").public_hex();
    pair_as(hub, phone.id(), public_key)
}

fn pair_as(hub: &Device, device: DeviceId, public_key: String) -> bool {
    let peer = PairedDevice {
        device,
        name: "a phone".into(),
        public_key,
        paired: at(0),
    };
    hub.store().add_peer(&peer).expect("kept")
}

/// The next line of `device` as far as `hub` knows, made up.
fn made_up(hub: &Device, device: DeviceId, n: u128) -> Sealed {
    let (seq, prev) = hub.store().head(device).expect("reads");
    Entry {
        id: EntryId(Uuid::from_u128(n)),
        job: job(1),
        device,
        seq: seq + 1,
        wall: at(9),
        hlc: Default::default(),
        prev,
        body: Fact::StepTicked {
            step: "made up".into(),
        }
        .into(),
    }
    .seal()
    .expect("sealed")
}

/// Lines as they travel, each with what is put behind it.
fn push(hub: &Device, from: &Device, line: &Sealed, by: &str) -> String {
    let request = Request {
        method: "POST",
        target: "/sync/lines".into(),
        body: format!("{}{by}\n", line.bytes).into_bytes(),
    };
    let peer = InProcess::new(|| hub.store(), from.id(), NOW_MILLIS);
    let answer = peer.ask(&request).expect("answers");
    assert_eq!(answer.status, 200);
    String::from_utf8(answer.body).expect("text")
}

/// A signature by the key of `liar`, told as that of `told`.
fn signed(line: &Sealed, liar: &Device, told: &Device) -> String {
    let key = told.store().own_key().expect("a key").public_hex();
    let by = liar.store().own_key().expect("a key");
    format!("\t{key}{}", by.sign(&line.to_sign()))
}

#[test]
fn a_paired_phone_can_write_neither_as_the_hub_nor_as_another_phone() {
    let (hub, liar, bay, bench) = (Device::new(), Device::new(), Device::new(), Device::new());
    for phone in [&liar, &bay, &bench] {
        assert!(pair(&hub, phone));
    }
    hub.tick(job(1), "a", 0);
    bay.tick(job(1), "b", 1);
    bay.sync_with(&hub).expect("through");
    let before = hub.content();
    // The bench is paired and has written nothing yet.
    for (n, victim) in [&hub, &bay, &bench].into_iter().enumerate() {
        let line = made_up(&hub, victim.id(), 100 + n as u128);
        for by in [
            String::new(),
            "\t".to_owned(),
            "\tnonsense".to_owned(),
            format!("\t{}", "0".repeat(192)),
            signed(&line, &liar, &liar),
            signed(&line, &liar, victim),
        ] {
            let said = push(&hub, &liar, &line, &by);
            assert!(said.contains("\"new\":0"), "{said}");
            assert!(said.contains("is not signed by that device"), "{said}");
        }
    }
    assert_eq!(hub.content(), before);
    // Those that they did sign come in, whoever brings them.
    let line = made_up(&hub, bench.id(), 200);
    let said = push(&hub, &liar, &line, &signed(&line, &bench, &bench));
    assert!(said.contains("\"new\":1"), "{said}");
    // A phone that is not paired any more is nobody else's to go on with.
    hub.store().remove_peer(bay.id()).expect("removed");
    let line = made_up(&hub, bay.id(), 201);
    for by in [String::new(), signed(&line, &liar, &liar)] {
        assert!(push(&hub, &liar, &line, &by).contains("\"new\":0"));
    }
    // Nor can a device be paired under another key than it signed with, or as the hub.
    let other = liar.store().own_key().expect("a key").public_hex();
    assert!(!pair_as(&hub, bay.id(), other.clone()));
    assert!(!pair_as(&hub, hub.id(), other));
    assert!(pair(&hub, &bay));
}

/// A key is known by its digits as they are written: one that is spelled otherwise would shut
/// out all that its device writes later.
#[test]
fn a_key_that_was_spelled_otherwise_on_its_way_is_no_key() {
    for other in [
        |digit: u8| digit.to_ascii_uppercase(),
        |digit: u8| if digit == b'0' { b'+' } else { digit },
    ] {
        let (hub, bay) = (Device::new(), Device::new());
        hub.tick(job(1), "a", 0);
        let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
        let changed = Changed {
            hub: &peer,
            change: |request: &Request, mut response: Response| {
                if request.target.starts_with("/sync/lines") {
                    let key = response.body.iter().position(|byte| *byte == b'\t');
                    let key = key.expect("signed") + 1;
                    // The first of each two digits: "+f" is 15 to some readers of numbers.
                    for at in (key..key + 64).step_by(2) {
                        response.body[at] = other(response.body[at]);
                    }
                }
                response
            },
        };
        let told = bay.sync_over(&changed).expect("through");
        let as_it_was = hub.store().own_key().expect("a key").public_hex();
        let spelled: Vec<u8> = as_it_was.bytes().step_by(2).map(other).collect();
        let same = spelled.iter().copied().eq(as_it_was.bytes().step_by(2));
        assert_eq!(told.refused.len(), usize::from(!same), "{told:?}");
        hub.tick(job(1), "b", 1);
        let told = bay.sync_with(&hub).expect("through");
        assert!(told.refused.is_empty(), "{told:?}");
        assert_eq!(bay.content().lines, hub.content().lines);
    }
}

/// What a hub changes on its way is not taken for another device's.
#[test]
fn a_hub_can_not_write_as_a_phone() {
    let (hub, bay, bench) = (Device::new(), Device::new(), Device::new());
    bay.tick(job(1), "a", 0);
    bay.sync_with(&hub).expect("through");
    bench.sync_with(&hub).expect("through");
    bay.tick(job(1), "true", 1);
    bay.sync_with(&hub).expect("through");
    let peer = InProcess::new(|| hub.store(), bench.id(), NOW_MILLIS);
    for strip in [false, true] {
        let lying = Changed {
            hub: &peer,
            change: |request: &Request, mut response: Response| {
                if request.target.starts_with("/sync/lines?") {
                    let text = String::from_utf8(response.body).expect("text");
                    let text = text.replace("\"true\"", "\"lies\"");
                    let kept = |line: &str| line.split('\t').next().map(str::to_owned);
                    response.body = if strip {
                        let lines: Vec<String> = text.lines().filter_map(kept).collect();
                        lines.join("\n").into_bytes()
                    } else {
                        text.into_bytes()
                    };
                }
                response
            },
        };
        let told = bench.sync_over(&lying).expect("goes on");
        assert_eq!(told.lines_taken, 0, "{told:?}");
        assert!(told.refused[0].words.contains("is not signed"), "{told:?}");
    }
    // Nor does it give a phone lines of its own that it never wrote.
    let line = made_up(&hub, bench.id(), 300);
    let refused = bench.store().import_from(Source::Hub, &[line], NOW_MILLIS);
    assert!(refused.is_err());
    bench.sync_with(&hub).expect("an honest hub");
    assert_eq!(bench.content(), hub.content());
}

/// Logs of before: readable, shown as unsigned, and vouched for by the first signed line.
#[test]
fn old_lines_come_in_from_their_own_device_and_none_after_a_signed_one() {
    let (hub, old, other) = (Device::new(), Device::new(), Device::new());
    assert!(pair(&hub, &old));
    let first = made_up(&hub, old.id(), 400);
    assert!(push(&hub, &other, &first, "").contains("\"new\":0"));
    assert!(push(&hub, &old, &first, "").contains("\"new\":1"));
    let second = made_up(&hub, old.id(), 401);
    let by = signed(&second, &old, &old);
    assert!(push(&hub, &old, &second, &by).contains("\"new\":1"));
    let third = made_up(&hub, old.id(), 402);
    assert!(push(&hub, &old, &third, "").contains("\"new\":0"));
    // Of a device that nobody here knows, on the word of who brings it.
    let stranger = made_up(&hub, DeviceId(Uuid::from_u128(9)), 403);
    assert!(push(&hub, &other, &stranger, "").contains("\"new\":1"));
    let unsigned = hub.store().unsigned(job(1)).expect("reads");
    assert_eq!(unsigned, [first.entry.id, stranger.entry.id].into());
    assert_eq!(hub.state(job(1)).lines.len(), 3, "all are read");
    // They reach the others as they are.
    other.sync_with(&hub).expect("through");
    assert_eq!(other.content(), hub.content());
    assert_eq!(other.store().unsigned(job(1)).expect("reads"), unsigned);
}

/// A device of before signatures neither sends nor understands them.
#[test]
fn who_does_not_ask_for_signatures_gets_plain_lines() {
    let (hub, bay) = (Device::new(), Device::new());
    hub.tick(job(1), "a", 0);
    let peer = InProcess::new(|| hub.store(), bay.id(), NOW_MILLIS);
    let ask = |more: &str| {
        let request = Request {
            method: "GET",
            target: format!("/sync/lines?device={}&after=0{more}", hub.id()),
            body: Vec::new(),
        };
        String::from_utf8(peer.ask(&request).expect("answers").body).expect("text")
    };
    assert!(!ask("").contains('\t'));
    let line = ask("&signed=1");
    let (bytes, by) = line.trim_end().split_once('\t').expect("a signature");
    assert_eq!(by.len(), 64 + 128);
    let id = hub.id();
    let (_, head) = hub.store().head(id).expect("reads");
    assert_eq!(Sha256Hex::of(bytes.as_bytes()), head);
    // A standing of before does not say that it reads them.
    let plain = Changed {
        hub: &peer,
        change: |request: &Request, mut response: Response| {
            if request.target == "/sync/standing" {
                let text = String::from_utf8(response.body).expect("text");
                assert!(text.contains(",\"signatures\":true"));
                response.body = text.replace(",\"signatures\":true", "").into_bytes();
            }
            if request.target == "/sync/lines" {
                let text = String::from_utf8(request.body.clone()).expect("text");
                assert!(!text.contains('\t'), "{text}");
            }
            response
        },
    };
    bay.tick(job(1), "b", 1);
    let done = bay.sync_over(&plain).expect("through");
    assert_eq!((done.lines_sent, done.lines_taken), (1, 1), "{done:?}");
}
