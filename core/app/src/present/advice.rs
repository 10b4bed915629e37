//! Score, advice and decision in words.

use std::collections::BTreeSet;

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::{Decision, JobState};
use swarfbook_judge::grave::{FAR_KM, Grave};
use swarfbook_judge::wear;
use swarfbook_wear::{Advice, Assessment, PieceAt};
use swarfbook_words::{say, term, within};

/// An advice in words.
pub(crate) fn choice_words(choice: AdviceChoice) -> &'static str {
    match choice {
        AdviceChoice::CarryOn => term!("finish-the-work"),
        AdviceChoice::Watch => term!("watch"),
        AdviceChoice::TestFirst => term!("test-first"),
        AdviceChoice::OpenUp => term!("open-up"),
    }
}

/// What the tool advises, in a sentence. A part that failed comes first, and no far look
/// again stands beside it.
pub(crate) fn advice_words(assessment: &Assessment, grave: &Grave) -> String {
    let advised = assessment.advice.advised;
    let names: Vec<&str> = grave
        .parts_out
        .iter()
        .map(|part| part.name.as_str())
        .collect();
    match advised {
        Advice::CarryOn if !names.is_empty() => {
            say!(
                "replace-names-first-then-finish-the-work",
                names = names.join(", ")
            )
        }
        Advice::Watch { after_km } if !names.is_empty() && after_km > FAR_KM => say!(
            "replace-names-first-then-finish-the-work-and",
            names = names.join(", ")
        ),
        _ => advised.words(),
    }
}

/// What was decided, in words; against the advice with that and with why.
pub(crate) fn decision_words(decided: &Decision) -> String {
    let chosen = choice_words(decided.chosen);
    if decided.chosen == decided.advised {
        return chosen.to_owned();
    }
    say!(
        "chosen-the-tool-advised-choice-why-it-was",
        chosen = chosen,
        choice = choice_words(decided.advised),
        reason = decided.reason.as_deref().unwrap_or_default()
    )
}

/// What score and advice would be without the pieces that nobody looked at and that are not sure.
pub(crate) fn without_words(assessment: &Assessment) -> Option<String> {
    let without = assessment.without_doubtful.as_ref()?;
    let pieces = u32::try_from(without.pieces).unwrap_or(u32::MAX);
    Some(say!(
        "without-count-that-the-machine-is-not-sure",
        count = say!("n-pieces", n = pieces),
        score = without.score.score,
        lo = without.score.lo,
        hi = without.score.hi,
        band = within(without.band.words()),
        name = within(without.advised.name())
    ))
}

/// A reason as it is told: one that hardly counts is told together with its like.
pub(crate) struct Told {
    pub words: String,
    /// Its share of the hazard, 0 to 1.
    pub share: f64,
    pub sources: Vec<String>,
    pub pieces: Vec<PieceAt>,
}

/// Reasons that weigh less are told together.
const LEAST_SHARE: f64 = 0.01;

/// The reasons, heaviest first; nobody reads twenty shares of less than 1 %.
pub(crate) fn told(assessment: &Assessment) -> Vec<Told> {
    let all = &assessment.reasons;
    let n = all.iter().take_while(|r| r.share >= LEAST_SHARE).count();
    // One alone is told like the others.
    let n = if n + 1 == all.len() { all.len() } else { n };
    let (heavy, rest) = all.split_at(n);
    let mut told: Vec<Told> = heavy
        .iter()
        .map(|reason| Told {
            words: reason.words.clone(),
            share: reason.share,
            sources: reason.sources.clone(),
            pieces: reason.pieces.clone(),
        })
        .collect();
    if !rest.is_empty() {
        let number = u32::try_from(rest.len()).unwrap_or(u32::MAX);
        let sources: BTreeSet<String> = rest.iter().flat_map(|r| r.sources.clone()).collect();
        told.push(Told {
            words: say!(
                "count-each-of-less-than-1-percent",
                count = say!("n-other-reasons", n = number)
            ),
            share: rest.iter().map(|r| r.share).sum(),
            sources: sources.into_iter().collect(),
            pieces: rest.iter().flat_map(|r| r.pieces.clone()).collect(),
        });
    }
    told
}

/// That the decision was to test first, as advised, and the log does not advise it any more.
pub(crate) fn tested(state: &JobState, advised: Option<AdviceChoice>) -> Option<String> {
    let now = wear::tested(state, advised)?;
    Some(say!(
        "what-was-to-be-tested-first-was-tested",
        choice = choice_words(now)
    ))
}

/// Why the decision that stands is older than the evidence; `None` where it stands.
pub(crate) fn outdated(state: &JobState, advised: Option<AdviceChoice>) -> Option<String> {
    let now = wear::outdated(state, advised)?;
    let decided = state.decision.as_ref()?;
    Some(say!(
        "the-decision-choice-is-older-than-the-evidence",
        choice = choice_words(decided.chosen),
        choice_2 = choice_words(now)
    ))
}
