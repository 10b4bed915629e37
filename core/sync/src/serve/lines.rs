//! Lines of the log, out and in.

use std::collections::BTreeMap;
use swarfbook_job::entry::{Sealed, Signature};
use swarfbook_job::id::DeviceId;
use swarfbook_store::{Imported, Source, Store, StoreError};
use swarfbook_words::say;

use super::{bad, or_words};
use crate::digest;
use crate::message::{Head, LINES_BYTES, LinesTaken, Refused, Response, Standing, from_query};

/// Reasons that are told one by one; more of the same would help nobody.
const TOLD: usize = 20;

/// Digits of a key, before those of a signature.
const KEY_DIGITS: usize = 64;

/// What `store` has.
pub(crate) fn standing(store: &Store) -> Result<Standing, StoreError> {
    let mut heads = BTreeMap::new();
    for device in store.heads()?.into_keys() {
        let (seq, hash) = store.head(device)?;
        heads.insert(device, Head { seq, hash });
    }
    Ok(Standing {
        store: store.device(),
        heads,
        customers: digest::of_customers(store.customers()?),
        procedures: digest::of_procedures(store.procedures()?),
        signatures: true,
    })
}

pub(super) fn give(store: &Store, target: &str) -> Response {
    let (Some(device), Some(after)) = (from_query(target, "device"), from_query(target, "after"))
    else {
        return bad("lines are asked for by device and number");
    };
    // Who does not ask for signatures was made before there were any.
    let signed = from_query(target, "signed") == Some(1);
    // Numbers are counted in 63 bits on disk.
    let after = u64::min(after, i64::MAX as u64);
    or_words(
        store
            .entries_after(device, after, LINES_BYTES)
            .map(|lines| Response::done(write(&lines, signed))),
    )
}

/// Lines as they travel, with their signatures to whom reads those.
pub(crate) fn write(lines: &[Sealed], signed: bool) -> Vec<u8> {
    let mut body = Vec::new();
    for line in lines {
        body.extend_from_slice(line.bytes.as_bytes());
        if let Some(by) = line.signature.as_ref().filter(|_| signed) {
            body.push(b'\t');
            body.extend_from_slice(by.key.as_bytes());
            body.extend_from_slice(by.signature.as_bytes());
        }
        body.push(b'\n');
    }
    body
}

/// Lines as they came, each read or not.
pub(crate) fn read(body: &[u8]) -> impl Iterator<Item = Result<Sealed, Refused>> + '_ {
    body.split(|byte| *byte == b'\n')
        .filter(|line| !line.is_empty())
        .map(|line| {
            let unread = |words: String| Refused {
                device: None,
                words,
            };
            let text = std::str::from_utf8(line)
                .map_err(|_| unread(say!("a-line-of-the-log-is-not-text")))?;
            let (bytes, by) = match text.split_once('\t') {
                Some((bytes, by)) => (bytes, Some(by)),
                None => (text, None),
            };
            let line = Sealed::read(bytes).map_err(|error| unread(format!("{error}.")))?;
            // What is no signature of a key can't be one of the writer's.
            let signature = by.map(|by| {
                let (key, signature) = by.split_at_checked(KEY_DIGITS).unwrap_or_default();
                Signature {
                    key: key.to_owned(),
                    signature: signature.to_owned(),
                }
            });
            Ok(Sealed { signature, ..line })
        })
}

pub(super) fn take(store: &Store, from: DeviceId, body: &[u8], now_millis: u64) -> Response {
    let mut taken = LinesTaken::default();
    let mut by_device: BTreeMap<DeviceId, Vec<Sealed>> = BTreeMap::new();
    for line in read(body) {
        match line {
            Ok(line) => by_device.entry(line.entry.device).or_default().push(line),
            Err(refused) => taken.refused.push(refused),
        }
    }
    for lines in by_device.into_values() {
        match take_in(store, Source::Device(from), &lines, now_millis) {
            Ok((new, refused)) => {
                taken.new += new;
                taken.refused.extend(refused);
            }
            Err(error) => return or_words(Err(error)),
        }
    }
    taken.refused.truncate(TOLD);
    Response::json(&taken)
}

/// Takes in lines of one device, in order, up to the first that can't be.
pub(crate) fn take_in(
    store: &Store,
    from: Source,
    lines: &[Sealed],
    now_millis: u64,
) -> Result<(u32, Option<Refused>), StoreError> {
    match store.import_from(from, lines, now_millis) {
        Ok(outcome) => return Ok((count_new(&outcome), None)),
        Err(error) if error.is_about_the_line() => {}
        Err(error) => return Err(error),
    }
    // All or none was none: what stands before the bad line is good.
    let mut new = 0;
    for line in lines {
        match store.import_from(from, std::slice::from_ref(line), now_millis) {
            Ok(outcome) => new += count_new(&outcome),
            Err(error) if error.is_about_the_line() => {
                let refused = Refused {
                    device: Some(line.entry.device),
                    words: words(&error),
                };
                return Ok((new, Some(refused)));
            }
            Err(error) => return Err(error),
        }
    }
    Ok((new, None))
}

fn count_new(outcome: &[Imported]) -> u32 {
    outcome.iter().filter(|o| **o == Imported::New).count() as u32
}

fn words(error: &StoreError) -> String {
    match error {
        StoreError::Fork { device, seq, .. } => forked(*device, *seq),
        StoreError::NotItsWriters { device, seq } => say!(
            "line-seq-of-device-device-is-not-signed-by",
            seq = seq,
            device = device
        ),
        StoreError::Database { .. } => say!("a-line-has-an-id-that-another-line"),
        other => format!("{other}."),
    }
}

/// What is said when a device has two histories.
pub(crate) fn forked(device: DeviceId, seq: u64) -> String {
    say!(
        "device-device-has-two-different-histories-at-line",
        device = device,
        seq = seq
    )
}
