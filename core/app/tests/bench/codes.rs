//! Codes, in letters and bytes, with a shop's own rows.

use super::*;

#[test]
fn codes_are_read_in_letters_and_in_bytes_and_held_against_each_other() {
    let bay = by_hours();
    let job = bay.new_job();
    let read = |typed: &str, bytes| -> Result<CodeView, Problem> {
        let typed = typed.into();
        match bay.app.call(Command::ReadCode { typed, bytes })? {
            Reply::Code { code } => Ok(code),
            other => panic!("{other:?}"),
        }
    };
    // SAE J2012 layout, checked with a decoder of udsoncan 1.26 and by hand.
    for (bytes, code) in [
        ("0741", "P0741"),
        ("40 35", "C0035"),
        ("9342", "B1342"),
        ("C1 00", "U0100"),
        ("07411C", "P0741-1C"),
    ] {
        assert_eq!(read(bytes, true).unwrap().code, code);
        assert_eq!(read(code, false).unwrap().code, code);
    }
    assert_eq!(read("p0741-1c", false).unwrap().bytes, "07 41 1C");
    for bad in ["07", "07 4", "0741 1C 2F", "PQ 41", ""] {
        assert!(read(bad, true).is_err(), "{bad}");
    }
    let codes = |moment, list: &[(&str, CodeState, Option<u8>)]| Fact::CodesRead {
        moment,
        codes: list
            .iter()
            .map(|(code, state, status)| CodeSeen {
                code: (*code).into(),
                state: *state,
                status: *status,
            })
            .collect(),
    };
    bay.write_to(
        job,
        codes(
            Moment::Before,
            &[
                ("P0753", CodeState::Stored, Some(0xAF)),
                ("P0868", CodeState::Stored, None),
            ],
        ),
    );
    let before = bay.view_of(job).codes_before.unwrap();
    assert!(
        before[0].status_words[1].contains("warning light"),
        "{before:?}"
    );
    assert!(bay.view_of(job).codes_changed.is_empty());
    bay.write_to(
        job,
        codes(Moment::After, &[("P0868", CodeState::Pending, Some(0x50))]),
    );
    let changed = bay.view_of(job).codes_changed;
    assert!(changed[0].contains("P0753 was there before, is not there now"));
    assert!(changed[1].contains("only pending"), "{changed:?}");
    assert!(changed[1].contains("drive before you believe"));
}

#[test]
fn a_shops_rows_come_before_the_table_that_ships() {
    let bay = by_hours();
    let job = bay.new_job();
    let set = |text: &str| bay.app.call(Command::SetCodeTable { text: text.into() });
    bay.write_to(
        job,
        Fact::CodesRead {
            moment: Moment::Before,
            codes: vec![CodeSeen {
                code: "P1799".into(),
                state: CodeState::Stored,
                status: None,
            }],
        },
    );
    let coil = bay.write_to(job, component("Solenoid A", ComponentKind::OnOffSolenoid));
    bay.write_to(
        job,
        limits(coil, ReadingKind::Resistance, Some(11.0), Some(15.0)),
    );
    let mut reading = taken(ReadingKind::Resistance, ["40.1", "40.2", "40.1"]);
    reading.leads = Some("0.2".into());
    bay.write_to(
        job,
        Fact::ReadingTaken {
            component: coil,
            reading,
        },
    );
    let said = |bay: &Bay| bay.view_of(job).explains[0].verdict_words.clone();
    assert_eq!(said(&bay), "can't tell", "the maker's own code");
    let row = r#"
version = "shop 1"
[[row]]
from = "P1799"
to = "P1799"
says = "the shift solenoid"
nature = "circuit"
parts = ["on_off_solenoid"]
only_one = true
source = "our own notes (invented)"
"#;
    match set(row).unwrap() {
        Reply::CodeTable { table } => {
            assert_eq!(table.shop_rows, 1);
            assert!(table.version.contains("shop 1"));
        }
        other => panic!("{other:?}"),
    }
    assert_eq!(said(&bay), "explains");
    assert!(set("version = 1").is_err());
    assert_eq!(said(&bay), "explains", "a bad file changes nothing");
    set("").unwrap();
    assert_eq!(said(&bay), "can't tell");
}
