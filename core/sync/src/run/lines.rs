//! Lines of the log, there and back.

use std::ops::Deref;

use swarfbook_job::id::DeviceId;
use swarfbook_store::{Source, Store};
use swarfbook_words::say;

use super::{Outcome, SyncError, calls};
use crate::message::{LINES_BYTES, Refused, Standing};
use crate::peer::{Peer, PeerError};
use crate::serve::{forked, read_lines, standing, take_in, write_lines};

/// Sends what the hub lacks, each device's lines from where the hub's end.
pub(super) fn push<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    theirs: &Standing,
    outcome: &mut Outcome,
) -> Result<(), SyncError> {
    let ours = standing(&store())?;
    for (device, head) in &ours.heads {
        let mut after = theirs.heads.get(device).map_or(0, |head| head.seq);
        if let Some(same) = theirs.heads.get(device)
            && same.seq == head.seq
            && same.hash != head.hash
        {
            outcome.refused.push(Refused {
                device: Some(*device),
                words: forked(*device, head.seq),
            });
        }
        while after < head.seq {
            let lines = store().entries_after(*device, after, LINES_BYTES)?;
            let Some(last) = lines.last() else { break };
            let last = last.entry.seq;
            let taken = calls::push_lines(hub, write_lines(&lines, theirs.signatures))?;
            outcome.lines_sent += taken.new;
            if !taken.refused.is_empty() {
                // The lines after would not fit either.
                outcome.refused.extend(taken.refused);
                break;
            }
            after = last;
            outcome.hub_heads.insert(*device, after);
        }
    }
    Ok(())
}

/// Takes in what is not here.
pub(super) fn pull<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    theirs: &Standing,
    now_millis: u64,
    outcome: &mut Outcome,
) -> Result<(), SyncError> {
    for (device, head) in &theirs.heads {
        let mut after = store().head(*device)?.0;
        while after < head.seq {
            match pull_some(store, hub, *device, after, now_millis, outcome)? {
                Some(last) => after = last,
                None => break,
            }
        }
    }
    Ok(())
}

/// Takes in some lines of a device; the number of the last, when all went well.
fn pull_some<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    device: DeviceId,
    after: u64,
    now_millis: u64,
    outcome: &mut Outcome,
) -> Result<Option<u64>, SyncError> {
    let body = calls::lines(hub, device, after)?;
    let mut lines = Vec::new();
    for line in read_lines(&body) {
        match line {
            Ok(line) if line.entry.device == device => lines.push(line),
            Ok(_) => {
                return Err(PeerError::Garbled(say!("lines-of-a-device-not-asked-for")).into());
            }
            Err(refused) => {
                outcome.refused.push(Refused {
                    device: Some(device),
                    ..refused
                });
                break;
            }
        }
    }
    let Some(last) = lines.last().map(|line| line.entry.seq) else {
        return Ok(None);
    };
    let (new, refused) = take_in(&store(), Source::Hub, &lines, now_millis)?;
    outcome.lines_taken += new;
    let went_well = refused.is_none();
    outcome.refused.extend(refused);
    Ok((went_well && last > after).then_some(last))
}
