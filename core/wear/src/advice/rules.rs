//! The rules themselves. Common practice, no published source.

use swarfbook_job::census::DebrisClass;
use swarfbook_words::{say, term};

use super::{Advice, Rule, RuleFired};
use crate::findings::{ids_of_look, sorted};
use crate::table::WatchRow;
use crate::{
    Band, ChangeVerdict, Evidence, Explained, Finding, FindingKind, FluidLook, Observation,
    ReadingVerdict, Reason, ReasonKind, Smell, Symptom, Trend, words,
};

/// What the rules look at.
pub(crate) struct Known<'a> {
    pub evidence: &'a Evidence,
    pub band: Band,
    pub band_hi: Band,
    pub reasons: &'a [Reason],
    pub findings: &'a [Finding],
    pub trend: Option<&'a Trend>,
    pub watch: &'a WatchRow,
}

/// Every rule that fires.
pub(crate) fn rules(known: &Known) -> Vec<RuleFired> {
    [
        Some(band(known)),
        milky(known),
        foam(known),
        breaking(known),
        slipping(known),
        rising(known),
        doubt(known),
        mend(known),
        not_explained(known),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn band(known: &Known) -> RuleFired {
    let (advice, words) = match known.band {
        Band::Clean => (
            Advice::CarryOn,
            term!("The pan is clean: nothing speaks against finishing the work."),
        ),
        Band::Settled => (
            Advice::CarryOn,
            term!("The debris is what age and distance explain."),
        ),
        Band::Active => (
            Advice::Watch {
                after_km: known.watch.active_km,
            },
            term!(
                "There is more debris than the distance explains: finish, and look into the pan again."
            ),
        ),
        Band::Heavy => (
            Advice::OpenUp,
            term!("A part is coming apart: money spent on the outside may be lost."),
        ),
        Band::Failing => (
            Advice::OpenUp,
            term!("A part has broken or is about to: don't run it."),
        ),
    };
    fired(Rule::Band, advice, words, Vec::new())
}

fn milky(known: &Known) -> Option<RuleFired> {
    let ids = ids_of_look(known.evidence, FluidLook::Milky);
    (!ids.is_empty()).then(|| {
        fired(
            Rule::Milky,
            Advice::OpenUp,
            term!("Coolant or water in the fluid loosens the lining and rusts parts, whatever the debris says."),
            ids,
        )
    })
}

fn foam(known: &Known) -> Option<RuleFired> {
    let ids = ids_of_look(known.evidence, FluidLook::Foamy);
    let advice = Advice::Watch {
        after_km: known.watch.foam_km,
    };
    (!ids.is_empty()).then(|| {
        fired(
            Rule::Foam,
            advice,
            term!("Foam is air by a wrong level, or water: settle which, and look at the fluid again soon."),
            ids,
        )
    })
}

fn breaking(known: &Known) -> Option<RuleFired> {
    let ids = complaints(known, &[Symptom::NoDrive, Symptom::Noise]);
    (known.band >= Band::Active && !ids.is_empty()).then(|| {
        fired(
            Rule::BreakingComplaint,
            Advice::OpenUp,
            term!("Noise or no drive together with fresh debris: the pan shows what the customer hears or feels."),
            ids,
        )
    })
}

fn slipping(known: &Known) -> Option<RuleFired> {
    let slips = complaints(known, &[Symptom::Slips, Symptom::Shudder]);
    let lining: Vec<String> = known
        .reasons
        .iter()
        .filter(|reason| is_lining_flake(reason))
        .flat_map(|reason| reason.sources.iter().cloned())
        .chain(burnt(known.evidence))
        .collect();
    (known.band >= Band::Active && !slips.is_empty() && !lining.is_empty()).then(|| {
        fired(
            Rule::SlippingLining,
            Advice::OpenUp,
            term!("It slips or shudders, and the lining is in the pan or burnt: fresh fluid does not bring lining back."),
            sorted(slips.into_iter().chain(lining)),
        )
    })
}

/// Dust of lining is normal with age; flakes are not.
fn is_lining_flake(reason: &Reason) -> bool {
    matches!(reason.reason, ReasonKind::Debris { class: DebrisClass::Lining, from_mm, .. } if from_mm > 0.0)
}

fn rising(known: &Known) -> Option<RuleFired> {
    let change = known.trend?.change.as_ref()?;
    let advice = Advice::Watch {
        after_km: known.watch.rising_km,
    };
    (change.verdict == ChangeVerdict::MoreThanBefore)
        .then(|| fired(Rule::Rising, advice, &change.words, Vec::new()))
}

fn doubt(known: &Known) -> Option<RuleFired> {
    let advice = Advice::Watch {
        after_km: known.watch.doubt_km,
    };
    (known.band <= Band::Settled && known.band_hi >= Band::Heavy).then(|| {
        fired(
            Rule::Doubt,
            advice,
            term!("What was seen may also mean much more wear than the score says: look again."),
            Vec::new(),
        )
    })
}

fn mend(known: &Known) -> Option<RuleFired> {
    let explaining: Vec<_> = known
        .evidence
        .codes
        .iter()
        .filter(|code| code.explained == Explained::Explains)
        .collect();
    let out: Vec<_> = known
        .evidence
        .readings
        .iter()
        .filter(|reading| reading.verdict == ReadingVerdict::OutOfSpec)
        .collect();
    if known.band > Band::Settled || explaining.is_empty() || out.is_empty() {
        return None;
    }
    let parts = sorted(out.iter().map(|reading| reading.component.clone()));
    let listed = words::list(&parts.iter().map(String::as_str).collect::<Vec<_>>());
    let ids = explaining
        .iter()
        .map(|code| code.id.clone())
        .chain(out.iter().map(|reading| reading.id.clone()));
    Some(fired(
        Rule::MendThePart,
        Advice::CarryOn,
        &say!(
            "Out of spec and named by a code, with little debris: {}. Mend it and carry on; this is not a worn gearbox.",
            listed
        ),
        sorted(ids),
    ))
}

fn not_explained(known: &Known) -> Option<RuleFired> {
    let finding = known
        .findings
        .iter()
        .find(|finding| matches!(finding.finding, FindingKind::NotExplainedYet { .. }))?;
    (known.band <= Band::Settled).then(|| {
        fired(
            Rule::NotExplainedYet,
            Advice::CarryOn,
            term!("The debris speaks for finishing the service; what was complained of or stored is not explained yet and stays open."),
            finding.sources.clone(),
        )
    })
}

fn complaints(known: &Known, wanted: &[Symptom]) -> Vec<String> {
    sorted(
        known
            .evidence
            .symptoms
            .iter()
            .filter(|seen| wanted.contains(&seen.symptom))
            .map(|seen| seen.id.clone()),
    )
}

fn burnt(evidence: &Evidence) -> impl Iterator<Item = String> {
    let burnt = Observation::Smell {
        smell: Smell::Burnt,
    };
    evidence
        .observations
        .iter()
        .filter(move |observed| observed.observation == burnt)
        .map(|observed| observed.id.clone())
}

fn fired(rule: Rule, advice: Advice, words: &str, sources: Vec<String>) -> RuleFired {
    RuleFired {
        rule,
        advice,
        words: words.to_owned(),
        sources,
    }
}
