//! The classes of debris: what each is called, how it is drawn, where it comes from and what is
//! asked about it. The one table that census, score, screens, page, print and command line read;
//! only the weights of the score stand elsewhere (`core/wear/data`), since a report names the
//! version that it was scored by.
//!
//! The words are in the language that is spoken. Letter and line are the same in
//! every language, so that an English report and a German screen name one piece alike.

use serde::{Deserialize, Serialize};
use swarfbook_words::term;
use ts_rs::TS;

/// What a piece of debris is made of, as far as a photo can tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum DebrisClass {
    /// A flat bright piece of steel.
    SteelFlake,
    /// A long, thin or curled piece of steel.
    SteelSliver,
    /// Brass or bronze.
    YellowMetal,
    /// Aluminium or an alloy of it.
    LightMetal,
    /// Friction material.
    Lining,
    /// Plastic: a cage, a washer, a connector.
    Plastic,
    /// Rubber or sealant.
    Elastomer,
    /// Mineral dirt.
    Grit,
    /// A cloth or paper fibre; not wear.
    Lint,
    /// Torn paper gasket, which only a technician tells from friction material.
    PaperGasket,
}

/// Where debris comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// A part of the gearbox that wears or breaks.
    Part,
    /// A seal, or an earlier repair.
    Repair,
    /// Dirt from the road.
    Outside,
    /// The cloth that wiped: it counts nowhere.
    Cloth,
}

/// What the rules need of a class.
struct Traits {
    origin: Origin,
    /// A magnet holds it.
    ferrous: bool,
    /// A flake of metal, as running in leaves it.
    flake: bool,
    /// From this size on a piece is asked to be named, mm.
    named_from_mm: Option<f64>,
}

impl DebrisClass {
    /// Every class, in the order in which lists show them.
    pub const ALL: [DebrisClass; 10] = [
        DebrisClass::SteelFlake,
        DebrisClass::SteelSliver,
        DebrisClass::YellowMetal,
        DebrisClass::LightMetal,
        DebrisClass::Lining,
        DebrisClass::Plastic,
        DebrisClass::Elastomer,
        DebrisClass::Grit,
        DebrisClass::Lint,
        DebrisClass::PaperGasket,
    ];

    /// Those that the machine learned, in the order of its models' outputs. Any other is the
    /// technician's word alone.
    pub const LEARNED: [DebrisClass; 9] = [
        DebrisClass::SteelFlake,
        DebrisClass::SteelSliver,
        DebrisClass::YellowMetal,
        DebrisClass::LightMetal,
        DebrisClass::Lining,
        DebrisClass::Plastic,
        DebrisClass::Elastomer,
        DebrisClass::Grit,
        DebrisClass::Lint,
    ];

    /// Common practice, no published source.
    const fn traits(self) -> Traits {
        use Origin::{Cloth, Outside, Part, Repair};
        const fn class(origin: Origin, named_from_mm: Option<f64>) -> Traits {
            Traits {
                origin,
                ferrous: false,
                flake: false,
                named_from_mm,
            }
        }
        match self {
            DebrisClass::SteelFlake => Traits {
                ferrous: true,
                flake: true,
                ..class(Part, Some(2.0))
            },
            DebrisClass::SteelSliver => Traits {
                ferrous: true,
                ..class(Part, Some(4.8))
            },
            DebrisClass::YellowMetal | DebrisClass::LightMetal => Traits {
                flake: true,
                ..class(Part, Some(2.0))
            },
            DebrisClass::Lining => class(Part, Some(2.0)),
            DebrisClass::Plastic => class(Part, Some(3.0)),
            DebrisClass::Elastomer | DebrisClass::PaperGasket => class(Repair, None),
            DebrisClass::Grit => class(Outside, None),
            DebrisClass::Lint => class(Cloth, None),
        }
    }

    /// Where it comes from.
    pub const fn origin(self) -> Origin {
        self.traits().origin
    }

    /// It counts as debris; a fibre of the cloth does not.
    pub const fn counts(self) -> bool {
        !matches!(self.origin(), Origin::Cloth)
    }

    /// It is wear of the gearbox.
    pub const fn is_wear(self) -> bool {
        matches!(self.origin(), Origin::Part)
    }

    /// A magnet holds it.
    pub const fn is_ferrous(self) -> bool {
        self.traits().ferrous
    }

    /// A flake of metal, as running in leaves it.
    pub const fn is_metal_flake(self) -> bool {
        self.traits().flake
    }

    /// From which size on a piece broke off something and is asked to be named, mm; `None` for
    /// what is not asked.
    pub const fn named_from_mm(self) -> Option<f64> {
        self.traits().named_from_mm
    }
}

/// The row of one class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
pub struct ClassRow {
    /// As lines and wire name it.
    pub class: DebrisClass,
    /// Its letter beside an outline; no two classes have the same.
    pub letter: &'static str,
    /// Lengths of dash and gap in turn, px (`stroke-dasharray`); "none" for an unbroken line.
    pub dashes: &'static str,
    /// Drawn as two thin lines.
    pub double: bool,
    /// Its name: "steel flake", "brass or bronze".
    pub name: &'static str,
    /// One piece, after a number: "steel flake", "flake of brass or bronze".
    pub one: &'static str,
    /// Several, after a number: "steel flakes", "flakes of brass or bronze".
    pub many: &'static str,
    /// What it is and where it comes from, for who knows nothing of gearboxes.
    /// Common practice, no published source.
    pub meaning: &'static str,
}

impl ClassRow {
    /// Every row, in the order of [`DebrisClass::ALL`].
    pub fn all() -> [ClassRow; DebrisClass::ALL.len()] {
        DebrisClass::ALL.map(ClassRow::of)
    }

    /// "1 steel flake", "3 flakes of brass or bronze".
    pub fn count(class: DebrisClass, n: u32) -> String {
        let row = ClassRow::of(class);
        let noun = if n == 1 { row.one } else { row.many };
        format!("{n} {noun}")
    }

    /// The row of a class.
    pub fn of(class: DebrisClass) -> ClassRow {
        match class {
            DebrisClass::SteelFlake => ClassRow {
                class,
                letter: "F",
                dashes: "none",
                double: false,
                name: term!("steel-flake"),
                one: term!("steel-flake"),
                many: term!("steel-flakes"),
                meaning: term!("flat-bright-bits-of-steel-from-gears-or"),
            },
            DebrisClass::SteelSliver => ClassRow {
                class,
                letter: "S",
                dashes: "9 3",
                double: false,
                name: term!("steel-sliver"),
                one: term!("steel-sliver"),
                many: term!("steel-slivers"),
                meaning: term!("thin-or-curled-bits-of-steel-cut-off"),
            },
            DebrisClass::YellowMetal => ClassRow {
                class,
                letter: "B",
                dashes: "3 3",
                double: false,
                name: term!("brass-or-bronze"),
                one: term!("flake-of-brass-or-bronze"),
                many: term!("flakes-of-brass-or-bronze"),
                meaning: term!("from-bushings-and-thrust-washers-the-rings-that"),
            },
            DebrisClass::LightMetal => ClassRow {
                class,
                letter: "A",
                dashes: "9 3 2 3",
                double: false,
                name: term!("aluminium"),
                one: term!("flake-of-aluminium"),
                many: term!("flakes-of-aluminium"),
                meaning: term!("from-the-case-the-pump-or-the-valve"),
            },
            DebrisClass::Lining => ClassRow {
                class,
                letter: "L",
                dashes: "none",
                double: true,
                name: term!("friction-material"),
                one: term!("piece-of-friction-material"),
                many: term!("pieces-of-friction-material"),
                meaning: term!("clutch-lining-the-dark-layer-that-grips-when"),
            },
            DebrisClass::Plastic => ClassRow {
                class,
                letter: "P",
                dashes: "9 3 2 3 2 3",
                double: false,
                name: term!("plastic"),
                one: term!("piece-of-plastic"),
                many: term!("pieces-of-plastic"),
                meaning: term!("from-a-washer-a-cage-or-a-plug"),
            },
            DebrisClass::Elastomer => ClassRow {
                class,
                letter: "R",
                dashes: "9 3",
                double: true,
                name: term!("rubber-or-sealant"),
                one: term!("crumb-of-rubber-or-sealant"),
                many: term!("crumbs-of-rubber-or-sealant"),
                meaning: term!("from-a-seal-or-left-from-an-earlier"),
            },
            DebrisClass::Grit => ClassRow {
                class,
                letter: "G",
                dashes: "1 3",
                double: false,
                name: term!("grit"),
                one: term!("grain-of-grit"),
                many: term!("grains-of-grit"),
                meaning: term!("dirt-from-outside"),
            },
            DebrisClass::Lint => ClassRow {
                class,
                letter: "T",
                dashes: "3 3",
                double: true,
                name: term!("lint"),
                one: term!("fibre-of-lint"),
                many: term!("fibres-of-lint"),
                meaning: term!("a-cloth-fibre-which-is-not-wear"),
            },
            DebrisClass::PaperGasket => ClassRow {
                class,
                letter: "K",
                dashes: "1 3",
                double: true,
                name: term!("paper-gasket"),
                one: term!("piece-of-paper-gasket"),
                many: term!("pieces-of-paper-gasket"),
                meaning: term!("torn-off-a-gasket-when-the-gearbox-was"),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use swarfbook_words::{Language, in_language};

    #[test]
    fn no_two_classes_look_or_sound_alike() {
        for language in Language::ALL {
            in_language(language, || {
                let rows = ClassRow::all();
                for (at, row) in rows.iter().enumerate() {
                    for other in rows.iter().skip(at + 1) {
                        assert_ne!(row.letter, other.letter);
                        assert_ne!((row.dashes, row.double), (other.dashes, other.double));
                        for (mine, its) in [
                            (row.name, other.name),
                            (row.one, other.one),
                            (row.many, other.many),
                            (row.meaning, other.meaning),
                        ] {
                            assert_ne!(mine, its);
                        }
                    }
                }
            });
        }
    }

    /// The models' outputs are in this order: a class that is added stands behind them.
    #[test]
    fn the_learned_classes_come_first() {
        let learned = DebrisClass::LEARNED.len();
        assert_eq!(DebrisClass::ALL[..learned], DebrisClass::LEARNED);
    }

    #[test]
    fn letter_and_line_are_the_same_in_every_language() {
        for class in DebrisClass::ALL {
            let drawn = |language| {
                in_language(language, || {
                    let row = ClassRow::of(class);
                    (row.letter, row.dashes, row.double)
                })
            };
            for language in Language::ALL {
                assert_eq!(drawn(Language::En), drawn(language));
            }
        }
    }

    #[test]
    fn one_and_several_are_counted() {
        assert_eq!(ClassRow::count(DebrisClass::Grit, 1), "1 grain of grit");
        assert_eq!(
            ClassRow::count(DebrisClass::LightMetal, 3),
            "3 flakes of aluminium"
        );
    }
}
