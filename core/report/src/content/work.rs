//! What was done.

use serde::{Deserialize, Serialize};

use super::Said;

/// A step that was done, or something done at it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Done {
    /// The stage it belongs to: "Close up".
    pub stage: String,
    /// What was done: "Pan bolts: by hand, then crosswise".
    pub said: Said,
}

/// A part out and a part in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PartReplaced {
    /// What was replaced.
    pub what: Said,
    /// The new part's number; may be empty.
    pub number: String,
    /// The new part's batch or date code; may be empty.
    pub batch: String,
    /// The old one is kept for the customer.
    pub kept_for_customer: bool,
}

/// What came off, and whether it all went back.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PartsOff {
    /// How many things are still off.
    pub still_off: u32,
    /// What came off, in order.
    pub items: Vec<PartOffSaid>,
}

/// Something that came off.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PartOffSaid {
    /// What, with count, size and place: "4 bolts M6 x 25, front edge".
    pub said: Said,
    /// How many came off.
    pub count: u32,
    /// How many are still off.
    pub off: u32,
    /// What was lost, spoilt or replaced, when something was.
    pub remark: Option<String>,
}
