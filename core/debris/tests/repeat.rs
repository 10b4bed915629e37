//! Three photos of one patch held against each other: the spread that is told is the one that was put in.

#![allow(clippy::unwrap_used)]

mod strewn;

use strewn::{Dice, PLAIN, Taken, strewn, taken};
use swarfbook_debris::patch::{NoFit, Repeatability, repeats};
use swarfbook_job::census::Census;

/// Standard deviation of a length, as a natural logarithm, and share of the pieces that a photo misses.
const SIZE_LN: f64 = 0.06;
const MISSED: f64 = 0.1;

/// Three photos of one patch, each turned, shifted and with the card elsewhere.
fn three(dice: &mut Dice, pieces: usize) -> [Census; 3] {
    let real = strewn(dice, pieces);
    [0, 1, 2].map(|_| {
        let how = Taken {
            turn_deg: 360.0 * dice.roll(),
            middle_mm: [70.0 + 10.0 * dice.roll(), 45.0 + 10.0 * dice.roll()],
            card_px: [1500.0 + 300.0 * dice.roll(), 1200.0],
            card_turn_deg: 20.0 * dice.roll(),
            size_ln: SIZE_LN,
            missed: MISSED,
            invented: 0,
            ..PLAIN
        };
        taken(dice, &real, how).0
    })
}

#[test]
fn the_spread_that_was_put_in_comes_out() {
    let (mut counts, mut lengths) = (Vec::new(), Vec::new());
    for seed in 0..50 {
        let mut dice = Dice(seed);
        let photos = three(&mut dice, 90);
        let told = repeats(&photos.each_ref()).unwrap();
        lengths.extend(told.relative_lengths());
        counts.push(told.counts);
    }
    let of = |cells: &[Vec<f64>]| Repeatability::of(cells.iter().map(Vec::as_slice)).unwrap();
    let counts = of(&counts);
    // Each piece is seen or not, apart from the others: binomial, so variance over mean is the share missed. A variance
    // with 100 degrees of freedom is good to 14 %.
    let over_mean = counts.s_r.powi(2) / counts.mean;
    assert_eq!(counts.degrees, 100);
    assert!(counts.mean > 25.0, "{counts:?}");
    assert!((over_mean / MISSED - 1.0).abs() < 0.45, "{counts:?}");
    let lengths = of(&lengths);
    assert!(lengths.degrees > 1500, "{lengths:?}");
    assert!((lengths.s_r / SIZE_LN - 1.0).abs() < 0.06, "{lengths:?}");
    assert!((lengths.mean - 1.0).abs() < 1e-9);
}

#[test]
fn what_can_t_be_compared_says_why() {
    let mut dice = Dice(7);
    let [a, b, c] = three(&mut dice, 60);
    let other = three(&mut Dice(8), 60)[0].clone();
    let strange = repeats(&[&a, &b, &other]);
    assert!(
        matches!(strange, Err(NoFit::ByChance { .. })),
        "{strange:?}"
    );
    let unscaled = Census {
        scale: None,
        ..c.clone()
    };
    assert_eq!(repeats(&[&a, &unscaled]).unwrap_err(), NoFit::NoScale);
    assert_eq!(repeats(&[]).unwrap_err(), NoFit::NoScale);
    // The order makes no difference to what is counted.
    let counts = |photos: &[&Census]| {
        let mut counts = repeats(photos).unwrap().counts;
        counts.sort_by(f64::total_cmp);
        counts
    };
    let (forth, back) = (counts(&[&a, &b, &c]), counts(&[&c, &b, &a]));
    let near = forth.iter().zip(&back).all(|(x, y)| (x - y).abs() <= 1.0);
    assert!(near, "{forth:?} {back:?}");
}
