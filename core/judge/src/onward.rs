//! What leads on with few presses: what a step opens with, and what one press may say of it.

use swarfbook_job::fact::ReadingKind;
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Evidence, Procedure, Step};

use crate::corrected::Piece;
use crate::course::{self, Standing};
use crate::has::{has, read};
use crate::{Judged, tick};

/// A step that insists on nothing opens with this, so that it is seen: what came off, and the
/// path to ground while it is not read of each part.
pub fn opens(judged: &Judged, step: &Step, evidence: &Evidence) -> bool {
    step.evidence.iter().all(|want| want.optional)
        && match evidence {
            Evidence::PartsOff => true,
            Evidence::Readings {
                quantity: quantity @ ReadingKind::Insulation,
            } => {
                let read = read(&judged.parts, *quantity);
                read.good < read.wanted
            }
            _ => false,
        }
}

/// With the last of these readings the step is done: nothing else that it may hold has limits to
/// be read against.
pub fn ends(state: &JobState, judged: &Judged, step: &Step, evidence: &Evidence) -> bool {
    let Evidence::Readings { quantity } = evidence else {
        return false;
    };
    opens(judged, step, evidence)
        && step.evidence.iter().all(|want| match &want.evidence {
            Evidence::Readings { quantity: other } if other != quantity => {
                let mut parts = state.components.iter();
                !parts.any(|part| part.specs.contains_key(other))
            }
            _ => true,
        })
}

/// A step that asks for a photo at most, and has nothing yet, is as often skipped as done: the
/// reasons stand there at once.
pub fn often_skipped(state: &JobState, judged: &Judged, step: &Step) -> bool {
    !step.evidence.is_empty()
        && step.evidence.iter().all(|want| {
            let photo = matches!(want.evidence, Evidence::Photo { .. });
            photo && want.optional && !has(state, judged, step, &want.evidence)
        })
}

/// So many close-ups are looked at one by one, without a scroll.
const FEW: usize = 6;

/// One press may say that none of these pieces is debris: few enough to have looked at each, and
/// nobody said yet what one of them is.
pub fn none_at_once(pieces: &[Piece], confirmed: bool) -> bool {
    let unnamed = |piece: &Piece| !piece.corrected && !piece.not_debris;
    !confirmed && (1..=FEW).contains(&pieces.len()) && pieces.iter().all(unnamed)
}

/// The step that a made report leaves to be ticked: to make it is not yet to give it, and who gave
/// it may say so beside it.
pub fn to_give<'a>(
    state: &JobState,
    procedure: &'a Procedure,
    judged: &Judged,
) -> Option<&'a Step> {
    let made = |step: &Step| {
        let mut wants = step.evidence.iter();
        wants.any(|want| want.evidence == Evidence::Report)
            && has(state, judged, step, &Evidence::Report)
    };
    course::stages(state, procedure, judged.advised())
        .into_iter()
        .flat_map(|stands| stands.steps)
        .find(|(step, standing)| *standing == Standing::InHand && made(step))
        .map(|(step, _)| step)
        .filter(|step| tick::blocks(state, judged, step).is_empty())
}

/// What the customer is asked as the report is given, while nobody has answered it: the step, and
/// its question.
pub fn answer_asked<'a>(
    state: &JobState,
    procedure: &'a Procedure,
) -> Option<(&'a Step, &'a Evidence)> {
    let asks = |step: &&Step| {
        let mut wants = step.evidence.iter();
        wants.any(|want| want.evidence == Evidence::Answer) && !state.steps.contains_key(&step.id)
    };
    let step = procedure.steps().map(|(_, step)| step).find(asks)?;
    let mut wants = step.evidence.iter().filter(|want| !want.optional);
    let asked = &wants.next()?.evidence;
    let Evidence::Observe { topic, several, .. } = asked else {
        return None;
    };
    let answered = (state.observed).contains_key(&(step.id.clone(), topic.clone()));
    (wants.next().is_none() && !several && !answered).then_some((step, asked))
}

#[cfg(test)]
mod tests {
    use super::*;
    use swarfbook_job::census::{DebrisClass, Particle, SizeClass};

    fn piece(index: usize) -> Piece {
        let machine = Particle {
            x_px: 100.0 * index as f64,
            y_px: 100.0,
            class: DebrisClass::Lining,
            p: [(DebrisClass::Lining, 1.0)].into(),
            feret_max_mm: 0.8,
            feret_max_lo: 0.7,
            feret_max_hi: 0.9,
            feret_min_mm: 0.3,
            area_mm2: 0.2,
            iso16232: SizeClass::J,
            outline_px: Vec::new(),
            real: None,
        };
        Piece {
            index,
            class: machine.class,
            machine,
            corrected: false,
            not_debris: false,
            redrawn: false,
            magnet: None,
        }
    }

    #[test]
    fn none_is_debris_is_said_at_once_of_few_that_nobody_named() {
        let pieces: Vec<Piece> = (0..7).map(piece).collect();
        assert!(none_at_once(&pieces[..1], false) && none_at_once(&pieces[..6], false));
        assert!(!none_at_once(&pieces, false), "more than are in view");
        assert!(!none_at_once(&[], false), "there is nothing to say it of");
        assert!(!none_at_once(&pieces[..6], true), "the count is confirmed");
        let mut named = pieces[..3].to_vec();
        named[1].corrected = true;
        assert!(!none_at_once(&named, false), "somebody said what one is");
    }
}
