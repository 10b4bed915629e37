//! Which lines may be taken back.

use swarfbook_job::fact::Fact;
use swarfbook_job::fold::{JobState, LineState};
use swarfbook_job::id::DeviceId;

/// The line that undo takes back: the last that counts, written on this device by who asks,
/// that is not itself a taking back, and that a person wrote. A tick that came by itself
/// goes with the line that brought it. Without a name, whoever wrote on this device.
pub fn last_undoable<'a>(
    state: &'a JobState,
    device: DeviceId,
    name: Option<&str>,
) -> Option<&'a LineState> {
    let last = state.lines.iter().rev().find(|line| {
        line.stamp.device == device
            && name.is_none_or(|name| name == line.stamp.hand.name)
            && line.retracted_by.is_none()
            && retractable(line)
            && !matches!(
                line.fact,
                Some(Fact::Retracted { .. } | Fact::CensusMade { .. })
            )
    });
    match last.map(|line| &line.fact) {
        Some(Some(Fact::StepSettled { by, .. })) => {
            state.lines.iter().find(|line| line.stamp.entry == *by)
        }
        _ => last,
    }
}

/// A line that a person may take back at all.
pub fn retractable(line: &LineState) -> bool {
    !matches!(
        line.fact,
        // What the customer said is theirs to change, by answering again. Who wrote, in
        // which units and with which tools, is a part of every line behind it.
        Some(
            Fact::Opened { .. }
                | Fact::CustomerAnswered { .. }
                | Fact::WrittenBy { .. }
                | Fact::WrittenIn { .. }
                | Fact::MeasuredWith { .. }
        )
    )
}
