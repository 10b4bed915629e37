//! A job in a store of its own, and what most stories of one do at the door.

#![allow(dead_code)] // each file of tests uses its own part
#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::path::Path;

use chrono::{DateTime, FixedOffset};
use swarfbook_app::clock::Clock;
use swarfbook_app::command::Command;
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::JobView;
use swarfbook_app::{App, Language};
use swarfbook_job::fact::{Fact, LeaveOut, PartOff};
use swarfbook_job::id::{EntryId, JobId};

/// What a story of one job is told with; each file of tests adds its own ways to write and look.
pub struct Bay {
    pub app: App,
    pub job: JobId,
    dir: tempfile::TempDir,
}

/// The demo's jobs in a store of its own.
#[cfg(feature = "demo")]
pub fn demo() -> (tempfile::TempDir, App, Vec<JobId>) {
    let dir = tempfile::tempdir().expect("folder");
    let app = App::open(dir.path()).expect("opens");
    swarfbook_app::demo::load(&app).expect("loads");
    let list = Command::Jobs {
        search: String::new(),
        skip: 0,
        limit: 10,
    };
    let Reply::Jobs { jobs, .. } = app.call(list).expect("list") else {
        panic!("another reply");
    };
    let ids = jobs.iter().map(|job| job.id).collect();
    (dir, app, ids)
}

/// A clock that stands still.
pub struct Standing;

impl Clock for Standing {
    fn now(&self) -> DateTime<FixedOffset> {
        DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
    }
}

impl Bay {
    /// With a new job by the procedure that ships.
    pub fn new() -> Bay {
        Bay::with(|dir| App::open(dir).expect("opens"))
    }

    /// The same, in an app that is opened on an empty folder.
    pub fn with(open: impl FnOnce(&Path) -> App) -> Bay {
        let dir = tempfile::tempdir().expect("folder");
        let app = open(dir.path());
        let job = opened(&app, None);
        Bay { app, job, dir }
    }

    /// With a job by a procedure of the shop's own, which it calls "own".
    pub fn by(procedure: &str) -> Bay {
        let mut bay = Bay::new();
        let text = procedure.to_owned();
        bay.call(Command::AddProcedure { text });
        bay.job = opened(&bay.app, Some("own"));
        bay
    }

    /// The same job after the app ended and was opened again.
    pub fn again(self, open: impl FnOnce(&Path) -> App) -> Bay {
        let Bay { app, job, dir } = self;
        drop(app);
        let app = open(dir.path());
        Bay { app, job, dir }
    }

    /// The folder of its store.
    pub fn dir(&self) -> &Path {
        self.dir.path()
    }

    /// One more job beside the first.
    pub fn new_job(&self) -> JobId {
        opened(&self.app, None)
    }

    /// The reply to a command that is not refused.
    pub fn call(&self, command: Command) -> Reply {
        self.app.call(command).expect("is done")
    }

    /// A line, and the job after it, or why it is refused; `sure` answers a doubt beforehand.
    pub fn try_write(&self, fact: Fact, sure: bool) -> Result<(EntryId, Box<JobView>), Problem> {
        self.try_write_to(self.job, fact, sure)
    }

    /// The same in any job.
    pub fn try_write_to(
        &self,
        job: JobId,
        fact: Fact,
        sure: bool,
    ) -> Result<(EntryId, Box<JobView>), Problem> {
        let fact = Box::new(fact);
        match self.app.call(Command::Write { job, fact, sure })? {
            Reply::Written { entry, job } => Ok((entry, job)),
            other => panic!("{other:?}"),
        }
    }

    /// A line that nothing is asked about.
    pub fn write(&self, fact: Fact) -> EntryId {
        self.write_to(self.job, fact)
    }

    /// The same in any job.
    pub fn write_to(&self, job: JobId, fact: Fact) -> EntryId {
        self.try_write_to(job, fact, false).expect("written").0
    }

    /// A line that the technician stands by, whatever is asked about it.
    pub fn insist(&self, fact: Fact) -> EntryId {
        self.try_write(fact, true).expect("written").0
    }

    pub fn view(&self) -> Box<JobView> {
        self.view_of(self.job)
    }

    pub fn view_of(&self, job: JobId) -> Box<JobView> {
        match self.call(Command::Job { job }) {
            Reply::Job { job } => job,
            other => panic!("{other:?}"),
        }
    }

    /// The page of the report as it would be now.
    pub fn preview(&self) -> String {
        self.preview_of(self.job, None)
    }

    pub fn preview_of(&self, job: JobId, language: Option<Language>) -> String {
        self.html(Command::PreviewReport {
            job,
            leave_out: LeaveOut::default(),
            language,
        })
    }

    /// The page of a report that is made and signed.
    pub fn report(&self) -> String {
        self.html(Command::MakeReport {
            job: self.job,
            leave_out: LeaveOut::default(),
            language: None,
        })
    }

    fn html(&self, command: Command) -> String {
        match self.call(command) {
            Reply::Report { html, .. } => html,
            other => panic!("{other:?}"),
        }
    }
}

fn opened(app: &App, procedure: Option<&str>) -> JobId {
    let procedure = procedure.map(str::to_owned);
    match app.call(Command::OpenJob { procedure }) {
        Ok(Reply::Job { job }) => job.id,
        other => panic!("{other:?}"),
    }
}

/// A note at the first step.
pub fn noted(text: &str) -> Fact {
    Fact::Noted {
        step: "car".into(),
        topic: None,
        text: text.into(),
        private: false,
    }
}

/// Two bolts of the pan are off: something to advise.
pub fn bolts_off() -> Fact {
    let part = PartOff {
        step: "pan-photo".into(),
        item: "bolts".into(),
        place: "pan".into(),
        count: 2,
        size: "M6".into(),
        length_mm: None,
        photo: None,
        at_px: Vec::new(),
    };
    Fact::PartOff { part }
}
