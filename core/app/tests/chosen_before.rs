//! What the customer chose at one visit comes back into the report of the next.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use bay::Bay;
use swarfbook_app::App;
use swarfbook_app::command::{Command, ItemAnswer};
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::{AnswerChoice, Car, Fact, LeaveOut, PartOff};
use swarfbook_job::id::JobId;
use swarfbook_words::Language;

impl Bay {
    fn call(&self, command: Command) -> Reply {
        self.app.call(command).expect("is done")
    }

    fn new_job(&self) -> JobId {
        match self.call(Command::OpenJob { procedure: None }) {
            Reply::Job { job } => job.id,
            other => panic!("{other:?}"),
        }
    }

    fn write(&self, job: JobId, fact: Fact) {
        self.call(Command::Write {
            job,
            fact: Box::new(fact),
            sure: true,
        });
    }

    fn car(&self, job: JobId, plate: &str) {
        let car = Car {
            plate: plate.into(),
            ..Car::default()
        };
        self.write(job, Fact::CarNoted { car });
    }

    /// Bolts that are still off: something to advise.
    fn bolts_off(&self) {
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
        self.write(self.job, Fact::PartOff { part });
    }

    /// A link to the job's report, by which its first thing advised is answered.
    fn answered(&self, job: JobId, choice: AnswerChoice) {
        let shared = self.call(Command::ShareReport {
            job,
            base: Some("http://127.0.0.1:8350".into()),
            days: 30,
            with_code: false,
            leave_out: LeaveOut::default(),
            language: None,
        });
        let Reply::Shared { url, .. } = shared else {
            panic!("{shared:?}")
        };
        let secret = url.rsplit('/').next().expect("a secret").to_owned();
        self.call(Command::AnswerShared {
            secret,
            code: String::new(),
            newest: false,
            name: "Invented Owner".into(),
            answers: vec![ItemAnswer {
                item: 0,
                choice: Some(choice),
                text: "too dear this month".into(),
            }],
        });
    }

    fn page(&self, job: JobId, language: Option<Language>) -> String {
        let asked = Command::PreviewReport {
            job,
            leave_out: LeaveOut::default(),
            language,
        };
        match self.call(asked) {
            Reply::Report { html, .. } => html,
            other => panic!("{other:?}"),
        }
    }
}

#[test]
fn what_was_declined_at_one_visit_is_said_at_the_next() {
    let bay = Bay::with(|dir| App::open(dir).expect("opens"));
    bay.car(bay.job, "SB 101");
    bay.bolts_off();
    bay.answered(bay.job, AnswerChoice::Agree);
    bay.answered(bay.job, AnswerChoice::Decline);

    let (same, other) = (bay.new_job(), bay.new_job());
    bay.car(same, "sb 101");
    bay.car(other, "SB 102");
    let page = bay.page(same, None);
    assert_eq!(page.matches("at the visit of ").count(), 1, "{page}");
    assert!(page.contains(": declined"));
    // The car may have another owner by now.
    assert!(!page.contains("Invented Owner") && !page.contains("too dear"));
    assert!(
        bay.page(same, Some(Language::De))
            .contains("beim Besuch am ")
    );
    assert!(
        bay.page(same, Some(Language::Es))
            .contains("en la visita del ")
    );
    assert!(!bay.page(other, None).contains("at the visit of "));
    // Nor into its own report, where it stands with name and words, as it did.
    let own = bay.page(bay.job, None);
    assert!(!own.contains("at the visit of ") && own.contains("Invented Owner"));
}
