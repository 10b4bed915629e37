//! The photos of the sample, and the pieces that they show.

use super::*;

fn photo(n: u16, title: &str, alt: &str) -> PhotoSaid {
    PhotoSaid {
        entry: line(n),
        photo: Sha256Hex::of(&n.to_be_bytes()),
        copy: None,
        size_px: [1200, 900],
        title: title.into(),
        alt: alt.into(),
        rendered: false,
        said: Vec::new(),
        counts: Vec::new(),
        outlines: Vec::new(),
        limits: Vec::new(),
        px_per_mm: Some(fixed(12.0)),
        evidence: vec![
            said(
                "Scale 12.0 px/mm at the middle, by the printed card, ± 0.4 % (k = 1).",
                &[n],
            ),
            said(
                "Lens: focal length 4.2 mm, 26.0 mm as for a frame of 36 x 24 mm. Distance from lens to ground: about 220 mm, worked out from lens and scale.",
                &[n],
            ),
            said(
                "Pieces by the machine: 23. Pieces that count, after the technician's corrections: 21.",
                &[n],
            ),
        ],
    }
}

pub(super) fn photos() -> Vec<PhotoSaid> {
    let mut patch = photo(
        8,
        "Residue from the pan on white paper",
        "White paper with dark specks and some bright flakes, a printed card beside them.",
    );
    patch.said = vec![said(
        "About 21 pieces (likely 14 to 30), 2 of them over 1 mm.",
        &[9, 10],
    )];
    patch.counts = [
        (DebrisClass::SteelFlake, 6, 2.6, 11.8),
        (DebrisClass::YellowMetal, 3, 0.8, 7.8),
        (DebrisClass::Lining, 11, 6.2, 18.2),
        (DebrisClass::Lint, 1, 0.1, 4.7),
    ]
    .map(|(class, n, lo, hi)| PieceCount {
        class,
        n,
        lo: fixed(lo),
        hi: fixed(hi),
    })
    .to_vec();
    patch.outlines = outlines();
    patch.limits = vec!["Nothing under 0.31 mm can be seen in this photo.".into()];
    let mut pan = photo(
        7,
        "The pan as it came down, nothing wiped",
        "The inside of the pan with brown oil, some dark specks and two round magnets.",
    );
    pan.said = vec![said(
        "Brown oil, a thin layer of dark dust, no large piece.",
        &[7],
    )];
    let mut magnet = photo(
        13,
        "A magnet, before wiping",
        "A round magnet under a thin grey film.",
    );
    magnet.said = vec![said(
        "62 % of its face is covered (likely 58 to 66 %), as a thin film. That is normal rubbing wear.",
        &[13],
    )];
    let mut after = photo(
        25,
        "The same residue after a magnet was passed over it",
        "The same paper, fewer specks.",
    );
    after.said = vec![said("14 pieces.", &[25])];
    vec![patch, magnet, pan, after]
}

/// Invented outlines in rows, one of each kind of line among them.
fn outlines() -> Vec<Outline> {
    let classes = DebrisClass::LEARNED;
    (0..21_u16)
        .map(|n| {
            let class = classes[usize::from(n) % classes.len()];
            let [x, y] = [
                1200.0 + 1100.0 * f64::from(n % 7),
                2200.0 + 2300.0 * f64::from(n / 7),
            ];
            let long = 120.0 + 40.0 * f64::from(n % 5);
            let corners: Vec<[f64; 2]> = (0..14)
                .map(|corner| {
                    let turn = f64::from(corner) / 14.0 * std::f64::consts::TAU;
                    let wobble = 1.0 + 0.25 * (3.0 * turn + f64::from(n)).sin();
                    [
                        x + long * wobble * turn.cos(),
                        y + long * wobble * turn.sin(),
                    ]
                })
                .collect();
            let mm = long / 130.0;
            let size = SizeMm {
                mm: fixed((mm * 100.0).round() / 100.0),
                lo: fixed((mm * 95.0).round() / 100.0),
                hi: fixed((mm * 105.0).round() / 100.0),
            };
            Outline::from_px(class, Some(size), &corners, [10_000, 10_000])
        })
        .collect()
}

pub(super) fn sizes() -> Vec<SizeBar> {
    [
        (SizeClass::H, "0.2 to 0.4 mm", 9, 4.7, 15.7),
        (SizeClass::I, "0.4 to 0.6 mm", 6, 2.6, 11.8),
        (SizeClass::J, "0.6 to 1 mm", 3, 0.8, 7.8),
        (SizeClass::K, "1 to 1.5 mm", 2, 0.4, 6.3),
    ]
    .map(|(size, label, n, lo, hi)| SizeBar {
        size,
        label: label.into(),
        n,
        lo: fixed(lo),
        hi: fixed(hi),
        below_seen: size == SizeClass::H,
        by_class: vec![
            ClassPieces {
                class: DebrisClass::SteelFlake,
                n: n.div_ceil(3),
            },
            ClassPieces {
                class: DebrisClass::Lining,
                n: n - n.div_ceil(3),
            },
        ],
    })
    .to_vec()
}

/// Adds up to the sizes.
pub(super) fn kinds() -> Vec<KindSaid> {
    let sizes = sizes();
    let n = |at: usize| sizes.iter().map(|bar| bar.by_class[at].n).sum::<u32>();
    [(DebrisClass::SteelFlake, n(0)), (DebrisClass::Lining, n(1))]
        .map(|(class, n)| {
            let (lo, hi) = whole_interval(n);
            KindSaid {
                below_seen: false,
                class,
                n,
                lo: fixed(lo.into()),
                hi: fixed(hi.into()),
                largest: Some(SizeMm {
                    mm: fixed(1.4),
                    lo: fixed(1.31),
                    hi: fixed(1.5),
                }),
                photo: Some(line(8)),
            }
        })
        .to_vec()
}

pub(super) fn pair_row(label: &str, [n, went, stayed, untold]: [u32; 4]) -> PairRow {
    PairRow {
        label: label.into(),
        n,
        went,
        stayed,
        untold,
    }
}
