//! The fold: any order of arrival, one state; a retraction undoes its entry and no more.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod common;

use common::{chain, entry, every_fact, id, job};
use proptest::prelude::*;
use swarfbook_job::entry::Entry;
use swarfbook_job::fact::{Fact, PhotoLink, PhotoSubject};
use swarfbook_job::fold::{JobState, ReportState, fold};
use swarfbook_job::id::Sha256Hex;

const PHONES: [u128; 2] = [3, 7];

/// A log of two phones: everything on one, and on each a run of ticks and takings back.
fn log(picks: &[(bool, u8, u8)]) -> Vec<Entry> {
    let mut log: Vec<Entry> = chain(PHONES[0], 0, every_fact(PHONES[0]))
        .into_iter()
        .map(|line| line.entry)
        .collect();
    let mut seq = [log.len() as u64, 0];
    for (minute, (phone, kind, target)) in picks.iter().enumerate() {
        let phone = usize::from(*phone);
        seq[phone] += 1;
        let fact = match kind % 3 {
            0 => Fact::StepTicked {
                step: format!("step-{}", target % 4),
            },
            1 => Fact::StepSkipped {
                step: format!("step-{}", target % 4),
                reason: format!("{minute}"),
            },
            _ => {
                let all: Vec<_> = log.iter().map(|e| e.id).collect();
                Fact::Retracted {
                    entry: all[usize::from(*target) % all.len()],
                    reason: None,
                }
            }
        };
        log.push(entry(
            PHONES[phone],
            seq[phone],
            100 + minute as u64,
            Sha256Hex::ZERO,
            fact,
        ));
    }
    log
}

/// The state without the log itself: what a retraction must bring back.
fn effects(entries: &[Entry]) -> JobState {
    let mut state = fold(job(), entries);
    state.lines.clear();
    state
}

proptest! {
    #[test]
    fn any_order_of_arrival_gives_the_same_state(
        picks in prop::collection::vec(any::<(bool, u8, u8)>(), 0..20),
        shuffle in prop::collection::vec(any::<prop::sample::Index>(), 64),
    ) {
        let log = log(&picks);
        let mut other = log.clone();
        for (a, b) in shuffle.iter().enumerate() {
            let (a, b) = (a % other.len(), b.index(other.len()));
            other.swap(a, b);
        }
        prop_assert_eq!(fold(job(), &log), fold(job(), &other));
    }

    #[test]
    fn a_line_that_arrives_twice_counts_once(
        picks in prop::collection::vec(any::<(bool, u8, u8)>(), 0..10),
        twice in any::<prop::sample::Index>(),
    ) {
        let log = log(&picks);
        let mut doubled = log.clone();
        doubled.push(log[twice.index(log.len())].clone());
        prop_assert_eq!(fold(job(), &log), fold(job(), &doubled));
    }

    #[test]
    fn a_retraction_undoes_exactly_its_entry(
        picks in prop::collection::vec(any::<(bool, u8, u8)>(), 0..20),
        target in any::<prop::sample::Index>(),
    ) {
        let log = log(&picks);
        let target = target.index(log.len());
        let mut retracted = log.clone();
        retracted.push(entry(
            11,
            1,
            10_000,
            Sha256Hex::ZERO,
            Fact::Retracted { entry: log[target].id, reason: None },
        ));
        let mut without = log.clone();
        without.remove(target);
        prop_assert_eq!(effects(&retracted), effects(&without));
        // And taking back the taking back brings everything again.
        retracted.push(entry(
            11,
            2,
            10_001,
            Sha256Hex::ZERO,
            Fact::Retracted { entry: id(11, 1), reason: None },
        ));
        prop_assert_eq!(effects(&retracted), effects(&log));
    }
}

#[test]
fn every_kind_of_fact_leaves_its_trace() {
    let log: Vec<Entry> = chain(3, 0, every_fact(3))
        .into_iter()
        .map(|l| l.entry)
        .collect();
    let state = fold(job(), &log);
    assert_eq!(state.lines.len(), log.len());
    // Not told apart by being counted alone.
    let effects = |entries: &[Entry]| {
        let mut state = effects(entries);
        state.told = 0;
        state.reports.iter_mut().for_each(|report| report.told = 0);
        state
    };
    // A line without effect would be one that the fold forgot: take each away
    // and the state must differ. The one that was taken back has none, rightly.
    for (index, line) in log.iter().enumerate() {
        let mut without = log.clone();
        without.remove(index);
        let differs = effects(&without) != effects(&log);
        assert_eq!(differs, line.id != id(3, 29), "{:?}", line.body);
    }
    assert_eq!(state.parts[0].off(), 1);
    assert_eq!(state.photos[0].corrections.len(), 2);
    assert!(state.photos[0].confirmed.is_some());
    assert!(!state.steps.contains_key("waste"), "it was taken back");
}

#[test]
fn a_line_of_a_newer_version_is_kept_and_left_out() {
    let mut line = entry(
        3,
        1,
        0,
        Sha256Hex::ZERO,
        Fact::StepTicked { step: "car".into() },
    );
    let newer = serde_json::json!({"fact": "noise_heard", "loud": 3});
    line.body = serde_json::from_value(newer.clone()).expect("any body is read");
    let sealed = line.seal().expect("seals");
    let again = swarfbook_job::entry::Sealed::read(&sealed.bytes).expect("reads");
    assert_eq!(again, sealed);
    assert!(sealed.bytes.contains("noise_heard"));
    let state = fold(job(), [&again.entry]);
    assert_eq!(state.lines.len(), 1);
    assert!(state.lines[0].fact.is_none() && state.steps.is_empty());
}

fn made(seed: &[u8]) -> Fact {
    Fact::ReportMade {
        sha256: Sha256Hex::of(seed),
        head: Sha256Hex::ZERO,
        form: None,
    }
}

fn ticked(step: &str) -> Fact {
    Fact::StepTicked { step: step.into() }
}

fn withdrawn(seq: u64) -> Fact {
    Fact::ReportWithdrawn {
        report: id(3, seq),
        reason: "wrong car".into(),
    }
}

/// By report in the order of making: the place of the one that supersedes it.
fn superseded(facts: Vec<Fact>) -> Vec<Option<usize>> {
    let log: Vec<Entry> = chain(3, 0, facts).into_iter().map(|l| l.entry).collect();
    let state = fold(job(), &log);
    let place = |report: &ReportState| {
        let mut all = state.reports.iter();
        all.position(|r| r.stamp.entry == report.stamp.entry)
    };
    let each = state.reports.iter();
    each.map(|r| state.superseded_by(r).and_then(place))
        .collect()
}

#[test]
fn a_report_is_superseded_by_one_that_says_more_and_not_by_its_own_print() {
    assert_eq!(
        superseded(vec![made(b"page"), made(b"print")]),
        [None, None]
    );
    assert_eq!(
        superseded(vec![made(b"a"), ticked("car"), made(b"b"), made(b"c")]),
        [Some(2), None, None]
    );
}

#[test]
fn a_withdrawn_report_is_superseded_by_the_next_that_stands() {
    assert_eq!(
        superseded(vec![made(b"a"), withdrawn(1), made(b"b")]),
        [Some(1), None]
    );
    assert_eq!(
        superseded(vec![
            made(b"a"),
            ticked("car"),
            made(b"b"),
            ticked("pan"),
            made(b"c"),
            withdrawn(5),
        ]),
        [Some(1), Some(2), None],
        "one that was withdrawn is no way on while there is another"
    );
    let taken_back = Fact::Retracted {
        entry: id(3, 2),
        reason: None,
    };
    assert_eq!(
        superseded(vec![made(b"a"), withdrawn(1), taken_back, made(b"b")]),
        [None, None],
        "undo of the withdrawing"
    );
}

/// A photo of `subject`, line `seq` of device 3; its bytes' name tells it apart.
fn shot(seq: u8, subject: PhotoSubject) -> Fact {
    Fact::PhotoTaken {
        step: "patch".into(),
        photo: Sha256Hex::of(&[seq]),
        subject,
    }
}

fn linked(photo: u64, to: u64, link: PhotoLink) -> Fact {
    Fact::PhotoLinked {
        photo: id(3, photo),
        to: id(3, to),
        link,
    }
}

fn ids(photos: &[&swarfbook_job::fold::PhotoState]) -> Vec<swarfbook_job::id::EntryId> {
    photos.iter().map(|p| p.stamp.entry).collect()
}

#[test]
fn a_photo_after_the_magnet_is_of_the_patch_before_it_unless_said_otherwise() {
    let mut facts = vec![
        shot(1, PhotoSubject::Patch),
        shot(2, PhotoSubject::Patch),
        shot(3, PhotoSubject::PatchAfterMagnet),
    ];
    let state = |facts: &[Fact]| {
        let lines: Vec<Entry> = chain(3, 0, facts.to_vec())
            .into_iter()
            .map(|l| l.entry)
            .collect();
        fold(job(), &lines)
    };
    let before = |state: &swarfbook_job::fold::JobState, at: usize| {
        state
            .before_magnet(&state.photos[at])
            .map(|p| p.stamp.entry)
    };
    assert_eq!(before(&state(&facts), 2), Some(id(3, 2)));
    facts.push(linked(3, 1, PhotoLink::AfterMagnet));
    let other = state(&facts);
    assert_eq!(before(&other, 2), Some(id(3, 1)));
    assert_eq!(ids(&other.after_magnet(&other.photos[0])), [id(3, 3)]);
    assert!(other.after_magnet(&other.photos[1]).is_empty());
    // A plain patch photo becomes one by being said to be, and is no patch of its own then.
    facts.push(linked(2, 1, PhotoLink::AfterMagnet));
    let both = state(&facts);
    assert_eq!(before(&both, 1), Some(id(3, 1)));
    assert!(both.same_patch(&both.photos[1]).is_empty());
    facts.push(linked(2, 1, PhotoLink::Apart));
    facts.push(linked(3, 1, PhotoLink::Apart));
    let apart = state(&facts);
    assert_eq!(before(&apart, 1), None);
    assert_eq!(before(&apart, 2), None);
    assert!(
        apart.is_after_magnet(&apart.photos[2]),
        "its subject still says so"
    );
}

#[test]
fn photos_of_one_patch_are_one_group_and_a_link_forward_says_nothing() {
    let facts = vec![
        shot(1, PhotoSubject::Patch),
        shot(2, PhotoSubject::Patch),
        shot(3, PhotoSubject::Patch),
        shot(4, PhotoSubject::Pan),
        linked(2, 1, PhotoLink::SamePatch),
        linked(3, 2, PhotoLink::SamePatch),
        linked(4, 1, PhotoLink::SamePatch),
        linked(1, 3, PhotoLink::SamePatch),
    ];
    let lines: Vec<Entry> = chain(3, 0, facts).into_iter().map(|l| l.entry).collect();
    let state = fold(job(), &lines);
    for at in 0..3 {
        let group = ids(&state.same_patch(&state.photos[at]));
        assert_eq!(group, [id(3, 1), id(3, 2), id(3, 3)]);
    }
    assert_eq!(ids(&state.same_patch(&state.photos[3])), [id(3, 4)]);
}
