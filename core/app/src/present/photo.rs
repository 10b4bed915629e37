//! Photos and their censuses.

use std::collections::BTreeMap;

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
        PhotoSubject::Patch => "the patch",
        PhotoSubject::PatchAfterMagnet => "the patch after the magnet",
        PhotoSubject::Pan => "the pan",
        PhotoSubject::Magnet => "a magnet",
        PhotoSubject::Place => "where it goes back",
        PhotoSubject::Filter => "the filter",
        PhotoSubject::Part => "the part",
        PhotoSubject::Leak => "a leak check",
        PhotoSubject::Other => "something else",
    }
}

/// A class in words.
pub(crate) fn class_words(class: DebrisClass) -> &'static str {
    match class {
        DebrisClass::SteelFlake => "steel flake",
        DebrisClass::SteelSliver => "steel sliver",
        DebrisClass::YellowMetal => "yellow metal",
        DebrisClass::LightMetal => "light metal",
        DebrisClass::Lining => "lining",
        DebrisClass::Plastic => "plastic",
        DebrisClass::Elastomer => "rubber or sealant",
        DebrisClass::Grit => "grit",
        DebrisClass::Lint => "lint",
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
        problem: census.problem.clone(),
        limits: census.limits.clone(),
        confirmed: state.confirmed.is_some(),
    })
}

fn summary_words(census: &Census, n: u32) -> String {
    if let Some(problem) = &census.problem {
        return problem.clone();
    }
    let (lo, hi) = garwood(n, 0.90);
    let pieces = if n == 0 {
        "no pieces found".to_owned()
    } else {
        format!(
            "about {} ({:.0} to {:.0})",
            count_words(n, "piece", "pieces"),
            lo.floor(),
            hi.ceil()
        )
    };
    let big = census
        .particles
        .iter()
        .filter(|p| p.class != DebrisClass::Lint && p.feret_max_mm >= 1.0)
        .count();
    let big = if big > 0 {
        format!(", {big} over 1 mm")
    } else {
        String::new()
    };
    let cover = census.magnet.map_or_else(String::new, |m| {
        format!("; face covered {:.0} %", m.cover * 100.0)
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
            .map(|mm| format!("Nothing under {mm:.2} mm can be seen in this photo."))
            .unwrap_or_default(),
        magnet_words: census.as_ref().and_then(|c| c.magnet).map(|m| {
            format!(
                "Face covered {:.0} % ({:.0} to {:.0})",
                m.cover * 100.0,
                m.cover_lo * 100.0,
                m.cover_hi * 100.0
            )
        }),
        fluid_words: census.as_ref().and_then(|c| c.fluid).map(|f| {
            let [l, a, b] = f.lab;
            format!(
                "Fluid on the paper: L* {l:.0}, a* {a:.0}, b* {b:.0} (± {:.1})",
                f.u_de
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
        Some(scale) if scale.from == ScaleFrom::Card => format!(
            "{:.1} px/mm from the gauge card, ± {:.1} %",
            scale.px_per_mm,
            scale.u_rel * 100.0
        ),
        Some(scale) if scale.from == ScaleFrom::Taps => format!(
            "{:.1} px/mm from two taps, ± {:.1} %",
            scale.px_per_mm,
            scale.u_rel * 100.0
        ),
        _ => "No scale: no sizes.".to_owned(),
    }
}

fn particle(piece: &Piece<'_>, sized: bool) -> ParticleView {
    let machine = piece.machine;
    let words = if piece.not_debris {
        "not debris".to_owned()
    } else if sized {
        format!(
            "{}, {:.2} mm ({:.2} to {:.2})",
            class_words(piece.class),
            machine.feret_max_mm,
            machine.feret_max_lo,
            machine.feret_max_hi
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
    let mm = |um: f64| um / 1000.0;
    let at = limits
        .iter()
        .position(|(class, _)| *class == size)
        .unwrap_or(0);
    match (limits.get(at), limits.get(at + 1)) {
        (Some((_, lower)), Some((_, upper))) => format!("{} to {} mm", mm(*lower), mm(*upper)),
        (Some((_, lower)), None) => format!("{} mm and more", mm(*lower)),
        _ => String::new(),
    }
}
