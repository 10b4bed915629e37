//! How a piece looks: figures that don't depend on scale, exposure or white
//! balance more than they must, for trees to judge by.

use swarfbook_job::census::PhotoKind;

use super::measure::Measured;
use super::shape::perimeter;
use crate::eye::FIGURES;

/// What is the same for all pieces of a photo.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Scene {
    pub(crate) kind: PhotoKind,
    pub(crate) px_per_mm: f64,
    /// Linear colour of a white thing in this photo.
    pub(crate) white: [f64; 3],
    /// Direction in which fluid darkens the ground: ln of the channels, unit length.
    pub(crate) stain: [f64; 3],
    /// Which way shadows fall, and how sure that is.
    pub(crate) shadow: ([f32; 2], f32),
    /// Where the magnet is, px.
    pub(crate) subject: Option<[f64; 2]>,
}

/// Names of the figures, in order.
pub(crate) const NAMES: [&str; 41 + FIGURES] = [
    "ln_feret_mm",
    "aspect",
    "solidity",
    "circularity",
    "ln_width_px",
    "ln_bright_ratio",
    "red_shift",
    "blue_shift",
    "red",
    "blue",
    "ln_reflectance",
    "ln_ground_reflectance",
    "ground_red",
    "ground_blue",
    "texture",
    "ln_light_ratio",
    "ln_middle_ratio",
    "ln_dark_ratio",
    "colourfulness",
    "shine",
    "edge_step",
    "outside",
    "core_over_rim",
    "shadow_share",
    "contrast_over_noise",
    "noise",
    "dark_share",
    "pan",
    "magnet",
    "stain_cosine",
    "stain_rest",
    "stain_depth",
    "from_subject_mm",
    "roundness",
    "likely",
    "softer",
    "harder",
    "ln_ellipse_over_feret",
    "along_shadow",
    "shadow",
    "ln_area_over_proposal",
    "finder_mean",
    "finder_peak",
    "finder_inner",
    "finder_sure",
    "finder_steel_flake",
    "finder_steel_sliver",
    "finder_yellow_metal",
    "finder_light_metal",
    "finder_lining",
    "finder_plastic",
    "finder_elastomer",
    "finder_grit",
    "finder_lint",
    "finder_around",
    "near",
    "near_mean",
];

/// Number of figures.
pub(crate) const COUNT: usize = NAMES.len();

/// The first of them, which hang on nothing that the finder says.
pub(crate) const OWN: usize = COUNT - FIGURES - 1;

/// The figures of one piece: its own, its area over that of its proposal (mm2), and what the finder says.
pub(crate) fn looks_of(
    m: &Measured,
    scene: &Scene,
    proposal_mm2: f64,
    finder: &[f32; FIGURES],
) -> [f32; COUNT] {
    let luma = |p: &[f32; 3]| f64::from(0.2126 * p[0] + 0.7152 * p[1] + 0.0722 * p[2]);
    let ln = |v: f64| v.max(1e-3).ln();
    let ground = m.ground.map(f64::from);
    let ground_luma = luma(&m.ground).max(1e-3);
    let white_luma = luma(&scene.white.map(|v| v as f32)).max(1e-3);
    let mut lumas = Vec::with_capacity(m.area_px as usize);
    let mut rgb = [0.0; 3];
    let (mut shine, mut shadow, mut dark, mut colourful) = (0.0, 0.0, 0.0, 0.0);
    let (mut core, mut rim) = ((0.0, 0.0), (0.0, 0.0));
    let width_px = m.feret.min * scene.px_per_mm;
    let deep = ((width_px / 4.0) as usize).max(1);
    for (at, p) in m.colour.iter().enumerate() {
        if m.mask[at] == 0 {
            continue;
        }
        let y = luma(p);
        lumas.push(y);
        let ratio: [f64; 3] = std::array::from_fn(|c| f64::from(p[c]) / ground[c].max(1e-3));
        for c in 0..3 {
            rgb[c] += f64::from(p[c]);
        }
        let (low, high) = (
            ratio.iter().copied().fold(9e9, f64::min),
            ratio.iter().copied().fold(0.0, f64::max),
        );
        shine += f64::from(u8::from(p.iter().all(|v| *v > 0.80)));
        shadow += f64::from(u8::from(
            high < 0.9 && low > 0.15 && high - low < 0.15 * high,
        ));
        dark += f64::from(u8::from(y < ground_luma));
        let white: [f64; 3] = std::array::from_fn(|c| f64::from(p[c]) / scene.white[c].max(1e-3));
        let (low, high) = (
            white.iter().copied().fold(9e9, f64::min),
            white.iter().copied().fold(0.0, f64::max),
        );
        colourful += (high - low) / high.max(0.02);
        let (x, row) = (at % m.width, at / m.width);
        let height = m.mask.len() / m.width;
        let inner = x >= deep
            && row >= deep
            && x + deep < m.width
            && row + deep < height
            && m.mask[at - deep] & m.mask[at + deep] != 0
            && m.mask[at - deep * m.width] & m.mask[at + deep * m.width] != 0;
        let side = if inner { &mut core } else { &mut rim };
        side.0 += y;
        side.1 += 1.0;
    }
    let n = lumas.len().max(1) as f64;
    let mean = lumas.iter().sum::<f64>() / n;
    let spread = (lumas.iter().map(|y| (y - mean).powi(2)).sum::<f64>() / n).sqrt();
    lumas.sort_by(f64::total_cmp);
    let at_share = |s: f64| lumas.get(((n - 1.0) * s) as usize).copied().unwrap_or(0.0);
    let rgb = rgb.map(|v| (v / n).max(1e-3));
    let shift = |c: usize| ln(rgb[c] / rgb[1]) - ln(ground[c].max(1e-3) / ground[1].max(1e-3));
    let own =
        |v: [f64; 3], c: usize| ln((v[c] / scene.white[c]) / (v[1].max(1e-3) / scene.white[1]));
    let fall: [f64; 3] = std::array::from_fn(|c| ln(rgb[c]) - ln(ground[c]));
    let depth: f64 = (0..3).map(|c| fall[c] * scene.stain[c]).sum();
    let length = fall.iter().map(|v| v * v).sum::<f64>().sqrt().max(1e-6);
    let share = |side: (f64, f64)| if side.1 > 0.0 { side.0 / side.1 } else { mean };
    let around = perimeter(&m.outline_px).max(1.0);
    let (way, sure) = scene.shadow;
    let subject = scene.subject.map_or(0.0, |s| {
        ((m.centre_px[0] - s[0]).hypot(m.centre_px[1] - s[1]) / scene.px_per_mm).min(60.0)
    });
    let measured: [f64; COUNT - FIGURES] = [
        m.feret.max.max(1e-3).ln(),
        m.feret.min / m.feret.max.max(1e-6),
        m.area_mm2 / m.hull_mm2.max(1e-9),
        (4.0 * std::f64::consts::PI * m.area_px).sqrt() / around,
        width_px.max(0.5).ln(),
        ln(mean / ground_luma),
        shift(0),
        shift(2),
        own(rgb, 0),
        own(rgb, 2),
        ln(mean / white_luma),
        ln(ground_luma / white_luma),
        own(ground, 0),
        own(ground, 2),
        spread / mean.max(1e-3),
        ln(at_share(0.9) / ground_luma),
        ln(at_share(0.5) / ground_luma),
        ln(at_share(0.1) / ground_luma),
        colourful / n,
        shine / n,
        f64::from(m.edge_step),
        f64::from(m.outside),
        ln(share(core) / share(rim).max(1e-3)),
        shadow / n,
        f64::from(m.over_noise),
        f64::from(m.noise),
        dark / n,
        f64::from(u8::from(scene.kind == PhotoKind::Pan)),
        f64::from(u8::from(scene.kind == PhotoKind::Magnet)),
        depth / length,
        (length * length - depth * depth).max(0.0).sqrt(),
        depth,
        subject,
        4.0 * m.area_mm2 / (std::f64::consts::PI * m.feret.max.powi(2)).max(1e-9),
        f64::from(m.likely),
        f64::from(m.softer),
        f64::from(m.harder),
        ln(m.ellipse_px / (m.feret.max * scene.px_per_mm).max(1e-3)),
        (m.axis[0] * f64::from(way[0]) + m.axis[1] * f64::from(way[1])).abs() * f64::from(sure),
        f64::from(sure),
        ln(m.area_mm2 / proposal_mm2.max(1e-6)),
    ];
    let mut values = measured.iter().map(|v| *v as f32).chain(*finder);
    std::array::from_fn(|_| values.next().filter(|v| v.is_finite()).unwrap_or(0.0))
}
