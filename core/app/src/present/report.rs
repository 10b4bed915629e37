//! Reports that were made, and whether they still stand.

use swarfbook_job::fold::{JobState, ReportState};

use super::time;
use crate::view::{ReportStanding, ReportView};

/// All of them, oldest first.
pub(super) fn reports(state: &JobState) -> Vec<ReportView> {
    let shared = |report: &ReportState| {
        let mut shares = state.shares.iter();
        shares.any(|share| share.share.report == report.sha256)
    };
    let each = state.reports.iter();
    each.map(|report| ReportView {
        entry: report.stamp.entry,
        made: time(&report.stamp.wall),
        form: report.form,
        shared: shared(report),
        standing: standing(state, report),
    })
    .collect()
}

/// Withdrawn goes before superseded: it says more.
pub(crate) fn standing(state: &JobState, report: &ReportState) -> ReportStanding {
    if let Some(withdrawn) = &report.withdrawn {
        return ReportStanding::Withdrawn {
            at: time(&withdrawn.stamp.wall),
            reason: withdrawn.reason.clone(),
        };
    }
    match state.superseded_by(report) {
        Some(later) => ReportStanding::Superseded {
            at: time(&later.stamp.wall),
        },
        None => ReportStanding::Stands,
    }
}
