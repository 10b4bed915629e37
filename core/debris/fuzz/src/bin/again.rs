//! Findings once more: `again FINDING...` runs each through the whole path and tells how long it
//! took; a panic ends it.

use std::time::Instant;

use swarfbook_debris_fuzz::whole_path;

fn main() {
    for path in std::env::args().skip(1) {
        let data = std::fs::read(&path).expect("a finding");
        let start = Instant::now();
        let census = whole_path(&data, None);
        let pieces = census.map(|c| c.particles.len());
        println!(
            "{path}: {:.1} s, pieces: {pieces:?}",
            start.elapsed().as_secs_f64()
        );
    }
}
