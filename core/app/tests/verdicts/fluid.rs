//! The fluid, its level and its name.

use super::*;

pub(super) fn measured(topic: &str, value: f64, typed: &str) -> Fact {
    let step = match topic {
        "fluid_out_l" | "fluid_out_c" => "drained",
        "fluid_in_l" => "first-fill",
        _ => "level",
    };
    Fact::Measured {
        measured: Measured {
            step: step.into(),
            topic: topic.into(),
            value,
            typed: typed.into(),
        },
    }
}

fn seen(choice: &str) -> Fact {
    Fact::Observed {
        observed: Observed {
            step: "level".into(),
            topic: "level_seen".into(),
            choice: choice.into(),
            ..Observed::default()
        },
    }
}

#[test]
fn a_level_is_read_with_gears_that_were_cycled_not_left_out() {
    let window = [
        ("level_low_c", 35.0),
        ("level_high_c", 45.0),
        ("level_c", 40.0),
    ];
    for choice in ["trickle", "dipstick_between"] {
        let bay = Bay::new();
        bay.write(Fact::StepSkipped {
            step: "gears".into(),
            reason: "no time".into(),
        });
        for (topic, value) in window {
            bay.write(measured(topic, value, ""));
        }
        bay.write(seen(choice));
        assert_eq!(bay.standing("level"), Standing::Later, "{choice}");
        let words = bay.view().fluid_words.join(" ");
        assert!(words.contains("start the engine"), "{words}");
        let bay = Bay::new();
        bay.write(Fact::StepTicked {
            step: "gears".into(),
        });
        for (topic, value) in window {
            bay.write(measured(topic, value, ""));
        }
        bay.write(seen(choice));
        assert_eq!(bay.standing("level"), Standing::Done, "{choice}");
    }
}

#[test]
fn windows_and_temperatures_that_no_level_is_read_at_are_asked_about() {
    let bay = Bay::new();
    let low = bay.asked(measured("level_low_c", 0.0, "0 °C"));
    assert!(low.contains("0 °C"), "{low}");
    bay.insist(measured("level_low_c", 0.0, "0 °C"));
    let wide = bay.asked(measured("level_high_c", 120.0, "120 °C"));
    assert!(wide.contains("0 °C to 120 °C"), "{wide}");
    // 95 to 104 °F, typed on a device that is set to °C.
    let bay = Bay::new();
    let low = bay.asked(measured("level_low_c", 95.0, "95 °C"));
    assert!(low.contains("95 °F, which is 35 °C"), "{low}");
    bay.insist(measured("level_low_c", 95.0, "95 °C"));
    let high = bay.asked(measured("level_high_c", 104.0, "104 °C"));
    assert!(high.contains("104 °F, which is 40 °C"), "{high}");
    // A dipstick's window for hot fluid is believed.
    let bay = Bay::new();
    bay.try_write(measured("level_low_c", 65.0, "65 °C"), false)
        .unwrap();
    bay.try_write(measured("level_high_c", 95.0, "95 °C"), false)
        .unwrap();
    for topic in ["level_c", "fluid_out_c"] {
        let hot = bay.asked(measured(topic, 104.0, "104 °C"));
        assert!(hot.contains("104 °F, which is 40 °C"), "{hot}");
    }
}

#[test]
fn the_fluids_name_and_specification_are_asked_for_and_its_batch_is_not() {
    let bay = Bay::new();
    let noted = |topic: &str| Fact::Noted {
        step: "first-fill".into(),
        topic: Some(topic.into()),
        text: "invented".into(),
        private: false,
    };
    let done = |bay: &Bay| bay.standing("first-fill") == Standing::Done;
    bay.write(measured("fluid_in_l", 4.5, "4.5 l"));
    bay.write(noted("fluid_in_batch"));
    assert!(!done(&bay));
    bay.write(noted("fluid_in_name"));
    assert!(!done(&bay));
    bay.write(noted("fluid_in_spec"));
    assert!(done(&bay));
    let bay = Bay::new();
    bay.write(noted("fluid_in_spec"));
    bay.write(noted("fluid_in_name"));
    bay.write(measured("fluid_in_l", 4.5, "4.5 l"));
    assert!(done(&bay), "without a batch");
}
