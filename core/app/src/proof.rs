//! Whether a report is whole and genuine, and whether it is of this shop.

use swarfbook_job::fact::Fact;
use swarfbook_job::fold::fold;
use swarfbook_job::id::{DeviceId, JobId, Sha256Hex};
pub use swarfbook_seal::{Fault, Statement, fingerprint};

use swarfbook_store::Store;

use crate::present;
use crate::problem::Problem;
use crate::state::App;
pub use crate::view::ReportStanding;

/// Checks a report's file, HTML or PDF. Needs no store.
///
/// # Errors
/// All that is wrong with it.
pub fn check(file: &[u8]) -> Result<Statement, Vec<Fault>> {
    swarfbook_seal::verify(file)
}

/// What this store knows of a report that is whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// Whose key it is: this device's, a paired one's by its name, or that of a device whose
    /// lines are here.
    pub signer: Option<String>,
    /// Lines that the report was made from and this store does not have.
    pub absent: Vec<(DeviceId, u64)>,
    /// Lines that this store has otherwise than the report states.
    pub other: Vec<(DeviceId, u64)>,
    /// Whether the shop still stands by it; `None` when no line here says that this
    /// very file was made.
    pub standing: Option<ReportStanding>,
}

impl App {
    /// Holds a report's file and what it states against the log and the keys of this store.
    ///
    /// # Errors
    /// A [`Problem`] when the store can't be read.
    pub fn knows(&self, file: &[u8], statement: &Statement) -> Result<Known, Problem> {
        let store = self.store();
        let own = crate::serve::sync::own_key(store)?.public_hex();
        let signer = if own == statement.key {
            Some("this device".to_owned())
        } else {
            signer(store, &statement.key)?
        };
        let mut known = Known {
            signer,
            absent: Vec::new(),
            other: Vec::new(),
            standing: standing(store, statement.made.job, Sha256Hex::of(file))?,
        };
        for (device, head) in &statement.made.heads {
            let before = head.seq.saturating_sub(1);
            match store.entries_after(*device, before, 1)?.first() {
                Some(line) if line.entry.seq == head.seq && line.hash == head.hash => {}
                Some(line) if line.entry.seq == head.seq => known.other.push((*device, head.seq)),
                _ => known.absent.push((*device, head.seq)),
            }
        }
        Ok(known)
    }
}

/// Whose key it is, of others than this device: a paired one's, or that of a device whose
/// lines are here, as of one that was lost and removed.
fn signer(store: &Store, key: &str) -> Result<Option<String>, Problem> {
    let mut peers = store.peers()?.into_iter();
    if let Some(peer) = peers.find(|peer| peer.public_key == key) {
        return Ok(Some(peer.name));
    }
    let Some(device) = store.writer_with(key)? else {
        return Ok(None);
    };
    Ok(Some(if store.earlier_names()?.contains(&device) {
        format!("this device before it was restored ({device})")
    } else {
        format!("the device {device}, whose lines are here and which is not paired")
    }))
}

/// How the report with these bytes stands. One whose making was taken back is
/// as good as withdrawn.
fn standing(
    store: &Store,
    job: JobId,
    sha256: Sha256Hex,
) -> Result<Option<ReportStanding>, Problem> {
    let state = fold(job, &store.entries(job)?);
    if let Some(report) = state.report(sha256) {
        return Ok(Some(present::standing(&state, report)));
    }
    let taken_back = state.lines.iter().find_map(|line| {
        let made = matches!(&line.fact, Some(Fact::ReportMade { sha256: of, .. }) if *of == sha256);
        line.retracted_by.filter(|_| made)
    });
    let back = state
        .lines
        .iter()
        .find(|line| Some(line.stamp.entry) == taken_back);
    Ok(back.map(|line| ReportStanding::Withdrawn {
        at: present::time(&line.stamp.wall),
        reason: match &line.fact {
            Some(Fact::Retracted { reason, .. }) => reason.clone().unwrap_or_default(),
            _ => String::new(),
        },
    }))
}
