//! Codes before the work held against codes after it.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use super::{Code, Status};

/// A code as it was read at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Held {
    /// In its one form.
    pub code: Code,
    /// It is stored, not only pending.
    pub stored: bool,
    /// Its status byte, where the reader shows one.
    pub status: Option<Status>,
}

/// What became of a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Became {
    /// It was there before and is no more.
    Gone,
    /// Stored before, only pending after.
    OnlyPending,
    /// Pending before, stored after.
    NowStored,
    /// As before.
    StillThere,
    /// It was not there before.
    New,
}

/// One code, before against after.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Change {
    /// In its one form.
    pub code: Code,
    /// What became of it.
    pub became: Became,
    /// In a sentence. Never "mended": only a road test and time show that.
    pub words: String,
}

/// Each code of either moment once: those of before in their order, then the
/// new ones. A failure type byte belongs to the code: P0741-1C and P0741-13
/// are two codes.
pub fn changes(before: &[Held], after: &[Held]) -> Vec<Change> {
    let of = |list: &[Held], code: Code| list.iter().find(|h| h.code == code).copied();
    let old = before.iter().map(|b| told(Some(*b), of(after, b.code)));
    let new = after
        .iter()
        .filter(|a| of(before, a.code).is_none())
        .map(|a| told(None, Some(*a)));
    old.chain(new).flatten().collect()
}

fn told(before: Option<Held>, after: Option<Held>) -> Option<Change> {
    let code = before.or(after)?.code;
    let became = match (before, after) {
        (Some(_), None) => Became::Gone,
        (None, Some(_)) => Became::New,
        (Some(b), Some(a)) => match (b.stored, a.stored) {
            (true, false) => Became::OnlyPending,
            (false, true) => Became::NowStored,
            _ => Became::StillThere,
        },
        (None, None) => return None,
    };
    let now = match became {
        Became::Gone => say!("was-there-before-is-not-there-now"),
        Became::OnlyPending => {
            say!("was-stored-is-only-pending-now-it-was")
        }
        Became::NowStored => say!("was-pending-is-stored-now"),
        Became::StillThere => say!("is-there-as-before"),
        Became::New => say!("was-not-there-before-it-is-new"),
    };
    let status = after
        .and_then(|a| a.status)
        .map_or_else(String::new, |s| format!(" {}", s.words()));
    Some(Change {
        code,
        became,
        words: format!("{code} {now}{status}"),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn held(code: &str, stored: bool, status: Option<u8>) -> Held {
        Held {
            code: code.parse().unwrap(),
            stored,
            status: status.map(Status::from_byte),
        }
    }

    /// Every pair of moments, common practice.
    #[test]
    fn each_code_is_told_once_with_what_became_of_it() {
        let before = [
            held("P0753", true, None),
            held("P0741-1C", true, None),
            held("P0868", false, None),
            held("U0100", true, None),
        ];
        let after = [
            held("P0868", true, None),
            held("U0100", true, Some(0x09)),
            held("P0741-1C", false, None),
            held("P0741-13", true, Some(0x50)),
        ];
        let told: Vec<_> = changes(&before, &after)
            .into_iter()
            .map(|c| (c.code.to_string(), c.became, c.words))
            .collect();
        let kinds: Vec<_> = told.iter().map(|(c, b, _)| (c.as_str(), *b)).collect();
        assert_eq!(
            kinds,
            [
                ("P0753", Became::Gone),
                ("P0741-1C", Became::OnlyPending),
                ("P0868", Became::NowStored),
                ("U0100", Became::StillThere),
                ("P0741-13", Became::New),
            ]
        );
        assert!(told[3].2.contains("It fails now."), "{}", told[3].2);
        assert!(told[4].2.contains("drive before you believe"));
        assert!(
            told.iter()
                .all(|(_, _, w)| !w.contains("mended") && !w.contains("fixed"))
        );
    }

    #[test]
    fn nothing_before_and_nothing_after_is_nothing_to_tell() {
        assert_eq!(changes(&[], &[]), []);
    }
}
