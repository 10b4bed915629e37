//! The steps of the sample's job, and the lines that its report goes back to.

use super::*;

pub(super) fn done() -> Vec<Done> {
    [
        ("Open up", "Lifted and secured", 6),
        ("Open up", "Fill plug proved to open before draining", 6),
        ("Drain", "Drained", 5),
        (
            "Read the pan",
            "Pan, magnets and residue photographed before wiping",
            7,
        ),
        ("Read the pan", "Count confirmed by the technician", 10),
        ("Test", "Four solenoids measured", 12),
        ("Close up", "Pan and magnets cleaned, new gasket", 18),
        ("Fill", "Engine on, through every gear", 20),
        (
            "Prove",
            "Codes cleared, shift learning reset as the maker says",
            23,
        ),
    ]
    .map(|(stage, words, from)| Done {
        stage: stage.into(),
        said: said(words, &[from]),
    })
    .to_vec()
}

pub(super) fn sources() -> std::collections::BTreeMap<EntryId, Source> {
    (1..=25_u16)
        .map(|n| {
            let what = match n {
                1 => "The car",
                2 => "The complaint",
                3 => "Codes read",
                7 | 8 | 13 | 25 => "Photo taken",
                9 => "Count by the machine",
                12 | 16 => "Reading",
                _ => "Step written down",
            };
            let source = Source {
                at: at(i64::from(n) * 9),
                by: if n == 9 {
                    "Swarfbook 0.1.0"
                } else {
                    "A. Sample"
                }
                .into(),
                what: what.into(),
                raw: vec![Raw {
                    name: "as entered".into(),
                    value: format!("invented value {n}"),
                }],
                photo: matches!(n, 7 | 8 | 13 | 25).then(|| Sha256Hex::of(&n.to_be_bytes())),
            };
            (line(n), source)
        })
        .collect()
}
