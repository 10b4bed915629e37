//! All bolts by hand first, then rising torque in the cross order, then a last
//! round, since a gasket gives way. Common practice, no published source; the
//! maker's procedure comes first where it says otherwise.

use serde::{Deserialize, Serialize};
use swarfbook_words::{say, term};

use super::cross_sequence;
use crate::unit::NewtonMetres;

/// What kind of pass it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum PassKind {
    /// Every bolt started and run down by hand, no tool that drives.
    ByHand,
    /// To a torque below the full one.
    Rising {
        /// At the bolt, N·m.
        torque_nm: f64,
    },
    /// To the full torque.
    Full {
        /// At the bolt, N·m.
        torque_nm: f64,
    },
    /// Once more round at full torque.
    LastRound {
        /// At the bolt, N·m.
        torque_nm: f64,
    },
    /// Each bolt turned on by an angle from where the torque left it.
    Angle {
        /// How far it is turned on, degrees.
        angle_deg: f64,
    },
}

impl PassKind {
    /// The torque that is set, N·m; `None` for what is done by hand or by an angle.
    pub fn torque_nm(self) -> Option<f64> {
        match self {
            PassKind::Rising { torque_nm }
            | PassKind::Full { torque_nm }
            | PassKind::LastRound { torque_nm } => Some(torque_nm),
            PassKind::ByHand | PassKind::Angle { .. } => None,
        }
    }
}

/// One pass: the bolts in order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Pass {
    /// What is done.
    pub what: PassKind,
    /// Bolts in order, as indices into the points given.
    pub order: Vec<u32>,
}

/// The whole tightening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// Passes, first to last.
    pub passes: Vec<Pass>,
    /// Cautions that go with it.
    pub cautions: Vec<PlanCaution>,
}

/// What to mind at a tightening.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlanCaution {
    /// By hand first; a new washer where there was one.
    NewWasher,
    /// Every bolt by hand first, each in its own place.
    OwnPlaces,
    /// No tool that drives; the maker's order goes before this one.
    NoImpactTool,
    /// A sealant sets: no last round.
    NoLastRound,
    /// What was turned by an angle is not checked by torque.
    AngleNotChecked,
}

impl PlanCaution {
    /// The caution in a sentence.
    pub fn words(self) -> &'static str {
        match self {
            PlanCaution::NewWasher => {
                term!("start-it-by-hand-before-any-tool-a")
            }
            PlanCaution::OwnPlaces => term!("start-every-bolt-by-hand-before-any-tool"),
            PlanCaution::NoImpactTool => term!("set-the-torque-by-hand-no-impact-tool"),
            PlanCaution::NoLastRound => {
                term!("no-last-round-once-a-sealant-has-set")
            }
            PlanCaution::AngleNotChecked => term!("torque-and-angle-mark-each-head-turn-it"),
        }
    }
}

/// Why no plan was made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum PlanError {
    #[error("{}", say!("tap-every-bolt-of-the-pan-at-least"))]
    TooFew,
    #[error("{}", say!("bolts-first-and-second-are-tapped-in-the", first = first, second = second))]
    SamePlace { first: u32, second: u32 },
    #[error("{}", say!("a-bolts-place-is-not-a-point-of"))]
    NoPoint,
    #[error("{}", say!("torque-nm-n-m-is-no-torque-enter", torque_nm = torque_nm))]
    Torque { torque_nm: f64 },
    #[error("{}", say!("rounds-passes-cant-be-choose-1-to-5", rounds = rounds))]
    Rounds { rounds: u32 },
    #[error("{}", say!("an-angle-of-angle-deg-deg-cant-be-turned", angle_deg = angle_deg))]
    Angle { angle_deg: f64 },
}

/// How a fastener gets its tension in the end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Finish {
    /// Once more round at full torque, as a gasket gives way.
    LastRound,
    /// A sealant sets: no last round.
    Sealant,
    /// Torque and angle, as the maker asks: turned on by so many degrees, never
    /// checked by torque again.
    Angle {
        /// How far each is turned on, degrees.
        angle_deg: f64,
    },
}

/// Whether an angle can be a maker's.
///
/// # Errors
/// [`PlanError::Angle`].
pub fn check_angle(angle_deg: f64) -> Result<(), PlanError> {
    if (5.0..=360.0).contains(&angle_deg) {
        Ok(())
    } else {
        Err(PlanError::Angle { angle_deg })
    }
}

impl Plan {
    /// Plans a tightening: by hand, then `rounds` passes in equal steps up to `full` (3 gives
    /// a third, two thirds, full), then what [`Finish`] says. A single fastener has no place
    /// among `bolts`, and goes to `full` in one pass; without a torque it stays by hand.
    ///
    /// # Errors
    /// [`PlanError`], with what to enter again.
    pub fn of(
        bolts: &[[f64; 2]],
        full: Option<NewtonMetres>,
        rounds: u32,
        finish: Finish,
    ) -> Result<Plan, PlanError> {
        let mut kinds = vec![PassKind::ByHand];
        let mut cautions = vec![PlanCaution::NewWasher];
        if let Some(torque_nm) = full.map(NewtonMetres::get) {
            let several = !bolts.is_empty();
            if several {
                check(bolts, torque_nm, rounds)?;
                kinds.extend((1..rounds).map(|round| PassKind::Rising {
                    torque_nm: torque_nm * f64::from(round) / f64::from(rounds),
                }));
                cautions = vec![PlanCaution::OwnPlaces, PlanCaution::NoImpactTool];
            }
            kinds.push(PassKind::Full { torque_nm });
            match finish {
                Finish::Angle { angle_deg } => {
                    check_angle(angle_deg)?;
                    kinds.push(PassKind::Angle { angle_deg });
                    cautions.extend(several.then_some(PlanCaution::AngleNotChecked));
                }
                Finish::Sealant => cautions.extend(several.then_some(PlanCaution::NoLastRound)),
                Finish::LastRound => {
                    kinds.extend(several.then_some(PassKind::LastRound { torque_nm }));
                }
            }
        }
        let order = cross_sequence(bolts);
        let pass = |what| Pass {
            what,
            order: order.clone(),
        };
        Ok(Plan {
            passes: kinds.into_iter().map(pass).collect(),
            cautions,
        })
    }
}

fn check(bolts: &[[f64; 2]], torque_nm: f64, rounds: u32) -> Result<(), PlanError> {
    if bolts.len() < 2 {
        return Err(PlanError::TooFew);
    }
    if bolts.iter().flatten().any(|v| !v.is_finite()) {
        return Err(PlanError::NoPoint);
    }
    for (i, a) in bolts.iter().enumerate() {
        if let Some(j) = bolts.iter().skip(i + 1).position(|b| a == b) {
            return Err(PlanError::SamePlace {
                first: i as u32 + 1,
                second: (i + 1 + j) as u32 + 1,
            });
        }
    }
    if !(torque_nm > 0.0 && torque_nm.is_finite()) {
        return Err(PlanError::Torque { torque_nm });
    }
    if !(1..=5).contains(&rounds) {
        return Err(PlanError::Rounds { rounds });
    }
    Ok(())
}
