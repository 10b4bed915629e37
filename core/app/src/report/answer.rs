//! The answer, the score with its reasons, the decision and the advice.

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::TopicRole;
use swarfbook_judge::situation::{self, Situation};
use swarfbook_judge::wear;
use swarfbook_measure::unit::Units;
use swarfbook_report::answer::{Why, advise, answer};
use swarfbook_report::content::{
    AdviceItem, Answer, DecisionSaid, Fixed, Overruled, ReasonSaid, Said, VisitRate, VisitSaid,
    WearSaid,
};
use swarfbook_report::words::Words;
use swarfbook_wear::{Assessment, FindingKind, Reason};
use swarfbook_words::rounding::percents;
use swarfbook_words::{say, term, within};

use super::figures::{Figures, fixed};
use super::plain::sentence;
use super::unmade;
use crate::present::{advice, fluid};
use crate::present::{down, round, up};
use crate::problem::Problem;
use crate::state::hand;

/// What was judged, told.
pub(super) struct Verdict {
    pub answer: Answer,
    /// What stands beside it, but for an overruled advice.
    pub beside: Vec<Said>,
    /// The tool's advice and the technician's decision, where they differ.
    pub overruled: Option<Overruled>,
    pub wear: Option<WearSaid>,
    pub findings: Vec<Said>,
    pub decision: Option<DecisionSaid>,
    pub advice: Vec<AdviceItem>,
    pub heaviest_photo: Option<EntryId>,
}

pub(super) fn verdict(figures: &Figures<'_>, words: &Words) -> Result<Verdict, Problem> {
    let assessment = figures.judged.wear.as_ref().map_err(Clone::clone)?;
    let assessment = assessment.as_ref();
    let situation = Situation::of(figures.state, figures.procedure, figures.judged);
    let distance = distance(&situation, figures.loaded.units);
    let sentences = answer(&situation, &distance, words);
    let rests_on: Vec<EntryId> = assessment
        .iter()
        .flat_map(|a| a.reasons.iter().take(3))
        .flat_map(|r| figures.behind(&r.sources, &r.pieces))
        .chain(figures.state.decision.iter().map(|d| d.stamp.entry))
        .collect();
    let rests_on: Vec<EntryId> = rests_on
        .into_iter()
        .chain(measured_line(figures, TopicRole::NextLookKm))
        .collect();
    // A far look again that is not said must not be said beside it either.
    let says_look = situation.look_again_km.is_some();
    let beside = beside(figures, assessment, says_look);
    let mut why = why(figures, assessment);
    // Whoever reads the advice alone reads what it goes against.
    why.stands
        .extend(beside.overruled.clone().map(|(said, _)| said));
    // Nothing is told as settled that nobody stood by.
    let first = assessment
        .and_then(Assessment::not_confirmed)
        .map_or_else(String::new, |said| format!("{said} "));
    Ok(Verdict {
        answer: Answer {
            can_it_be_saved: figures.said(
                format!("{first}{}", sentences.can_it_be_saved),
                rests_on.clone(),
            ),
            what_to_do: figures.said(sentences.what_to_do, rests_on),
            beside: beside.all(),
        },
        overruled: beside.overruled.clone().map(|(_, both)| both),
        beside: beside.others(),
        findings: assessment
            .iter()
            .flat_map(|a| &a.findings)
            .map(|f| figures.said(f.words.clone(), figures.behind(&f.sources, &[])))
            .collect(),
        decision: decision(figures),
        advice: advise(&situation, &distance, &why, words),
        heaviest_photo: assessment.and_then(|a| {
            let photo_of = |id: &String| figures.state.photo(id.parse().ok()?);
            let shows = |r: &Reason| {
                let pieces = r.pieces.iter().map(|at| &at.photo);
                pieces.chain(&r.sources).find_map(photo_of)
            };
            Some(a.reasons.iter().find_map(shows)?.stamp.entry)
        }),
        wear: assessment.map(|a| said(figures, a)).transpose()?,
    })
}

/// How far to drive until the next look; empty where there is none.
pub(super) fn distance(situation: &Situation, units: Units) -> String {
    let km = situation.look_again_km;
    km.map_or_else(String::new, |km| {
        crate::present::round_distance_words(km, units)
    })
}

/// What is to be done, as an owner understands it.
fn owners_words(choice: AdviceChoice) -> &'static str {
    match choice {
        AdviceChoice::CarryOn => term!("finish-the-work-3"),
        AdviceChoice::Watch => term!("finish-the-work-and-look-again"),
        AdviceChoice::TestFirst => term!("test-first-2"),
        AdviceChoice::OpenUp => term!("open-the-gearbox"),
    }
}

fn why(figures: &Figures<'_>, assessment: Option<&Assessment>) -> Why {
    let state = figures.state;
    let grave = &figures.judged.grave;
    let of = |wanted: fn(&FindingKind) -> bool| -> Vec<Said> {
        assessment
            .iter()
            .flat_map(|a| a.findings.iter().filter(|f| wanted(&f.finding)))
            .map(|f| figures.said(f.words.clone(), figures.behind(&f.sources, &[])))
            .collect()
    };
    Why {
        stands: assessment
            .iter()
            .flat_map(|a| &a.advice.rules)
            .map(|rule| figures.said(rule.words.clone(), figures.behind(&rule.sources, &[])))
            .chain(tests(figures, assessment))
            .collect(),
        milky: of(|f| matches!(f, FindingKind::Milky)),
        fault: of(|f| matches!(f, FindingKind::NotExplainedYet { .. })),
        leak: state
            .answer(TopicRole::Leak)
            .map(|o| figures.said(say!("the-last-leak-check-saw-a-leak"), [o.stamp.entry]))
            .into_iter()
            .collect(),
        level: grave
            .level
            .map(|seen| {
                let words = fluid::level_words(state, figures.loaded.units);
                figures.said(
                    words.unwrap_or_else(|| say!("the-level-was-not-set")),
                    [seen],
                )
            })
            .into_iter()
            .collect(),
        parts_out: grave
            .parts_out
            .iter()
            .map(|part| {
                let words = say!("part-read-out-of-its-limits-and-was", part = part.name);
                figures.said(words, [part.reading])
            })
            .collect(),
        still_off: state
            .parts
            .iter()
            .filter(|p| p.off() > 0)
            .map(|p| {
                figures.said(
                    say!(
                        "still-off-part",
                        part = crate::present::part_words(&p.part, p.off(), hand::units(&p.stamp))
                    ),
                    [p.stamp.entry],
                )
            })
            .collect(),
    }
}

/// What has to be known beside the two sentences.
struct Beside {
    overruled: Option<(Said, Overruled)>,
    outdated: Option<Said>,
    later_look: Option<Said>,
}

impl Beside {
    fn all(&self) -> Vec<Said> {
        let overruled = self.overruled.as_ref().map(|(said, _)| said.clone());
        [self.outdated.clone(), overruled, self.later_look.clone()]
            .into_iter()
            .flatten()
            .collect()
    }

    fn others(self) -> Vec<Said> {
        [self.outdated, self.later_look]
            .into_iter()
            .flatten()
            .collect()
    }
}

fn beside(figures: &Figures<'_>, assessment: Option<&Assessment>, says_look: bool) -> Beside {
    Beside {
        overruled: overruled(figures, assessment),
        outdated: outdated_words(figures, assessment),
        later_look: says_look.then(|| later_look(figures, assessment)).flatten(),
    }
}

/// That the technician set the next look later than the tool advises it.
fn later_look(figures: &Figures<'_>, assessment: Option<&Assessment>) -> Option<Said> {
    let (advised, set) = situation::later_look(figures.state, assessment)?;
    let words = |km| crate::present::round_distance_words(km, figures.loaded.units);
    Some(figures.said(
        say!(
            "the-tool-advises-to-look-again-after-words",
            words = words(advised),
            words_2 = words(set)
        ),
        measured_line(figures, TopicRole::NextLookKm),
    ))
}

/// The tool's advice and why, and the technician's decision and why, side by side.
fn overruled(figures: &Figures<'_>, assessment: Option<&Assessment>) -> Option<(Said, Overruled)> {
    let decided = figures.state.decision.as_ref()?;
    // What it advises now; what it advised then where nothing is scored any more.
    let now = assessment.map(|a| a.advice.advised.choice());
    let advised = now.unwrap_or(decided.advised);
    let went_against = decided.chosen != decided.advised || decided.chosen < advised;
    if decided.chosen == advised
        || !went_against
        || advice::outdated(figures.state, figures.judged.advised()).is_some()
    {
        return None;
    }
    let rules: Vec<_> = assessment.iter().flat_map(|a| &a.advice.rules).collect();
    let why: Vec<&str> = rules.iter().map(|rule| rule.words.as_str()).collect();
    let reason = decided.reason.as_deref().map(str::trim).unwrap_or_default();
    let reason = if reason.is_empty() {
        say!("no-reason-was-written-down")
    } else {
        reason.to_owned()
    };
    let sources = rules
        .iter()
        .flat_map(|rule| figures.behind(&rule.sources, &[]));
    let from = std::iter::once(decided.stamp.entry).chain(sources);
    let from: Vec<EntryId> = from.collect();
    let both = Overruled {
        tool: owners_words(advised).to_owned(),
        tool_why: sentence(&why.join(" ")),
        technician: owners_words(decided.chosen).to_owned(),
        technician_why: sentence(&reason),
        from: figures.said("", from.clone()).from,
    };
    let said = figures.said(
        say!(
            "the-tool-advises-tool-why-tool-why-the",
            tool = both.tool,
            tool_why = both.tool_why,
            technician = both.technician,
            technician_why = both.technician_why
        ),
        from,
    );
    Some((said, both))
}

fn outdated_words(figures: &Figures<'_>, assessment: Option<&Assessment>) -> Option<Said> {
    advice::outdated(figures.state, figures.judged.advised())?;
    let (decided, now) = (figures.state.decision.as_ref()?, assessment?);
    Some(figures.said(
        say!(
            "the-technicians-decision-is-older-than-the-evidence",
            owners = owners_words(now.advice.advised.choice())
        ),
        [decided.stamp.entry],
    ))
}

/// The line of the last number of that role.
fn measured_line(figures: &Figures<'_>, role: TopicRole) -> Option<EntryId> {
    let last = figures.state.measured_as(role).next_back();
    last.map(|m| m.stamp.entry)
}

/// What is to be tested next, by name, with the lines that ask for it.
fn tests(figures: &Figures<'_>, assessment: Option<&Assessment>) -> Vec<Said> {
    let advice = assessment.iter().map(|a| &a.advice);
    advice
        .flat_map(|advice| {
            advice.tests.iter().map(|test| {
                let asking = advice.rules.iter().filter(|rule| rule.tests.contains(test));
                let from = asking.flat_map(|rule| figures.behind(&rule.sources, &[]));
                figures.said(say!("next-test", test = within(test.words())), from)
            })
        })
        .collect()
}

fn decision(figures: &Figures<'_>) -> Option<DecisionSaid> {
    let decided = figures.state.decision.as_ref()?;
    let outdated = advice::outdated(figures.state, figures.judged.advised())
        .or_else(|| advice::tested(figures.state, figures.judged.advised()));
    let words = if decided.chosen == decided.advised {
        say!(
            "the-technician-follows-the-advice-owners",
            owners = owners_words(decided.chosen)
        )
    } else {
        say!(
            "the-technician-decided-owners-the-tool-advised",
            owners = owners_words(decided.chosen),
            owners_2 = owners_words(decided.advised)
        )
    };
    let words = outdated.map_or_else(|| words.clone(), |outdated| format!("{words} {outdated}"));
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
    let Some(view) = crate::present::trend_view(
        figures.state,
        &figures.loaded.beside().earlier,
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
                lo: fixed(down(lo))?,
                hi: fixed(up(hi))?,
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

/// The reasons, heaviest first, those that hardly count as one.
fn reasons(figures: &Figures<'_>, assessment: &Assessment) -> Vec<ReasonSaid> {
    let told = advice::told(assessment);
    // The shares that are shown add up.
    let shares: Vec<f64> = told.iter().map(|reason| reason.share).collect();
    told.into_iter()
        .zip(percents(&shares))
        .map(|(reason, percent)| ReasonSaid {
            said: figures.said(
                reason.words,
                figures.behind(&reason.sources, &reason.pieces),
            ),
            percent: u8::try_from(percent).unwrap_or(100),
        })
        .collect()
}

fn said(figures: &Figures<'_>, assessment: &Assessment) -> Result<WearSaid, Problem> {
    let table = wear::table()?;
    let mut from: Vec<Fixed> = Vec::with_capacity(5);
    for row in &table.band {
        from.push(fixed(row.from)?);
    }
    let band_from: [Fixed; 5] = from
        .try_into()
        .map_err(|_| unmade(say!("the-table-of-bands-does-not-have-five")))?;
    let shown = assessment.shown();
    let (trend, visits) = trend(figures, assessment)?;
    Ok(WearSaid {
        score: fixed(f64::from(shown.score))?,
        lo: fixed(f64::from(shown.lo))?,
        hi: fixed(f64::from(shown.hi))?,
        band: assessment.band,
        band_from,
        reasons: reasons(figures, assessment),
        held_against: held_against(figures, assessment),
        trend,
        visits,
        table: assessment.table.clone(),
    })
}

/// What the score is held against, and how far else the evidence may go.
fn held_against(figures: &Figures<'_>, assessment: &Assessment) -> Vec<Said> {
    let exposure = &assessment.exposure;
    let km = crate::present::distance_words(exposure.km, figures.loaded.units);
    let distance = match exposure.km_from {
        swarfbook_wear::KmFrom::Unknown => {
            say!("the-distance-since-the-pan-was-last-clean", km = km)
        }
        _ => say!("km-since-the-pan-was-last-clean", km = km),
    };
    let mut held = vec![figures.said(distance, figures.lines_of("car_noted"))];
    if !assessment.bands_also().is_empty() {
        let reasons = assessment.reasons.iter();
        let from = reasons.flat_map(|r| figures.behind(&r.sources, &r.pieces));
        held.push(figures.said(format!("{}.", assessment.band_words()), from));
    }
    let unconfirmed = assessment.not_confirmed().into_iter();
    for words in unconfirmed.chain(advice::without_words(assessment)) {
        let photos = figures.state.photos.iter();
        let open = photos.filter(|p| p.confirmed.is_none());
        held.push(figures.said(
            words,
            open.filter_map(|p| Some(p.census_stamp.as_ref()?.entry)),
        ));
    }
    held
}
