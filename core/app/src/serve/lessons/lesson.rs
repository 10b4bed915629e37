//! One piece that a technician looked at.

use std::collections::BTreeMap;

use serde::Serialize;
use swarfbook_debris::fit::{Judges, Lesson as Searched, Sample};
use swarfbook_debris::{Upright, before_calibration};
use swarfbook_job::census::{Census, DebrisClass, PhotoKind, PointPx, ScaleFrom};
use swarfbook_job::fold::{JobState, PhotoState};

use swarfbook_judge::corrected::Piece;
use swarfbook_judge::patch;

/// Around the piece so much is shown, mm.
const AROUND_MM: f64 = 1.5;
/// A crop's longest side, px: the piece's middle of what is larger.
const MOST_PX: f64 = 600.0;
/// A piece that is proposed now is the one that was counted when their middles are nearer than this share of its length.
const NEAR: f64 = 0.3;

/// A lesson as the pack has it, but for the crop's name.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Lesson {
    pub kind: PhotoKind,
    pub class: Option<DebrisClass>,
    pub outline_px: Vec<PointPx>,
    pub px_per_mm: f64,
    pub scale: ScaleFrom,
    pub smallest_mm: Option<f64>,
    pub unusual: Option<f64>,
    pub said: Option<Said>,
    pub confirmed: bool,
    pub looks: Option<Vec<f32>>,
    pub outcome: usize,
    /// The part of the photo that shows it, px.
    #[serde(skip)]
    pub window: [[usize; 2]; 2],
}

/// What the machine said of it.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Said {
    pub class: DebrisClass,
    pub p: BTreeMap<DebrisClass, f64>,
    pub real: Option<f64>,
}

/// The pieces of a photo that teach: all of a count that was confirmed, else those that were corrected.
pub(super) fn lessons(
    state: &JobState,
    photo: &PhotoState,
    upright: &Upright,
    judges: &Judges,
) -> Vec<Lesson> {
    let Some(census) = &photo.census else {
        return Vec::new();
    };
    let confirmed = photo.confirmed.is_some();
    let searched = Searched::new(upright, &photo.hints, census.kind, &judges.finder);
    let proposed = searched.pieces(upright, &judges.pixels);
    patch::pieces(state, photo)
        .iter()
        .filter(|piece| confirmed || piece.corrected)
        .filter_map(|piece| lesson(census, confirmed, piece, &proposed))
        .collect()
}

fn lesson(census: &Census, confirmed: bool, piece: &Piece, proposed: &[Sample]) -> Option<Lesson> {
    let scale = census.scale.as_ref().filter(|s| s.px_per_mm > 0.0)?;
    let machine = &piece.machine;
    let window = window(census, machine.outline_px.as_slice(), scale.px_per_mm)?;
    let [[left, top], _] = window;
    let within = |[x, y]: &PointPx| [tenth(x - left as f64), tenth(y - top as f64)];
    let class = (!piece.not_debris).then_some(piece.class);
    let said = (!piece.redrawn).then(|| {
        let own = census.particles.iter();
        let mut own = own.filter(|p| (p.x_px, p.y_px) == (machine.x_px, machine.y_px));
        // A magnet may have changed the class since; the machine's eye said its own.
        let own = own.next().unwrap_or(machine);
        Said {
            class: own.class,
            p: match &census.calibration {
                Some(by) => before_calibration(&own.p, by),
                None => own.p.clone(),
            },
            real: own.real,
        }
    });
    let far = |sample: &Sample| {
        let [x, y] = sample.centre_px;
        (x - machine.x_px).hypot(y - machine.y_px) / scale.px_per_mm
    };
    let nearest = (proposed.iter()).min_by(|a, b| far(a).total_cmp(&far(b)));
    let same = nearest.filter(|sample| far(sample) < NEAR * machine.feret_max_mm);
    let place = |class| DebrisClass::LEARNED.iter().position(|c| *c == class);
    let outcome = match class {
        // What the machine does not learn teaches it nothing.
        Some(class) => place(class)? + 1,
        None => 0,
    };
    Some(Lesson {
        kind: census.kind,
        class,
        outline_px: machine.outline_px.iter().map(within).collect(),
        px_per_mm: scale.px_per_mm,
        scale: scale.from,
        smallest_mm: census.smallest_mm,
        unusual: census.unusual,
        said,
        confirmed,
        looks: same
            .filter(|_| !piece.redrawn)
            .map(|sample| sample.looks.clone()),
        outcome,
        window,
    })
}

/// The part of the photo around an outline; `None` where it has no pixels.
fn window(census: &Census, outline: &[PointPx], px_per_mm: f64) -> Option<[[usize; 2]; 2]> {
    let size = census.size_px?;
    let around = AROUND_MM * px_per_mm;
    let mut window = [[0; 2]; 2];
    for axis in [0, 1] {
        let all = outline.iter().map(|point| point[axis]);
        let low = all.clone().fold(f64::INFINITY, f64::min) - around;
        let high = all.fold(f64::NEG_INFINITY, f64::max) + around;
        let (middle, half) = ((low + high) / 2.0, ((high - low) / 2.0).min(MOST_PX / 2.0));
        let end = f64::from(size[axis]);
        // Within the photo, so that the casts keep every pixel.
        window[0][axis] = (middle - half).clamp(0.0, end).floor() as usize;
        window[1][axis] = (middle + half).clamp(0.0, end).ceil() as usize;
    }
    let [from, to] = window;
    (from[0] < to[0] && from[1] < to[1]).then_some(window)
}

fn tenth(px: f64) -> f64 {
    (10.0 * px).round() / 10.0
}
