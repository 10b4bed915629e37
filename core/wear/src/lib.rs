//! Census and history to wear score, band and advice, each with reasons. Pure:
//! the score is a function of what was seen and of nothing else.
//!
//! ```text
//! score = 100 (1 - exp(-H))
//! H     = sum over classes c and sizes s of k[c,s] n[c,s] / e
//!       + paste on the magnet beyond what the distance explains
//!       + observations (look, smell, filter, a piece of a known part)
//! ```
//!
//! Signs of one thing (age; sealant and dirt) count together, up to a cap.
//!
//! So the score is bounded, never falls when debris is added, never rises with
//! distance, does not depend on any order, and each term of `H` is a reason with
//! its share. `k` is `data/hazard-3.toml`, with the provenance of each row; the
//! numbers are the project's own judgement, and the interval does not hold the
//! doubt about them. The score advises; the technician decides.
//!
//! Enter by [`assess`]; [`trend`] compares the visits of one car.

pub mod advice;
mod assess;
mod band;
mod check;
mod count;
mod counted;
mod doubt;
mod evidence;
mod exposure;
mod findings;
mod hazard;
mod interval;
mod limits;
mod named;
mod problem;
mod reason;
mod shown;
pub mod stats;
mod table;
mod topic;
mod tray;
mod trend;
mod words;

pub use advice::{Advice, AdviceGiven, NextTest, Rule, RuleFired};
pub use assess::{Assessment, Without, assess};
pub use band::Band;
pub use counted::counted;
pub use evidence::{
    CodeSeen, EarlierVisit, Evidence, Explained, LengthMm, Observation, Observed, Overrule,
    ParticleSeen, PhotoSeen, PieceAt, ReadingSeen, SymptomSeen,
};
pub use exposure::{Exposure, KmFrom};
pub use findings::{Finding, FindingKind};
pub use problem::WearProblem;
pub use reason::{Reason, ReasonKind};
pub use shown::Shown;
pub use swarfbook_job::procedure::{
    FilterFound, FluidLook, KnownPart, Paste, Smell, SteelFeel, Symptom,
};
pub use swarfbook_measure::conformity::Verdict;
pub use table::{Group, HazardTable};
pub use tray::{Laid, TrayPlace, tray};
pub use trend::{Change, ChangeVerdict, ClassChange, Rate, Trend, Visit, VisitRates, trend};
