//! What is found beside the score: never averaged into it.

use serde::{Deserialize, Serialize};
use swarfbook_words::{say, term};
use ts_rs::TS;

use crate::{Band, Evidence, Explained, FluidLook, Observation, Verdict, words};

/// A finding of its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Finding {
    /// What it is.
    pub finding: FindingKind,
    /// In plain words.
    pub words: String,
    /// What it comes from, by the ids given in.
    pub sources: Vec<String>,
}

/// The findings there are.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum FindingKind {
    /// Coolant or water in the fluid.
    Milky,
    /// Air or water in the fluid.
    Foam,
    /// What was found explains a code.
    Explained {
        /// In its one form: "P0741".
        code: String,
    },
    /// Codes, or a complaint, that nothing found explains yet.
    NotExplainedYet {
        /// The codes; none when it is the complaint alone.
        codes: Vec<String>,
    },
    /// A reading that can't be called.
    ToConfirm {
        /// The part's name, as it was noted.
        component: String,
    },
}

/// Every finding, in the order of their weight.
pub(crate) fn findings(evidence: &Evidence, band: Band) -> Vec<Finding> {
    let mut findings = Vec::new();
    findings.extend(looks(
        evidence,
        FluidLook::Milky,
        FindingKind::Milky,
        term!("the-fluid-is-milky-coolant-or-water-is"),
    ));
    findings.extend(looks(
        evidence,
        FluidLook::Foamy,
        FindingKind::Foam,
        term!("the-fluid-foams-air-or-water-is-in"),
    ));
    findings.extend(explained(evidence));
    findings.extend(not_explained(evidence, band));
    findings.extend(to_confirm(evidence));
    findings
}

/// The ids of one look of the fluid.
pub(crate) fn ids_of_look(evidence: &Evidence, look: FluidLook) -> Vec<String> {
    let wanted = Observation::Fluid { look };
    sorted(
        evidence
            .observations
            .iter()
            .filter(|observed| observed.observation == wanted)
            .map(|observed| observed.id.clone()),
    )
}

fn looks(
    evidence: &Evidence,
    look: FluidLook,
    finding: FindingKind,
    words: &str,
) -> Option<Finding> {
    let sources = ids_of_look(evidence, look);
    (!sources.is_empty()).then(|| Finding {
        finding,
        words: words.to_owned(),
        sources,
    })
}

fn explained(evidence: &Evidence) -> Vec<Finding> {
    let mut found: Vec<Finding> = evidence
        .codes
        .iter()
        .filter(|code| code.explained == Explained::Explains)
        .map(|code| Finding {
            finding: FindingKind::Explained {
                code: code.code.clone(),
            },
            words: match &code.by {
                Some(by) => say!("by-explains-code-code", by = by, code = code.code),
                None => say!("what-was-found-explains-code-code", code = code.code),
            },
            sources: vec![code.id.clone()],
        })
        .collect();
    found.sort_by(|a, b| a.words.cmp(&b.words));
    found
}

fn not_explained(evidence: &Evidence, band: Band) -> Option<Finding> {
    let open: Vec<_> = evidence
        .codes
        .iter()
        .filter(|code| code.explained != Explained::Explains)
        .collect();
    let codes = sorted(open.iter().map(|code| code.code.clone()));
    let tested = !evidence.readings.is_empty();
    let all_in_spec = evidence
        .readings
        .iter()
        .all(|reading| reading.verdict == Verdict::InSpec);
    let next = match (tested, all_in_spec) {
        (false, _) => say!("nothing-was-tested-yet"),
        (true, true) => {
            say!("all-that-was-tested-is-in-spec-look")
        }
        (true, false) => say!("what-is-out-of-spec-does-not-explain"),
    };
    if !codes.is_empty() {
        let listed = words::list(&codes.iter().map(String::as_str).collect::<Vec<_>>());
        return Some(Finding {
            words: say!(
                "codes-not-explained-yet",
                n = codes.len(),
                listed = listed,
                next = next
            ),
            finding: FindingKind::NotExplainedYet { codes },
            sources: sorted(open.iter().map(|code| code.id.clone())),
        });
    }
    // No code: a complaint, a pan that does not speak for wear, and all in spec.
    let quiet = evidence.codes.is_empty() && band <= Band::Settled;
    (quiet && tested && all_in_spec && !evidence.symptoms.is_empty()).then(|| Finding {
        finding: FindingKind::NotExplainedYet { codes: Vec::new() },
        words: say!("the-complaint-not-explained-yet-next", next = next),
        sources: sorted(evidence.symptoms.iter().map(|symptom| symptom.id.clone())),
    })
}

fn to_confirm(evidence: &Evidence) -> Vec<Finding> {
    let mut found: Vec<Finding> = evidence
        .readings
        .iter()
        .filter(|reading| reading.verdict == Verdict::TooCloseToCall)
        .map(|reading| Finding {
            finding: FindingKind::ToConfirm {
                component: reading.component.clone(),
            },
            words: say!(
                "component-too-close-to-call-take-it-again",
                component = reading.component
            ),
            sources: vec![reading.id.clone()],
        })
        .collect();
    found.sort_by(|a, b| (&a.words, &a.sources).cmp(&(&b.words, &b.sources)));
    found
}

pub(crate) fn sorted(ids: impl Iterator<Item = String>) -> Vec<String> {
    let mut ids: Vec<String> = ids.collect();
    ids.sort();
    ids.dedup();
    ids
}
