//! What a class of debris is called, how it is drawn and what it means: the one
//! table that score, screens, page, print and command line read.
//!
//! The words are in the language that is spoken. Letter and line are the same in
//! every language, so that an English report and a German screen name one piece alike.

use serde::Serialize;
use swarfbook_words::term;
use ts_rs::TS;

use crate::census::DebrisClass;

/// The row of one class.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
pub struct ClassRow {
    /// The class.
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
                name: term!("steel flake"),
                one: term!("steel flake"),
                many: term!("steel flakes"),
                meaning: term!("flat, bright bits of steel, from gears or bearings"),
            },
            DebrisClass::SteelSliver => ClassRow {
                class,
                letter: "S",
                dashes: "9 3",
                double: false,
                name: term!("steel sliver"),
                one: term!("steel sliver"),
                many: term!("steel slivers"),
                meaning: term!("thin or curled bits of steel, cut off by something hard"),
            },
            DebrisClass::YellowMetal => ClassRow {
                class,
                letter: "B",
                dashes: "3 3",
                double: false,
                name: term!("brass or bronze"),
                one: term!("flake of brass or bronze"),
                many: term!("flakes of brass or bronze"),
                meaning: term!("from bushings and thrust washers (the rings that shafts turn in)"),
            },
            DebrisClass::LightMetal => ClassRow {
                class,
                letter: "A",
                dashes: "9 3 2 3",
                double: false,
                name: term!("aluminium"),
                one: term!("flake of aluminium"),
                many: term!("flakes of aluminium"),
                meaning: term!("from the case, the pump or the valve body"),
            },
            DebrisClass::Lining => ClassRow {
                class,
                letter: "L",
                dashes: "none",
                double: true,
                name: term!("friction material"),
                one: term!("piece of friction material"),
                many: term!("pieces of friction material"),
                meaning: term!(
                    "clutch lining: the dark layer that grips when a gear is changed, much like a brake pad"
                ),
            },
            DebrisClass::Plastic => ClassRow {
                class,
                letter: "P",
                dashes: "9 3 2 3 2 3",
                double: false,
                name: term!("plastic"),
                one: term!("piece of plastic"),
                many: term!("pieces of plastic"),
                meaning: term!("from a washer, a cage or a plug"),
            },
            DebrisClass::Elastomer => ClassRow {
                class,
                letter: "R",
                dashes: "9 3",
                double: true,
                name: term!("rubber or sealant"),
                one: term!("crumb of rubber or sealant"),
                many: term!("crumbs of rubber or sealant"),
                meaning: term!("from a seal, or left from an earlier repair"),
            },
            DebrisClass::Grit => ClassRow {
                class,
                letter: "G",
                dashes: "1 3",
                double: false,
                name: term!("grit"),
                one: term!("grain of grit"),
                many: term!("grains of grit"),
                meaning: term!("dirt from outside"),
            },
            DebrisClass::Lint => ClassRow {
                class,
                letter: "T",
                dashes: "3 3",
                double: true,
                name: term!("lint"),
                one: term!("fibre of lint"),
                many: term!("fibres of lint"),
                meaning: term!("a cloth fibre, which is not wear"),
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

    #[test]
    fn letter_and_line_are_the_same_in_every_language() {
        for class in DebrisClass::ALL {
            let drawn = |language| {
                in_language(language, || {
                    let row = ClassRow::of(class);
                    (row.letter, row.dashes, row.double)
                })
            };
            assert_eq!(drawn(Language::En), drawn(Language::De));
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
