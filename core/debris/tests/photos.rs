//! Whole readings against the truth of the rendered photos beside the repository. Without those
//! photos the tests say SKIPPED and prove nothing.

use std::fs;
use std::path::PathBuf;

use swarfbook_debris::{Settings, census};
use swarfbook_job::census::{PhotoHints, PhotoKind};

fn folder() -> Option<PathBuf> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../shared/photos");
    if folder.is_dir() {
        return Some(folder);
    }
    eprintln!("SKIPPED: no photos at {}", folder.display());
    None
}

/// The card is found in each kind of photo, its corners and the scale to a fraction of a percent.
#[test]
fn card_and_scale() {
    let Some(folder) = folder() else { return };
    for (set, name, kind) in [
        ("dev", "patch-01", PhotoKind::Patch),
        ("dev", "patch-08", PhotoKind::Patch),
        ("dev", "magnet-02", PhotoKind::Magnet),
        ("dev2", "patch-x08", PhotoKind::Patch),
    ] {
        let bytes = fs::read(folder.join(set).join(format!("{name}.jpg"))).unwrap();
        let truth = folder.join(set).join("truth").join(format!("{name}.json"));
        let truth: serde_json::Value =
            serde_json::from_str(&fs::read_to_string(truth).unwrap()).unwrap();
        let settings = Settings { kind };
        let read = census(&bytes, &PhotoHints::default(), &settings).unwrap();
        let scale = read.scale.unwrap();
        let true_scale = truth["px_per_mm_centre"].as_f64().unwrap();
        assert!(
            (scale.px_per_mm / true_scale - 1.0).abs() < 0.01,
            "{name}: {scale:?} {true_scale}"
        );
        for (seen, real) in read
            .card
            .unwrap()
            .corners_px
            .iter()
            .zip(truth["card"]["corners_px"].as_array().unwrap())
        {
            let real = [real[0].as_f64().unwrap(), real[1].as_f64().unwrap()];
            let off = (seen[0] - real[0]).hypot(seen[1] - real[1]);
            assert!(off < 2.0, "{name}: {seen:?} {real:?}");
        }
    }
}

/// The same bytes give the same census.
#[test]
fn same_bytes_same_census() {
    let Some(folder) = folder() else { return };
    let bytes = fs::read(folder.join("dev/pair-1b.jpg")).unwrap();
    let settings = Settings {
        kind: PhotoKind::Patch,
    };
    let read = || census(&bytes, &PhotoHints::default(), &settings).unwrap();
    let once = read();
    assert!(once.particles.len() > 20);
    assert_eq!(once, read());
}
