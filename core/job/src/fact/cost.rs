//! What things cost, as the shop says it; nothing is worked out.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::Money;

/// What an amount is for: the work of this visit, or one thing that the report advises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum CostOf {
    /// The work of this visit.
    Work,
    /// To put back what is still off.
    StillOff,
    /// To close a leak.
    Leak,
    /// To bring the fluid to its level.
    Level,
    /// To find how water got in.
    Milky,
    /// To replace what failed its test.
    Parts,
    /// To find the cause of the fault.
    Fault,
    /// To open the gearbox.
    OpenUp,
    /// The tests that come first.
    TestFirst,
    /// To look into the pan again.
    Watch,
    /// The next service.
    CarryOn,
}

/// What the shop asks for one thing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Cost {
    /// For what.
    pub of: CostOf,
    /// How much; `None` takes back an amount that was given.
    pub amount: Option<Money>,
    /// What the shop adds to it, for instance "with tax, without parts"; may be empty.
    #[serde(default)]
    pub text: String,
}
