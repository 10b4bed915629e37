use super::*;
use crate::conformity::{Limits, probability};
use proptest::prelude::*;
use swarfbook_job::fact::{AdapterUsed, TorqueTool};

fn thread(text: &str) -> Thread {
    text.parse().unwrap()
}

/// Stress areas by ISO 898-1 (M6, M8, M10 as tabulated, the fine ones worked
/// with Python); VDI 2230:2001 fine-thread table for the loads and torques.
#[test]
fn what_a_bolt_takes() {
    for (text, area, within) in [
        ("M6", 20.1, 0.05),
        ("M8", 36.6, 0.05),
        ("M10", 58.0, 0.05),
        ("M5", 14.18, 0.01),
        ("M8x1", 39.17, 0.01),
        ("M10x1.25", 61.20, 0.01),
    ] {
        let got = thread(text).stress_area_mm2();
        assert!((got - area).abs() <= within, "{text}: {got}");
    }
    use PropertyClass::*;
    let check = |text: &str, class, mu, force_kn: f64, torque: f64| {
        let got = tightness(thread(text), class, mu);
        assert!(
            (got.force_n / 1000.0 - force_kn).abs() <= 0.051,
            "{text} {mu}: {got:?}"
        );
        // Printed torques vary with the head's diameter: 1.5 %.
        assert!(
            (got.torque_nm / torque - 1.0).abs() <= 0.015,
            "{text} {mu}: {got:?}"
        );
    };
    check("M8x1", C8_8, 0.10, 20.7, 22.8); // printed
    check("M8x1", C8_8, 0.12, 20.2, 26.1); // printed
    check("M8x1", C8_8, 0.14, 19.7, 29.2); // printed
    check("M10x1.25", C8_8, 0.12, 31.6, 51.0); // printed
    check("M6", C8_8, 0.12, 10.2, 10.1); // printed
    check("M8", C10_9, 0.12, 27.4, 36.1); // worked with Python
    check("M10", C8_8, 0.12, 29.6, 48.4); // worked with Python
}

#[test]
fn an_insane_torque_is_asked_back() {
    let check = |nm: f64, on: Option<&str>, says: &str| {
        let got = doubt(NewtonMetres(nm), Unit::NewtonMetre, on.map(thread));
        match says {
            "" => assert_eq!(got, None, "{nm} on {on:?}"),
            says => assert!(got.unwrap().question.contains(says), "{nm} on {on:?}"),
        }
    };
    check(900.0, Some("M6"), "900 N·m on M6");
    check(900.0, None, "more than any bolt");
    check(88.0, Some("M6"), "the unit"); // lb-in read as N·m
    check(10.0, Some("M6"), "");
    check(12.0, Some("M6"), "");
    check(24.0, Some("M8"), "");
    check(50.0, Some("M14"), "");
    check(110.0, Some("M8x1"), "on M8x1");
    check(0.0, Some("M6"), "less than a wrench");
    check(-4.0, None, "less than a wrench");
    check(f64::NAN, None, "less than a wrench");
}

/// A 12.9 bolt of M6 takes 19.4 N·m (VDI 2230 and ISO 898-1, worked by hand from
/// 14.9 N·m for 10.9 at the same friction): 106 on an M6 is pounds and inches.
#[test]
fn a_bolts_size_bounds_its_torque() {
    let m6 = Some(thread("M6"));
    assert!((most_nm(thread("M6")) - 19.4).abs() < 0.15);
    let got = doubt(NewtonMetres(106.0), Unit::NewtonMetre, m6).unwrap();
    assert_eq!(got.instead, Some(Unit::PoundForceInch));
    assert!(
        got.question.contains("106 lb-in, which is 12 N·m"),
        "{}",
        got.question
    );
    // The same number of pounds and inches is believed.
    let inches = NewtonMetres::from_unit(106.0, Unit::PoundForceInch).unwrap();
    assert_eq!(doubt(inches, Unit::PoundForceInch, m6), None);
    // Pounds and feet for pounds and inches: 89 lb-ft are 121 N·m.
    let feet = NewtonMetres::from_unit(89.0, Unit::PoundForceFoot).unwrap();
    let got = doubt(feet, Unit::PoundForceFoot, m6).unwrap();
    assert!(got.question.contains("89 lb-ft on M6"), "{}", got.question);
    assert_eq!(got.instead, Some(Unit::PoundForceInch));
    // 900 N·m is nothing in pounds and inches either.
    let got = doubt(NewtonMetres(900.0), Unit::NewtonMetre, m6).unwrap();
    assert_eq!(got.instead, None);
}

#[test]
fn the_size_of_a_part_names_its_thread() {
    for (size, shown) in [
        ("M6", "M6"),
        ("M6 x 25", "M6"),
        ("M6x25 mm", "M6"),
        ("M8x1 x 30", "M8x1"),
        ("bolt M8", "M8"),
    ] {
        assert_eq!(thread_of_size(size).unwrap().to_string(), shown, "{size}");
    }
    for size in ["", "10 mm head", "T30", "M7", "medium"] {
        assert_eq!(thread_of_size(size), None, "{size}");
    }
}

#[test]
fn threads_as_they_are_typed() {
    for (typed, shown) in [
        ("M6", "M6"),
        ("m6", "M6"),
        (" M6 ", "M6"),
        ("M6x1", "M6"),
        ("M8x1", "M8x1"),
        ("M8 x 1,0", "M8x1"),
        ("M10X1.25", "M10x1.25"),
        ("M10×1.5", "M10"),
    ] {
        assert_eq!(thread(typed).to_string(), shown);
    }
    for (typed, says) in [
        ("6", "no metric thread"),
        ("M", "no metric thread"),
        ("M7", "only M4 to M18"),
        ("M100", "only M4 to M18"),
        ("M6x25", "pitch"),
        ("Mx", "no metric thread"),
        ("", "no metric thread"),
    ] {
        let error = typed.parse::<Thread>().unwrap_err().to_string();
        assert!(error.contains(says), "{typed:?}: {error}");
    }
}

/// T L / (L + E cos θ) (US Army TM 9-254, fig. 4-6), worked with Python. The first, to one
/// decimal, is also a worked example of a web page on extensions (agentcalc.com).
#[test]
fn adapter_settings() {
    let check = |wanted: f64, lever_mm, adapter_mm, angle_deg, expect: f64| {
        let adapter = AdapterUsed {
            lever_mm,
            adapter_mm,
            angle_deg,
        };
        let set = set_for(adapter, NewtonMetres(wanted)).unwrap();
        assert!((set.get() - expect).abs() < 5e-5, "{wanted}: {set:?}");
        let back = reaches(adapter, set).unwrap();
        assert!((back.get() - wanted).abs() < 1e-9);
    };
    check(80.0, 400.0, 50.0, 0.0, 71.1111);
    check(50.0, 160.0, 20.0, 0.0, 44.4444);
    check(10.0, 180.0, 5.0, 0.0, 9.7297);
    check(10.0, 250.0, 40.0, 45.0, 8.983619);
    check(10.0, 250.0, 40.0, 135.0, 11.275700);
    check(10.0, 250.0, 40.0, 90.0, 10.0); // square: nothing changes
    for (lever_mm, adapter_mm, angle_deg) in [
        (0.0, 50.0, 0.0),
        (f64::NAN, 50.0, 0.0),
        (250.0, -1.0, 0.0),
        (250.0, 260.0, 180.0),
        (250.0, 50.0, 270.0),
    ] {
        let bad = AdapterUsed {
            lever_mm,
            adapter_mm,
            angle_deg,
        };
        assert!(set_for(bad, NewtonMetres(10.0)).is_err(), "{bad:?}");
    }
}

/// ISO 6789 as a maker sums it up: 4 % above 10 N·m, 6 % up to it. The
/// probabilities with scipy.
#[test]
fn tools() {
    let u = |set, tool| tool_uncertainty(NewtonMetres(set), tool).map(NewtonMetres::get);
    let iso = |most_nm| TorqueTool::Scale { most_nm };
    assert!((u(10.0, iso(10.0)).unwrap() - 0.346410).abs() < 1e-6);
    assert!((u(10.0, iso(50.0)).unwrap() - 0.230940).abs() < 1e-6);
    assert!((u(9.5, iso(10.0)).unwrap() - 0.329090).abs() < 1e-6);
    let within = |set: f64, tool| {
        let limits = Limits {
            low: Some(9.0),
            high: Some(12.0),
        };
        probability(set, u(set, tool).unwrap(), limits)
    };
    assert!((within(9.5, iso(10.0)) - 0.935662).abs() < 1e-6);
    assert!((within(10.0, iso(50.0)) - 0.999993).abs() < 1e-6);
    assert!((within(9.2, iso(40.0)) - 0.826733).abs() < 1e-6);
    assert!(u(12.0, iso(10.0)).is_err());
    // From 20 % of the scale up (ISO 6789), not below.
    assert!(u(10.0, iso(50.0)).is_ok());
    let below = u(9.0, iso(50.0)).unwrap_err();
    assert_eq!(
        below,
        ToolError::BelowScale {
            least_nm: 10.0,
            wanted_nm: 9.0
        }
    );
    assert!(u(12.0, TorqueTool::Percent { percent: 90.0 }).is_err());
    assert!(u(f64::NAN, iso(10.0)).is_err());
}

fn circle(n: u32) -> Vec<[f64; 2]> {
    (0..n)
        .map(|i| {
            let a = std::f64::consts::TAU * f64::from(i) / f64::from(n);
            [100.0 * a.cos(), 100.0 * a.sin()]
        })
        .collect()
}

/// Star patterns for round flanges as commonly published (from memory).
#[test]
fn round_flanges_give_the_known_stars() {
    let check = |n, star: &[u32]| {
        let order: Vec<u32> = cross_sequence(&circle(n)).iter().map(|i| i + 1).collect();
        assert_eq!(order, star);
    };
    check(4, &[1, 3, 2, 4]);
    check(8, &[1, 5, 3, 7, 2, 6, 4, 8]);
    check(12, &[1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]);
    check(16, &[1, 9, 5, 13, 3, 11, 7, 15, 2, 10, 6, 14, 4, 12, 8, 16]);
}

/// Bolts along the long sides, the corners among them, and along the short ones.
fn pan(long: u32, short: u32, [width, height]: [f64; 2]) -> Vec<[f64; 2]> {
    let mut bolts = Vec::new();
    for i in 0..long {
        let x = width * f64::from(i) / f64::from(long - 1);
        bolts.extend([[x, 0.0], [x, height]]);
    }
    for j in 1..=short {
        let y = height * f64::from(j) / f64::from(short + 1);
        bolts.extend([[0.0, y], [width, y]]);
    }
    bolts
}

/// Drawn pans of 10 to 20 bolts: from the middle outwards, crosswise, the corners
/// last (common practice, no published source).
#[test]
fn long_pans_are_tightened_from_the_middle_outwards() {
    for (long, short, size) in [
        (4, 1, [280.0, 200.0]), // 10 bolts
        (5, 1, [280.0, 200.0]), // 12
        (4, 2, [300.0, 260.0]), // 12
        (5, 2, [330.0, 220.0]), // 14
        (6, 1, [420.0, 180.0]), // 14
        (6, 2, [420.0, 230.0]), // 16
        (7, 2, [480.0, 250.0]), // 18
        (7, 3, [430.0, 300.0]), // 20
        (8, 2, [600.0, 240.0]), // 20
    ] {
        let bolts = pan(long, short, size);
        let [w, h] = size;
        let order = cross_sequence(&bolts);
        let at = |k: usize| bolts[order[k] as usize];
        let out = |p: [f64; 2]| (p[0] - w / 2.0).hypot(p[1] - h / 2.0);
        let n = bolts.len();
        let nearest = bolts.iter().map(|p| out(*p)).fold(f64::INFINITY, f64::min);
        assert!(out(at(0)) <= nearest + 1e-9, "{n}: begins in the middle");
        let is_corner = |p: [f64; 2]| (p[0] == 0.0 || p[0] == w) && (p[1] == 0.0 || p[1] == h);
        let first_corner = (0..n).position(|k| is_corner(at(k))).unwrap();
        assert!(
            first_corner >= n / 2,
            "{n}: a corner is the {}. of {order:?}",
            first_corner + 1
        );
        // A corner never comes while one of the long sides' middles is loose.
        let middles = (0..n).filter(|k| (at(*k)[0] - w / 2.0).abs() < w / 4.0);
        assert!(
            middles.into_iter().all(|k| k < first_corner),
            "{n}: {order:?}"
        );
        for k in (1..n).step_by(2) {
            let ([ax, ay], [bx, by]) = (at(k - 1), at(k));
            assert!(
                (ax + bx - w).abs() < 1e-6 && (ay + by - h).abs() < 1e-6,
                "{n}: {} is not across from {}",
                k + 1,
                k
            );
        }
    }
}

/// Taps are uneven, and pans have odd numbers of bolts: still outwards.
#[test]
fn uneven_pans_go_outwards_too() {
    let bolts = [
        [12.0, 8.0],
        [88.0, 3.0],
        [161.0, 9.0],
        [240.0, 2.0],
        [312.0, 11.0],
        [318.0, 96.0],
        [309.0, 190.0],
        [233.0, 201.0],
        [158.0, 196.0],
        [81.0, 203.0],
        [9.0, 192.0],
        [2.0, 131.0],
        [4.0, 66.0],
    ];
    let order = cross_sequence(&bolts);
    let place = |i: u32| order.iter().position(|o| *o == i).unwrap();
    for corner in [0, 4, 6, 10] {
        assert!(place(corner) >= 7, "corner {corner}: {order:?}");
    }
    for middle in [2, 8] {
        assert!(place(middle) < 2, "middle {middle}: {order:?}");
    }
}

/// Five bolts, of which only two are near the middle and on one side: the partner is sought
/// across, further out, not beside.
#[test]
fn a_partner_is_across_also_where_it_is_further_out() {
    let bolts = [
        [0.0, 0.0],
        [140.0, 0.0],
        [140.0, 100.0],
        [0.0, 100.0],
        [70.0, 0.0],
    ];
    let order = cross_sequence(&bolts);
    assert_eq!(order[0], 4);
    assert!([2, 3].contains(&order[1]), "{order:?}");
}

/// A long pan: begins at a long side's middle, goes across, and has clamped
/// both halves and both sides within its first four bolts.
#[test]
fn a_long_pan_starts_in_the_middle_and_crosses() {
    let mut bolts: Vec<[f64; 2]> = Vec::new();
    for x in [0.0, 70.0, 140.0, 210.0, 280.0] {
        bolts.push([x, 0.0]);
        bolts.push([x, 200.0]);
    }
    bolts.extend([[-20.0, 100.0], [300.0, 100.0]]);
    let order = cross_sequence(&bolts);
    let at = |i: usize| bolts[order[i] as usize];
    assert_eq!(at(0)[0], 140.0);
    let early: Vec<[f64; 2]> = (0..4).map(at).collect();
    assert!(early.iter().any(|p| p[0] < 140.0) && early.iter().any(|p| p[0] > 140.0));
    assert!(early.iter().any(|p| p[1] == 0.0) && early.iter().any(|p| p[1] == 200.0));
}

#[test]
fn a_plan_begins_by_hand_and_rises() {
    let bolts = circle(8);
    let plan = |bolts: &[[f64; 2]], nm: f64, rounds, finish| {
        Plan::of(bolts, Some(NewtonMetres(nm)), rounds, finish)
    };
    let got = plan(&bolts, 9.0, 3, Finish::LastRound).unwrap();
    let kinds: Vec<PassKind> = got.passes.iter().map(|p| p.what).collect();
    assert_eq!(
        kinds,
        [
            PassKind::ByHand,
            PassKind::Rising { torque_nm: 3.0 },
            PassKind::Rising { torque_nm: 6.0 },
            PassKind::Full { torque_nm: 9.0 },
            PassKind::LastRound { torque_nm: 9.0 },
        ]
    );
    let sealed = plan(&bolts, 9.0, 1, Finish::Sealant).unwrap();
    assert_eq!(sealed.passes.len(), 2);
    assert!(
        sealed
            .cautions
            .iter()
            .any(|c| c.words().contains("sealant"))
    );
    let angle = Finish::Angle { angle_deg: 90.0 };
    let turned = plan(&bolts, 9.0, 2, angle).unwrap();
    assert_eq!(
        turned.passes.last().unwrap().what,
        PassKind::Angle { angle_deg: 90.0 }
    );
    assert_eq!(turned.passes.len(), 4, "no last round after an angle");
    assert!(
        turned
            .cautions
            .iter()
            .any(|c| c.words().contains("never check it by torque"))
    );
    assert!(plan(&bolts, 9.0, 2, Finish::Angle { angle_deg: 900.0 }).is_err());
    let mut twice = bolts.clone();
    twice.push(bolts[2]);
    for (bolts, nm, rounds, says) in [
        (&bolts[..1], 9.0, 3, "at least two"),
        (&twice[..], 9.0, 3, "Bolts 3 and 9"),
        (&[[f64::NAN, 0.0], [1.0, 1.0]][..], 9.0, 3, "Tap it again"),
        (&bolts[..], 0.0, 3, "no torque"),
        (&bolts[..], 9.0, 0, "Choose 1 to 5"),
    ] {
        let error = plan(bolts, nm, rounds, Finish::LastRound)
            .unwrap_err()
            .to_string();
        assert!(error.contains(says), "{error}");
    }
}

/// A drain plug: by hand, to its torque, on by its angle; to feel it stays by hand.
#[test]
fn a_single_fastener_has_one_pass_and_no_last_round() {
    let kinds = |full, finish| -> Vec<PassKind> {
        let plan = Plan::of(&[], full, 3, finish).unwrap();
        assert_eq!(plan.cautions, [PlanCaution::NewWasher]);
        plan.passes.iter().map(|pass| pass.what).collect()
    };
    let full = Some(NewtonMetres(30.0));
    let by_hand = PassKind::ByHand;
    let to_torque = PassKind::Full { torque_nm: 30.0 };
    assert_eq!(kinds(full, Finish::LastRound), [by_hand, to_torque]);
    assert_eq!(kinds(full, Finish::Sealant), [by_hand, to_torque]);
    let angle_deg = 90.0;
    assert_eq!(
        kinds(full, Finish::Angle { angle_deg }),
        [by_hand, to_torque, PassKind::Angle { angle_deg }]
    );
    assert_eq!(kinds(None, Finish::LastRound), [by_hand]);
}

proptest! {
    #[test]
    fn every_bolt_once_and_outwards(
        bolts in prop::collection::vec([0.0f64..1000.0, 0.0f64..1000.0], 2..24),
    ) {
        let order = cross_sequence(&bolts);
        let mut sorted = order.clone();
        sorted.sort_unstable();
        prop_assert_eq!(sorted, (0..bolts.len() as u32).collect::<Vec<_>>());
        let n = bolts.len() as f64;
        let [mx, my] = [0, 1].map(|axis| bolts.iter().map(|p| p[axis]).sum::<f64>() / n);
        let out = |i: u32| {
            let [x, y] = bolts[i as usize];
            (x - mx).hypot(y - my)
        };
        let furthest = order.iter().map(|i| out(*i)).fold(0.0, f64::max);
        for k in 0..order.len() {
            let nearest = order[k..].iter().map(|i| out(*i)).fold(f64::INFINITY, f64::min);
            let ring = |i: u32| out(i) <= nearest + 0.12 * furthest + 1e-9;
            // A partner may lie further out where none of the ring is across from the bolt before.
            let across = |i: &u32| {
                let [[x, y], [a, b]] = [order[k - 1], *i].map(|i| bolts[i as usize]);
                (x - mx) * (a - mx) + (y - my) * (b - my) < 0.0
            };
            let alone = k % 2 == 1 && !order[k..].iter().any(|i| ring(*i) && across(i));
            prop_assert!(ring(order[k]) || (alone && across(&order[k])));
        }
    }

    #[test]
    fn scale_and_place_do_not_matter(
        bolts in prop::collection::vec([0.0f64..1000.0, 0.0f64..1000.0], 2..16),
    ) {
        // Powers of two, so that no rounding enters.
        let moved: Vec<[f64; 2]> = bolts.iter().map(|p| [p[0] * 4.0, p[1] * 4.0]).collect();
        prop_assert_eq!(cross_sequence(&bolts), cross_sequence(&moved));
    }

    #[test]
    fn a_longer_adapter_is_set_lower(
        lever in 100.0f64..1000.0, adapter in 0.0f64..90.0, more in 0.1f64..9.0, angle in 0.0f64..89.0,
    ) {
        let set = |adapter_mm| {
            let used = AdapterUsed { lever_mm: lever, adapter_mm, angle_deg: angle };
            set_for(used, NewtonMetres(10.0)).unwrap().get()
        };
        prop_assert!(set(adapter + more) < set(adapter));
        prop_assert!(set(adapter) <= 10.0);
    }
}
