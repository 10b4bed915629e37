//! Does what was found explain the code? Three answers, each with its reason.
//! The tool never says that anything is mended: only a road test and a code
//! that stays away can.

use serde::{Deserialize, Serialize};
use swarfbook_words::{say, shipped, term};
use ts_rs::TS;

use super::{Code, Nature, Origin, PartKind, Row, Table};
use crate::conformity::Verdict;

/// Whether what was found explains a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// What was found can have set this code.
    Explains,
    /// Not enough is known.
    CantTell,
    /// What was found can't have set this code.
    DoesNotExplain,
}

impl Answer {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Answer::Explains => term!("explains"),
            Answer::CantTell => term!("cant-tell"),
            Answer::DoesNotExplain => term!("does-not-explain"),
        }
    }
}

/// What is known of one part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Finding {
    /// Its name in the maker's diagram.
    pub name: String,
    /// What kind it is.
    pub kind: PartKind,
    /// Which of several like parts (A, B, .. or input, output, lock-up), if known.
    pub role: Option<String>,
    /// Codes that the maker's data tie to it.
    pub codes: Vec<Code>,
    /// What its reading said; `None` when there is none.
    pub verdict: Option<Verdict>,
}

/// The answer for one code.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Explanation {
    /// The one that is asked about.
    pub code: Code,
    /// Whether what was found explains it.
    pub answer: Answer,
    /// Why, a sentence each.
    pub reasons: Vec<String>,
    /// The parts that explain it, by name; empty unless something does.
    pub by: Vec<String>,
}

/// How a code and a part belong together.
enum Link {
    /// The maker's data say so.
    Maker,
    /// The table says so, for this very part.
    ThisPart,
    /// The table names the kind; which one of them is open.
    Kind,
    /// They have nothing to do with each other.
    None,
    /// The code points at no part.
    General,
    /// The table does not know the code.
    Unknown,
}

/// Holds one finding against one code.
pub fn explain(table: &Table, code: Code, finding: &Finding) -> Explanation {
    let row = table.find(code);
    let link = link(row, code, finding);
    let name = &finding.name;
    let function = row.is_some_and(|r| r.nature_of(code) == Nature::Function);
    let speaks = row.map_or_else(String::new, |r| {
        say!("code-speaks-of-says", code = code, says = shipped(&r.says))
    });
    let (answer, reason) = match (link, finding.verdict) {
        (Link::Unknown, _) => (Answer::CantTell, unknown(code)),
        (Link::General, _) => (
            Answer::CantTell,
            say!("code-points-at-no-part-look-at-the", code = code),
        ),
        (Link::None, _) => (
            Answer::DoesNotExplain,
            say!(
                "name-is-not-what-the-code-points-at",
                name = name,
                speaks = speaks
            ),
        ),
        (_, None) => (
            Answer::CantTell,
            say!("name-belongs-to-the-code-but-has-no", name = name),
        ),
        (_, Some(Verdict::TooCloseToCall)) => (
            Answer::CantTell,
            say!("name-belongs-to-the-code-and-its-reading", name = name),
        ),
        (Link::Kind, Some(Verdict::OutOfSpec)) => (
            Answer::CantTell,
            say!(
                "name-is-out-of-spec-and-of-the",
                name = name,
                speaks = speaks
            ),
        ),
        (Link::Kind, Some(Verdict::InSpec)) if function => (
            Answer::DoesNotExplain,
            say!(
                "name-is-in-spec-speaks-look-at-pressure",
                name = name,
                speaks = speaks
            ),
        ),
        (Link::Maker | Link::ThisPart | Link::Kind, Some(Verdict::InSpec)) => (
            Answer::DoesNotExplain,
            say!("name-is-in-spec-with-the-code-still", name = name),
        ),
        (Link::Maker, Some(Verdict::OutOfSpec)) => (
            Answer::Explains,
            say!(
                "name-is-out-of-spec-and-the-makers",
                name = name,
                code = code
            ),
        ),
        (Link::ThisPart, Some(Verdict::OutOfSpec)) if function => (
            Answer::Explains,
            say!(
                "name-is-out-of-spec-speaks-pressure-wear",
                name = name,
                speaks = speaks
            ),
        ),
        (Link::ThisPart, Some(Verdict::OutOfSpec)) => (
            Answer::Explains,
            say!("name-is-out-of-spec-speaks", name = name, speaks = speaks),
        ),
    };
    Explanation {
        code,
        answer,
        reasons: vec![reason],
        by: (answer == Answer::Explains)
            .then(|| name.clone())
            .into_iter()
            .collect(),
    }
}

/// Holds all findings against each code; the strongest answer counts, and a
/// finding that says nothing of a code is left out where another does.
pub fn explain_all(table: &Table, codes: &[Code], findings: &[Finding]) -> Vec<Explanation> {
    codes
        .iter()
        .map(|code| {
            let all: Vec<Explanation> = findings.iter().map(|f| explain(table, *code, f)).collect();
            let Some(answer) = all.iter().map(|e| e.answer).min() else {
                return Explanation {
                    code: *code,
                    answer: Answer::CantTell,
                    reasons: vec![say!("no-part-has-been-read-yet")],
                    by: Vec::new(),
                };
            };
            let mut strongest = Explanation {
                code: *code,
                answer,
                reasons: Vec::new(),
                by: Vec::new(),
            };
            for one in all.into_iter().filter(|e| e.answer == answer) {
                strongest.reasons.extend(one.reasons);
                strongest.by.extend(one.by);
            }
            strongest.reasons.dedup();
            strongest.by.dedup();
            strongest
        })
        .collect()
}

fn link(row: Option<&Row>, code: Code, finding: &Finding) -> Link {
    if finding.codes.iter().any(|c| c.base() == code.base()) {
        return Link::Maker;
    }
    let Some(row) = row else {
        return Link::Unknown;
    };
    if row.nature == Nature::General {
        return Link::General;
    }
    if !row.parts.contains(&finding.kind) {
        return Link::None;
    }
    match (&row.role, &finding.role) {
        (Some(wanted), Some(has)) if wanted.eq_ignore_ascii_case(has.trim()) => Link::ThisPart,
        (Some(wanted), Some(has)) if !row.only_one && same_kind_of_name(wanted, has) => Link::None,
        _ if row.only_one => Link::ThisPart,
        _ => Link::Kind,
    }
}

/// Letters can be told from letters and words from words; whether "A" is the
/// one for "lock-up" only the maker's diagram says.
fn same_kind_of_name(a: &str, b: &str) -> bool {
    let is_letter = |name: &str| name.trim().chars().count() == 1;
    is_letter(a) == is_letter(b)
}

fn unknown(code: Code) -> String {
    match code.structure().origin {
        Origin::Maker => say!("code-is-the-makers-own-code-look-it", code = code),
        _ => say!("code-is-not-in-the-table-look-it", code = code),
    }
}
