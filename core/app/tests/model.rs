//! At the door: the model file that finds pieces is missing, damaged or of another version. The photo is the demo's:
//! rendered, not photographed.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use bay::Bay;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_app::view::{JobView, PhotoCensusView};
use swarfbook_app::{App, Language};
use swarfbook_job::fact::{Fact, Observed, PhotoSubject};
use swarfbook_job::id::EntryId;

const SHIPS: &[u8] = include_bytes!("../../debris/src/eye/finder.net");
const SAID: &str =
    "The model that finds pieces is damaged or of another version: nothing was counted.";

impl Bay {
    fn taken(&self) -> EntryId {
        let bytes = include_bytes!("../demo/patch-06.jpg");
        let photo = self.app.put_photo(bytes).expect("kept");
        self.write(Fact::PhotoTaken {
            step: "patch".into(),
            photo,
            subject: PhotoSubject::Patch,
        })
    }

    fn count(&self, photo: EntryId) -> (PhotoCensusView, JobView) {
        let job = self.job;
        match self.app.call(Command::TakeCensus { job, photo }) {
            Ok(Reply::Photo { photo, job }) => (*photo, *job),
            other => panic!("{other:?}"),
        }
    }
}

/// What may stand in the file's place, by what is wrong with it.
fn no_good() -> [(&'static str, Vec<u8>); 4] {
    let mut flipped = SHIPS.to_vec();
    let middle = flipped.len() / 2;
    flipped[middle] ^= 1;
    // Behind the eight letters of its name stands its version.
    let mut newer = SHIPS.to_vec();
    newer[8] += 1;
    [
        ("missing", Vec::new()),
        ("cut short", SHIPS[..SHIPS.len() - 7].to_vec()),
        ("one bit changed", flipped),
        ("of another version", newer),
    ]
}

#[test]
fn without_its_model_the_app_works_without_counts_and_says_so() {
    for (what, model) in no_good() {
        let bay = Bay::with(|dir| App::open(dir).expect("opens").reading_by(model));
        let photo = bay.taken();
        let (shown, job) = bay.count(photo);
        let census = shown.photo.census.expect("tried");
        let problem = census.problem.expect("a problem");
        assert!(problem.starts_with(SAID), "{what}: {problem}");
        assert!(problem.contains("enter what you see by hand"), "{problem}");
        assert!(shown.particles.is_empty(), "{what}");
        // No count is no clean count.
        assert!(job.wear.is_none(), "{what}: {:?}", job.wear);
        // What is seen by hand is judged, and the report is made and says what is lacking.
        bay.write(Fact::Observed {
            observed: Observed {
                step: "magnets".into(),
                topic: "paste".into(),
                choice: "thick_paste".into(),
                also: Vec::new(),
                text: String::new(),
            },
        });
        let Ok(Reply::Job { job }) = bay.app.call(Command::Job { job: bay.job }) else {
            panic!("{what}")
        };
        assert!(job.wear.expect("by hand").score > 0.0, "{what}");
        let said = "The pieces in this photo could not be counted.";
        assert!(bay.report().contains(said), "{what}");
        // In German, too.
        let settings = Settings {
            language: Some(Language::De),
            ..Settings::default()
        };
        bay.app
            .call(Command::SaveSettings { settings })
            .expect("saved");
        let (german, _) = bay.count(photo);
        let problem = german.photo.census.and_then(|census| census.problem);
        assert!(problem.expect("said").starts_with("Das Modell"), "{what}");
        // Installed again, the same photo is counted.
        let bay = bay.again(|dir| App::open(dir).expect("opens"));
        let (shown, job) = bay.count(photo);
        assert!(shown.particles.len() >= 20, "{what}");
        assert!(job.wear.is_some(), "{what}");
    }
}

/// The hook itself changes nothing: the file that ships, handed in, counts as the one that is built in.
#[test]
fn the_file_that_ships_counts() {
    let count = |by: fn(App) -> App| {
        let bay = Bay::with(|dir| by(App::open(dir).expect("opens")));
        bay.count(bay.taken()).0.particles
    };
    let handed_in = count(|app| app.reading_by(SHIPS.to_vec()));
    assert_eq!(handed_in, count(|app| app));
}
