//! The census as a table for people.

use swarfbook_debris::CensusLine;
use swarfbook_job::census::PhotoKind;
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::garwood::garwood;

use crate::cli::lines::Line;

pub(super) const HEAD: &str =
    "photo                     shows   pieces (90 %)      longest   what there is";

impl Line for CensusLine {
    fn unread(&self) -> bool {
        self.census.problem.is_some()
    }

    fn row(&self) -> String {
        row(self)
    }
}

fn row(line: &CensusLine) -> String {
    let census = &line.census;
    let kind = match census.kind {
        PhotoKind::Patch => "patch",
        PhotoKind::Pan => "pan",
        PhotoKind::Magnet => "magnet",
    };
    let start = format!("{:<25} {kind:<7}", line.file);
    if let Some(problem) = &census.problem {
        return format!("{start} {problem}");
    }
    let pieces: u32 = census.counts.values().map(|count| count.n).sum();
    let (lo, hi) = garwood(pieces, 0.90);
    let longest = census
        .particles
        .iter()
        .map(|piece| piece.feret_max_mm)
        .fold(0.0, f64::max);
    let mut what: Vec<String> = census
        .counts
        .iter()
        .filter(|(_, count)| count.n > 0)
        .map(|(class, count)| ClassRow::count(*class, count.n))
        .collect();
    if let Some(magnet) = census.magnet {
        what.push(format!("magnet {:.0} % covered", magnet.cover * 100.0));
    }
    let pieces = format!("{pieces} ({lo:.0} to {hi:.0})");
    format!(
        "{start} {pieces:<18} {longest:>4.1} mm   {}",
        what.join(", ")
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use swarfbook_debris::{Unreadable, unread};
    use swarfbook_job::census::{Count, DebrisClass};

    #[test]
    fn each_class_is_called_as_the_app_and_the_report_call_it() {
        let counts = DebrisClass::ALL.iter().zip([1, 3, 1, 3, 1, 3, 1, 3, 1]);
        let counts = counts.map(|(class, n)| {
            let (lo, hi) = garwood(n, 0.90);
            (*class, Count { n, lo, hi })
        });
        let mut census = unread(PhotoKind::Patch, &Unreadable::Empty);
        census.problem = None;
        census.counts = counts.collect();
        let line = CensusLine {
            file: "patch-1.jpg".into(),
            census,
            decode_ms: 0.0,
            ms: 0.0,
        };
        let said = row(&line);
        assert!(
            said.ends_with(
                "   1 steel flake, 3 steel slivers, 1 flake of brass or bronze, \
                 3 flakes of aluminium, 1 piece of friction material, 3 pieces of plastic, \
                 1 crumb of rubber or sealant, 3 grains of grit, 1 fibre of lint"
            ),
            "{said}"
        );
        assert!(said.contains("17 ("), "{said}");
    }
}
