//! Photos and their censuses.

use std::collections::BTreeMap;
use swarfbook_words::rounding::{down, up};
use swarfbook_words::{decimals, fixed, kept, say, term, within};

use swarfbook_debris::patch::{Fate, waist};
use swarfbook_job::census::{
    self, Census, DebrisClass, FluidColour, MagnetCover, Particle, ScaleFrom, SizeClass,
};
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fact::{PhotoLink, PhotoSubject};
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::garwood::whole_interval;
use swarfbook_judge::corrected::Piece;
use swarfbook_judge::onward::none_at_once;
use swarfbook_judge::{patch, tray::tray};
use swarfbook_wear::TrayPlace;

use super::patch::words as patch_words;
use super::time;
use crate::view::{
    CensusSummary, ClassCount, HistogramBar, LinkOffer, ParticleView, PhotoCensusView, PhotoView,
};

pub(super) fn photo(job: &JobState, state: &PhotoState) -> PhotoView {
    described(state, patch::census(job, state).as_ref())
}

/// A photo with the census that counts.
fn described(state: &PhotoState, census: Option<&Census>) -> PhotoView {
    PhotoView {
        entry: state.stamp.entry,
        photo: state.photo,
        step: state.step.clone(),
        subject: state.subject,
        words: subject_words(state.subject).to_owned(),
        at: time(&state.stamp.wall),
        countable: state.subject.kind().is_some(),
        census: census.map(|census| summed(state, census)),
    }
}

/// What a photo shows, in words.
pub(crate) fn subject_words(subject: PhotoSubject) -> &'static str {
    match subject {
        PhotoSubject::Patch => term!("the-patch"),
        PhotoSubject::PatchAfterMagnet => term!("the-patch-after-the-magnet"),
        PhotoSubject::Pan => term!("the-pan"),
        PhotoSubject::Magnet => term!("a-magnet"),
        PhotoSubject::Place => term!("where-it-goes-back-2"),
        PhotoSubject::Filter => term!("the-filter"),
        PhotoSubject::Part => term!("the-part"),
        PhotoSubject::Leak => term!("a-leak-check"),
        PhotoSubject::Other => term!("something-else"),
        PhotoSubject::Display => term!("the-meters-display"),
    }
}

/// What a census says, in short, corrections applied.
pub(crate) fn summary(job: &JobState, state: &PhotoState) -> Option<CensusSummary> {
    Some(summed(state, &patch::census(job, state)?))
}

fn summed(state: &PhotoState, census: &Census) -> CensusSummary {
    let n = census.particles.iter().filter(|p| p.class.counts()).count();
    let n = u32::try_from(n).unwrap_or(u32::MAX);
    CensusSummary {
        words: summary_words(census, n),
        n,
        problem: census.problem.as_deref().map(kept),
        limits: limits(census),
        confirmed: state.confirmed.is_some(),
    }
}

/// What the photo can't show, which the log keeps in English.
fn limits(census: &Census) -> Vec<String> {
    let said = census.limits.iter();
    said.map(|text| kept(text)).collect()
}

fn summary_words(census: &Census, n: u32) -> String {
    if let Some(problem) = &census.problem {
        return kept(problem);
    }
    let (lo, hi) = whole_interval(n);
    let pieces = if n == 0 {
        say!("no-pieces-found")
    } else {
        say!(
            "about-count-lo-to-hi",
            count = say!("n-pieces", n = n),
            lo = lo,
            hi = hi
        )
    };
    let big = census
        .particles
        .iter()
        .filter(|p| p.class.counts() && p.feret_max_mm >= 1.0)
        .count();
    let big = if big > 0 {
        say!("big-over-1-mm", big = big)
    } else {
        String::new()
    };
    let cover = census.magnet.map_or_else(String::new, |cover| {
        format!("; {}", within(&cover_words(&cover)))
    });
    format!("{pieces}{big}{cover}")
}

/// How much of a magnet's face is covered, with its interval: never without.
pub(crate) fn cover_words(cover: &MagnetCover) -> String {
    say!(
        "face-covered-cover-percent-cover-lo-to-cover",
        cover = fixed(cover.cover * 100.0, 0),
        cover_lo = fixed(down(cover.cover_lo * 100.0, 0), 0),
        cover_hi = fixed(up(cover.cover_hi * 100.0, 0), 0)
    )
}

/// The colour of the fluid, with its doubt.
pub(crate) fn fluid_words(film: &FluidColour) -> String {
    let [l, a, b] = film.lab;
    say!(
        "fluid-on-the-paper-l-l-a-value",
        l = fixed(l, 0),
        value = fixed(a, 0),
        value_2 = fixed(b, 0),
        u_de = fixed(up(film.u_de, 1), 1)
    )
}

/// "4.37 mm (3.45 to 5.28)": the longest side with its interval.
pub(crate) fn length_words(particle: &Particle) -> String {
    let [mm, lo, hi] = length_mm(particle);
    say!(
        "mm-mm-lo-to-hi",
        mm = fixed(mm, 2),
        lo = fixed(lo, 2),
        hi = fixed(hi, 2)
    )
}

/// The longest side of a piece and the ends of its interval, mm, as they are told.
pub(crate) fn length_mm(particle: &Particle) -> [f64; 3] {
    [
        (particle.feret_max_mm * 100.0).round() / 100.0,
        down(particle.feret_max_lo, 2),
        up(particle.feret_max_hi, 2),
    ]
}

/// What a photo can't show for its scale: told for that photo.
pub(crate) fn unseen_words(census: &Census) -> Option<String> {
    let mm = census.smallest_mm?;
    Some(say!(
        "nothing-under-mm-mm-can-be-seen-in",
        mm = fixed(up(mm, 2), 2)
    ))
}

/// A photo with every piece.
pub(crate) fn photo_census(job: &JobState, state: &PhotoState) -> PhotoCensusView {
    let pieces = patch::pieces(job, state);
    let census = patch::census_of(state, &pieces);
    let sized = census
        .as_ref()
        .and_then(|c| c.scale.as_ref())
        .is_some_and(|s| s.from != ScaleFrom::None);
    let counted: Vec<&Piece> = pieces.iter().filter(|p| !p.not_debris).collect();
    let laid = laid_out(job, state, &pieces);
    PhotoCensusView {
        photo: described(state, census.as_ref()),
        size_px: census.as_ref().and_then(|c| c.size_px),
        particles: pieces
            .iter()
            .zip(laid)
            .map(|(piece, laid)| particle(piece, sized, laid))
            .collect(),
        counts: counts(counted.iter().map(|p| p.class)),
        histogram: if sized {
            let smallest = census.as_ref().and_then(|c| c.smallest_mm);
            histogram(&counted, smallest.unwrap_or(0.0))
        } else {
            Vec::new()
        },
        scale_words: census.as_ref().map(scale_words).unwrap_or_default(),
        unseen_words: census.as_ref().and_then(unseen_words).unwrap_or_default(),
        magnet_words: census
            .as_ref()
            .and_then(|c| c.magnet.as_ref())
            .map(cover_words),
        fluid_words: census
            .as_ref()
            .and_then(|c| c.fluid.as_ref())
            .map(fluid_words),
        wants_taps: census
            .as_ref()
            .is_some_and(|c| !sized && c.size_px.is_some()),
        none_at_once: none_at_once(&pieces, state.confirmed.is_some()),
        hints: state.hints.clone(),
        patch_words: patch_words(job, state),
        links: links(job, state),
        repeat_offer: None,
    }
}

/// The patches before this photo that it can be said to show, the last ones first; saying again what
/// is said takes it back.
fn links(job: &JobState, photo: &PhotoState) -> Vec<LinkOffer> {
    const OFFERED: usize = 2;
    if !matches!(
        photo.subject,
        PhotoSubject::Patch | PhotoSubject::PatchAfterMagnet | PhotoSubject::Pan
    ) {
        return Vec::new();
    }
    let entry = |p: &PhotoState| p.stamp.entry;
    let before_magnet = job.before_magnet(photo).map(|p| job.same_patch(p));
    let same = job.same_patch(photo);
    let earlier = job.photos.iter().take_while(|p| entry(p) != entry(photo));
    let firsts = earlier
        .filter(|p| p.subject.kind() == photo.subject.kind())
        .filter(|p| job.same_patch(p).first().map(|p| entry(p)) == Some(entry(p)));
    let mut firsts: Vec<&PhotoState> = firsts.collect();
    firsts.reverse();
    firsts.truncate(OFFERED);
    let mut offers = Vec::new();
    for first in firsts {
        let holds = |patch: &[&PhotoState]| patch.iter().any(|p| entry(p) == entry(first));
        let at = super::clock_words(first.stamp.wall);
        let mut offer = |link, on, label| {
            offers.push(LinkOffer {
                to: entry(first),
                link: if on { PhotoLink::Apart } else { link },
                on,
                label,
            });
        };
        if photo.subject != PhotoSubject::PatchAfterMagnet {
            let label = say!("same-place-as-at-at", at = at);
            offer(PhotoLink::SamePatch, holds(&same), label);
        }
        if photo.subject != PhotoSubject::Pan {
            let label = say!("after-the-magnet-place-of-at", at = at);
            let on = before_magnet.as_deref().is_some_and(holds);
            offer(PhotoLink::AfterMagnet, on, label);
        }
    }
    offers
}

pub(crate) fn scale_words(census: &Census) -> String {
    match &census.scale {
        Some(scale) if scale.from == ScaleFrom::Card => say!(
            "px-per-mm-px-mm-from-the-gauge",
            px_per_mm = fixed(scale.px_per_mm, 1),
            u_rel = fixed(scale.u_rel * 100.0, 1)
        ),
        Some(scale) if scale.from == ScaleFrom::Taps => say!(
            "px-per-mm-px-mm-from-two-taps",
            px_per_mm = fixed(scale.px_per_mm, 1),
            u_rel = fixed(scale.u_rel * 100.0, 1)
        ),
        _ => say!("no-scale-no-sizes"),
    }
}

/// Of each piece, its place in the order of looking and why; what is no debris comes last.
fn laid_out(job: &JobState, state: &PhotoState, pieces: &[Piece]) -> Vec<(u32, Option<TrayPlace>)> {
    let last = u32::try_from(pieces.len()).unwrap_or(u32::MAX);
    let mut places = vec![(last, None); pieces.len()];
    for (rank, laid) in (0u32..).zip(tray(job, state, pieces)) {
        if let Some(place) = places.get_mut(laid.piece) {
            *place = (rank, Some(laid.place));
        }
    }
    places
}

/// How sure a piece is: what the technician said of it is certain.
fn sureness(piece: &Piece) -> f64 {
    if piece.corrected {
        return 1.0;
    }
    census::sureness(piece.class, &piece.machine.p, piece.machine.real)
}

/// What else the machine thought of, likeliest first.
fn likely(piece: &Piece) -> Vec<DebrisClass> {
    let mut others: Vec<(DebrisClass, f64)> = piece
        .machine
        .p
        .iter()
        .map(|(class, p)| (*class, *p))
        .filter(|(class, p)| *class != piece.class && *p > 0.0)
        .collect();
    others.sort_by(|a, b| b.1.total_cmp(&a.1));
    others.into_iter().map(|(class, _)| class).collect()
}

fn particle(piece: &Piece, sized: bool, (rank, place): (u32, Option<TrayPlace>)) -> ParticleView {
    let machine = &piece.machine;
    let words = if piece.not_debris {
        say!("not-debris")
    } else if sized {
        format!(
            "{}, {}",
            ClassRow::of(piece.class).name,
            length_words(machine)
        )
    } else {
        ClassRow::of(piece.class).name.to_owned()
    };
    let words = match piece.magnet {
        Some(Fate::Went) => say!("words-the-magnet-took-it", words = words),
        Some(Fate::Stayed) => say!("words-the-magnet-left-it", words = words),
        Some(Fate::Unsure | Fate::Unseen) | None => words,
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
        waist_px: waist(&machine.outline_px),
        redrawn: piece.redrawn,
        figures: if sized {
            say!(
                "feret-max-mm-feret-min-mm-mm-area",
                feret_max_mm = fixed(machine.feret_max_mm, 2),
                feret_min_mm = fixed(machine.feret_min_mm, 2),
                area_mm2 = fixed(machine.area_mm2, 2),
                value = format!("{:?}", machine.iso16232)
            )
        } else {
            String::new()
        },
        rank,
        place,
        confirmed: piece.corrected,
        sure: sureness(piece),
        likely: likely(piece),
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
            let (lo, hi) = whole_interval(n);
            ClassCount {
                class,
                label: ClassRow::of(class).name.to_owned(),
                n,
                lo: lo.into(),
                hi: hi.into(),
            }
        })
        .collect()
}

/// A size of which what was photographed, down to `smallest_mm`, does not show all pieces.
pub(crate) fn below_seen(size: SizeClass, smallest_mm: f64) -> bool {
    let mut limits = SizeClass::LOWER_LIMITS_UM.iter();
    let lower = limits.find(|(class, _)| *class == size);
    lower.is_some_and(|(_, um)| um / 1000.0 < smallest_mm)
}

/// Pieces by size class, lint left out.
pub(crate) fn histogram(pieces: &[&Piece], smallest_mm: f64) -> Vec<HistogramBar> {
    let mut bars: BTreeMap<SizeClass, Vec<DebrisClass>> = BTreeMap::new();
    for piece in pieces.iter().filter(|p| p.class.counts()) {
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
            below_seen: below_seen(size, smallest_mm),
        })
        .collect()
}

/// "0.4 to 0.6 mm".
pub(super) fn size_words(size: SizeClass) -> String {
    let limits = &SizeClass::LOWER_LIMITS_UM;
    let mm = |um: f64| decimals(&(um / 1000.0).to_string());
    let at = limits
        .iter()
        .position(|(class, _)| *class == size)
        .unwrap_or(0);
    match (limits.get(at), limits.get(at + 1)) {
        (Some((_, lower)), Some((_, upper))) => say!(
            "from-mm-to-to-mm-mm",
            from_mm = mm(*lower),
            to_mm = mm(*upper)
        ),
        (Some((_, lower)), None) => say!("lower-mm-and-more", lower = mm(*lower)),
        _ => String::new(),
    }
}
