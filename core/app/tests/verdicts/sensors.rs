//! Sensors whose ohms are no verdict.

use super::*;

#[test]
fn ohms_say_nothing_of_a_hall_sensor_or_of_contacts_among_their_like() {
    for kind in [
        ComponentKind::HallSensor,
        ComponentKind::Switch,
        ComponentKind::RangeSensor,
    ] {
        let bay = Bay::new();
        for (at, ohms) in ["5.2", "5.2", "5.3", "5.1", "900.0"].iter().enumerate() {
            let part = bay.note_with(&format!("Part {at}"), kind, "S 100", &[]);
            bay.read(part, taken(ReadingKind::Resistance, &[*ohms; 3]));
        }
        for part in &bay.view().components {
            assert_eq!(part.sibling_words, None, "{kind:?}");
        }
        assert!(
            !bay.content().to_string().contains("Stands out"),
            "{kind:?}"
        );
    }
}

#[test]
fn ohms_of_a_hall_sensor_are_no_verdict_and_an_open_contact_is_a_position() {
    let bay = Bay::new();
    let hall = bay.note("Output speed", ComponentKind::HallSensor);
    bay.limit(hall, ReadingKind::Resistance, 500.0, 900.0, None);
    for (quantity, samples) in [
        (ReadingKind::Resistance, ["5.2", "5.2", "5.3"]),
        (ReadingKind::Resistance, ["OL", "OL", "OL"]),
        (ReadingKind::Insulation, ["12.4", "12.4", "12.5"]),
    ] {
        let read = bay.read(hall, taken(quantity, &samples));
        assert_eq!(read.verdict, ReadingVerdict::NoSpec, "{read:?}");
        assert!(read.verdict_words.contains("active sensor"), "{read:?}");
    }
    assert_eq!(bay.part(hall).standing, None);
    bay.limit(hall, ReadingKind::Voltage, 4.5, 5.5, None);
    let supply = bay.read(hall, taken(ReadingKind::Voltage, &["3.00", "3.00", "3.01"]));
    assert_eq!(supply.verdict, ReadingVerdict::OutOfSpec);
    for kind in [ComponentKind::Switch, ComponentKind::RangeSensor] {
        let contact = bay.note("Contact", kind);
        bay.limit(contact, ReadingKind::Resistance, 0.0, 1.0, None);
        let take = |samples: &[&str; 3]| {
            let mut reading = taken(ReadingKind::Resistance, samples);
            reading.leads = Some("0.2".into());
            bay.read(contact, reading)
        };
        let open = take(&["OL", "OL", "OL"]);
        assert_eq!(open.verdict, ReadingVerdict::NoSpec, "{open:?}");
        assert!(open.verdict_words.contains("position"), "{open:?}");
        assert_eq!(take(&["0.5", "0.5", "0.5"]).verdict, ReadingVerdict::InSpec);
        // Burnt contacts stay so when they are opened.
        let burnt = take(&["45.0", "45.0", "45.0"]);
        assert_eq!(burnt.verdict, ReadingVerdict::OutOfSpec);
        take(&["OL", "OL", "OL"]);
        assert_eq!(
            bay.part(contact).standing,
            Some(ReadingVerdict::OutOfSpec),
            "{kind:?}"
        );
    }
}
