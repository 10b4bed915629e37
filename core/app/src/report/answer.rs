//! The answer, the score with its reasons, the decision and the advice.

use std::collections::BTreeSet;

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::id::EntryId;
use swarfbook_report::answer::{ComplaintNow, Situation, Why, advise, answer};
use swarfbook_report::content::{
    AdviceItem, Answer, DecisionSaid, Fixed, ReasonSaid, Said, VisitRate, VisitSaid, WearSaid,
};
use swarfbook_report::words::Words;
use swarfbook_wear::{Advice, Assessment, FindingKind, Reason};
use swarfbook_words::{say, term, within};

use super::figures::{Figures, fixed};
use super::unmade;
use crate::assess::trend::round;
use crate::assess::wear;
use crate::present;
use crate::problem::Problem;

/// Reasons that weigh less are told together.
const LEAST_SHARE: f64 = 0.03;

/// What was judged, told.
pub(super) struct Verdict {
    pub answer: Answer,
    pub wear: Option<WearSaid>,
    pub findings: Vec<Said>,
    pub decision: Option<DecisionSaid>,
    pub advice: Vec<AdviceItem>,
    pub heaviest_photo: Option<EntryId>,
}

pub(super) fn verdict(figures: &Figures<'_>, words: &Words) -> Result<Verdict, Problem> {
    let assessment = figures.assessed.wear.as_ref().map_err(Clone::clone)?;
    let assessment = assessment.as_ref();
    let situation = situation(figures, assessment);
    let sentences = answer(&situation, words);
    let rests_on: Vec<EntryId> = assessment
        .iter()
        .flat_map(|a| a.reasons.iter().take(3).flat_map(|r| ids(&r.sources)))
        .chain(figures.state.decision.iter().map(|d| d.stamp.entry))
        .collect();
    let why = why(figures, assessment);
    Ok(Verdict {
        answer: Answer {
            can_it_be_saved: figures.said(sentences.can_it_be_saved, rests_on.clone()),
            what_to_do: figures.said(sentences.what_to_do, rests_on),
        },
        findings: assessment
            .iter()
            .flat_map(|a| &a.findings)
            .map(|f| figures.said(f.words.clone(), ids(&f.sources)))
            .collect(),
        decision: decision(figures),
        advice: advise(&situation, &why, words),
        heaviest_photo: assessment.and_then(|a| {
            a.reasons
                .iter()
                .flat_map(|r| ids(&r.sources))
                .find(|id| figures.state.photo(*id).is_some())
        }),
        wear: assessment.map(|a| said(figures, a)).transpose()?,
    })
}

fn ids(sources: &[String]) -> Vec<EntryId> {
    sources.iter().filter_map(|id| id.parse().ok()).collect()
}

fn situation(figures: &Figures<'_>, assessment: Option<&Assessment>) -> Situation {
    let state = figures.state;
    let found = |wanted: fn(&FindingKind) -> bool| {
        assessment.is_some_and(|a| a.findings.iter().any(|f| wanted(&f.finding)))
    };
    let decided = state.decision.as_ref().map(|d| d.chosen);
    let advised_km = assessment.and_then(|a| match a.advice.stands {
        Advice::Watch { after_km } => Some(after_km),
        Advice::CarryOn | Advice::OpenUp => None,
    });
    let km = state.last_measure("next_look_km").or(advised_km);
    Situation {
        stands: decided.or_else(|| assessment.map(|a| a.advice.stands.choice())),
        look_again_after: km
            .filter(|km| *km > 0.0)
            .map(|km| crate::present::round_distance_words(km, figures.loaded.units)),
        band: assessment.map(|a| a.band),
        milky: found(|f| matches!(f, FindingKind::Milky)),
        not_explained: found(|f| matches!(f, FindingKind::NotExplainedYet { .. })),
        finished: figures
            .steps_before_report()
            .all(|(_, step)| state.steps.contains_key(&step.id)),
        still_off: state.still_off(),
        leaks: state.answer("leak").is_some_and(|o| o.choice == "leaks"),
        complaint_now: state
            .answer("road_test")
            .and_then(|o| match o.choice.as_str() {
                "gone" => Some(ComplaintNow::Gone),
                "better" => Some(ComplaintNow::Better),
                "same" => Some(ComplaintNow::Same),
                "worse" => Some(ComplaintNow::Worse),
                _ => None,
            }),
    }
}

fn why(figures: &Figures<'_>, assessment: Option<&Assessment>) -> Why {
    let state = figures.state;
    let of = |wanted: fn(&FindingKind) -> bool| -> Vec<Said> {
        assessment
            .iter()
            .flat_map(|a| a.findings.iter().filter(|f| wanted(&f.finding)))
            .map(|f| figures.said(f.words.clone(), ids(&f.sources)))
            .collect()
    };
    Why {
        stands: assessment
            .iter()
            .flat_map(|a| &a.advice.rules)
            .map(|rule| figures.said(rule.words.clone(), ids(&rule.sources)))
            .collect(),
        milky: of(|f| matches!(f, FindingKind::Milky)),
        fault: of(|f| matches!(f, FindingKind::NotExplainedYet { .. })),
        leak: state
            .answer("leak")
            .map(|o| figures.said(say!("The last leak check saw a leak."), [o.stamp.entry]))
            .into_iter()
            .collect(),
        still_off: state
            .parts
            .iter()
            .filter(|p| p.off() > 0)
            .map(|p| {
                figures.said(
                    say!(
                        "Still off: {}.",
                        crate::present::part_words(&p.part, p.off(), figures.loaded.units)
                    ),
                    [p.stamp.entry],
                )
            })
            .collect(),
    }
}

fn decision(figures: &Figures<'_>) -> Option<DecisionSaid> {
    let decided = figures.state.decision.as_ref()?;
    let words = if decided.chosen == decided.advised {
        say!(
            "The technician follows the advice: {}.",
            lower(decided.chosen)
        )
    } else {
        say!(
            "The technician decided: {}. The tool advised: {}.",
            lower(decided.chosen),
            lower(decided.advised)
        )
    };
    Some(DecisionSaid {
        advised: decided.advised,
        chosen: decided.chosen,
        reason: decided.reason.clone(),
        said: figures.said(words, [decided.stamp.entry]),
    })
}

/// What the visits of this car come to beside each other, where there were earlier ones.
fn trend(
    figures: &Figures<'_>,
    assessment: &Assessment,
) -> Result<(Vec<Said>, Vec<VisitSaid>), Problem> {
    let Some(view) = wear::trend_view(
        figures.state,
        &figures.loaded.beside.earlier,
        assessment,
        figures.loaded.units,
    ) else {
        return Ok(Default::default());
    };
    let said = |words| figures.said(words, figures.lines_of("car_noted"));
    let visits = view.visits.into_iter().map(|visit| {
        let rate = match (visit.per_10000_km, visit.lo, visit.hi) {
            (Some(rate), Some(lo), Some(hi)) => Some(VisitRate {
                per_10000_km: fixed(round(rate))?,
                lo: fixed(round(lo))?,
                hi: fixed(round(hi))?,
            }),
            _ => None,
        };
        Ok(VisitSaid {
            label: visit.label,
            now: visit.job.is_none(),
            rate,
            said: said(visit.words),
        })
    });
    let visits = visits.collect::<Result<_, Problem>>()?;
    let words = [view.words, view.compared].into_iter().chain(view.by_class);
    Ok((words.map(said).collect(), visits))
}

fn lower(choice: AdviceChoice) -> String {
    within(wear::choice_words(choice))
}

/// The reasons, heaviest first, those that hardly count as one: nobody reads twenty shares of 1 %.
fn reasons(figures: &Figures<'_>, all: &[Reason]) -> Vec<ReasonSaid> {
    let percent = |share: f64| (share * 100.0).round().clamp(0.0, 100.0) as u8;
    let told = all.iter().take_while(|r| r.share >= LEAST_SHARE).count();
    // One alone is told like the others.
    let told = if told + 1 == all.len() {
        all.len()
    } else {
        told
    };
    let (told, rest) = all.split_at(told);
    let mut said: Vec<ReasonSaid> = told
        .iter()
        .map(|reason| ReasonSaid {
            said: figures.said(reason.words.clone(), ids(&reason.sources)),
            percent: percent(reason.share),
        })
        .collect();
    if !rest.is_empty() {
        let number = u32::try_from(rest.len()).unwrap_or(u32::MAX);
        let from: BTreeSet<EntryId> = rest.iter().flat_map(|r| ids(&r.sources)).collect();
        let words = say!(
            "{}, each of less than {} %",
            present::count_words(number, term!("other reason"), term!("other reasons")),
            percent(LEAST_SHARE)
        );
        said.push(ReasonSaid {
            said: figures.said(words, from),
            percent: percent(rest.iter().map(|r| r.share).sum()),
        });
    }
    said
}

fn said(figures: &Figures<'_>, assessment: &Assessment) -> Result<WearSaid, Problem> {
    let table = wear::table()?;
    let mut from: Vec<Fixed> = Vec::with_capacity(5);
    for row in &table.band {
        from.push(fixed(row.from)?);
    }
    let band_from: [Fixed; 5] = from
        .try_into()
        .map_err(|_| unmade(say!("the table of bands does not have five")))?;
    let exposure = &assessment.exposure;
    let (trend, visits) = trend(figures, assessment)?;
    Ok(WearSaid {
        score: fixed(assessment.score.round())?,
        lo: fixed(assessment.score_lo.round())?,
        hi: fixed(assessment.score_hi.round())?,
        band: assessment.band,
        band_from,
        reasons: reasons(figures, &assessment.reasons),
        held_against: vec![figures.said(
            match exposure.km_from {
                swarfbook_wear::KmFrom::Unknown => say!(
                    "The distance since the pan was last clean is not known; {} are assumed.",
                    crate::present::distance_words(exposure.km, figures.loaded.units)
                ),
                _ => say!(
                    "{} since the pan was last clean.",
                    crate::present::distance_words(exposure.km, figures.loaded.units)
                ),
            },
            figures.lines_of("car_noted"),
        )],
        trend,
        visits,
        table: assessment.table.clone(),
    })
}
