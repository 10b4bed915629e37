//! At the door: photos of one patch, and outlines that the technician redraws.
//! The photo is the demo's patch: rendered, not photographed.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod carried;

use bay::Bay;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{ParticleView, PhotoCensusView};
use swarfbook_job::census::{DebrisClass, PhotoHints};
use swarfbook_job::fact::{Correction, Fact, Observed, PhotoLink, PhotoSubject};
use swarfbook_job::id::EntryId;
use swarfbook_report::Content;

impl Bay {
    /// A photo of the patch, counted.
    fn patch(&self) -> EntryId {
        let entry = self.taken(PhotoSubject::Patch);
        self.count(entry);
        entry
    }

    /// A photo of the patch that nobody counted yet.
    fn taken(&self, subject: PhotoSubject) -> EntryId {
        let bytes = include_bytes!("../demo/patch-06.jpg");
        let photo = self.app.put_photo(bytes).expect("kept");
        self.write(Fact::PhotoTaken {
            step: "patch".into(),
            photo,
            subject,
        })
    }

    /// What the report holds, as its data.
    fn content(&self) -> Content {
        carried::content(&self.report())
    }

    fn count(&self, photo: EntryId) -> PhotoCensusView {
        self.asked(Command::TakeCensus {
            job: self.job,
            photo,
        })
    }

    fn photo(&self, photo: EntryId) -> PhotoCensusView {
        self.asked(Command::Photo {
            job: self.job,
            photo,
        })
    }

    fn asked(&self, command: Command) -> PhotoCensusView {
        match self.app.call(command).expect("there") {
            Reply::Photo { photo, .. } => *photo,
            other => panic!("{other:?}"),
        }
    }

    /// Unrounded, by the hazard: scores near 100 are told as the same number.
    fn hazard(&self) -> f64 {
        self.view().wear.expect("a score").hazard
    }

    fn undo(&self) {
        self.app
            .call(Command::Undo { job: self.job })
            .expect("undone");
    }

    fn correct(&self, photo: EntryId, piece: &ParticleView, to: Correction) {
        self.write(Fact::ParticleCorrected {
            photo,
            at_px: piece.at_px,
            to,
        });
    }
}

fn linked(photo: EntryId, to: EntryId, link: PhotoLink) -> Fact {
    Fact::PhotoLinked { photo, to, link }
}

#[test]
fn a_second_photo_of_a_patch_counts_nothing_twice() {
    let bay = Bay::new();
    let first = bay.patch();
    let once = bay.hazard();
    let second = bay.patch();
    assert!(bay.hazard() > once, "other ground until it is said");
    let offer = &bay.photo(second).links[0];
    assert_eq!(
        (offer.to, offer.link, offer.on),
        (first, PhotoLink::SamePatch, false)
    );
    bay.write(linked(second, offer.to, offer.link));
    let merged = bay.hazard();
    assert!((merged - once).abs() < 1e-6, "{merged} {once}");
    let said = bay.photo(second);
    assert!(said.links[0].on && said.links[0].link == PhotoLink::Apart);
    assert!(
        said.patch_words[0].contains("counted once"),
        "{:?}",
        said.patch_words
    );
    assert!(said.links.iter().all(|offer| offer.to == first));
    bay.undo();
    assert!(bay.hazard() > once);
}

#[test]
fn what_the_magnet_left_is_no_steel_and_the_score_falls() {
    let bay = Bay::new();
    let before = bay.patch();
    let alone = bay.hazard();
    let after = bay.patch();
    bay.write(linked(after, before, PhotoLink::AfterMagnet));
    // The very same photo: nothing went.
    let said = bay.photo(before);
    assert!(
        said.patch_words[0].contains(" 0 went"),
        "{:?}",
        said.patch_words
    );
    assert!(
        said.particles
            .iter()
            .any(|p| p.words.contains("the magnet left it"))
    );
    assert!(
        bay.hazard() < alone,
        "steel that a magnet leaves is doubted"
    );
    assert!(bay.photo(after).patch_words == said.patch_words);
    bay.write(linked(after, before, PhotoLink::Apart));
    assert!(bay.photo(before).patch_words.is_empty());
}

/// What weighs most is seen in the second photo of a patch alone: that photo decides, and what the
/// reason leads to is its count, not the photo.
#[test]
fn the_photo_that_shows_the_heaviest_reason_s_own_pieces_decides() {
    let bay = Bay::new();
    let (first, second) = (bay.patch(), bay.patch());
    bay.write(linked(second, first, PhotoLink::SamePatch));
    let pieces = bay.photo(first).particles;
    let heavy = pieces
        .iter()
        .max_by(|a, b| a.feret_max_mm.total_cmp(&b.feret_max_mm))
        .expect("pieces");
    for piece in &pieces {
        let to = match piece.index == heavy.index {
            true => Correction::NotDebris,
            false => Correction::Debris {
                class: DebrisClass::Lint,
            },
        };
        bay.correct(first, piece, to);
    }
    let class = DebrisClass::SteelFlake;
    bay.correct(second, heavy, Correction::Debris { class });
    let wear = bay.view().wear.expect("a score");
    assert_eq!(wear.reasons[0].photo, Some(second), "{:?}", wear.reasons);
    let content = bay.content();
    assert_eq!(content.deciding, Some(second));
    let from = &content.wear.expect("a score").reasons[0].said.from;
    let what: Vec<&str> = from
        .iter()
        .map(|entry| content.sources[entry].what.as_str())
        .collect();
    assert!(what.contains(&"pieces counted"), "{what:?}");
    assert!(what.contains(&"piece corrected"), "{what:?}");
    assert!(!what.contains(&"photo"), "{what:?}");
}

#[test]
fn photos_that_can_t_belong_together_are_refused() {
    let bay = Bay::new();
    let (first, second) = (bay.patch(), bay.patch());
    for fact in [
        linked(first, second, PhotoLink::SamePatch),
        linked(first, first, PhotoLink::SamePatch),
    ] {
        let problem = bay.try_write(fact, false).expect_err("refused");
        assert!(problem.to_string().contains("belong together"), "{problem}");
    }
}

#[test]
fn an_outline_is_cut_joined_kept_by_a_second_census_and_undone() {
    let bay = Bay::new();
    let photo = bay.patch();
    let whole = bay.photo(photo);
    let n = whole.particles.len();
    let (piece, line) = whole
        .particles
        .iter()
        .filter_map(|p| Some((p, p.waist_px?)))
        .max_by(|a, b| a.0.area_mm2.total_cmp(&b.0.area_mm2))
        .expect("a piece with a waist");
    bay.correct(photo, piece, Correction::Parted { along_px: line });
    let cut = bay.photo(photo);
    let parts: Vec<&ParticleView> = cut.particles.iter().filter(|p| p.redrawn).collect();
    assert_eq!((cut.particles.len(), parts.len()), (n + 1, 2));
    let area: f64 = parts.iter().map(|p| p.area_mm2).sum();
    assert!((area / piece.area_mm2 - 1.0).abs() < 0.02);
    assert!(
        parts
            .iter()
            .all(|p| p.feret_max_mm <= piece.feret_max_mm * 1.001)
    );
    // Each part has a class of its own.
    let to = Correction::Debris {
        class: DebrisClass::Grit,
    };
    bay.correct(photo, parts[1], to);
    let told = bay.photo(photo);
    assert_eq!(told.counts.iter().map(|c| c.n).sum::<u32>() as usize, n + 1);
    // A second census of the same photo keeps all of it.
    assert_eq!(bay.count(photo).particles, told.particles);
    let with_px = parts[1].at_px;
    bay.correct(photo, parts[0], Correction::Joined { with_px });
    let joined = bay.photo(photo);
    assert_eq!(joined.particles.len(), n);
    let again = joined.particles.iter().find(|p| p.redrawn).expect("joined");
    assert!((again.area_mm2 / piece.area_mm2 - 1.0).abs() < 0.02);
    assert!((again.feret_max_mm / piece.feret_max_mm - 1.0).abs() < 0.02);
    bay.undo();
    assert_eq!(bay.photo(photo).particles, told.particles);
}

#[test]
fn a_line_that_cuts_nothing_is_refused() {
    let bay = Bay::new();
    let photo = bay.patch();
    let piece = &bay.photo(photo).particles[0];
    let [x, y] = piece.at_px;
    let beside = [[x + 900.0, y], [x + 900.0, y + 10.0]];
    for (to, part) in [
        (Correction::Parted { along_px: beside }, "does not cut"),
        (
            Correction::Joined {
                with_px: piece.at_px,
            },
            "no second piece",
        ),
    ] {
        let fact = Fact::ParticleCorrected {
            photo,
            at_px: piece.at_px,
            to,
        };
        let problem = bay.try_write(fact, false).expect_err("refused");
        assert!(problem.to_string().contains(part), "{problem}");
    }
}

#[test]
fn a_photo_that_nobody_counted_is_not_told_as_empty() {
    let bay = Bay::new();
    let before = bay.patch();
    let after = bay.taken(PhotoSubject::PatchAfterMagnet);
    let said = bay.content().pairs.remove(0);
    assert_eq!((said.before, said.after), (before, after));
    let words = said.said.words;
    assert!(
        words.contains("after it the pieces were not counted"),
        "{words}"
    );
    assert!(said.rows.is_empty());
    bay.count(after);
    let words = bay.content().pairs.remove(0).said.words;
    assert!(
        words.contains("pieces were counted, after it ") && !words.contains("not counted"),
        "{words}"
    );
}

/// The drop on the demo's patch was rendered as old, brown fluid; "red" goes with no such colour.
#[test]
fn a_colour_that_the_photo_contradicts_is_said_in_the_report() {
    let bay = Bay::new();
    let bytes = include_bytes!("../demo/patch-10.jpg");
    let photo = bay.app.put_photo(bytes).expect("kept");
    let entry = bay.write(Fact::PhotoTaken {
        step: "patch".into(),
        photo,
        subject: PhotoSubject::Patch,
    });
    bay.write(Fact::PhotoHinted {
        photo: entry,
        hints: PhotoHints {
            fluid_at: Some([458.0, 1197.0]),
            ..PhotoHints::default()
        },
    });
    bay.count(entry);
    let noted = |colour: &str| {
        bay.write(Fact::Observed {
            observed: Observed {
                step: "drained".into(),
                topic: "fluid_colour".into(),
                choice: colour.into(),
                also: Vec::new(),
                text: String::new(),
            },
        });
        let said = serde_json::to_string(&bay.content().fluid).expect("text");
        said.contains(&format!(
            "The technician noted {colour}; what the photo measured"
        ))
    };
    // Amber lies too near to brown for one drop to tell.
    assert_eq!(["red", "brown", "black"].map(noted), [true, false, true]);
}

#[test]
fn each_photo_after_the_magnet_has_the_numbers_of_its_own_pair() {
    let bay = Bay::new();
    bay.patch();
    // The very same photo: nothing went.
    let stayed = bay.taken(PhotoSubject::PatchAfterMagnet);
    bay.count(stayed);
    // Once more, with every second piece said to be no debris: those went.
    let went = bay.taken(PhotoSubject::PatchAfterMagnet);
    let census = bay.count(went);
    let gone: Vec<&ParticleView> = census.particles.iter().step_by(2).collect();
    for piece in &gone {
        bay.correct(went, piece, Correction::NotDebris);
    }
    let pairs = bay.content().pairs;
    for (pair, after, some_went) in [(&pairs[0], stayed, false), (&pairs[1], went, true)] {
        assert_eq!(pair.after, after);
        let [small, large, all] = pair.rows.as_slice() else {
            panic!("{:?}", pair.rows)
        };
        assert_eq!(all.went > 0, some_went, "{:?}", pair.rows);
        assert_eq!(all.n, small.n + large.n);
        for row in &pair.rows {
            assert_eq!(row.n, row.went + row.stayed + row.untold);
        }
        // The screen says the same of that photo.
        let screen = bay.photo(after).patch_words;
        let share = pair.said.words.split("steel. ").nth(1).expect("a share");
        assert!(screen[0].contains(share), "{screen:?}, not {share}");
        assert!(
            screen[0].contains(&format!(" {} went, {} stayed", all.went, all.stayed)),
            "{screen:?}"
        );
    }
}

#[test]
fn a_count_after_the_magnet_that_nobody_confirmed_leaves_the_score_unconfirmed() {
    let bay = Bay::new();
    let before = bay.patch();
    bay.write(Fact::CensusConfirmed { photo: before });
    let open = || bay.view().wear.expect("a score").not_confirmed;
    assert_eq!(open(), None);
    let after = bay.taken(PhotoSubject::PatchAfterMagnet);
    assert_eq!(open(), None, "it says nothing before it is counted");
    bay.count(after);
    assert!(open().is_some(), "it changes the classes of the patch");
    assert!(
        bay.content()
            .answer
            .can_it_be_saved
            .words
            .starts_with("Not yet confirmed")
    );
    bay.write(Fact::CensusConfirmed { photo: after });
    assert_eq!(open(), None);
}
