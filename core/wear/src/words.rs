//! Plain English for counts, sizes and distances.

use swarfbook_job::census::DebrisClass;
use swarfbook_job::words::thousands;

/// "3 flakes of yellow metal, 1 to 2 mm".
pub(crate) fn pieces(n: u32, class: DebrisClass, from_mm: f64, to_mm: Option<f64>) -> String {
    format!("{}, {}", count(n, class), size(from_mm, to_mm))
}

/// "3 flakes of yellow metal".
pub(crate) fn count(n: u32, class: DebrisClass) -> String {
    let (one, many) = nouns(class);
    match n {
        1 => format!("1 {one}"),
        _ => format!("{n} {many}"),
    }
}

/// "1 to 2 mm", "over 4.8 mm", "under 0.4 mm".
fn size(from_mm: f64, to_mm: Option<f64>) -> String {
    match to_mm {
        None => format!("over {from_mm} mm"),
        Some(to_mm) if from_mm == 0.0 => format!("under {to_mm} mm"),
        Some(to_mm) => format!("{from_mm} to {to_mm} mm"),
    }
}

fn nouns(class: DebrisClass) -> (&'static str, &'static str) {
    match class {
        DebrisClass::SteelFlake => ("steel flake", "steel flakes"),
        DebrisClass::SteelSliver => ("steel sliver", "steel slivers"),
        DebrisClass::YellowMetal => ("flake of yellow metal", "flakes of yellow metal"),
        DebrisClass::LightMetal => ("flake of light metal", "flakes of light metal"),
        DebrisClass::Lining => ("piece of lining", "pieces of lining"),
        DebrisClass::Plastic => ("piece of plastic", "pieces of plastic"),
        DebrisClass::Elastomer => ("crumb of rubber or sealant", "crumbs of rubber or sealant"),
        DebrisClass::Grit => ("grain of grit", "grains of grit"),
        DebrisClass::Lint => ("fibre of lint", "fibres of lint"),
    }
}

/// "60,000 km", rounded to whole kilometres.
pub(crate) fn km(km: f64) -> String {
    format!("{} km", thousands(km.max(0.0)))
}

/// "a", "a and b", "a, b and c".
pub(crate) fn list(items: &[&str]) -> String {
    match items {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    }
}
