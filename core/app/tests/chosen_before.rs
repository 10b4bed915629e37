//! What the customer chose at one visit comes back into the report of the next.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use bay::{Bay, bolts_off};
use swarfbook_app::command::{Command, ItemAnswer};
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::{AnswerChoice, Car, Fact, LeaveOut};
use swarfbook_job::id::JobId;
use swarfbook_words::Language;

impl Bay {
    fn car(&self, job: JobId, plate: &str) {
        let car = Car {
            plate: plate.into(),
            ..Car::default()
        };
        self.write_to(job, Fact::CarNoted { car });
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
}

#[test]
fn what_was_declined_at_one_visit_is_said_at_the_next() {
    let bay = Bay::new();
    bay.car(bay.job, "SB 101");
    bay.write(bolts_off());
    bay.answered(bay.job, AnswerChoice::Agree);
    bay.answered(bay.job, AnswerChoice::Decline);

    let (same, other) = (bay.new_job(), bay.new_job());
    bay.car(same, "sb 101");
    bay.car(other, "SB 102");
    let page = bay.preview_of(same, None);
    assert_eq!(page.matches("at the visit of ").count(), 1, "{page}");
    assert!(page.contains(": declined"));
    // The car may have another owner by now.
    assert!(!page.contains("Invented Owner") && !page.contains("too dear"));
    assert!(
        bay.preview_of(same, Some(Language::De))
            .contains("beim Besuch am ")
    );
    assert!(
        bay.preview_of(same, Some(Language::Es))
            .contains("en la visita del ")
    );
    assert!(!bay.preview_of(other, None).contains("at the visit of "));
    // Nor into its own report, where it stands with name and words, as it did.
    let own = bay.preview();
    assert!(!own.contains("at the visit of ") && own.contains("Invented Owner"));
}
