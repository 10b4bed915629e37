//! What the log holds is told in the report or counted as left out, and nothing that has
//! a line is called undone.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use bay::Bay;
use swarfbook_app::command::Command;
use swarfbook_job::fact::{
    AdviceChoice, Complaint, Component, ComponentKind, Fact, Measured, Observed,
};

impl Bay {
    fn observe(&self, step: &str, topic: &str, choice: &str) {
        self.write(Fact::Observed {
            observed: Observed {
                step: step.into(),
                topic: topic.into(),
                choice: choice.into(),
                also: Vec::new(),
                text: String::new(),
            },
        });
    }

    fn note(&self, step: &str, topic: Option<&str>, text: &str) {
        self.write(Fact::Noted {
            step: step.into(),
            topic: topic.map(str::to_owned),
            text: text.into(),
            private: false,
        });
    }

    /// The words of the report's page, tags and styles gone, one space between.
    fn words(&self) -> String {
        let html = self.preview();
        let body = html.split("</style>").nth(1).expect("a body");
        let mut words = String::new();
        let mut inside = false;
        for letter in body.chars() {
            match letter {
                '<' => {
                    inside = true;
                    words.push(' ');
                }
                '>' => inside = false,
                _ if !inside => words.push(letter),
                _ => {}
            }
        }
        let words = words
            .replace("&#x27;", "'")
            .replace("&#39;", "'")
            .replace('\u{2060}', "");
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

/// The part of a text between two others.
fn between<'a>(text: &'a str, from: &str, to: &str) -> &'a str {
    let (_, rest) = text.split_once(from).unwrap_or(("", ""));
    rest.split_once(to).map_or(rest, |(part, _)| part)
}

#[test]
fn each_answer_number_and_note_is_told() {
    let bay = Bay::new();
    bay.observe("magnets", "paste", "thick_paste");
    bay.observe("filter-read", "filter", "some");
    bay.note("magnets", None, "the left one sat loose");
    bay.note(
        "first-fill",
        Some("fluid_in_name"),
        "Invented ATF 8, batch 88-1",
    );
    let words = bay.words();
    for told in [
        "On the magnet: thick paste",
        "In the filter: some debris",
        "Note: the left one sat loose",
        "Invented ATF 8, batch 88-1",
    ] {
        assert!(words.contains(told), "{told}: {words}");
    }
    assert!(
        !words.contains("No answer and no figure about the oil"),
        "{words}"
    );
}

#[test]
fn what_has_a_line_is_not_called_undone() {
    let bay = Bay::new();
    bay.write(Fact::ComponentNoted {
        component: Component {
            name: "Solenoid Q7".into(),
            kind: ComponentKind::OnOffSolenoid,
            connector: String::new(),
            part_number: String::new(),
            codes: Vec::new(),
            grounded_by_case: false,
        },
    });
    bay.observe("magnets", "paste", "thin_film");
    bay.write(Fact::StepSkipped {
        step: "magnets".into(),
        reason: "one magnet only".into(),
    });
    let words = bay.words();
    // Behind the annex's contents, which name it, too.
    let section = words.rsplit_once("What we did not do or look at");
    let (_, undone) = section.expect("its section");
    let (undone, _) = undone
        .split_once("What a photo can't show")
        .unwrap_or((undone, ""));
    let (undone, begun) = undone
        .split_once("Begun, or done in part")
        .expect("both lists");
    for title in ["Electrical parts named", "Magnets as they sit"] {
        assert!(!undone.contains(title), "{title}: {undone}");
        assert!(begun.contains(title), "{title}: {begun}");
    }
    assert!(undone.contains("Residue on the patch"), "{undone}");
    assert!(!words.contains("No electrical part was"), "{words}");
}

#[test]
fn an_answer_that_a_later_one_replaced_is_counted_and_not_told() {
    let bay = Bay::new();
    bay.observe("drained", "fluid_colour", "red");
    bay.observe("drained", "fluid_colour", "black");
    let words = bay.words();
    assert!(words.contains("colour black"), "{words}");
    assert!(!words.contains("colour red"), "{words}");
    assert!(words.contains("what was seen 1"), "{words}");
}

#[test]
fn the_lines_add_up() {
    let bay = Bay::new();
    bay.note("car", None, "seen");
    bay.observe("drained", "fluid_smell", "none");
    bay.observe("drained", "fluid_smell", "sharp");
    bay.write(Fact::Noted {
        step: "car".into(),
        topic: None,
        text: "not for the customer".into(),
        private: true,
    });
    bay.note("car", None, "a mistake");
    bay.app
        .call(Command::Undo { job: bay.job })
        .expect("undone");
    let words = bay.words();
    assert!(!words.contains("a mistake") && !words.contains("not for the customer"));
    let line = between(&words, "The log has ", "Where each figure");
    let numbers: Vec<u32> = line
        .split(|c: char| !c.is_ascii_digit())
        .filter_map(|n| n.parse().ok())
        .collect();
    let [lines, told, taken_back, ..] = numbers.as_slice() else {
        panic!("{line}")
    };
    let untold = between(line, "Not told one by one:", ".");
    let untold: u32 = untold
        .split(',')
        .filter_map(|one| one.rsplit(' ').next()?.parse::<u32>().ok())
        .sum();
    assert_eq!(*lines, told + taken_back + untold, "{line}");
    // Opened, note, two answers, a note that was taken back and the taking back; not the
    // private one.
    assert_eq!(*lines, 6, "{line}");
    assert_eq!((*told, *taken_back), (2, 1), "{line}");
}

#[test]
fn what_the_customer_typed_ends_with_its_own_full_stop_alone() {
    let bay = Bay::new();
    bay.write(Fact::ComplaintNoted {
        complaint: Complaint {
            words: "The light came on.".into(),
            ..Complaint::default()
        },
    });
    bay.write(Fact::StepSkipped {
        step: "secured".into(),
        reason: "No lift free.".into(),
    });
    let words = bay.words();
    assert!(words.contains("came on.") && words.contains("No lift free."));
    assert!(!words.contains(".."), "{words}");
}

#[test]
fn times_are_told_with_their_zone() {
    let bay = Bay::new();
    bay.note("car", None, "seen");
    assert!(bay.words().contains("(UTC"), "{}", bay.words());
}

#[test]
fn an_overruling_stands_at_the_top_with_both_reasons() {
    let bay = Bay::new();
    bay.observe("drained", "fluid_look", "milky");
    bay.write(Fact::Decided {
        advised: AdviceChoice::TestFirst,
        chosen: AdviceChoice::CarryOn,
        reason: Some("the owner sells it for parts".into()),
    });
    let words = bay.words();
    let top = between(&words, "What we found", "What we did");
    for side in [
        "Our computer advises",
        "test first",
        "The technician decided",
        "finish the work",
        "the owner sells it for parts",
    ] {
        assert!(top.contains(side), "{side}: {top}");
    }
    assert!(
        words.contains("The tool advises: test first."),
        "the annex says both in a sentence"
    );
}

#[test]
fn a_decision_that_is_older_than_graver_evidence_says_so_and_does_not_lead() {
    let bay = Bay::new();
    bay.observe("magnets", "paste", "thin_film");
    bay.write(Fact::Decided {
        advised: AdviceChoice::CarryOn,
        chosen: AdviceChoice::CarryOn,
        reason: None,
    });
    assert!(!bay.words().contains("older than the evidence"));
    bay.observe("drained", "fluid_look", "milky");
    let words = bay.words();
    let top = between(&words, "What we found", "What it costs");
    assert!(top.contains("is older than the evidence"), "{top}");
    assert!(
        !top.contains("Drive it as usual") && !top.contains("finish the work"),
        "{top}"
    );
}

#[test]
fn numbers_that_do_not_add_up_are_told_by_the_last() {
    let bay = Bay::new();
    for (value, typed) in [(41.0, "41"), (43.0, "43")] {
        bay.write(Fact::Measured {
            measured: Measured {
                step: "drained".into(),
                topic: "fluid_out_c".into(),
                value,
                typed: typed.into(),
            },
        });
    }
    let words = bay.words();
    assert!(words.contains("43 °C"), "{words}");
    assert!(!words.contains("41 °C"), "{words}");
}

/// It was in the sources alone: the step that was begun had named its line.
#[test]
fn what_was_written_at_a_step_that_is_not_finished_is_told_with_the_steps() {
    let bay = Bay::new();
    bay.write(Fact::Measured {
        measured: Measured {
            step: "first-fill".into(),
            topic: "fluid_in_l".into(),
            value: 4.5,
            typed: "4.5".into(),
        },
    });
    bay.note("magnets", None, "the left one sat loose");
    let words = bay.words();
    let noted = between(
        &words,
        "What was seen and noted at the steps",
        "Is everything back on?",
    );
    let told = "Magnets as they sit (step not finished) Note: the left one sat loose.";
    assert!(noted.contains(told), "{noted}");
}
