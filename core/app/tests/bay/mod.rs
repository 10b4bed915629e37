//! A job in a store of its own.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::path::Path;

use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_job::id::JobId;

/// What a story of one job is told with; each file of tests adds its own ways to write and look.
pub struct Bay {
    pub app: App,
    pub job: JobId,
    _dir: tempfile::TempDir,
}

impl Bay {
    /// With a new job, in an app that is opened on an empty folder.
    pub fn with(open: impl FnOnce(&Path) -> App) -> Bay {
        let dir = tempfile::tempdir().expect("folder");
        let app = open(dir.path());
        let opened = app.call(Command::OpenJob { procedure: None });
        let Ok(Reply::Job { job }) = opened else {
            panic!("{opened:?}")
        };
        Bay {
            app,
            job: job.id,
            _dir: dir,
        }
    }
}
