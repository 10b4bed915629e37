//! What a report must answer for: how the job stands, gravest first, in types.

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Answer, ComplaintNow, Evidence, Procedure, Stage, Step, TopicRole};
use swarfbook_wear::{Advice, Assessment, Band, FindingKind};

use crate::grave::FAR_KM;
use crate::{Judged, wear};

/// What the two sentences at the top of a report, and its advice, are made from.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Situation {
    /// The advice that stands (the technician's decision, else the tool's);
    /// `None` when the pan was not judged.
    pub stands: Option<AdviceChoice>,
    /// Distance to the next look, km; only used with [`AdviceChoice::Watch`].
    pub look_again_km: Option<f64>,
    /// The band of the score; `None` when there is none.
    pub band: Option<Band>,
    /// Coolant or water in the fluid.
    pub milky: bool,
    /// A code or the complaint is not explained yet.
    pub not_explained: bool,
    /// All steps of the work are done or left out.
    pub finished: bool,
    /// How many things are still off the car.
    pub still_off: u32,
    /// The last leak check saw a leak.
    pub leaks: bool,
    /// The fluid's level was looked at and is not right.
    pub level_wrong: bool,
    /// Electrical parts that read out of their limits and were not replaced, by name.
    pub parts_out: Vec<String>,
    /// What the tool advises now; `None` when the pan was not judged.
    pub advised: Option<AdviceChoice>,
    /// The road test; `None` before there was one.
    pub complaint_now: Option<ComplaintNow>,
}

impl Situation {
    /// That of a job.
    pub fn of(state: &JobState, procedure: &Procedure, judged: &Judged) -> Situation {
        let assessment = judged.assessment();
        let found = |wanted: fn(&FindingKind) -> bool| {
            assessment.is_some_and(|a| a.findings.iter().any(|f| wanted(&f.finding)))
        };
        let advised = judged.advised();
        // A decision that is older than the evidence does not stand against it, and one to test
        // first is done with once the log does not advise it any more.
        let done_with =
            wear::outdated(state, advised).is_some() || wear::tested(state, advised).is_some();
        let decided = state.decision.as_ref().filter(|_| !done_with);
        let decided = decided.map(|decided| decided.chosen);
        let grave = &judged.grave;
        let mut situation = Situation {
            advised,
            stands: decided.or_else(|| assessment.map(|a| a.advice.stands.choice())),
            look_again_km: None,
            band: assessment.map(|a| a.band),
            milky: found(|finding| matches!(finding, FindingKind::Milky)),
            not_explained: found(|finding| matches!(finding, FindingKind::NotExplainedYet { .. })),
            finished: before_report(procedure).all(|(_, step)| state.steps.contains_key(&step.id)),
            still_off: grave.still_off,
            leaks: grave.leak.is_some(),
            level_wrong: grave.level.is_some(),
            parts_out: grave
                .parts_out
                .iter()
                .map(|part| part.name.clone())
                .collect(),
            complaint_now: complaint_now(state),
        };
        // A far look again says that all is well.
        let near = |km: &f64| *km > 0.0 && (*km <= FAR_KM || !situation.is_grave());
        situation.look_again_km = state
            .last_measure(TopicRole::NextLookKm)
            .or_else(|| advised_km(assessment))
            .filter(near);
        situation
    }

    /// The road test showed what was complained of.
    pub fn still_there(&self) -> bool {
        matches!(
            self.complaint_now,
            Some(ComplaintNow::Same | ComplaintNow::Worse)
        )
    }

    /// The pan speaks for opening the gearbox, whatever was decided.
    pub fn is_worn(&self) -> bool {
        self.advised == Some(AdviceChoice::OpenUp)
            || self.stands == Some(AdviceChoice::OpenUp)
            || self.band >= Some(Band::Heavy)
    }

    /// Something speaks against driving on as if nothing were: nothing calm may be said.
    pub fn is_grave(&self) -> bool {
        self.is_worn()
            || self.milky
            || self.still_off > 0
            || self.leaks
            || self.level_wrong
            || !self.parts_out.is_empty()
    }

    /// Something is still to be found.
    pub fn fault_is_open(&self) -> bool {
        self.not_explained || self.still_there()
    }
}

/// What the last road test says of the complaint.
fn complaint_now(state: &JobState) -> Option<ComplaintNow> {
    let seen = state.answer(TopicRole::RoadTest)?;
    state.says(seen).find_map(|answer| match answer {
        Answer::Complaint(now) => Some(now),
        _ => None,
    })
}

/// After how many km the tool advises to look again.
fn advised_km(assessment: Option<&Assessment>) -> Option<f64> {
    match assessment?.advice.stands {
        Advice::Watch { after_km } => Some(after_km),
        Advice::CarryOn | Advice::TestFirst | Advice::OpenUp => None,
    }
}

/// That the technician set the next look later than the tool advises it: what it advises and what
/// was set, km.
pub fn later_look(state: &JobState, assessment: Option<&Assessment>) -> Option<(f64, f64)> {
    let advised = advised_km(assessment)?;
    let set = state.last_measure(TopicRole::NextLookKm)?;
    (set > advised).then_some((advised, set))
}

/// Steps up to the report: it and what follows can't be reached before it is made.
pub fn before_report(procedure: &Procedure) -> impl Iterator<Item = (&Stage, &Step)> {
    procedure.steps().take_while(|(_, step)| {
        let mut wants = step.evidence.iter();
        !wants.any(|want| matches!(want.evidence, Evidence::Report))
    })
}
