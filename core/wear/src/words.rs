//! Plain English for counts, sizes and distances.

use swarfbook_job::class_table::ClassRow;
use swarfbook_job::words::thousands;
use swarfbook_words::{decimals, say, term};

use crate::KnownPart;
use crate::count::Weight;

/// "3 flakes of brass or bronze, 1 to 2 mm".
pub(crate) fn pieces(n: u32, weight: &Weight) -> String {
    let what = match weight.grains {
        true => say!("n-grains-of-steel", n = n),
        false => ClassRow::count(weight.class, n),
    };
    format!("{what}, {}", size(weight.from_mm, weight.to_mm))
}

/// What a piece is of: the part's name, with the technician's words where there are some.
pub(crate) fn part(part: KnownPart, named: &str) -> String {
    let name = match part {
        KnownPart::GearTooth => term!("gear-tooth"),
        KnownPart::Roller => term!("roller-or-needle-of-a-bearing"),
        KnownPart::SnapRing => term!("snap-ring-or-circlip"),
        KnownPart::Spring => term!("spring"),
        KnownPart::LiningBlock => term!("block-of-friction-material"),
        KnownPart::BushingHalf => term!("shell-of-a-bushing"),
        KnownPart::Clip => term!("clip"),
        KnownPart::AssemblyPlug => term!("assembly-plug"),
        KnownPart::Gasket => term!("gasket"),
        KnownPart::Sealant => term!("string-of-sealant"),
        KnownPart::Other if !named.is_empty() => return named.to_owned(),
        KnownPart::Other => term!("another-part"),
        KnownPart::Unnamed if !named.is_empty() => return named.to_owned(),
        KnownPart::Unnamed => term!("not-named"),
    };
    if named.is_empty() {
        name.to_owned()
    } else {
        format!("{name} ({named})")
    }
}

/// "1 to 2 mm", "over 4.8 mm", "under 0.4 mm".
fn size(from_mm: f64, to_mm: Option<f64>) -> String {
    match to_mm {
        None => say!("over-from-mm-mm", from_mm = mm(from_mm)),
        Some(to_mm) if from_mm == 0.0 => say!("under-to-mm-mm", to_mm = mm(to_mm)),
        Some(to_mm) => say!(
            "from-mm-to-to-mm-mm",
            from_mm = mm(from_mm),
            to_mm = mm(to_mm)
        ),
    }
}

fn mm(mm: f64) -> String {
    decimals(&mm.to_string())
}

/// "60,000 km", rounded to whole kilometres.
pub(crate) fn km(km: f64) -> String {
    say!("value-km", value = thousands(km.max(0.0)))
}

/// "a", "a and b", "a, b and c".
pub(crate) fn list(items: &[&str]) -> String {
    match items {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [head @ .., last] => say!("head-and-last", head = head.join(", "), last = last),
    }
}
