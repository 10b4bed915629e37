//! At the door: how often the machine was right, and how well photos of one patch repeat. The photos are the demo's and
//! drawn ones, rendered, not photographed; what the technician says of them is invented.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod carried;

use std::fs::File;
use std::io::Read;

use bay::Bay;
use serde_json::Value;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_app::view::{PhotoCensusView, RecordView, WearView};
use swarfbook_job::census::DebrisClass;
use swarfbook_job::fact::{Car, Correction, Fact, PhotoLink, PhotoSubject};
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_report::Content;

const PATCHES: [&[u8]; 2] = [
    include_bytes!("../demo/patch-06.jpg"),
    include_bytes!("../demo/patch-10.jpg"),
];

impl Bay {
    fn patch(&self, job: JobId, bytes: &[u8]) -> PhotoCensusView {
        let photo = self.app.put_photo(bytes).expect("kept");
        let fact = Fact::PhotoTaken {
            step: "patch".into(),
            photo,
            subject: PhotoSubject::Patch,
        };
        let photo = self.write_to(job, fact);
        match self.app.call(Command::TakeCensus { job, photo }) {
            Ok(Reply::Photo { photo, .. }) => *photo,
            other => panic!("{other:?}"),
        }
    }

    fn confirm(&self, job: JobId, photo: EntryId) -> EntryId {
        self.write_to(job, Fact::CensusConfirmed { photo })
    }

    fn correct(&self, photo: &PhotoCensusView, piece: usize, to: Correction) -> EntryId {
        let fact = Fact::ParticleCorrected {
            photo: photo.photo.entry,
            at_px: photo.particles[piece].at_px,
            to,
        };
        self.write(fact)
    }

    fn record(&self) -> RecordView {
        match self.app.call(Command::Record {}) {
            Ok(Reply::Record { record }) => *record,
            other => panic!("{other:?}"),
        }
    }

    /// The paragraph of the report's method that cites the record.
    fn cited(&self) -> Option<String> {
        self.method("How often the machine was right")
    }
}

/// A class that the machine did not say of this piece.
fn another(photo: &PhotoCensusView, piece: usize) -> DebrisClass {
    match photo.particles[piece].class {
        DebrisClass::Grit => DebrisClass::Plastic,
        _ => DebrisClass::Grit,
    }
}

#[test]
fn pieces_count_once_somebody_stands_by_them_and_no_longer_than_that() {
    let bay = Bay::new();
    assert!(bay.record().words.starts_with("No pieces looked at yet."));
    let photo = bay.patch(bay.job, PATCHES[0]);
    let n = photo.particles.len();
    assert!(n >= 20, "{n}");
    let class = another(&photo, 0);
    let debris = bay.correct(&photo, 0, Correction::Debris { class });
    bay.correct(&photo, 1, Correction::NotDebris);
    bay.correct(&photo, 2, Correction::NotDebris);
    // Corrected, and nobody stands by the rest: what was right there is not known.
    assert!(bay.record().words.starts_with("No pieces looked at yet."));
    let confirmed = bay.confirm(bay.job, photo.photo.entry);
    let record = bay.record();
    let said = format!("{n} pieces looked at, {} right", n - 3);
    assert!(record.words.starts_with(&said), "{}", record.words);
    assert!(
        record.notes[0].starts_with("3 were wrong: 1 of another class, 2 no debris, 0 with"),
        "{:?}",
        record.notes
    );
    // Every piece stands once among the classes and once among the sizes.
    for rows in [&record.by_class, &record.by_size] {
        let looked_at = |words: &str| {
            let of = words.split(" of ").nth(1).expect("of so many");
            of.split(' ').next().and_then(|n| n.parse::<usize>().ok())
        };
        let sum: usize = rows.iter().filter_map(|row| looked_at(&row.words)).sum();
        assert_eq!(sum, n, "{rows:?}");
    }
    assert_eq!((record.cited, bay.cited()), (None, None));
    // What is taken back is gone from here too: the correction, then the word on the whole.
    let retract = |entry| {
        let job = bay.job;
        let done = bay.app.call(Command::Retract {
            job,
            entry,
            reason: None,
        });
        done.expect("taken back");
    };
    retract(debris);
    let said = format!("{n} pieces looked at, {} right", n - 2);
    assert!(bay.record().words.starts_with(&said), "{:?}", bay.record());
    retract(confirmed);
    assert!(bay.record().words.starts_with("No pieces looked at yet."));
}

#[test]
fn a_piece_that_is_drawn_anew_was_outlined_wrongly() {
    let bay = Bay::new();
    let photo = bay.patch(bay.job, PATCHES[0]);
    let n = photo.particles.len();
    let piece = photo.particles.iter().position(|p| p.waist_px.is_some());
    let piece = piece.expect("one with a waist");
    let along_px = photo.particles[piece].waist_px.expect("a waist");
    bay.correct(&photo, piece, Correction::Parted { along_px });
    bay.confirm(bay.job, photo.photo.entry);
    let record = bay.record();
    let said = format!("{n} pieces looked at, {} right", n - 1);
    assert!(record.words.starts_with(&said), "{}", record.words);
    assert!(record.notes[0].contains("1 with an outline that was cut or joined"));
}

#[test]
fn over_all_jobs_and_cited_from_a_hundred_pieces_on() {
    let bay = Bay::new();
    let (mut n, mut jobs) = (0, 0);
    while n < 100 {
        let job = if jobs == 0 { bay.job } else { bay.new_job() };
        jobs += 1;
        for bytes in PATCHES {
            assert_eq!(bay.record().cited, None, "{n}");
            let photo = bay.patch(job, bytes);
            bay.confirm(job, photo.photo.entry);
            n += photo.particles.len();
            if n >= 100 {
                break;
            }
        }
    }
    assert!(jobs > 1);
    let cited = bay.record().cited.expect("cited");
    assert!(cited.contains(&format!("{n} pieces looked at, {n} right: 100 %")));
    assert_eq!(bay.cited(), Some(cited));
}

#[test]
fn three_photos_of_one_patch_say_how_well_they_repeat() {
    let bay = Bay::new();
    let first = bay.patch(bay.job, PATCHES[0]);
    assert!(first.repeat_offer.is_some());
    for _ in 0..2 {
        let next = bay.patch(bay.job, PATCHES[0]);
        assert!(bay.record().repeats.is_empty());
        let link = Fact::PhotoLinked {
            photo: next.photo.entry,
            to: first.photo.entry,
            link: PhotoLink::SamePatch,
        };
        bay.write(link);
    }
    let record = bay.record();
    // The same bytes thrice: nothing differs, and that is said, not hidden.
    assert!(record.repeats[1].contains("s_r = 0.0 pieces"), "{record:?}");
    assert!(record.repeats[2].contains("s_r = 0.0 %"), "{record:?}");
    assert_eq!(record.repeat_offer, None);
    let again = bay.app.call(Command::Photo {
        job: bay.job,
        photo: first.photo.entry,
    });
    let Ok(Reply::Photo { photo, .. }) = again else {
        panic!("{again:?}")
    };
    assert_eq!(photo.repeat_offer, None);
    let told = photo.patch_words.join(" ");
    assert!(
        told.contains("On the ground that all 3 photos show"),
        "{told}"
    );
}

impl Bay {
    fn calibrate(&self, calibrated: bool) {
        let settings = Settings {
            calibrated,
            ..Settings::default()
        };
        let saved = self.app.call(Command::SaveSettings { settings });
        saved.expect("saved");
    }

    fn score(&self) -> WearView {
        self.view().wear.expect("a score")
    }

    /// The paragraph of the report's method of that title.
    fn method(&self, title: &str) -> Option<String> {
        let content: Content = carried::content(&self.report());
        let mut method = content.method.into_iter();
        method
            .find(|part| part.title == title)
            .map(|part| part.text)
    }
}

/// The machine's word on each piece: class and its probability.
fn said(photo: &PhotoCensusView) -> Vec<(DebrisClass, f64)> {
    photo.particles.iter().map(|p| (p.class, p.p)).collect()
}

#[test]
fn counts_are_calibrated_when_the_shop_asks_and_keep_what_they_were_made_with() {
    let bay = Bay::new();
    let title = "Calibrated classes";
    bay.calibrate(true);
    // Asked for, and nothing to learn from yet.
    let first = bay.patch(bay.job, PATCHES[0]);
    let own = said(&first);
    assert_eq!(bay.score().calibrated, None);
    assert!(bay.record().calibration[1].starts_with("It takes 100 pieces"));
    // A shop where everything that looks like steel flakes is light metal.
    let mut n = 0;
    let mut jobs = Vec::new();
    while n < 100 {
        let job = bay.new_job();
        for bytes in PATCHES {
            let photo = bay.patch(job, bytes);
            for piece in &photo.particles {
                if piece.class == DebrisClass::SteelFlake {
                    let fact = Fact::ParticleCorrected {
                        photo: photo.photo.entry,
                        at_px: piece.at_px,
                        to: Correction::Debris {
                            class: DebrisClass::LightMetal,
                        },
                    };
                    bay.write_to(job, fact);
                }
            }
            let confirmed = bay.confirm(job, photo.photo.entry);
            jobs.push((job, confirmed));
            n += photo.particles.len();
        }
    }
    let second = bay.patch(bay.job, PATCHES[0]);
    assert_eq!(second.particles.len(), first.particles.len());
    // Each steel flake is one less surely now, or rather something else, some of them light metal.
    let now = said(&second);
    let mut flakes =
        (own.iter().zip(&now)).filter(|((class, _), _)| *class == DebrisClass::SteelFlake);
    let less = |((_, before), (class, p)): (&(DebrisClass, f64), &(DebrisClass, f64))| match class {
        DebrisClass::SteelFlake => *p < before - 0.05,
        _ => true,
    };
    assert!(flakes.clone().count() >= 10, "{own:?}");
    let light = |(_, (class, _)): (&(DebrisClass, f64), &(DebrisClass, f64))| {
        *class == DebrisClass::LightMetal
    };
    assert!(flakes.clone().any(light), "{now:?}");
    assert!(flakes.all(less), "{own:?} {now:?}");
    let told = bay.score().calibrated.expect("said");
    assert!(
        told.starts_with("Class probabilities of 1 photo were calibrated"),
        "{told}"
    );
    assert_eq!(bay.method(title), Some(told.clone()));
    // Off again: new counts are the machine's own, the old one keeps what it was made with.
    bay.calibrate(false);
    let third = bay.patch(bay.job, PATCHES[0]);
    assert_eq!(said(&third), own);
    assert_eq!(bay.score().calibrated, Some(told));
    // What taught it is taken back, and nothing of it lives on.
    for (job, entry) in jobs {
        let done = bay.app.call(Command::Retract {
            job,
            entry,
            reason: None,
        });
        done.expect("taken back");
    }
    bay.calibrate(true);
    assert_eq!(said(&bay.patch(bay.job, PATCHES[0])), own);
}

/// A pack opens with any ZIP reader, and holds nothing but pieces.
#[test]
fn lessons_are_written_as_crops_outlines_and_classes_without_names() {
    let bay = Bay::new();
    let settings = Settings {
        technician: "Invented Name".into(),
        shop: "Invented Shop".into(),
        ..Settings::default()
    };
    bay.app
        .call(Command::SaveSettings { settings })
        .expect("saved");
    let car = Car {
        plate: "INVENTED 7".into(),
        ..Car::default()
    };
    bay.write(Fact::CarNoted { car });
    let photo = bay.patch(bay.job, PATCHES[0]);
    let other = bay.patch(bay.job, PATCHES[1]);
    let class = another(&photo, 0);
    bay.correct(&photo, 0, Correction::Debris { class });
    bay.correct(&photo, 1, Correction::NotDebris);
    bay.confirm(bay.job, photo.photo.entry);
    // Of a count that nobody stands by only what was corrected teaches.
    bay.correct(&other, 3, Correction::NotDebris);
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().join("lessons.zip");
    let done = bay.app.export_lessons(&path).expect("written");
    let n = photo.particles.len() as u64 + 1;
    assert_eq!((done.lessons, done.photos, done.photos_missing), (n, 2, 0));

    let mut zip = zip::ZipArchive::new(File::open(&path).expect("there")).expect("a ZIP");
    let mut text = |name: &str| {
        let mut text = String::new();
        let mut part = zip.by_name(name).expect("there");
        part.read_to_string(&mut text).expect("text");
        text
    };
    assert!(text("README.txt").contains("lessons.jsonl"));
    let manifest: Value = serde_json::from_str(&text("pack.json")).expect("JSON");
    assert_eq!(manifest["form"], "swarfbook-lessons");
    assert_eq!(manifest["lessons"], n);
    let figures = manifest["figures"].as_array().expect("named").len();
    let lines = text("lessons.jsonl");
    for private in ["Invented", "INVENTED", &bay.job.to_string()] {
        assert!(!lines.contains(private), "{private}");
    }
    let lessons: Vec<Value> = lines
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    assert_eq!(lessons.len() as u64, n);
    let none = lessons.iter().filter(|lesson| lesson["class"].is_null());
    assert_eq!(none.count(), 2);
    let confirmed = |lesson: &&Value| lesson["confirmed"] == true;
    assert_eq!(lessons.iter().filter(confirmed).count() as u64, n - 1);
    // The machine's own proposals come again where the photo is read again, with their figures.
    let with_looks = lessons.iter().filter(|lesson| {
        let looks = lesson["looks"].as_array();
        looks.is_some_and(|looks| looks.len() == figures)
    });
    assert!(with_looks.count() as u64 >= n * 9 / 10);
    for lesson in &lessons {
        let class = serde_json::from_value::<Option<DebrisClass>>(lesson["class"].clone());
        let place = class.expect("a class").map(|class| {
            let at = DebrisClass::LEARNED.iter().position(|c| *c == class);
            at.expect("one of nine") + 1
        });
        assert_eq!(lesson["outcome"], place.unwrap_or(0));
        let crop = lesson["crop"].as_str().expect("a name");
        let mut png = Vec::new();
        let mut part = zip.by_name(crop).expect("there");
        part.read_to_end(&mut png).expect("read");
        // A signature, then chunks (ISO/IEC 15948): header, data, end, and nothing that says where or when.
        for chunk in [&b"eXIf"[..], b"tEXt", b"iTXt", b"zTXt", b"tIME"] {
            assert!(!png.windows(4).any(|four| four == chunk));
        }
        let picture = image::load_from_memory(&png).expect("a picture");
        let outline: Vec<[f64; 2]> =
            serde_json::from_value(lesson["outline_px"].clone()).expect("an outline");
        let [w, h] = [picture.width(), picture.height()].map(f64::from);
        let inside = |[x, y]: &[f64; 2]| (0.0..=w).contains(x) && (0.0..=h).contains(y);
        assert!(outline.iter().all(inside), "{crop}: {outline:?}");
    }
    // Same log, same photos, same file.
    let again = folder.path().join("again.zip");
    bay.app.export_lessons(&again).expect("written");
    let bytes = |path| std::fs::read(path).expect("read");
    assert_eq!(bytes(&path), bytes(&again));
}

/// A place that can't be written leaves nothing that passes for a pack.
#[test]
fn a_pack_is_there_whole_or_not_at_all() {
    let bay = Bay::new();
    let folder = tempfile::tempdir().expect("folder");
    let nowhere = folder.path().join("no such folder").join("lessons.zip");
    let problem = bay.app.export_lessons(&nowhere).expect_err("no folder");
    assert!(problem.what.contains("can't be written"), "{problem}");
    let empty = folder.path().join("lessons.zip");
    let done = bay.app.export_lessons(&empty).expect("written");
    assert_eq!(done.lessons, 0);
    assert_eq!(std::fs::read_dir(folder.path()).expect("read").count(), 1);
}
