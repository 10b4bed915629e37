//! From a piece's looks to probabilities of classes, or to no particle at all.

use std::collections::BTreeMap;

use swarfbook_job::census::{DebrisClass, Particle, PhotoKind};

use super::boosted::Boosted;
use super::looks::COUNT;
use crate::eye::Told;

/// Outcomes: no particle, then the classes in the order of `DebrisClass::LEARNED`.
pub const OUTCOMES: usize = 10;

/// Tells the outcomes' probabilities.
pub type PieceTrees = Boosted<OUTCOMES>;

/// Weights of the trees' and of the finder's log odds that it is a particle, and what is added in a pan and on a
/// magnet: a logistic regression over 7,000 proposals in 72 photos of three painters, each by a finder that never
/// met its painter (the first painter's six: by one that saw others of its photos) and by trees that saw none of
/// these photos. Learned on the third painter alone, the weights are 0.53 and 0.56.
const BY_TREES: f64 = 0.57;
const BY_FINDER: f64 = 0.68;
const ADDED: f64 = 0.28;
fn added(kind: PhotoKind) -> f64 {
    match kind {
        PhotoKind::Patch => ADDED,
        PhotoKind::Pan => ADDED - 1.87,
        PhotoKind::Magnet => ADDED - 1.25,
    }
}

/// A piece is kept when it is more likely than this to be one; what is in doubt is said to be. By the join alone:
/// chosen on the photos of the weights above.
fn keep(kind: PhotoKind) -> f64 {
    match kind {
        PhotoKind::Patch => 0.4,
        PhotoKind::Pan => 0.22,
        PhotoKind::Magnet => 0.25,
    }
}
/// With the trees of the proposals. In pans, of 0.3 to 0.6: with the third painter left out of all that learns this
/// halves what is found in a clean one, and F1 stays (0.410 for 0.416).
fn keep_of_proposals(kind: PhotoKind) -> f64 {
    match kind {
        PhotoKind::Pan => 0.4,
        _ => 0.3,
    }
}

/// A piece is clear that is likelier than this, and where none is, one is kept that is likelier than [`ALONE`]. By the third
/// painter's 48 photos, left out of all that learns: all but one of the patches and pans with debris show a clear piece, of
/// the seven clean ones one does. Of 29 false pieces in clean photos 12 stay, and F1 goes from 0.623 to 0.630. Photos of
/// magnets show few pieces, often in doubt.
const CLEAR: f64 = 0.85;
const ALONE: f64 = 0.7;
/// What is as long as this and lies alone weighs too much to be passed over in doubt: plain drawn pieces of 2.6 mm are some.
const LARGE_MM: f64 = 2.0;
/// For the same reason it is left out where it is rather none: strokes of a pen, droplets and glints on oil were. Set on 48 photos
/// of the third painter, left out of all that learns, and 30 of the other two: bands two or more off went from 3 % to none (from
/// 12 to 6 % on the second painter), the third's clean photos that come to clean or settled from six of seven to all, F1 from
/// 0.701 to 0.699, on the first two from 0.916 to 0.922 and 0.877 to 0.879.
const LIKELIER: f64 = 0.5;

/// Share that the trees grown on the finder's proposals have in the log odds and in the ln of the classes; the rest is
/// the join's of the older trees and the finder. On the third painter halves are better than either alone, on the
/// second these trees alone are as good; two thirds was tried, too. Not on magnets: few were among the lessons, and
/// on the third painter's eight fewer pieces were found (F1 0.25 for 0.39). Nor on clear things of which the network
/// saw little, of which hardly any was among the lessons: the older trees find those.
const BY_PROPOSALS: f64 = 0.5;

/// Weight of the ln of the finder's classes beside the trees': 0 gives 0.68 and 0.51 of nine classes right on the
/// third and the second painter, neither met by the finder, this one 0.72 and 0.55. No other was tried.
const CLASS_BY_FINDER: f64 = 0.4;
/// Probabilities below this are not written.
const NEGLIGIBLE: f64 = 0.02;

/// The probability that it is a particle, and the classes' given that it is one; `None` when it is none.
pub(crate) fn judge(
    [trees, proposals]: [&PieceTrees; 2],
    looks: &[f32; COUNT],
    told: &Told,
    kind: PhotoKind,
) -> Option<(f64, BTreeMap<DebrisClass, f64>)> {
    if trees.is_empty() {
        return Some((1.0, BTreeMap::from([(DebrisClass::SteelFlake, 1.0)])));
    }
    let shares = trees.shares(looks).map(f64::from);
    let mut odds =
        BY_TREES * log_odds(1.0 - shares[0]) + BY_FINDER * f64::from(told.mean) + added(kind);
    let mut lns: [f64; OUTCOMES - 1] = std::array::from_fn(|k| {
        (1.0 - CLASS_BY_FINDER) * shares[k + 1].max(LEAST).ln()
            + CLASS_BY_FINDER * f64::from(told.classes[k])
    });
    let mut least = keep(kind);
    if !proposals.is_empty() && kind != PhotoKind::Magnet && !told.clear {
        least = keep_of_proposals(kind);
        let shares = proposals.shares(looks).map(f64::from);
        let one = 1.0 - shares[0];
        let mix = |a: f64, b: f64| (1.0 - BY_PROPOSALS) * a + BY_PROPOSALS * b;
        odds = mix(odds, log_odds(one));
        for (ln, share) in lns.iter_mut().zip(&shares[1..]) {
            *ln = mix(*ln, (share / one.max(LEAST)).max(LEAST).ln());
        }
    }
    let real = 1.0 / (1.0 + (-odds).exp());
    if real < least {
        return None;
    }
    let mut all: BTreeMap<DebrisClass, f64> = DebrisClass::LEARNED
        .iter()
        .zip(lns)
        .map(|(class, ln)| (*class, ln.exp()))
        .collect();
    let sum: f64 = all.values().sum();
    all.values_mut().for_each(|p| *p /= sum);
    all.retain(|_, p| *p >= NEGLIGIBLE);
    Some((real, all))
}

/// Leaves out what is large and rather none, and, in a photo in which nothing is clear, what is in doubt: there it is more often
/// the ground's than debris. What is large and rather a piece stays, for somebody to look at.
pub(crate) fn leave_doubtful(found: &mut Vec<Particle>, kind: PhotoKind) {
    let at_least = |p: &Particle, least: f64| p.real.is_none_or(|real| real >= least);
    let fibre = |p: &Particle| p.class == DebrisClass::Lint;
    let clear = |p: &Particle| !fibre(p) && at_least(p, CLEAR);
    if kind == PhotoKind::Magnet {
        return;
    }
    found.retain(|p| p.feret_max_mm < LARGE_MM || fibre(p) || at_least(p, LIKELIER));
    if !found.iter().any(clear) {
        found.retain(|p| at_least(p, ALONE) || p.feret_max_mm >= LARGE_MM);
    }
}

/// Least probability of the trees that is taken at its word.
const LEAST: f64 = 1e-3;

fn log_odds(p: f64) -> f64 {
    let p = p.clamp(LEAST, 1.0 - LEAST);
    (p / (1.0 - p)).ln()
}

#[cfg(test)]
mod tests {
    use swarfbook_job::census::SizeClass;

    use super::super::boosted::{Boosted, adding};
    use super::*;

    /// Trees that give each outcome the same share, so that all hangs on the finder.
    fn even() -> PieceTrees {
        Boosted::new(vec![vec![adding(0.0)]; OUTCOMES])
    }

    fn told(mean: f32, first: f32) -> Told {
        let mut classes = [((1.0 - first) / 8.0).ln(); 9];
        classes[0] = first.ln();
        Told {
            mean,
            peak: mean,
            inner: mean,
            sure: 0.0,
            clear: false,
            classes,
        }
    }

    #[test]
    fn what_neither_trees_nor_finder_believe_is_none() {
        let looks = [0.0; COUNT];
        let none = PieceTrees::default();
        for kind in [PhotoKind::Patch, PhotoKind::Pan, PhotoKind::Magnet] {
            assert_eq!(
                judge([&even(), &none], &looks, &told(-8.0, 0.5), kind),
                None
            );
            let (sure, p) = judge([&even(), &none], &looks, &told(6.0, 0.5), kind).unwrap();
            assert!(sure > 0.9 && (p.values().sum::<f64>() - 1.0).abs() < 1e-9);
        }
        // Log odds of 9 to 1 by the trees, and of 1 to 1 by the finder.
        let (real, _) = judge([&even(), &none], &looks, &told(0.0, 0.5), PhotoKind::Patch).unwrap();
        let odds = BY_TREES * 9f64.ln() + ADDED;
        assert!((real - 1.0 / (1.0 + (-odds).exp())).abs() < 1e-4);
    }

    fn piece(class: DebrisClass, real: f64) -> Particle {
        Particle {
            x_px: 0.0,
            y_px: 0.0,
            class,
            p: BTreeMap::from([(class, 1.0)]),
            feret_max_mm: 1.0,
            feret_max_lo: 0.9,
            feret_max_hi: 1.1,
            feret_min_mm: 0.5,
            area_mm2: 0.4,
            iso16232: SizeClass::B,
            outline_px: Vec::new(),
            real: Some(real),
        }
    }

    #[test]
    fn in_doubt_alone_is_left_out_and_beside_a_clear_piece_is_not() {
        use DebrisClass::{Lining, Lint, SteelFlake};
        let left = |all: &[(DebrisClass, f64)], kind| {
            let mut found: Vec<_> = all.iter().map(|(c, real)| piece(*c, *real)).collect();
            leave_doubtful(&mut found, kind);
            found.iter().filter_map(|p| p.real).collect::<Vec<_>>()
        };
        let doubtful = [(SteelFlake, 0.5), (Lining, 0.75), (SteelFlake, 0.4)];
        assert_eq!(left(&doubtful, PhotoKind::Pan), [0.75]);
        assert_eq!(left(&doubtful, PhotoKind::Patch), [0.75]);
        assert_eq!(left(&doubtful, PhotoKind::Magnet), [0.5, 0.75, 0.4]);
        let clear = [(SteelFlake, 0.5), (Lining, 0.86)];
        assert_eq!(left(&clear, PhotoKind::Patch), [0.5, 0.86]);
        // A large piece stays where it is rather one, and goes where it is rather none, whatever lies beside it.
        let mut large = vec![piece(Lining, 0.5), piece(SteelFlake, 0.5)];
        large[0].feret_max_mm = 3.2;
        leave_doubtful(&mut large, PhotoKind::Patch);
        assert_eq!(large.len(), 1);
        assert_eq!(large[0].class, Lining);
        let mut none = vec![piece(Lining, 0.49), piece(SteelFlake, 0.9)];
        none[0].feret_max_mm = 3.2;
        leave_doubtful(&mut none, PhotoKind::Pan);
        assert_eq!(none.len(), 1);
        none[0].feret_max_mm = 3.2;
        none[0].real = Some(0.3);
        leave_doubtful(&mut none, PhotoKind::Magnet);
        assert_eq!(none.len(), 1);
        // A clear fibre says nothing of debris.
        let fibre = [(SteelFlake, 0.5), (Lint, 0.95)];
        assert_eq!(left(&fibre, PhotoKind::Patch), [0.95]);
    }

    /// Of trees that can't tell classes apart the finder's order stays, less surely.
    #[test]
    fn the_finder_s_class_has_its_weight() {
        let none = PieceTrees::default();
        let told = told(2.0, 0.8);
        let (_, p) = judge([&even(), &none], &[0.0; COUNT], &told, PhotoKind::Patch).unwrap();
        let ratio = p[&DebrisClass::LEARNED[0]] / p[&DebrisClass::LEARNED[1]];
        assert!((ratio.ln() - CLASS_BY_FINDER * (0.8f64 / 0.025).ln()).abs() < 1e-4);
    }

    /// Trees that are sure of the first class join those that can't tell: their half of the log odds counts.
    #[test]
    fn the_trees_of_the_proposals_have_their_half() {
        let mut round = vec![vec![adding(0.0)]; OUTCOMES];
        round[1] = vec![adding(8.0)];
        let sure = Boosted::new(round);
        let told = told(0.0, 1.0 / 9.0);
        let (real, p) = judge([&even(), &sure], &[0.0; COUNT], &told, PhotoKind::Patch).unwrap();
        let alone = BY_TREES * 9f64.ln() + ADDED;
        let theirs = log_odds(1.0 - 1.0 / (8f64.exp() + 9.0));
        assert!((real - 1.0 / (1.0 + (-(alone + theirs) / 2.0).exp())).abs() < 1e-3);
        assert!(p[&DebrisClass::LEARNED[0]] > 0.7);
        let magnet = |proposals| {
            judge(
                [&even(), proposals],
                &[0.0; COUNT],
                &told,
                PhotoKind::Magnet,
            )
        };
        let none = PieceTrees::default();
        assert_eq!(magnet(&sure), magnet(&none));
        let clear = Told {
            clear: true,
            ..told
        };
        let patch = |proposals| {
            judge(
                [&even(), proposals],
                &[0.0; COUNT],
                &clear,
                PhotoKind::Patch,
            )
        };
        assert_eq!(patch(&sure), patch(&none));
    }
}
