//! Devices with clocks, a car, and what was written of it: by whom, when, in which words.

mod act;
mod pick;
mod set;
mod work;
mod write;

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use chrono::{DateTime, FixedOffset};
use swarfbook_app::App;
use swarfbook_app::clock::Clock;
use swarfbook_app::command::Command;
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_app::view::JobView;
use swarfbook_job::fact::Fact;
use swarfbook_job::fold::{JobState, fold};
use swarfbook_job::id::{EntryId, JobId};
use tempfile::TempDir;

use super::Found;

/// The zones in which the devices are.
const ZONES: [&str; 3] = ["+01:00", "-05:00", "+05:30"];
/// When the first line is written, seconds.
const BEGIN: i64 = 1_772_434_800;

/// Seconds of the one time, shown in a device's own zone.
#[derive(Clone)]
struct Watch {
    seconds: Arc<AtomicI64>,
    zone: FixedOffset,
}

impl Clock for Watch {
    fn now(&self) -> DateTime<FixedOffset> {
        let seconds = self.seconds.load(Ordering::Relaxed);
        DateTime::from_timestamp(seconds, 0)
            .expect("a time")
            .with_timezone(&self.zone)
    }
}

/// One phone or desk.
pub struct Device {
    pub app: App,
    pub settings: Settings,
    clock: Watch,
    _dir: TempDir,
}

/// What was written, as it was told when it was.
#[derive(Debug, Clone)]
pub struct Written {
    pub job: JobId,
    pub entry: EntryId,
    /// Who held the device.
    pub by: String,
    /// When, as that device showed it.
    pub at: String,
    /// The line in English words then, where it says all by itself.
    pub words: Option<String>,
    /// A word of its own in what was typed; none where nothing was.
    pub token: Option<String>,
    pub fact: Fact,
}

/// A job as it was opened.
#[derive(Debug, Clone)]
pub struct Opened {
    pub job: JobId,
    pub procedure: String,
    pub version: u32,
    /// A title of a step by which the version is known, and one of another version.
    pub titles: Option<(String, String)>,
}

/// All of it.
pub struct Shop {
    pub devices: Vec<Option<Device>>,
    /// Which device writes.
    pub writer: usize,
    seconds: Arc<AtomicI64>,
    pub jobs: Vec<Opened>,
    /// The plate of the car.
    pub plate: String,
    /// The job as the writer saw it last.
    pub view: Option<Box<JobView>>,
    pub written: Vec<Written>,
    /// The secret of the last link.
    pub link: Option<String>,
    /// The customer's name, and others who were named.
    pub names: Vec<String>,
    tokens: usize,
    photos: usize,
    /// Lines written.
    pub steps: usize,
    /// Codes that a part explained which was replaced since.
    pub explained: BTreeSet<String>,
    /// What a step on the way was found to break.
    pub found: Vec<Found>,
}

impl Shop {
    /// One device, one job, nothing known of it.
    pub fn new() -> Shop {
        let mut shop = Shop {
            devices: vec![None, None, None],
            writer: 0,
            seconds: Arc::new(AtomicI64::new(BEGIN)),
            jobs: Vec::new(),
            plate: "TEST 1".into(),
            view: None,
            written: Vec::new(),
            link: None,
            names: Vec::new(),
            tokens: 0,
            photos: 0,
            steps: 0,
            explained: BTreeSet::new(),
            found: Vec::new(),
        };
        shop.technician(0);
        shop.open(None);
        shop
    }

    /// The device that writes; bought when it is first needed.
    pub fn device(&mut self) -> &mut Device {
        let seconds = self.seconds.clone();
        let at = self.writer;
        self.devices[at].get_or_insert_with(|| {
            let zone: FixedOffset = ZONES[at].parse().expect("a zone");
            let dir = folder();
            let clock = Watch { seconds, zone };
            let app = App::open_with(dir.path(), Box::new(clock.clone())).expect("opens");
            Device {
                app,
                settings: Settings::default(),
                clock,
                _dir: dir,
            }
        })
    }

    pub fn app(&mut self) -> &App {
        &self.device().app
    }

    pub fn job(&self) -> JobId {
        self.jobs.last().expect("one is open").job
    }

    /// One command through the door of the app that this shop has now.
    pub fn call(&mut self, command: Command) -> Result<Reply, Problem> {
        self.app().call(command)
    }

    /// The job's log, folded.
    pub fn state(&mut self) -> JobState {
        let job = self.job();
        let entries = self.app().store().entries(job).expect("a log");
        fold(job, &entries)
    }

    /// The settings of the device that writes, changed.
    pub fn set(&mut self, change: impl FnOnce(&mut Settings)) {
        let device = self.device();
        change(&mut device.settings);
        let settings = device.settings.clone();
        device
            .app
            .call(Command::SaveSettings { settings })
            .expect("can be set");
    }

    pub fn wait(&mut self, seconds: i64) {
        self.seconds.fetch_add(seconds, Ordering::Relaxed);
    }

    /// A word that stands nowhere else.
    pub fn token(&mut self) -> String {
        self.tokens += 1;
        format!("zq{}x", self.tokens)
    }

    /// The job anew, as the device that writes has it; none where it does not know it yet.
    pub fn look(&mut self) {
        let job = self.job();
        self.view = match self.call(Command::Job { job }) {
            Ok(Reply::Job { job }) => Some(job),
            _ => None,
        };
    }
}

/// In memory where there is such a place: what is tested is not the disk.
fn folder() -> TempDir {
    let memory = Path::new("/dev/shm");
    if memory.is_dir()
        && let Ok(dir) = tempfile::tempdir_in(memory)
    {
        return dir;
    }
    tempfile::tempdir().expect("folder")
}
