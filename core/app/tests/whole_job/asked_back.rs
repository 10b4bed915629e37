//! What is typed and can't be.

use super::*;

#[test]
fn limits_swapped_and_values_that_cannot_be_are_asked_back() {
    let bay = by_minutes();
    let part = bay.write(solenoid());
    let mut swapped = spec(part);
    if let Fact::SpecEntered { spec, .. } = &mut swapped {
        (spec.low, spec.high) = (Some(15.0), Some(11.0));
    }
    bay.refused(swapped, ProblemKind::BadInput, "11");
    let hot = Fact::Measured {
        measured: Measured {
            step: "drained".into(),
            topic: "fluid_out_c".into(),
            value: 400.0,
            typed: "400".into(),
        },
    };
    bay.refused(hot, ProblemKind::BadInput, "400");
    bay.refused(
        Fact::CodesRead {
            moment: Moment::Before,
            codes: vec![CodeSeen {
                code: "X1234".into(),
                state: CodeState::Stored,
                status: None,
            }],
        },
        ProblemKind::BadInput,
        "P, C, B or U",
    );
    let torque = |torque_nm, by_hand_first| Fact::Tightened {
        step: "pan-bolts".into(),
        tightened: Tightened {
            what: "pan bolts".into(),
            torque_nm: Some(torque_nm),
            by_hand_first,
            passes: 3,
            ..Tightened::default()
        },
    };
    bay.refused(torque(900.0, true), ProblemKind::Doubtful, "900");
    bay.refused(torque(10.0, false), ProblemKind::NotYet, "by hand");
    bay.write(torque(10.0, true));
}

#[test]
fn an_odometer_below_the_last_visit_is_asked_back() {
    let bay = by_minutes();
    bay.write(car(90_000.0));
    let second = match bay
        .app
        .call(Command::OpenJob { procedure: None })
        .expect("opened")
    {
        Reply::Job { job } => job.id,
        other => panic!("{other:?}"),
    };
    let write = |km, sure| {
        bay.app.call(Command::Write {
            job: second,
            fact: Box::new(car(km)),
            sure,
        })
    };
    let doubt = write(80_000.0, false).expect_err("below the last");
    assert_eq!(doubt.kind, ProblemKind::Doubtful);
    assert!(doubt.what.contains("90,000 km"), "{doubt}");
    write(80_000.0, true).expect("another instrument");
    write(95_000.0, false).expect("above");
}

#[test]
fn a_vin_with_letters_it_can_not_have_is_asked_back() {
    let bay = by_minutes();
    let with_vin = |vin: &str| Fact::CarNoted {
        car: Car {
            vin: Some(vin.into()),
            ..Car::default()
        },
    };
    // The check-digit examples are 11111111111111111 and its like: 49 CFR 565.15(c).
    bay.refused(with_vin("1111111111111111O"), ProblemKind::BadInput, "O");
    bay.refused(with_vin("123"), ProblemKind::BadInput, "17");
    bay.write(with_vin("11111111111111111"));
}
