//! All bolts by hand first, then rising torque in the cross order, then a last
//! round, since a gasket gives way. Common practice, no published source; the
//! maker's procedure comes first where it says otherwise.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use super::cross_sequence;
use crate::unit::NewtonMetres;

/// What kind of pass it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
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
        /// Degrees.
        angle_deg: f64,
    },
}

/// One pass: the bolts in order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Pass {
    /// What is done.
    pub what: PassKind,
    /// Bolts in order, as indices into the points given.
    pub order: Vec<u32>,
}

/// The whole tightening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Plan {
    /// Passes, first to last.
    pub passes: Vec<Pass>,
    /// Cautions that go with it.
    pub cautions: Vec<String>,
}

/// Why no plan was made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum PlanError {
    #[error("{}", say!("Tap every bolt of the pan; at least two are needed."))]
    TooFew,
    #[error("{}", say!("Bolts {} and {} are tapped in the same place. Take one away, or tap it where it is.", first, second))]
    SamePlace { first: u32, second: u32 },
    #[error("{}", say!("A bolt's place is not a point of the picture. Tap it again."))]
    NoPoint,
    #[error("{}", say!("{} N·m is no torque. Enter the maker's figure.", torque_nm))]
    Torque { torque_nm: f64 },
    #[error("{}", say!("{} passes can't be. Choose 1 to 5; 3 are usual.", rounds))]
    Rounds { rounds: u32 },
    #[error("{}", say!("An angle of {}° can't be turned. The maker's angle lies between 5° and 360°: enter it again.", angle_deg))]
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
        /// Degrees.
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

/// Plans a tightening: by hand, then `rounds` passes in equal steps up to
/// `full` (3 gives a third, two thirds, full), then what [`Finish`] says.
///
/// # Errors
/// [`PlanError`], with what to enter again.
pub fn plan(
    bolts: &[[f64; 2]],
    full: NewtonMetres,
    rounds: u32,
    finish: Finish,
) -> Result<Plan, PlanError> {
    check(bolts, full, rounds)?;
    let order = cross_sequence(bolts);
    let torque_nm = full.get();
    let mut kinds = vec![PassKind::ByHand];
    for round in 1..rounds {
        kinds.push(PassKind::Rising {
            torque_nm: torque_nm * f64::from(round) / f64::from(rounds),
        });
    }
    kinds.push(PassKind::Full { torque_nm });
    let mut cautions = vec![
        say!(
            "Start every bolt by hand before any tool; bolts of different length back in their own places."
        ),
        say!(
            "Set the torque by hand: no impact tool. The maker's order and torque come before this one."
        ),
    ];
    match finish {
        Finish::Sealant => cautions.push(say!(
            "No last round once a sealant has set: it would break the seal."
        )),
        Finish::LastRound => kinds.push(PassKind::LastRound { torque_nm }),
        Finish::Angle { angle_deg } => {
            check_angle(angle_deg)?;
            kinds.push(PassKind::Angle { angle_deg });
            cautions.push(say!(
                "Torque and angle: mark each head, turn it on by the angle in one go, never check it by torque afterwards. New bolts where the maker asks for them."
            ));
        }
    }
    Ok(Plan {
        passes: kinds
            .into_iter()
            .map(|what| Pass {
                what,
                order: order.clone(),
            })
            .collect(),
        cautions,
    })
}

fn check(bolts: &[[f64; 2]], full: NewtonMetres, rounds: u32) -> Result<(), PlanError> {
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
    if !(full.get() > 0.0 && full.get().is_finite()) {
        return Err(PlanError::Torque {
            torque_nm: full.get(),
        });
    }
    if !(1..=5).contains(&rounds) {
        return Err(PlanError::Rounds { rounds });
    }
    Ok(())
}
