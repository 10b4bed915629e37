//! What the answers of a procedure's questions say, where the code needs to know: a choice's
//! `role` in the procedure file is one of these names.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// How the fluid looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum FluidLook {
    /// As new, or nearly.
    Clear,
    /// Brown to black.
    Dark,
    /// Milky or pink: coolant or water. Its own finding, never in the score.
    Milky,
    /// Foamy: air or water. Its own finding, never in the score.
    Foamy,
    /// Metal hanging in the fluid.
    Glittering,
}

/// How the fluid smells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Smell {
    /// No more than fresh fluid.
    None,
    /// Sharp: oxidised.
    Sharp,
    /// Of burnt friction material.
    Burnt,
}

/// What sits on a magnet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Paste {
    /// The magnet is bare.
    None,
    /// A thin grey film, no grains to be felt.
    ThinFilm,
    /// Thick grey paste, like putty.
    ThickPaste,
}

/// What the filter held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum FilterFound {
    /// No debris.
    Clean,
    /// Some debris, of no kind that was told.
    Some,
    /// A film of lining dust.
    LiningDust,
    /// Pieces of metal.
    Metal,
    /// So much that oil could hardly pass.
    Choked,
}

/// How steel from the pan feels between the fingers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum SteelFeel {
    /// Nothing to be felt.
    Nothing,
    /// Flat flakes.
    Flat,
    /// Grains, like sand.
    Grains,
}

/// What a piece can be told to come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum KnownPart {
    /// A tooth of a gear.
    GearTooth,
    /// A roller or needle of a bearing.
    Roller,
    /// A snap ring or circlip.
    SnapRing,
    /// A spring, or a piece of one.
    Spring,
    /// A block of friction lining.
    LiningBlock,
    /// A shell of a bushing.
    BushingHalf,
    /// A clip that holds a wire, a pipe or a cover.
    Clip,
    /// A transport or assembly plug.
    AssemblyPlug,
    /// Paper gasket.
    Gasket,
    /// A string of sealant.
    Sealant,
    /// Another part, named in words.
    Other,
    /// Of a known part, by the procedure's first version, which asked no further.
    #[serde(alias = "yes")]
    Unnamed,
}

impl KnownPart {
    /// Every part.
    pub const ALL: [KnownPart; 12] = [
        KnownPart::GearTooth,
        KnownPart::Roller,
        KnownPart::SnapRing,
        KnownPart::Spring,
        KnownPart::LiningBlock,
        KnownPart::BushingHalf,
        KnownPart::Clip,
        KnownPart::AssemblyPlug,
        KnownPart::Gasket,
        KnownPart::Sealant,
        KnownPart::Other,
        KnownPart::Unnamed,
    ];
}

/// What a technician calls the colour of the fluid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum NotedColour {
    /// Red, as fresh fluid often is.
    Red,
    /// Amber, between red and brown and light.
    Amber,
    /// Brown, as fluid gets with age.
    Brown,
    /// Black, as burnt fluid is.
    Black,
}

/// What the open level plug or the dipstick shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum LevelSeen {
    /// Nothing comes out of the level plug.
    Nothing,
    /// A thin steady trickle.
    Trickle,
    /// More than a trickle: too full, or not yet run down.
    Stream,
    /// Below the marks of the dipstick.
    DipstickBelow,
    /// Between its marks for hot fluid.
    DipstickBetween,
    /// Above its marks.
    DipstickAbove,
}

/// What a leak check saw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Leak {
    /// No fluid outside.
    Dry,
    /// Moist with fluid, no drop falls.
    Damp,
    /// It leaks: not to be driven.
    Leaks,
}

/// What became of the complaint on the road.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ComplaintNow {
    /// It did not show.
    Gone,
    /// Less than before.
    Better,
    /// As before.
    Same,
    /// Worse than before.
    Worse,
}

/// What the customer complains of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Symptom {
    /// Engine speed rises, road speed does not.
    Slips,
    /// Shifts with a jolt, or late.
    Harsh,
    /// Shudder at steady speed.
    Shudder,
    /// A gear or all drive is missing.
    NoDrive,
    /// Grinding, whining, knocking.
    Noise,
    /// Anything else.
    Other,
}
