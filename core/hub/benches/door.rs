//! How long the door takes to answer, from the command to what a screen shows.

#![allow(clippy::expect_used, clippy::panic, missing_docs)]

mod common;

use divan::Bencher;
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::{Fact, LeaveOut};
use swarfbook_job::id::JobId;

fn main() {
    divan::main();
}

struct Shop {
    _dir: tempfile::TempDir,
    app: App,
    jobs: Vec<JobId>,
}

/// The demo: its first job is the fullest.
fn demo() -> Shop {
    let dir = tempfile::tempdir().expect("folder");
    let app = App::open(dir.path()).expect("opens");
    swarfbook_app::demo::load(&app).expect("loads");
    let jobs = jobs(&app);
    Shop {
        _dir: dir,
        app,
        jobs,
    }
}

fn jobs(app: &App) -> Vec<JobId> {
    let list = Command::Jobs {
        search: String::new(),
        skip: 0,
        limit: 200,
    };
    match app.call(list) {
        Ok(Reply::Jobs { jobs, .. }) => jobs.iter().map(|job| job.id).collect(),
        other => panic!("{other:?}"),
    }
}

fn do_it(app: &App, command: Command) -> Reply {
    app.call(command).expect("is done")
}

/// From a tap to the screen that shows it, the line on disk.
#[divan::bench(sample_count = 50)]
fn write_a_line(bencher: Bencher) {
    let shop = demo();
    let job = shop.jobs[0];
    bencher.bench_local(|| {
        do_it(
            &shop.app,
            Command::Write {
                job,
                fact: Box::new(Fact::StepTicked { step: "car".into() }),
                sure: true,
            },
        )
    });
}

#[divan::bench(sample_count = 50)]
fn open_the_fullest_job_of_the_demo(bencher: Bencher) {
    let shop = demo();
    let job = shop.jobs[0];
    bencher.bench_local(|| do_it(&shop.app, Command::Job { job }));
}

#[divan::bench(sample_count = 20)]
fn first_page_of_3000_jobs(bencher: Bencher) {
    let dir = tempfile::tempdir().expect("folder");
    let app = App::open(dir.path()).expect("opens");
    for _ in 0..3000 {
        do_it(&app, Command::OpenJob { procedure: None });
    }
    bencher.bench_local(|| jobs(&app));
}

#[divan::bench(sample_count = 10)]
fn report_as_html(bencher: Bencher) {
    let shop = demo();
    let job = shop.jobs[0];
    bencher.bench_local(|| {
        do_it(
            &shop.app,
            Command::PreviewReport {
                job,
                leave_out: LeaveOut::default(),
                language: None,
            },
        )
    });
}

#[divan::bench(sample_count = 20)]
fn keep_a_photo_of_12_megapixels(bencher: Bencher) {
    let shop = demo();
    let bytes = common::jpeg(4000, 3000);
    bencher.bench_local(|| shop.app.put_photo(&bytes).expect("kept"));
}
