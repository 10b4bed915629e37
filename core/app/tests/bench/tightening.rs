//! In which order and to what torque bolts are tightened.

use super::*;

fn tightening(bay: &Bay, job: JobId, change: impl Fn(&mut TighteningAsked)) -> TighteningView {
    try_tightening(bay, job, change).unwrap()
}

fn try_tightening(
    bay: &Bay,
    job: JobId,
    change: impl Fn(&mut TighteningAsked),
) -> Result<TighteningView, Problem> {
    plan::tightening(&bay.app, job, change)
}

#[test]
fn a_tightening_starts_by_hand_and_rises_crosswise() {
    let bay = by_hours();
    let job = bay.new_job();
    let plan = tightening(&bay, job, |_| ());
    assert!(plan.passes[0].by_hand);
    let torques: Vec<_> = plan.passes.iter().map(|p| p.torque_nm).collect();
    let third = 10.0 / 3.0;
    assert_eq!(
        torques,
        [None, Some(third), Some(2.0 * third), Some(10.0), Some(10.0)]
    );
    assert_eq!(plan.bolts.len(), 8);
    assert!(plan.passes.iter().all(|p| p.set_nm.is_none()));
    let sealed = tightening(&bay, job, |a| a.sealant = true);
    assert_eq!(sealed.passes.len(), 4, "no last round on a sealant");
    // 10 N·m with 250 mm grip to drive and 40 mm of adapter at 45°: 8.983619
    // (T L / (L + E cos θ), worked with numpy).
    let adapted = tightening(&bay, job, |a| {
        a.adapter = Some(AdapterUsed {
            lever_mm: 250.0,
            adapter_mm: 40.0,
            angle_deg: 45.0,
        });
    });
    assert!((adapted.passes[3].set_nm.unwrap() - 8.983619).abs() < 1e-6);
    // ISO 6789: 6 % of a tool that ends at 10 N·m.
    let tool = tightening(&bay, job, |a| {
        a.tool = Some(TorqueTool::Scale { most_nm: 10.0 })
    });
    assert!(tool.tool_words.unwrap().contains("± 6 %: 9.4 to 10.6 N·m"));
    let pounds = tightening(&bay, job, |a| a.torque = "88.5 lb-in".into());
    assert!((pounds.torque_nm.unwrap() - 9.99916).abs() < 1e-4);
    assert!(pounds.passes[3].words.contains("88.5 lb-in"));
    assert!(
        tightening(&bay, job, |a| a.torque = "900".into())
            .doubt
            .is_some()
    );
    for bad in ["ten", "10 volt", "-3"] {
        assert!(
            try_tightening(&bay, job, |a| a.torque = bad.into()).is_err(),
            "{bad}"
        );
    }
    let plug = tightening(&bay, job, |a| a.what = "drain plug".into());
    assert!(plug.bolts.is_empty());
    assert_eq!(plug.passes.len(), 2);
}

#[test]
fn places_tapped_on_the_photo_make_the_order() {
    let bay = by_hours();
    let job = bay.new_job();
    let photo = bay.append(
        job,
        Fact::PhotoTaken {
            step: "pan-photo".into(),
            photo: a_photo(&bay),
            subject: PhotoSubject::Pan,
        },
    );
    let off = |at_px: Vec<[f64; 2]>| Fact::PartOff {
        part: PartOff {
            step: "pan-photo".into(),
            item: "bolts".into(),
            place: "pan".into(),
            count: u32::try_from(at_px.len()).unwrap(),
            size: "M6".into(),
            length_mm: None,
            photo: Some(photo),
            at_px,
        },
    };
    bay.write_to(job, off(vec![[0.0, 0.0], [400.0, 0.0], [400.0, 300.0]]));
    bay.write_to(job, off(vec![[0.0, 300.0]]));
    let plan = tightening(&bay, job, |a| a.bolts = None);
    assert_eq!(plan.photo, Some(photo));
    let turns: Vec<_> = plan.bolts.iter().map(|b| b.turn).collect();
    // A square: 1-3-2-4, each next one across or beside, never missing.
    assert_eq!(turns.len(), 4);
    let at = |turn| plan.bolts.iter().find(|b| b.turn == turn).unwrap();
    let (first, second) = (at(1), at(2));
    assert!(
        (first.x - second.x).abs() > 0.9 && (first.y - second.y).abs() > 0.9,
        "the second is across: {plan:?}"
    );
}
