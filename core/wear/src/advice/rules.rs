//! The rules themselves. Common practice, no published source.

mod debris;

use swarfbook_job::census::DebrisClass;
use swarfbook_words::{say, term};

use debris::{running_in, sealant, swarf, yellow_metal};

use super::{Advice, NextTest, Rule, RuleFired};
use crate::findings::{ids_of_look, sorted};
use crate::table::WatchRow;
use crate::{
    Band, ChangeVerdict, Evidence, Explained, Finding, FindingKind, FluidLook, Group, Observation,
    Reason, ReasonKind, Smell, Symptom, Trend, Verdict, words,
};

/// What the rules look at.
pub(crate) struct Known<'a> {
    pub evidence: &'a Evidence,
    pub band: Band,
    pub band_hi: Band,
    /// Distance that the score reckons with, km.
    pub km: f64,
    pub distance_known: bool,
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
        converter(known),
        symptom(known),
        identify(known),
        grains(known),
        yellow_metal(known),
        swarf(known),
        running_in(known),
        neglect(known),
        rising(known),
        doubt(known),
        mend(known),
        not_explained(known),
        sealant(known),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn band(known: &Known) -> RuleFired {
    let (advice, words) = match known.band {
        Band::Clean => (Advice::CarryOn, term!("the-pan-is-clean-its-debris-is-no")),
        Band::Settled => (
            Advice::CarryOn,
            term!("the-debris-is-what-age-and-distance-explain"),
        ),
        Band::Active => (
            Advice::Watch {
                after_km: known.watch.active_km,
            },
            term!("there-is-more-debris-than-the-distance-explains"),
        ),
        Band::Heavy => (
            Advice::OpenUp,
            term!("a-part-is-coming-apart-money-spent-on"),
        ),
        Band::Failing => (Advice::OpenUp, term!("a-part-has-broken-or-is-about-to")),
    };
    fired(Rule::Band, advice, words, Vec::new())
}

fn milky(known: &Known) -> Option<RuleFired> {
    let ids = ids_of_look(known.evidence, FluidLook::Milky);
    (!ids.is_empty()).then(|| {
        fired(
            Rule::Milky,
            Advice::TestFirst,
            term!("milky-fluid-is-proved-first-if-it-is"),
            ids,
        )
        .asking(&[NextTest::StandOrCrackle, NextTest::CoolerPressure])
    })
}

fn foam(known: &Known) -> Option<RuleFired> {
    let foam = ids_of_look(known.evidence, FluidLook::Foamy);
    if foam.is_empty() {
        return None;
    }
    let noise = complaints(known, &[Symptom::Noise]);
    let light = debris_of(known, |class, _| class == DebrisClass::LightMetal);
    if noise.is_empty() && light.is_empty() {
        let advice = Advice::Watch {
            after_km: known.watch.foam_km,
        };
        let words = term!("foam-is-air-by-a-wrong-level-or");
        return Some(fired(Rule::Foam, advice, words, foam).asking(&[NextTest::Level]));
    }
    let ids = foam.into_iter().chain(noise).chain(light);
    Some(
        fired(
            Rule::Foam,
            Advice::TestFirst,
            term!("foam-together-with-a-whine-or-aluminium-the"),
            sorted(ids),
        )
        .asking(&[NextTest::Level, NextTest::PickUpSeal, NextTest::Pump]),
    )
}

fn breaking(known: &Known) -> Option<RuleFired> {
    let ids = complaints(known, &[Symptom::NoDrive, Symptom::Noise]);
    (known.band >= Band::Active && !ids.is_empty()).then(|| {
        fired(
            Rule::BreakingComplaint,
            Advice::OpenUp,
            term!("noise-or-no-drive-together-with-fresh-debris"),
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
            term!("it-slips-or-shudders-and-friction-material-is"),
            sorted(slips.into_iter().chain(lining)),
        )
    })
}

/// Dust of lining is normal with age; flakes are not.
fn is_lining_flake(reason: &Reason) -> bool {
    matches!(reason.reason, ReasonKind::Debris { class: DebrisClass::Lining, from_mm, .. } if from_mm > 0.0)
}

/// Shudder at steady speed is the converter's lock-up until it is shown to be something else.
fn converter(known: &Known) -> Option<RuleFired> {
    let shudder = complaints(known, &[Symptom::Shudder]);
    if shudder.is_empty() || slipping(known).is_some() {
        return None;
    }
    let glitter = ids_of_look(known.evidence, FluidLook::Glittering);
    let words = if glitter.is_empty() {
        term!("shudder-at-steady-speed-the-converters-lock-up")
    } else {
        term!("glitter-in-the-fluid-and-a-shudder-at")
    };
    let ids = sorted(shudder.into_iter().chain(glitter));
    Some(
        fired(Rule::Converter, Advice::TestFirst, words, ids)
            .asking(&[NextTest::Level, NextTest::Converter]),
    )
}

/// What the customer feels, and neither the pan nor a part out of spec explains.
fn symptom(known: &Known) -> Option<RuleFired> {
    use NextTest::{ElectricalParts, FilterAndPickUp, Level, LinePressure, Outside, Pump};
    if known.band > Band::Active || breaking(known).is_some() || slipping(known).is_some() {
        return None;
    }
    let asked: [(Symptom, &[NextTest]); 5] = [
        (
            Symptom::NoDrive,
            &[Level, FilterAndPickUp, Pump, LinePressure],
        ),
        (Symptom::Slips, &[Level, FilterAndPickUp, LinePressure]),
        (Symptom::Harsh, &[Level, ElectricalParts, LinePressure]),
        (Symptom::Noise, &[Level, FilterAndPickUp, Pump, Outside]),
        (Symptom::Other, &[Level, ElectricalParts, LinePressure]),
    ];
    let mut ids = Vec::new();
    let mut tests = Vec::new();
    for (symptom, of) in asked {
        let seen = complaints(known, &[symptom]);
        if !seen.is_empty() && !is_explained(known, symptom) {
            ids.extend(seen);
            tests.extend_from_slice(of);
        }
    }
    let mut felt = known.evidence.symptoms.iter();
    let words = if felt.all(|seen| seen.symptom == Symptom::Other) {
        term!("the-pan-does-not-explain-what-the-customer")
    } else {
        term!("the-pan-does-not-explain-what-the-customer-feels")
    };
    (!ids.is_empty()).then(|| {
        fired(
            Rule::Symptom,
            Advice::TestFirst,
            words,
            sorted(ids.into_iter()),
        )
        .asking(&tests)
    })
}

/// A part out of spec that a code names brings about bad shifts and slip. It makes no
/// noise, takes not all drive away, and what else is felt it may not be. Common practice,
/// no published source.
fn is_explained(known: &Known, symptom: Symptom) -> bool {
    let mut codes = known.evidence.codes.iter();
    matches!(symptom, Symptom::Slips | Symptom::Harsh)
        && codes.any(|code| code.explained == Explained::Explains)
}

/// Pieces that size says are broken off, and nobody has named.
fn identify(known: &Known) -> Option<RuleFired> {
    let large = debris_of(known, |class, from_mm| {
        class.named_from_mm().is_some_and(|least| from_mm >= least)
    });
    let plastic = debris_of(known, |class, from_mm| {
        class == DebrisClass::Plastic && from_mm >= 3.0
    });
    let roller = debris_of(known, |class, from_mm| {
        class == DebrisClass::SteelSliver && from_mm >= 7.0
    });
    let lining = debris_of(known, |class, from_mm| {
        class == DebrisClass::Lining && from_mm >= 2.0
    });
    if large.is_empty() {
        return None;
    }
    let words = if !roller.is_empty() {
        term!("a-piece-so-long-is-a-needle-a")
    } else if !plastic.is_empty() {
        term!("plastic-of-this-size-is-harmless-as-an")
    } else if !lining.is_empty() {
        term!("paper-gasket-can-look-like-friction-material-in")
    } else {
        term!("a-piece-of-this-size-broke-off-look")
    };
    let advice = if plastic.is_empty() {
        Advice::Watch {
            after_km: known.watch.active_km,
        }
    } else {
        Advice::TestFirst
    };
    Some(fired(Rule::Identify, advice, words, large).asking(&[NextTest::Piece]))
}

fn grains(known: &Known) -> Option<RuleFired> {
    let ids: Vec<String> = known
        .reasons
        .iter()
        .filter(|reason| matches!(reason.reason, ReasonKind::Debris { grains: true, .. }))
        .flat_map(|reason| reason.sources.iter().cloned())
        .collect();
    (!ids.is_empty()).then(|| {
        fired(
            Rule::Grains,
            Advice::Watch {
                after_km: known.watch.active_km,
            },
            term!("steel-in-grains-like-sand-is-the-worst"),
            sorted(ids.into_iter()),
        )
    })
}

/// From which share of the score age explains most of it.
const MOST: f64 = 0.5;
/// Nobody calls it neglect before this distance, km.
const NEGLECT_FROM_KM: f64 = 100_000.0;

fn neglect(known: &Known) -> Option<RuleFired> {
    let of = || {
        let reasons = known.reasons.iter();
        reasons.filter(|reason| reason.group == Some(Group::Age))
    };
    let share: f64 = of().map(|reason| reason.share).sum();
    let old = known.km >= NEGLECT_FROM_KM && known.distance_known;
    let much = known.band == Band::Active
        || (known.band == Band::Settled
            && (known.evidence.first_opening || known.evidence.pan_stayed_on));
    (old && share >= MOST && much).then(|| {
        fired(
            Rule::Neglect,
            Advice::Watch {
                after_km: known.watch.active_km,
            },
            term!("neglect-explains-most-of-it-paste-dark-fluid"),
            sorted(of().flat_map(|reason| reason.sources.iter().cloned())),
        )
    })
}

/// What the reasons of such pieces come from.
fn debris_of(known: &Known, wanted: impl Fn(DebrisClass, f64) -> bool) -> Vec<String> {
    let of = known.reasons.iter().filter(|reason| {
        matches!(reason.reason, ReasonKind::Debris { class, from_mm, .. } if wanted(class, from_mm))
    });
    sorted(of.flat_map(|reason| reason.sources.iter().cloned()))
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
            term!("what-was-seen-may-also-mean-much-more"),
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
        .filter(|reading| reading.verdict == Verdict::OutOfSpec)
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
        &say!("out-of-spec-and-named-by-a-code", listed = listed),
        sorted(ids),
    ))
}

fn not_explained(known: &Known) -> Option<RuleFired> {
    let finding = known
        .findings
        .iter()
        .find(|finding| matches!(finding.finding, FindingKind::NotExplainedYet { .. }))?;
    let tested_first = symptom(known).is_some() || converter(known).is_some();
    (known.band <= Band::Settled && !tested_first).then(|| {
        fired(
            Rule::NotExplainedYet,
            Advice::CarryOn,
            term!("the-debris-speaks-for-finishing-the-service-what"),
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
        tests: Vec::new(),
    }
}

impl RuleFired {
    fn asking(self, tests: &[NextTest]) -> RuleFired {
        RuleFired {
            tests: tests.to_vec(),
            ..self
        }
    }
}

/// The pieces that speak for opening up are those that nobody looked at.
pub(crate) fn look_first(words: String, photos: Vec<String>) -> RuleFired {
    fired(Rule::LookFirst, Advice::TestFirst, &words, photos).asking(&[NextTest::Pieces])
}
