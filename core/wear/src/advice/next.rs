//! What to test or look at next, by name.

use serde::{Deserialize, Serialize};
use swarfbook_words::term;
use ts_rs::TS;

/// A test or a look that the advice names. Listed in the order in which a
/// technician does them: what costs nothing comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum NextTest {
    /// The pieces that the machine alone counted.
    Pieces,
    /// What a piece comes from.
    Piece,
    /// A sample of the fluid, left to stand or heated.
    StandOrCrackle,
    /// The cooler under pressure.
    CoolerPressure,
    /// The fluid's level.
    Level,
    /// Filter and pick-up.
    FilterAndPickUp,
    /// The seal of the pick-up and the filter's neck.
    PickUpSeal,
    /// The pump.
    Pump,
    /// The electrical parts.
    ElectricalParts,
    /// Line pressure at the test port.
    LinePressure,
    /// The converter and its lock-up.
    Converter,
    /// Bearings, mounts and shafts outside of the gearbox.
    Outside,
}

impl NextTest {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            NextTest::Pieces => {
                term!(
                    "Look at the pieces in the photo: what each is, and whether it is debris at all"
                )
            }
            NextTest::Piece => term!("Say what the piece comes from"),
            NextTest::StandOrCrackle => term!(
                "Let a sample of the fluid stand, or heat a drop on a hot plate: water sinks or crackles"
            ),
            NextTest::CoolerPressure => {
                term!("Cooler under pressure: coolant side against fluid side")
            }
            NextTest::Level => term!("Fluid level at the maker's temperature"),
            NextTest::FilterAndPickUp => term!("Filter and pick-up: choked, cracked, loose"),
            NextTest::PickUpSeal => term!("Seal of the pick-up and the filter's neck: draws air"),
            NextTest::Pump => term!("Pump: does it draw and deliver"),
            NextTest::ElectricalParts => {
                term!("Electrical parts: resistance and insulation, codes, adaptation values")
            }
            NextTest::LinePressure => term!("Line pressure at the test port, by the maker's table"),
            NextTest::Converter => term!(
                "Converter: drive with the lock-up held off and on; does the shudder follow it"
            ),
            NextTest::Outside => {
                term!(
                    "Wheel bearings, shafts, mounts: does the noise come from outside the gearbox"
                )
            }
        }
    }
}
