//! What was tightened, and to what.

use super::*;

fn tightened(what: &str, typed: &str, torque_nm: Option<f64>, angle_deg: Option<f64>) -> Fact {
    Fact::Tightened {
        step: if what == "pan bolts" {
            "pan-bolts"
        } else {
            "drain-plug"
        }
        .into(),
        tightened: Tightened {
            what: what.into(),
            torque_nm,
            by_hand_first: true,
            passes: 2,
            typed: Some(typed.into()),
            angle_deg,
            ..Tightened::default()
        },
    }
}

/// At 12.9 an M6 takes 19.4 N·m and an M10 about 85 (VDI 2230, ISO 898-1): 106 is too much
/// for either.
#[test]
fn the_size_that_was_noted_bounds_the_torque_of_bolts_and_plugs() {
    let bay = Bay::new();
    bay.write(tightened("drain plug", "106", Some(106.0), None));
    let bay = Bay::new();
    bay.off("covers-off", "bolt", "pan", "M6 x 25");
    bay.off("covers-off", "drain plug", "pan, front", "M10");
    for (what, size) in [("pan bolts", "M6"), ("drain plug", "M10")] {
        let asked = bay.asked(tightened(what, "106", Some(106.0), None));
        assert!(asked.contains(&format!("on {size}")), "{asked}");
        assert!(asked.contains("106 lb-in"), "{asked}");
        let plan = bay
            .plan(|a| {
                a.what = what.into();
                a.torque = "106".into();
            })
            .unwrap();
        assert!(plan.doubt.unwrap().contains(&format!("on {size}")));
        assert_eq!(plan.doubt_instead.unwrap(), "106 lb-in");
        // No pass is put to a bolt by a figure that is in doubt.
        assert!(plan.passes.iter().all(|pass| pass.torque_nm.is_none()));
    }
    let inches = tightened("pan bolts", "106 lb-in", Some(11.976), None);
    bay.try_write(inches, false).unwrap();
    let plug = tightened("drain plug", "40", Some(40.0), None);
    bay.try_write(plug, false).unwrap();
}

/// A third of 10 N·m is below the fifth of a scale that ends at 40 N·m (ISO 6789: accuracy
/// from 20 % of the scale up).
#[test]
fn passes_below_the_tools_scale_say_so() {
    let bay = Bay::new();
    let plan = bay
        .plan(|a| a.tool = Some(TorqueTool::Scale { most_nm: 40.0 }))
        .unwrap();
    let below: Vec<bool> = plan
        .passes
        .iter()
        .map(|p| p.scale_words.is_some())
        .collect();
    // By hand, 3.3, 6.7, 10, 10 N·m; the scale begins at 8.
    assert_eq!(below, [false, true, true, false, false]);
    let words = plan.passes[1].scale_words.as_ref().unwrap();
    assert!(words.contains("begins at 8 N·m"), "{words}");
}

#[test]
fn torque_and_angle_is_planned_and_written_and_no_angle_goes_without_a_torque() {
    let bay = Bay::new();
    let plan = bay.plan(|a| a.angle = "90".into()).unwrap();
    let last = &plan.passes.last().unwrap().words;
    assert!(last.contains("on by 90°"), "{last}");
    assert_eq!(plan.passes.len(), 5, "no last round after an angle");
    for what in ["pan bolts", "drain plug"] {
        let alone = bay.plan(|a| {
            a.what = what.into();
            a.torque = String::new();
            a.angle = "90".into();
        });
        assert!(alone.unwrap_err().to_string().contains("torque is missing"));
        let alone = bay.try_write(tightened(what, "", None, Some(90.0)), true);
        assert!(alone.unwrap_err().to_string().contains("torque is missing"));
    }
    let written = tightened("pan bolts", "10", Some(10.0), Some(90.0));
    let (_, view) = bay.try_write(written, false).unwrap();
    let said = |line: &&swarfbook_app::view::LineView| line.words.contains("90°");
    assert!(
        view.recent.iter().any(|line| said(&line)),
        "{:?}",
        view.recent
    );
    assert!(bay.content()["tightened"].to_string().contains("90°"));
}
