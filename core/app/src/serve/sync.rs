//! Exchange with the shop's hub.

use std::collections::{BTreeMap, BTreeSet};
use swarfbook_words::say;

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::{Store, StoreError};
use swarfbook_sync::auth::{DeviceKey, KeyError};
use swarfbook_sync::{Fingerprint, HttpHub, HubAt, Outcome, PeerError, SyncError};

use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::state::App;
use crate::view::SyncView;

/// The hub that this device is paired with, and how the last exchange went.
#[derive(Debug, Clone, Serialize, Deserialize)]
struct Paired {
    address: String,
    /// The certificate that it must show: none for one on this machine, and in pairings of
    /// before the exchange was encrypted.
    #[serde(default)]
    certificate: Option<Sha256Hex>,
    hub: DeviceId,
    /// When it last went through, RFC 3339.
    last: Option<String>,
    /// What there is to say about the last try.
    words: String,
    /// The last line of each device that the hub has for certain.
    level: BTreeMap<DeviceId, u64>,
}

const PAIRED: &str = "sync";

/// Lines read at once to look for photos, in bytes.
const AT_ONCE: usize = 1024 * 1024;

pub(super) fn pair(
    app: &App,
    address: &str,
    code: &str,
    fingerprint: &str,
) -> Result<Reply, Problem> {
    let address = swarfbook_sync::hub_address(address).map_err(|error| {
        Problem::bad_input(error.to_string(), say!("type-it-as-the-hub-shows-it"))
    })?;
    let fingerprint = match fingerprint.trim() {
        "" => None,
        typed => Some(Fingerprint::read(typed).ok_or_else(|| no_fingerprint(typed))?),
    };
    let at = HubAt {
        address,
        fingerprint,
    };
    let (device, key, name) = {
        let store = app.store();
        (store.device(), own_key(store)?, own_name(store)?)
    };
    let answer = swarfbook_sync::pair(&at, code, device, &name, &key).map_err(from_hub)?;
    app.store().set(
        PAIRED,
        &Paired {
            address: at.address,
            certificate: answer.certificate,
            hub: answer.reply.hub,
            last: None,
            words: say!("paired-nothing-was-exchanged-yet"),
            level: BTreeMap::new(),
        },
    )?;
    state(app)
}

pub(super) fn now(app: &App) -> Result<Reply, Problem> {
    let Some(mut paired) = kept(app.store())? else {
        return Err(Problem::new(
            ProblemKind::NotYet,
            say!("this-device-is-not-paired-with-a-hub"),
            say!("let-the-hub-show-its-code-then-pair"),
        ));
    };
    let (device, key) = {
        let store = app.store();
        (store.device(), own_key(store)?)
    };
    let at = HubAt {
        address: paired.address.clone(),
        fingerprint: paired.certificate.map(Fingerprint::from),
    };
    let hub = HttpHub::new(&at, paired.hub, device, key);
    let now = app.clock().now();
    let now_millis = u64::try_from(now.timestamp_millis()).unwrap_or(0);
    let done = swarfbook_sync::sync(|| app.store(), &hub, now_millis);
    match done {
        Ok(outcome) => {
            paired.words = in_words(&outcome);
            paired.last = Some(now.to_rfc3339());
            paired.level = outcome.hub_heads;
            keep_outcome(app, &paired)?;
            state(app)
        }
        Err(error) => {
            let problem = match error {
                SyncError::Peer(error) => from_hub(error),
                SyncError::Store(error) => Problem::from(error),
            };
            paired.words = problem.to_string();
            keep_outcome(app, &paired)?;
            Err(problem)
        }
    }
}

/// Keeps how an exchange went, unless the device was paired anew meanwhile.
fn keep_outcome(app: &App, paired: &Paired) -> Result<(), Problem> {
    app.store().together(|store| {
        let now = kept(store)?;
        let is_same = now.is_some_and(|now| {
            (now.hub, now.address, now.certificate)
                == (paired.hub, paired.address.clone(), paired.certificate)
        });
        if is_same {
            store.set(PAIRED, paired)?;
        }
        Ok(())
    })
}

pub(super) fn state(app: &App) -> Result<Reply, Problem> {
    let store = app.store();
    let mut sync = match kept(store)? {
        None => SyncView {
            words: say!("not-paired-with-a-hub-everything-stays-on"),
            ..SyncView::default()
        },
        Some(paired) => SyncView {
            lines_waiting: lines_waiting(store, &paired)?,
            photos_waiting: photos_waiting(store, &paired)?,
            hub: Some(paired.address),
            last: paired.last,
            words: paired.words,
        },
    };
    let ahead = u32::try_from(store.waiting()?).unwrap_or(u32::MAX);
    if ahead > 0 {
        let words = say!(
            "lines-from-another-device-dated-more-than-a",
            lines = lines(ahead)
        );
        sync.words = [sync.words, words].join(" ");
    }
    Ok(Reply::Sync { sync })
}

/// The address of the hub that this device is paired with.
pub(super) fn hub_address(app: &App) -> Result<Option<String>, Problem> {
    Ok(kept(app.store())?.map(|paired| paired.address))
}

fn kept(store: &Store) -> Result<Option<Paired>, Problem> {
    Ok(store.setting(PAIRED)?)
}

pub(crate) fn own_key(store: &Store) -> Result<DeviceKey, Problem> {
    let wrong = |error: KeyError| {
        Problem::new(
            ProblemKind::Storage,
            say!("the-key-of-this-device-cant-be-used", error = error),
            say!("start-the-app-again"),
        )
    };
    store.own_key().map_err(|error| match error {
        StoreError::Key(error) => wrong(error),
        other => other.into(),
    })
}

fn own_name(store: &Store) -> Result<String, Problem> {
    let settings = crate::state::settings::device_settings(store)?.unwrap_or_default();
    Ok(match settings.technician.trim() {
        "" => say!("a-device-without-a-name"),
        name => name.to_owned(),
    })
}

fn lines_waiting(store: &Store, paired: &Paired) -> Result<u32, Problem> {
    let waiting = store
        .heads()?
        .into_iter()
        .map(|(device, seq)| seq.saturating_sub(paired.level.get(&device).copied().unwrap_or(0)));
    Ok(u32::try_from(waiting.sum::<u64>()).unwrap_or(u32::MAX))
}

/// Photos of this device's lines that the hub is not known to have.
fn photos_waiting(store: &Store, paired: &Paired) -> Result<u32, Problem> {
    let device = store.device();
    let mut after = paired.level.get(&device).copied().unwrap_or(0);
    let mut photos = BTreeSet::new();
    loop {
        let lines = store.entries_after(device, after, AT_ONCE)?;
        let Some(last) = lines.last() else { break };
        after = last.entry.seq;
        for line in &lines {
            if let Some(Fact::PhotoTaken { photo, .. }) = line.entry.body.known() {
                photos.insert(*photo);
            }
        }
    }
    Ok(u32::try_from(photos.len()).unwrap_or(u32::MAX))
}

fn from_hub(error: PeerError) -> Problem {
    let next = match &error {
        PeerError::Cut(_) => {
            say!("check-that-the-hub-runs-and-that-this")
        }
        PeerError::Unencrypted(_) => {
            say!("pair-again-let-the-hub-show-its-code")
        }
        PeerError::NoFingerprint => say!("open-the-link-in-the-picture-that-the"),
        PeerError::WrongCertificate => say!("if-the-hub-was-set-up-anew-or"),
        PeerError::NotEncrypted => {
            say!("check-the-address-and-update-the-app-or")
        }
        PeerError::Refused { .. } => say!("nothing-was-changed-by-it"),
        PeerError::Garbled(_) => {
            say!("update-the-app-or-the-hub-whichever-is")
        }
    };
    Problem::new(
        ProblemKind::Hub,
        swarfbook_words::kept(&error.to_string()),
        next,
    )
}

fn no_fingerprint(typed: &str) -> Problem {
    Problem::bad_input(
        say!(
            "value-is-no-fingerprint-of-a-certificate",
            value = format_args!("{typed:?}")
        ),
        say!("type-at-least-its-first-20-digits-as"),
    )
}

fn in_words(outcome: &Outcome) -> String {
    let mut words = if outcome.was_level() {
        vec![say!("the-hub-and-this-device-have-the-same")]
    } else {
        vec![say!(
            "sent-lines-and-photos-took-in-lines-2",
            lines = lines(outcome.lines_sent),
            photos = photos(outcome.photos_sent),
            lines_2 = lines(outcome.lines_taken),
            photos_2 = photos(outcome.photos_taken)
        )]
    };
    if outcome.photos_nowhere > 0 {
        words.push(say!(
            "photos-named-by-other-devices-did-not-reach",
            photos = photos(outcome.photos_nowhere)
        ));
    }
    // In the hub's language, where the hub refused it.
    words.extend(
        outcome
            .refused
            .iter()
            .map(|refused| swarfbook_words::kept(&refused.words)),
    );
    words.join(" ")
}

fn lines(n: u32) -> String {
    say!("n-lines", n = n)
}

fn photos(n: u32) -> String {
    say!("n-photos", n = n)
}
