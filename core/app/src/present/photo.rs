//! Photos and their censuses.

use std::collections::BTreeMap;
use swarfbook_words::{decimals, fixed, retold, say, term, translated};

use swarfbook_debris::LIMITS_WITH_FIGURES;
use swarfbook_job::census::{Census, DebrisClass, ScaleFrom, SizeClass};
use swarfbook_job::fact::PhotoSubject;
use swarfbook_job::fold::PhotoState;
use swarfbook_job::garwood::garwood;

use super::{count_words, time};
use crate::assess::corrected::{Piece, census, pieces};
use crate::view::{
    CensusSummary, ClassCount, HistogramBar, ParticleView, PhotoCensusView, PhotoView,
};

pub(super) fn photo(state: &PhotoState) -> PhotoView {
    PhotoView {
        entry: state.stamp.entry,
        photo: state.photo,
        step: state.step.clone(),
        subject: state.subject,
        words: subject_words(state.subject).to_owned(),
        at: time(&state.stamp.wall),
        countable: state.subject.kind().is_some(),
        census: summary(state),
    }
}

/// What a photo shows, in words.
pub(crate) fn subject_words(subject: PhotoSubject) -> &'static str {
    match subject {
        PhotoSubject::Patch => term!("the patch"),
        PhotoSubject::PatchAfterMagnet => term!("the patch after the magnet"),
        PhotoSubject::Pan => term!("the pan"),
        PhotoSubject::Magnet => term!("a magnet"),
        PhotoSubject::Place => term!("where it goes back"),
        PhotoSubject::Filter => term!("the filter"),
        PhotoSubject::Part => term!("the part"),
        PhotoSubject::Leak => term!("a leak check"),
        PhotoSubject::Other => term!("something else"),
    }
}

/// A class in words.
pub(crate) fn class_words(class: DebrisClass) -> &'static str {
    match class {
        DebrisClass::SteelFlake => term!("steel flake"),
        DebrisClass::SteelSliver => term!("steel sliver"),
        DebrisClass::YellowMetal => term!("yellow metal"),
        DebrisClass::LightMetal => term!("light metal"),
        DebrisClass::Lining => term!("lining"),
        DebrisClass::Plastic => term!("plastic"),
        DebrisClass::Elastomer => term!("rubber or sealant"),
        DebrisClass::Grit => term!("grit"),
        DebrisClass::Lint => term!("lint"),
    }
}

/// What a census says, in short, corrections applied.
pub(crate) fn summary(state: &PhotoState) -> Option<CensusSummary> {
    let census = census(state)?;
    let n = census
        .particles
        .iter()
        .filter(|p| p.class != DebrisClass::Lint)
        .count();
    let n = u32::try_from(n).unwrap_or(u32::MAX);
    Some(CensusSummary {
        words: summary_words(&census, n),
        n,
        problem: census
            .problem
            .as_deref()
            .map(|text| translated(text).to_owned()),
        limits: limits(&census),
        confirmed: state.confirmed.is_some(),
    })
}

/// What the photo can't show, which the log keeps in English.
pub(crate) fn limits(census: &Census) -> Vec<String> {
    let said = census.limits.iter();
    said.map(|text| retold(text, &LIMITS_WITH_FIGURES))
        .collect()
}

fn summary_words(census: &Census, n: u32) -> String {
    if let Some(problem) = &census.problem {
        return translated(problem).to_owned();
    }
    let (lo, hi) = garwood(n, 0.90);
    let pieces = if n == 0 {
        say!("no pieces found")
    } else {
        say!(
            "about {} ({} to {})",
            count_words(n, term!("piece"), term!("pieces")),
            fixed(lo.floor(), 0),
            fixed(hi.ceil(), 0)
        )
    };
    let big = census
        .particles
        .iter()
        .filter(|p| p.class != DebrisClass::Lint && p.feret_max_mm >= 1.0)
        .count();
    let big = if big > 0 {
        say!(", {} over 1 mm", big)
    } else {
        String::new()
    };
    let cover = census.magnet.map_or_else(String::new, |m| {
        say!("; face covered {} %", fixed(m.cover * 100.0, 0))
    });
    format!("{pieces}{big}{cover}")
}

/// A photo with every piece.
pub(crate) fn photo_census(state: &PhotoState) -> PhotoCensusView {
    let census = census(state);
    let sized = census
        .as_ref()
        .and_then(|c| c.scale.as_ref())
        .is_some_and(|s| s.from != ScaleFrom::None);
    let pieces = pieces(state);
    let counted: Vec<&Piece<'_>> = pieces.iter().filter(|p| !p.not_debris).collect();
    PhotoCensusView {
        photo: photo(state),
        size_px: census.as_ref().and_then(|c| c.size_px),
        particles: pieces.iter().map(|p| particle(p, sized)).collect(),
        counts: counts(counted.iter().map(|p| p.class)),
        histogram: if sized {
            histogram(&counted)
        } else {
            Vec::new()
        },
        scale_words: census.as_ref().map(scale_words).unwrap_or_default(),
        unseen_words: census
            .as_ref()
            .and_then(|c| c.smallest_mm)
            .map(|mm| {
                say!(
                    "Nothing under {} mm can be seen in this photo.",
                    fixed(mm, 2)
                )
            })
            .unwrap_or_default(),
        magnet_words: census.as_ref().and_then(|c| c.magnet).map(|m| {
            say!(
                "Face covered {} % ({} to {})",
                fixed(m.cover * 100.0, 0),
                fixed(m.cover_lo * 100.0, 0),
                fixed(m.cover_hi * 100.0, 0)
            )
        }),
        fluid_words: census.as_ref().and_then(|c| c.fluid).map(|f| {
            let [l, a, b] = f.lab;
            say!(
                "Fluid on the paper: L* {}, a* {}, b* {} (± {})",
                fixed(l, 0),
                fixed(a, 0),
                fixed(b, 0),
                fixed(f.u_de, 1)
            )
        }),
        wants_taps: census
            .as_ref()
            .is_some_and(|c| !sized && c.size_px.is_some()),
        hints: state.hints.clone(),
    }
}

fn scale_words(census: &Census) -> String {
    match &census.scale {
        Some(scale) if scale.from == ScaleFrom::Card => say!(
            "{} px/mm from the gauge card, ± {} %",
            fixed(scale.px_per_mm, 1),
            fixed(scale.u_rel * 100.0, 1)
        ),
        Some(scale) if scale.from == ScaleFrom::Taps => say!(
            "{} px/mm from two taps, ± {} %",
            fixed(scale.px_per_mm, 1),
            fixed(scale.u_rel * 100.0, 1)
        ),
        _ => say!("No scale: no sizes."),
    }
}

fn particle(piece: &Piece<'_>, sized: bool) -> ParticleView {
    let machine = piece.machine;
    let words = if piece.not_debris {
        say!("not debris")
    } else if sized {
        say!(
            "{}, {} mm ({} to {})",
            class_words(piece.class),
            fixed(machine.feret_max_mm, 2),
            fixed(machine.feret_max_lo, 2),
            fixed(machine.feret_max_hi, 2)
        )
    } else {
        class_words(piece.class).to_owned()
    };
    let size = |mm: f64| if sized { mm } else { 0.0 };
    ParticleView {
        index: u32::try_from(piece.index).unwrap_or(u32::MAX),
        at_px: [machine.x_px, machine.y_px],
        outline_px: machine.outline_px.clone(),
        class: piece.class,
        machine_class: (piece.corrected).then_some(machine.class),
        not_debris: piece.not_debris,
        p: machine.p.get(&piece.class).copied().unwrap_or(0.0),
        iso16232: sized.then_some(machine.iso16232),
        words,
        feret_max_mm: size(machine.feret_max_mm),
        feret_min_mm: size(machine.feret_min_mm),
        area_mm2: size(machine.area_mm2),
    }
}

/// How many of each class, with the count's interval.
pub(crate) fn counts(classes: impl Iterator<Item = DebrisClass>) -> Vec<ClassCount> {
    let mut n: BTreeMap<DebrisClass, u32> = BTreeMap::new();
    for class in classes {
        *n.entry(class).or_default() += 1;
    }
    n.into_iter()
        .map(|(class, n)| {
            let (lo, hi) = garwood(n, 0.90);
            ClassCount {
                class,
                label: class_words(class).to_owned(),
                n,
                lo,
                hi,
            }
        })
        .collect()
}

/// Pieces by size class, lint left out.
pub(crate) fn histogram(pieces: &[&Piece<'_>]) -> Vec<HistogramBar> {
    let mut bars: BTreeMap<SizeClass, Vec<DebrisClass>> = BTreeMap::new();
    for piece in pieces.iter().filter(|p| p.class != DebrisClass::Lint) {
        bars.entry(piece.machine.iso16232)
            .or_default()
            .push(piece.class);
    }
    bars.into_iter()
        .map(|(size, classes)| HistogramBar {
            size,
            label: size_words(size),
            n: u32::try_from(classes.len()).unwrap_or(u32::MAX),
            by_class: counts(classes.into_iter()),
        })
        .collect()
}

/// "0.4 to 0.6 mm".
fn size_words(size: SizeClass) -> String {
    let limits = &SizeClass::LOWER_LIMITS_UM;
    let mm = |um: f64| decimals(&(um / 1000.0).to_string());
    let at = limits
        .iter()
        .position(|(class, _)| *class == size)
        .unwrap_or(0);
    match (limits.get(at), limits.get(at + 1)) {
        (Some((_, lower)), Some((_, upper))) => say!("{} to {} mm", mm(*lower), mm(*upper)),
        (Some((_, lower)), None) => say!("{} mm and more", mm(*lower)),
        _ => String::new(),
    }
}
