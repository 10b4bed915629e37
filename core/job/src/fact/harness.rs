//! What was read of the two wires between a control unit and a part, as it was typed.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{MeterUsed, Sample};

/// The matrix of one part: pin to pin and pin to ground, from either side. What was not read
/// is left out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HarnessRead {
    /// Names of the two pins at the control unit's connector, by the maker's diagram; may be empty.
    #[serde(default)]
    pub pins: [String; 2],
    /// At the control unit's connector, unplugged from it, the part plugged in.
    #[serde(default)]
    pub control: SideRead,
    /// At the part, unplugged from its wires.
    #[serde(default)]
    pub part: SideRead,
    /// Each wire from end to end, unplugged at both.
    #[serde(default)]
    pub wires: [Option<Sample>; 2],
    /// The probes held together.
    #[serde(default)]
    pub leads: Option<Sample>,
    /// Its accuracy, from which the uncertainty follows.
    pub meter: MeterUsed,
}

/// Both pins as seen from one side.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct SideRead {
    /// From pin to pin.
    #[serde(default)]
    pub across: Option<Sample>,
    /// From each pin to ground.
    #[serde(default)]
    pub to_ground: [Option<Sample>; 2],
}

impl HarnessRead {
    /// All that was read, as typed.
    pub fn samples(&self) -> impl Iterator<Item = &Sample> {
        fn of(side: &SideRead) -> [Option<&Sample>; 3] {
            let [first, second] = &side.to_ground;
            [side.across.as_ref(), first.as_ref(), second.as_ref()]
        }
        of(&self.control)
            .into_iter()
            .chain(of(&self.part))
            .chain(self.wires.iter().map(Option::as_ref))
            .flatten()
    }
}
