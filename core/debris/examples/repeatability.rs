//! How far counts and lengths differ between photos of one patch: `repeatability FOLDER [--finder MODEL]`.
//!
//! The folder is what `render_debris --again` wrote: photos whose names differ in what stands behind the last `-` are
//! of one patch. Prints each patch, and over all the figures of ISO 5725: s_r and r = 2.8 s_r.

use std::collections::BTreeMap;
use std::error::Error;
use std::path::PathBuf;

use swarfbook_debris::fit::{Finder, Judges, read_by};
use swarfbook_debris::patch::{Repeatability, repeats};
use swarfbook_debris::{Settings, decode};
use swarfbook_job::census::{Census, PhotoHints, PhotoKind};

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let mut judges = Judges::built_in()?;
    let folder = match arguments.as_slice() {
        [folder] => PathBuf::from(folder),
        [folder, option, model] if option == "--finder" => {
            judges.finder = Finder::from_bytes(&std::fs::read(model)?)?;
            PathBuf::from(folder)
        }
        _ => return Err("say the folder that render_debris --again wrote".into()),
    };
    let mut patches: BTreeMap<String, Vec<PathBuf>> = BTreeMap::new();
    for entry in std::fs::read_dir(&folder)? {
        let path = entry?.path();
        let stem = path.file_stem().unwrap_or_default().to_string_lossy();
        if let (Some("jpg"), Some((patch, _))) = (
            path.extension().and_then(|e| e.to_str()),
            stem.rsplit_once('-'),
        ) {
            let photos = patches.entry(patch.to_owned()).or_default();
            photos.push(path.clone());
        }
    }
    let (mut counts, mut lengths, mut spread) = (Vec::new(), Vec::new(), Vec::new());
    for (patch, mut photos) in patches {
        photos.sort();
        let read = |path: &PathBuf| -> Result<Census, Box<dyn Error>> {
            let settings = Settings {
                kind: PhotoKind::Patch,
            };
            let upright = decode(&std::fs::read(path)?)?;
            Ok(read_by(
                &judges,
                &upright,
                &PhotoHints::default(),
                &settings,
            ))
        };
        let censuses: Vec<Census> = photos.iter().map(read).collect::<Result<_, _>>()?;
        let found: Vec<usize> = censuses.iter().map(|c| c.particles.len()).collect();
        match repeats(&censuses.iter().collect::<Vec<_>>()) {
            Ok(told) => {
                let of_lengths: Vec<Vec<f64>> = told.relative_lengths().collect();
                println!(
                    "{patch}: counts {:?} from {:.2} mm on, {} lengths",
                    told.counts,
                    told.least_mm,
                    of_lengths.len()
                );
                if let Some(own) = Repeatability::of([told.counts.as_slice()]) {
                    spread.push((own.mean, own.s_r));
                }
                counts.push(told.counts);
                lengths.extend(of_lengths);
            }
            Err(why) => println!("{patch}: {found:?} pieces, not compared: {why:?}"),
        }
    }
    let cells = |all: &[Vec<f64>]| Repeatability::of(all.iter().map(Vec::as_slice));
    if let Some(all) = cells(&counts) {
        println!(
            "counts: {} patches, mean {:.1}, s_r {:.2}, r {:.2}, {} degrees of freedom",
            counts.len(),
            all.mean,
            all.s_r,
            all.limit(),
            all.degrees
        );
        // What chance alone would add, were each photo of other ground with as many pieces.
        let share = spread.iter().map(|(_, s)| s * s).sum::<f64>();
        let poisson = spread.iter().map(|(mean, _)| mean).sum::<f64>();
        println!(
            "counts: s_r over that of counts by chance {:.2}",
            (share / poisson).sqrt()
        );
    }
    if let Some(all) = cells(&lengths) {
        println!(
            "lengths: {} pieces, s_r {:.1} %, r {:.1} % of the length, {} degrees of freedom",
            lengths.len(),
            100.0 * all.s_r,
            100.0 * all.limit(),
            all.degrees
        );
        let mut single: Vec<f64> = lengths
            .iter()
            .filter_map(|cell| Repeatability::of([cell.as_slice()]))
            .map(|cell| cell.s_r)
            .collect();
        single.sort_by(f64::total_cmp);
        println!(
            "lengths: standard deviation of one piece, median {:.1} %, nine in ten {:.1} %",
            100.0 * single[single.len() / 2],
            100.0 * single[single.len() * 9 / 10]
        );
    }
    Ok(())
}
