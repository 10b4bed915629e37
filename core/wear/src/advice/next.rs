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
    /// The pump of the gearbox.
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
                term!("look-at-the-pieces-in-the-photo-what")
            }
            NextTest::Piece => term!("say-what-the-piece-comes-from"),
            NextTest::StandOrCrackle => term!("let-a-sample-of-the-fluid-stand-or"),
            NextTest::CoolerPressure => {
                term!("cooler-under-pressure-coolant-side-against-fluid")
            }
            NextTest::Level => term!("fluid-level-at-the-makers-temperature"),
            NextTest::FilterAndPickUp => term!("filter-and-pick-up-choked-cracked-loose"),
            NextTest::PickUpSeal => term!("seal-of-the-pick-up-and-the-filters"),
            NextTest::Pump => term!("pump-does-it-draw-and-deliver"),
            NextTest::ElectricalParts => {
                term!("electrical-parts-resistance-and-insulation-codes")
            }
            NextTest::LinePressure => term!("line-pressure-at-the-test-port-by-the"),
            NextTest::Converter => term!("converter-drive-with-the-lock-up-held-off"),
            NextTest::Outside => {
                term!("wheel-bearings-shafts-mounts-does-the-noise-come")
            }
        }
    }
}
