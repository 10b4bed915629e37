//! Stories of the report: what a copy does without.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use bay::Bay;
use swarfbook_app::App;
use swarfbook_app::command::{Command, CopyAsked, Sheet};
use swarfbook_app::proof::{self, ReportStanding};
use swarfbook_app::reply::Reply;
use swarfbook_app::view::NamedText;
use swarfbook_job::fact::{Car, Complaint, Fact, GoAhead, GoAheadHow, LeaveOut};

const VIN: &str = "ZZZ00000000001234";

impl Bay {
    fn with_names() -> Bay {
        let bay = Bay::new();
        bay.save_customer("Adalind Quillfeather-Invented", "555 0100 22");
        bay.write(Fact::CarNoted {
            car: Car {
                plate: "TEST 417".into(),
                vin: Some(VIN.into()),
                description: "invented estate car of Adalind's".into(),
                odometer_km: Some(88_000.0),
                ..Car::default()
            },
        });
        bay.write(Fact::ComplaintNoted {
            complaint: Complaint {
                words: "Mrs Quillfeather says it shudders; call adalind quillfeather-invented, 555-0100-22".into(),
                when: Vec::new(),
                symptoms: Vec::new(),
            },
        });
        bay.write(Fact::GoAheadGiven {
            go_ahead: GoAhead {
                by: "Bertram Quillfeather-Invented".into(),
                how: GoAheadHow::Phone,
                limit: None,
            },
        });
        bay.write(Fact::StepSkipped {
            step: "car".into(),
            reason: "test417 was at Bertram's".into(),
        });
        bay
    }

    fn save_customer(&self, name: &str, contact: &str) {
        self.call(Command::SaveCustomer {
            job: self.job,
            name: name.into(),
            contact: contact.into(),
        });
    }

    /// The page, and all that the PDF holds: its words as another library reads
    /// them, its attached data, and its own bytes with every stream unpacked.
    fn copies(&self, leave_out: LeaveOut) -> [(&'static str, String); 3] {
        let (job, language) = (self.job, None);
        let preview = self.call(Command::PreviewReport {
            job,
            leave_out,
            language,
        });
        let made = self.call(Command::MakeReport {
            job,
            leave_out,
            language,
        });
        let (Reply::Report { html: preview, .. }, Reply::Report { html, .. }) = (preview, made)
        else {
            panic!("two reports")
        };
        let bytes = self
            .app
            .report_pdf(
                job,
                Sheet::A4,
                CopyAsked {
                    leave_out,
                    language,
                },
            )
            .expect("a PDF");
        let mut document = lopdf::Document::load_mem(&bytes).expect("reads");
        let pages: Vec<u32> = document.get_pages().into_keys().collect();
        let mut paper = document.extract_text(&pages).expect("words");
        document.decompress();
        let mut unpacked = Vec::new();
        document.save_to(&mut unpacked).expect("written");
        paper.push_str(&String::from_utf8_lossy(&unpacked));
        paper.push_str(&String::from_utf8_lossy(&bytes));
        [("preview", preview), ("page", html), ("paper", paper)]
    }
}

/// Small letters, and nothing between them.
fn squeezed(text: &str) -> String {
    let letters = text.chars().filter(|c| c.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

const PEOPLE: [&str; 4] = ["quillfeather", "adalind", "bertram", "555010022"];
const NOTHING: [&str; 0] = [];
const CARS: [&str; 2] = ["test417", "zzz0000000000"];

fn held<'a>(text: &str, wanted: &[&'a str]) -> Vec<&'a str> {
    let text = squeezed(text);
    let held = wanted.iter().copied();
    held.filter(|word| text.contains(word)).collect()
}

#[test]
fn a_name_that_is_left_out_is_nowhere_in_the_file() {
    let bay = Bay::with_names();
    let whole = LeaveOut::default();
    for (copy, text) in bay.copies(whole) {
        assert_eq!(held(&text, &PEOPLE), PEOPLE, "{copy} as it is holds them");
        assert_eq!(held(&text, &CARS), CARS, "{copy}");
        assert_eq!(held(&text, &["isleftoutofthiscopy"]).len(), 0, "{copy}");
    }
    let no_customer = LeaveOut {
        customer: true,
        ..whole
    };
    for (copy, text) in bay.copies(no_customer) {
        assert_eq!(held(&text, &PEOPLE), NOTHING, "{copy}");
        assert_eq!(held(&text, &CARS), CARS, "{copy} keeps the car");
        assert_eq!(held(&text, &["isleftoutofthiscopy"]).len(), 1, "{copy}");
    }
    let nobody = LeaveOut {
        customer: true,
        car: true,
        keep_texts: false,
    };
    for (copy, text) in bay.copies(nobody) {
        assert_eq!(held(&text, &PEOPLE), NOTHING, "{copy}");
        assert_eq!(held(&text, &CARS), NOTHING, "{copy}");
        assert!(text.contains("…1234"), "{copy}: the VIN's end stays");
        // A text that names somebody is left out whole, and says so in its place.
        assert_eq!(held(&text, &["saysitshudders"]), NOTHING, "{copy}");
        assert_eq!(
            held(&text, &["textleftoutitnamesthecustomer"]).len(),
            1,
            "{copy}"
        );
    }
}

/// A page's words, without its pictures and what differs between two makings.
fn lines_of(html: &str) -> Vec<&str> {
    let lines = html.lines().map(str::trim);
    lines
        .filter(|line| {
            !line.contains("data:image")
                && !line.contains("class=\"made\"")
                && !line.contains("<dt>Fingerprint")
        })
        .collect()
}

fn preview(bay: &Bay, leave_out: LeaveOut) -> (String, Vec<NamedText>) {
    let shown = bay.call(Command::PreviewReport {
        job: bay.job,
        leave_out,
        language: None,
    });
    let named = bay.call(Command::NamedTexts {
        job: bay.job,
        leave_out,
    });
    let (Reply::Report { html, .. }, Reply::NamedTexts { texts }) = (shown, named) else {
        panic!("a page and texts")
    };
    (html, texts)
}

/// A customer called Brown, whose name stands in texts as a colour too.
fn brown() -> Bay {
    let bay = Bay::new();
    bay.save_customer("Ada Brown", "555 0100 33");
    for fact in [
        Fact::ComplaintNoted {
            complaint: Complaint {
                words: "Brown drops under the car".into(),
                ..Complaint::default()
            },
        },
        Fact::GoAheadGiven {
            go_ahead: GoAhead {
                by: "Ada Brown".into(),
                how: GoAheadHow::Phone,
                limit: None,
            },
        },
        Fact::Noted {
            step: "drained".into(),
            topic: None,
            text: "brown sludge in the tray".into(),
            private: false,
        },
        Fact::Noted {
            step: "drained".into(),
            topic: None,
            text: "Ada Brown called at noon".into(),
            private: false,
        },
    ] {
        bay.write(fact);
    }
    bay
}

#[test]
fn a_copy_without_names_differs_in_the_fields_for_names_and_in_whole_texts_alone() {
    let bay = brown();
    let (full, named) = preview(&bay, LeaveOut::default());
    assert!(named.is_empty(), "nothing is left out: {named:?}");
    for keep_texts in [true, false] {
        let leave_out = LeaveOut {
            customer: true,
            keep_texts,
            ..LeaveOut::default()
        };
        let (copy, named) = preview(&bay, leave_out);
        // Told before it is made: which text holds what, and whether it may stay.
        let told: Vec<(&str, &str, bool)> = named
            .iter()
            .map(|text| (text.words.as_str(), text.holds.as_str(), text.can_stay))
            .collect();
        assert_eq!(
            told,
            [
                ("Complaint: Brown drops under the car", "Brown", true),
                ("Note: Ada Brown called at noon", "Ada Brown", false),
            ]
        );
        // No text is changed in part.
        assert!(!copy.contains("the customer drops"), "{copy}");
        assert!(copy.contains("brown sludge in the tray"));
        assert!(copy.contains("[name left out]"), "in place of the name");
        assert!(copy.contains("[text left out: it names the customer]"));
        assert!(!copy.contains("Ada") && !copy.contains("called at noon"));
        assert_eq!(copy.contains("Brown drops under the car"), keep_texts);
        let left_out = "[text left out: it holds a word of the customer&#x27;s name]";
        let left_out = [
            left_out,
            "[text left out: it holds a word of the customer&#39;s name]",
            "[text left out: it holds a word of the customer's name]",
        ];
        assert_eq!(left_out.iter().any(|text| copy.contains(text)), !keep_texts);
        // Line by line nothing else differs.
        let (before, after) = (lines_of(&full), lines_of(&copy));
        let said = |line: &&&str| !line.contains("left out");
        let extra: Vec<_> = after
            .iter()
            .filter(said)
            .filter(|line| !before.contains(line))
            .collect();
        assert!(extra.is_empty(), "changed otherwise: {extra:?}");
    }
}

#[test]
fn the_log_keeps_what_a_copy_leaves_out() {
    let bay = Bay::with_names();
    let all = LeaveOut {
        customer: true,
        car: true,
        keep_texts: false,
    };
    bay.copies(all);
    let Reply::Job { job } = bay.call(Command::Job { job: bay.job }) else {
        panic!("a job")
    };
    let customer = job.customer.expect("still known");
    assert_eq!(customer.name, "Adalind Quillfeather-Invented");
    assert_eq!(job.car.expect("a car").vin.as_deref(), Some(VIN));
}

#[test]
fn a_file_that_was_withdrawn_or_superseded_is_told_by_the_log() {
    let bay = Bay::with_names();
    let make = || bay.report().into_bytes();
    let standing = |file: &[u8]| {
        let statement = proof::check(file).expect("whole");
        bay.app.knows(file, &statement).expect("reads").standing
    };
    let first = make();
    assert_eq!(standing(&first), Some(ReportStanding::Stands));
    let print = bay
        .app
        .report_pdf(bay.job, Sheet::Letter, CopyAsked::default())
        .expect("a PDF");
    assert_eq!(standing(&print), Some(ReportStanding::Stands));
    assert_eq!(
        standing(&first),
        Some(ReportStanding::Stands),
        "its own print does not supersede it"
    );
    bay.write(Fact::StepSkipped {
        step: "complaint".into(),
        reason: "seen since".into(),
    });
    let second = make();
    for file in [&first, &print] {
        let told = standing(file);
        assert!(
            matches!(told, Some(ReportStanding::Superseded { .. })),
            "{told:?}"
        );
    }
    let Reply::Job { job } = bay.call(Command::Job { job: bay.job }) else {
        panic!("a job")
    };
    bay.write(Fact::ReportWithdrawn {
        report: job.reports.last().expect("made").entry,
        reason: "wrong car".into(),
    });
    let Some(ReportStanding::Withdrawn { reason, .. }) = standing(&second) else {
        panic!("{:?}", standing(&second))
    };
    assert_eq!(reason, "wrong car");
    // A making that was taken back is no better.
    let third = make();
    bay.call(Command::Undo { job: bay.job });
    let told = standing(&third);
    assert!(
        matches!(told, Some(ReportStanding::Withdrawn { .. })),
        "{told:?}"
    );
}

/// A phone that was lost and removed: reports that it signed are still the shop's.
#[test]
fn a_report_of_a_device_that_is_not_paired_any_more_is_known_by_its_lines() {
    let bay = Bay::with_names();
    let html = bay.report();
    let statement = proof::check(html.as_bytes()).expect("whole");
    let dir = tempfile::tempdir().expect("folder");
    let hub = App::open(&dir.path().join("hub")).expect("opens");
    let of_bay = bay.app.store().device();
    let signer = |hub: &App| {
        let known = hub.knows(html.as_bytes(), &statement).expect("reads");
        known.signer
    };
    assert_eq!(signer(&hub), None, "a stranger's");
    let file = dir.path().join("bay.zip");
    bay.app.export(&file).expect("exports");
    hub.import(&file).expect("imports");
    let by = signer(&hub).expect("its lines are here, each under its key");
    assert!(by.contains(&of_bay.to_string()), "{by}");
    assert!(by.contains("not paired"), "{by}");
}

/// To make it is not to give it: the step waits for who gave it, with what the customer is asked.
#[test]
fn a_made_report_waits_to_be_given() {
    let bay = Bay::with_names();
    let view = || bay.view();
    let steps = view().stages.into_iter().flat_map(|stage| stage.steps);
    let before: Vec<String> = steps.map(|step| step.id).collect();
    for step in before.iter().take_while(|id| *id != "report").skip(1) {
        bay.write(Fact::StepSkipped {
            step: step.clone(),
            reason: "not in this story".into(),
        });
    }
    assert_eq!(view().step_in_hand, "report");
    assert_eq!(view().to_give, None, "none is made");
    bay.report();
    let waits = view().to_give.expect("one is made");
    assert_eq!(waits.step, "report");
    let asked = waits.answer.expect("the customer's answer");
    assert_eq!(
        (asked.step.as_str(), asked.topic.as_str()),
        ("answer", "answer_given")
    );
    assert!(asked.choices.iter().any(|choice| choice.id == "agrees"));
    bay.write(Fact::StepTicked {
        step: "report".into(),
    });
    assert_eq!(view().to_give, None, "it is given");
}
