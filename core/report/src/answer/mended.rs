//! Whether the complaint was mended: the road test says so, and nothing else.

use super::{ComplaintNow, Situation};
use crate::words::Words;
use swarfbook_words::id;

/// In one sentence; `complained` where the customer told of a fault.
pub fn mended(situation: &Situation, complained: bool, words: &Words) -> String {
    words.get(path(situation, complained)).to_owned()
}

fn path(situation: &Situation, complained: bool) -> &'static str {
    match situation.complaint_now {
        Some(ComplaintNow::Gone) if situation.fault_is_open() => id!("report-mended-gone-open"),
        Some(ComplaintNow::Gone) => id!("report-mended-gone"),
        Some(ComplaintNow::Better) => id!("report-mended-better"),
        Some(ComplaintNow::Same) => id!("report-mended-same"),
        Some(ComplaintNow::Worse) => id!("report-mended-worse"),
        None if !complained => id!("report-mended-none"),
        None if situation.finished => id!("report-mended-untested"),
        None => id!("report-mended-not-yet"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(now: Option<ComplaintNow>, complained: bool, finished: bool, open: bool) -> String {
        let situation = Situation {
            complaint_now: now,
            finished,
            not_explained: open,
            ..Situation::default()
        };
        mended(&situation, complained, &Words::of("en"))
    }

    #[test]
    fn nothing_but_the_road_test_says_that_it_is_mended() {
        let gone = said(Some(ComplaintNow::Gone), true, true, false);
        assert!(gone.starts_with("Yes, as far as the road test shows"));
        for other in [
            said(None, true, true, false),
            said(None, true, false, false),
            said(None, false, true, false),
            said(Some(ComplaintNow::Gone), true, true, true),
            said(Some(ComplaintNow::Better), true, true, false),
            said(Some(ComplaintNow::Same), true, true, false),
            said(Some(ComplaintNow::Worse), true, true, false),
        ] {
            assert!(!other.starts_with("Yes"), "{other}");
        }
    }
}
