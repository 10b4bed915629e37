//! The whole reading of one photo.

use std::sync::LazyLock;

use swarfbook_job::census::{
    CardFound, Census, Particle, PhotoHints, PhotoKind, Scale, ScaleFrom, SizeClass,
};

use crate::Settings;
use crate::colour::{linear_table, white_of_card};
use crate::eye::{Finder, Sighting, Told, View};
use crate::find::{Search, search};
use crate::net::Unusable;
use crate::particle::{
    LengthForest, Measured, NAMES, Photo, PieceTrees, PixelTrees, Scene, Sights, judge,
    leave_doubtful, length_of, looks_of, measure, pixel_looks,
};
use crate::picture::{Unreadable, Upright, decode};
use crate::plane::drawing::{CORNERS, SIZE};
use crate::plane::{Homography, Plane, plane_of};
use crate::{counts, fluid, limits, magnet};

/// Least length of a piece that is reported, mm: below it a phone's pixels tell no shape.
const LEAST_MM: f64 = 0.2;

/// What the spread of lengths that the forest tells is multiplied by: it has not seen the photo, and
/// few stray far. From census less truth over the folds.
const SPREAD: f64 = 1.85;

/// Scales that a photo can have, px per mm: from a whole bench in view to a microscope.
/// Beyond them a tap or its length is wrong, and windows of the search would be empty or endless.
const SCALES_PX_PER_MM: std::ops::RangeInclusive<f64> = 0.5..=500.0;

/// Heights above the card that a subject or a tapped length can have, mm: from a deep pan to a tall
/// magnet on its side. Planes farther off come near the lens, and each of their millimetres is endless.
const HEIGHTS_MM: std::ops::RangeInclusive<f64> = -100.0..=150.0;

/// Reads a photo: `bytes` as taken, `hints` as tapped.
pub fn census(bytes: &[u8], hints: &PhotoHints, settings: &Settings) -> Result<Census, Unreadable> {
    Ok(read(&decode(bytes)?, hints, settings))
}

/// The census of a photo that can't be read: its problem and nothing else.
pub fn unread(kind: PhotoKind, why: &Unreadable) -> Census {
    Census {
        problem: Some(why.to_string()),
        ..empty(kind)
    }
}

fn empty(kind: PhotoKind) -> Census {
    Census {
        kind,
        size_px: None,
        problem: None,
        limits: Vec::new(),
        card: None,
        scale: None,
        smallest_mm: None,
        searched_cm2: None,
        particles: Vec::new(),
        counts: Default::default(),
        magnet: None,
        fluid: None,
        unusual: None,
        doubt: None,
        calibration: None,
        lens: None,
    }
}

/// Reads an upright picture.
pub fn read(picture: &Upright, hints: &PhotoHints, settings: &Settings) -> Census {
    static BUILT_IN: LazyLock<Result<Judges, Unusable>> = LazyLock::new(Judges::built_in);
    read_by_judges(BUILT_IN.as_ref(), picture, hints, settings)
}

/// The census by a finder's model file other than the one that ships: where it is missing (empty), damaged or of another
/// version, as a program with such a file in it makes it.
#[doc(hidden)]
pub fn census_by(
    finder: &[u8],
    bytes: &[u8],
    hints: &PhotoHints,
    settings: &Settings,
) -> Result<Census, Unreadable> {
    let picture = decode(bytes)?;
    let judges = Finder::from_bytes(finder).and_then(|finder| {
        let built_in = Judges::built_in()?;
        Ok(Judges { finder, ..built_in })
    });
    Ok(read_by_judges(judges.as_ref(), &picture, hints, settings))
}

fn read_by_judges(
    judges: Result<&Judges, &Unusable>,
    picture: &Upright,
    hints: &PhotoHints,
    settings: &Settings,
) -> Census {
    let census = match judges {
        Ok(judges) => read_with(judges, picture, hints, settings),
        Err(_) => unfit(picture, settings),
    };
    Census {
        lens: picture.lens,
        ..census
    }
}

/// The census of a picture when what was learned can't be used: nothing is counted, and that is said.
fn unfit(picture: &Upright, settings: &Settings) -> Census {
    Census {
        size_px: Some([picture.width as u32, picture.height as u32]),
        problem: Some(
            "The model that finds pieces is damaged or of another version: nothing was counted. Install the program \
             again; until then enter what you see by hand."
                .to_owned(),
        ),
        ..empty(settings.kind)
    }
}

/// What was learned: where pieces may be, which pixels are theirs, and what they are.
#[derive(Debug, Clone)]
pub struct Judges {
    /// Where pieces may be.
    pub finder: Finder,
    /// Piece or not, by pixel.
    pub pixels: Sights,
    /// Class or no particle, by piece.
    pub pieces: PieceTrees,
    /// Class or no particle, by piece and by what the finder says of it and of what lies around it.
    pub proposals: PieceTrees,
    /// How far a measured length is off, by piece.
    pub lengths: LengthForest,
}

impl Judges {
    /// Those that ship.
    pub fn built_in() -> Result<Judges, Unusable> {
        Ok(Judges {
            finder: Finder::built_in()?,
            pixels: Sights {
                first: PixelTrees::from_bytes(include_bytes!("particle/first.bin")),
                second: PixelTrees::from_bytes(include_bytes!("particle/second.bin")),
            },
            pieces: PieceTrees::from_bytes(include_bytes!("particle/pieces.bin")),
            proposals: PieceTrees::from_bytes(include_bytes!("particle/proposals.bin")),
            lengths: LengthForest::from_bytes(include_bytes!("particle/lengths.bin")),
        })
    }
}

/// Reads an upright picture with judges of one's own.
pub(crate) fn read_with(
    judges: &Judges,
    picture: &Upright,
    hints: &PhotoHints,
    settings: &Settings,
) -> Census {
    let mut census = empty(settings.kind);
    census.size_px = Some([picture.width as u32, picture.height as u32]);
    let mut heights = hints.subject_height_mm.iter().chain(&hints.taps_height_mm);
    if let Some(height) = heights.find(|mm| !HEIGHTS_MM.contains(mm)) {
        census.problem = Some(format!(
            "A height of {height} mm above the card can't be: nothing can be measured. Enter the \
             height of the magnet's face above the card, or leave it out."
        ));
        return census;
    }
    let plane = plane_of(picture, hints, settings.kind);
    if plane.from == ScaleFrom::None {
        census.problem = Some(
            "No gauge card and no two taps: nothing can be measured. Lay the card in the picture \
             and take it again, or tap the two ends of a known length."
                .to_owned(),
        );
        return census;
    }
    census.card = plane.card.map(|c| CardFound {
        corners_px: c.corners_px(),
    });
    let local = |to: &Homography| {
        let centre = [picture.width as f64 / 2.0, picture.height as f64 / 2.0];
        to.inverse()
            .map_or(0.0, |back| 1.0 / back.local_scale(centre))
    };
    for scale in [plane.px_per_mm, local(&plane.subject)] {
        if !SCALES_PX_PER_MM.contains(&scale) {
            census.problem = Some(format!(
                "The scale comes out at {scale:.3} pixels a millimetre, which no photo has: nothing \
                 can be measured. Check the length, tap its two ends again, or lay the gauge card \
                 in the picture."
            ));
            return census;
        }
    }
    census.scale = Some(Scale {
        px_per_mm: plane.px_per_mm,
        u_rel: plane.u_rel,
        from: plane.from,
    });
    let Some(look) = Look::new(picture, &plane, settings.kind, hints, &judges.finder) else {
        return census;
    };
    let searched = look.searched;
    let seen = look.pieces(picture, settings.kind, hints, &judges.pixels);
    census.searched_cm2 = Some(searched.px / plane.px_per_mm.powi(2) / 100.0);
    census.particles = particles(seen, &plane, judges, settings.kind);
    let quality = limits::quality(picture);
    census.smallest_mm = Some(limits::smallest_mm(&quality, plane.px_per_mm));
    census.limits = limits::sentences(&quality, plane.px_per_mm, plane.u_rel, plane.from);
    census.limits.extend(limits::too_many(searched.left_out));
    census.counts = counts::count(&census.particles);
    census.doubt = counts::doubt(&census.particles);
    census.unusual = searched.unusual;
    if settings.kind == PhotoKind::Magnet {
        let at = hints
            .subject_at
            .unwrap_or([picture.width as f64 / 2.0, picture.height as f64 / 2.0]);
        census.magnet = magnet::cover(
            picture,
            at,
            &plane.subject,
            &plane.ground,
            luma(searched.white),
        );
    }
    if let (Some(at), Some(card)) = (hints.fluid_at, &plane.card) {
        let white = white_of_card(picture, card);
        if white.is_some_and(|white| white.says_nothing()) {
            census.limits.push(limits::CARD_WASHED_OUT.to_owned());
        } else {
            census.fluid = white.and_then(|white| {
                fluid::fluid_at(picture, at, plane.px_per_mm, &white, searched.light)
            });
        }
    }
    census
}

/// A piece with its looks, before it is judged.
#[derive(Debug, Clone)]
pub(crate) struct Seen {
    pub(crate) measured: Measured,
    pub(crate) looks: [f32; NAMES.len()],
    pub(crate) told: Told,
}

/// What the search tells of the photo as a whole.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Searched {
    /// Area, px.
    px: f64,
    /// Light on the fluid's film over light on the card.
    light: Option<f64>,
    /// Linear colour of white.
    white: [f64; 3],
    /// Things that were left out since too many stand out.
    left_out: usize,
    /// Share of the learned photos that are less unusual.
    unusual: Option<f64>,
}

/// Light at a place over light at the card, by how bright the paper is within some 30 mm of each.
fn light_at(at: [f64; 2], plane: &Plane, search: &Search) -> Option<f64> {
    const REACH_MM: f64 = 30.0;
    let step = search.step as f64;
    let reach = REACH_MM * plane.px_per_mm / step;
    let steps = plane.card?.pose.project([42.8, 6.5], 0.0);
    let near = |p: [f64; 2], reach| search.ground.bright_near(p.map(|v| v / step), reach);
    // Around the card it takes a wider look to see enough of the paper.
    let light = near(at, reach)? / near(steps, 1.6 * reach)?;
    (0.4..2.5).contains(&light).then_some(light)
}

/// A photo searched: what all its candidates share.
pub(crate) struct Look {
    search: Search,
    sighting: Sighting,
    linear: [f32; 256],
    back: Homography,
    pub(crate) searched: Searched,
    px_per_mm: f64,
}

impl Look {
    /// Searches a photo; `None` when its plane can't be turned round.
    pub(crate) fn new(
        picture: &Upright,
        plane: &Plane,
        kind: PhotoKind,
        hints: &PhotoHints,
        finder: &Finder,
    ) -> Option<Look> {
        // The card, its border and its shadow.
        const BORDER_MM: f64 = 1.5;
        let hidden = plane.card.map(|c| {
            let out = |v: f64, size: f64| {
                if v > 0.0 {
                    size + BORDER_MM
                } else {
                    -BORDER_MM
                }
            };
            CORNERS.map(|[x, y]| c.pose.project([out(x, SIZE[0]), out(y, SIZE[1])], 0.0))
        });
        let search = search(picture, plane.px_per_mm, kind, hidden.as_ref());
        let white = plane.card.and_then(|c| white_of_card(picture, &c));
        let gain = white.map_or([1.0; 3], |w| colour_gain(w.gain));
        let view = View {
            px_per_mm: plane.px_per_mm,
            kind,
            gain,
            hidden: hidden.as_ref(),
            things: &search.large,
            step: search.step,
        };
        let sighting = finder.look(picture, &view);
        let searched = Searched {
            px: search.searched_px,
            left_out: sighting.left_out,
            unusual: sighting.unusual,
            light: white.and_then(|_| light_at(hints.fluid_at?, plane, &search)),
            white: white.map_or_else(|| search.ground.brightest(), |w| w.gain.map(|g| 1.0 / g)),
        };
        Some(Look {
            linear: linear_table(),
            back: plane.subject.inverse()?,
            searched,
            px_per_mm: plane.px_per_mm,
            sighting,
            search,
        })
    }

    fn photo<'a>(&'a self, picture: &'a Upright) -> Photo<'a> {
        Photo {
            picture,
            linear: &self.linear,
            search: &self.search,
            sighting: &self.sighting,
            back: &self.back,
            white: luma(self.searched.white) as f32,
            px_per_mm: self.px_per_mm,
        }
    }

    /// All that may be particles.
    pub(crate) fn pieces(
        &self,
        picture: &Upright,
        kind: PhotoKind,
        hints: &PhotoHints,
        pixels: &Sights,
    ) -> Vec<Seen> {
        let scene = Scene {
            kind,
            px_per_mm: self.px_per_mm,
            white: self.searched.white,
            stain: self.search.ground.stain(),
            shadow: self.search.shadow,
            subject: hints.subject_at.filter(|_| kind == PhotoKind::Magnet),
        };
        let photo = self.photo(picture);
        let mut all = Vec::new();
        let cell_mm2 = (self.sighting.ratio / self.px_per_mm).powi(2);
        for proposal in &self.sighting.proposals {
            let finder = self.sighting.figures(proposal);
            let proposal_mm2 = proposal.component.area as f64 * cell_mm2;
            for m in measure(&photo, proposal, pixels) {
                if !m.cut && m.feret.max >= LEAST_MM {
                    let looks = looks_of(&m, &scene, proposal_mm2, &finder);
                    let told = proposal.told;
                    all.push(Seen {
                        measured: m,
                        looks,
                        told,
                    });
                }
            }
        }
        all
    }

    /// For each proposal, at most so many places with the figures of their pixels.
    pub(crate) fn pixels(
        &self,
        picture: &Upright,
        first: Option<&PixelTrees>,
        most: usize,
    ) -> Vec<Vec<([f64; 2], Vec<f32>)>> {
        let photo = self.photo(picture);
        let of = |p| pixel_looks(&photo, p, first, most);
        self.sighting.proposals.iter().map(of).collect()
    }
}

/// What turns colours (sRGB) into those under white light, by the gains of linear light; brightness stays.
fn colour_gain(linear: [f64; 3]) -> [f64; 3] {
    let middle = linear.iter().product::<f64>().cbrt();
    linear.map(|g| (g / middle).powf(1.0 / 2.2))
}

pub(crate) fn particles(
    seen: Vec<Seen>,
    plane: &Plane,
    judges: &Judges,
    kind: PhotoKind,
) -> Vec<Particle> {
    let mut found = Vec::new();
    for Seen {
        measured: m,
        looks,
        told,
    } in seen
    {
        let Some((real, p)) = judge([&judges.pieces, &judges.proposals], &looks, &told, kind)
        else {
            continue;
        };
        let Some((&class, _)) = p.iter().max_by(|a, b| a.1.total_cmp(b.1)) else {
            continue;
        };
        let (factor, spread) = length_of(&judges.lengths, &looks);
        let feret_max_mm = m.feret.max * factor;
        let (feret_max_lo, feret_max_hi) = interval(feret_max_mm, spread, plane);
        found.push(Particle {
            x_px: m.centre_px[0],
            y_px: m.centre_px[1],
            class,
            p,
            feret_max_mm,
            feret_max_lo,
            feret_max_hi,
            feret_min_mm: m.feret.min.min(feret_max_mm),
            area_mm2: m.area_mm2,
            iso16232: SizeClass::of_feret_max_mm(feret_max_mm).unwrap_or(SizeClass::B),
            outline_px: m.outline_px,
            real: Some(real),
        });
    }
    leave_doubtful(&mut found, kind);
    found
}

fn luma([r, g, b]: [f64; 3]) -> f64 {
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// 90 % interval of a Feret maximum, mm: the spread that pieces of such looks have around it, and the
/// scale's own.
fn interval(feret_mm: f64, spread: f64, plane: &Plane) -> (f64, f64) {
    let side = 1.645 * (SPREAD * spread).hypot(plane.u_rel) * feret_mm;
    ((feret_mm - side).max(0.0), feret_mm + side)
}
