//! Plain English for counts, sizes and distances.

use swarfbook_job::census::DebrisClass;
use swarfbook_job::words::thousands;
use swarfbook_words::{decimals, say, term};

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
        None => say!("over {} mm", mm(from_mm)),
        Some(to_mm) if from_mm == 0.0 => say!("under {} mm", mm(to_mm)),
        Some(to_mm) => say!("{} to {} mm", mm(from_mm), mm(to_mm)),
    }
}

fn mm(mm: f64) -> String {
    decimals(&mm.to_string())
}

fn nouns(class: DebrisClass) -> (&'static str, &'static str) {
    match class {
        DebrisClass::SteelFlake => (term!("steel flake"), term!("steel flakes")),
        DebrisClass::SteelSliver => (term!("steel sliver"), term!("steel slivers")),
        DebrisClass::YellowMetal => (
            term!("flake of yellow metal"),
            term!("flakes of yellow metal"),
        ),
        DebrisClass::LightMetal => (
            term!("flake of light metal"),
            term!("flakes of light metal"),
        ),
        DebrisClass::Lining => (term!("piece of lining"), term!("pieces of lining")),
        DebrisClass::Plastic => (term!("piece of plastic"), term!("pieces of plastic")),
        DebrisClass::Elastomer => (
            term!("crumb of rubber or sealant"),
            term!("crumbs of rubber or sealant"),
        ),
        DebrisClass::Grit => (term!("grain of grit"), term!("grains of grit")),
        DebrisClass::Lint => (term!("fibre of lint"), term!("fibres of lint")),
    }
}

/// "60,000 km", rounded to whole kilometres.
pub(crate) fn km(km: f64) -> String {
    say!("{} km", thousands(km.max(0.0)))
}

/// "a", "a and b", "a, b and c".
pub(crate) fn list(items: &[&str]) -> String {
    match items {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [head @ .., last] => say!("{} and {}", head.join(", "), last),
    }
}
