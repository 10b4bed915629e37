//! Signed pages and prints of every form that was ever written, made by the programs that wrote
//! them (`swarfbook report JOB --data DIR --out FILE`). Each must verify for ever; whoever
//! changes the form keeps two of the new one before it lands.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::path::Path;

use swarfbook_seal::{FIRST_FORM, FORM, FileKind, verify};

fn kept(form: u32, ending: &str) -> Vec<u8> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures");
    let file = dir.join(format!("report-form-{form}.{ending}"));
    std::fs::read(&file).unwrap_or_else(|why| panic!("keep {}: {why}", file.display()))
}

#[test]
fn a_report_of_every_form_verifies() {
    for form in FIRST_FORM..=FORM {
        for (ending, kind) in [("html", FileKind::Html), ("pdf", FileKind::Pdf)] {
            let file = kept(form, ending);
            let statement = verify(&file).unwrap_or_else(|faults| {
                panic!("form {form}, {ending}: {faults:?}");
            });
            assert_eq!((statement.form, statement.file), (form, kind));
            assert!(!statement.made.heads.is_empty());
            assert_eq!(statement.length.is_some(), form > FIRST_FORM);
        }
    }
}

#[test]
fn a_report_of_every_form_that_was_changed_does_not() {
    for form in FIRST_FORM..=FORM {
        for ending in ["html", "pdf"] {
            let mut file = kept(form, ending);
            for at in (0..file.len()).step_by(file.len() / 40) {
                file[at] ^= 1;
                assert!(verify(&file).is_err(), "form {form}, {ending}, byte {at}");
                file[at] ^= 1;
            }
            verify(&file).expect("as it was");
        }
    }
}
