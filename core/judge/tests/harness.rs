//! Cases worked by hand with series and parallel resistances (Ohm, Kirchhoff), and one fault at
//! a time in a network that is solved by its node equations.

#![allow(clippy::expect_used, clippy::panic, clippy::indexing_slicing)] // a test stops by panicking

use swarfbook_job::fact::{HarnessRead, MeterUsed, SideRead};
use swarfbook_judge::harness::{Found, Look, Matrix, Next, Side, matrix, told};

/// A meter of ± (0.5 % + 2 counts) with a digit of 0.1 ohm.
fn ohms(value: f64) -> Option<Look> {
    Some(Look::Ohms(value, (0.005 * value + 0.2) / 3_f64.sqrt()))
}

const OPEN: Option<Look> = Some(Look::Open);

fn side(across: Option<Look>, to_ground: [Option<Look>; 2]) -> Side {
    Side { across, to_ground }
}

/// A solenoid of 12.8 ohm with wires of 0.2 ohm each, all sound.
fn sound() -> Matrix {
    Matrix {
        control: side(ohms(13.2), [OPEN; 2]),
        part: side(ohms(12.8), [OPEN; 2]),
        wires: [None; 2],
    }
}

#[test]
fn nothing_is_said_of_what_was_not_read() {
    let nothing = told(&Matrix::default());
    assert_eq!(nothing.wires, [Found::NotTold; 2]);
    assert_eq!(
        (nothing.between, nothing.part),
        (Found::NotTold, Found::NotTold)
    );
    assert_eq!(nothing.next, Some(Next::ControlAcross));
}

#[test]
fn a_sound_harness_asks_for_nothing_more() {
    let told = told(&sound());
    assert_eq!(told.wires, [Found::Sound; 2]);
    assert_eq!((told.between, told.part), (Found::Sound, Found::Sound));
    assert_eq!(told.next, None);
}

/// 12.8 ohm at the part and no way through at the connector: a wire is broken; with the first
/// read end to end it is the second.
#[test]
fn a_broken_wire_is_told_once_one_of_both_is_read() {
    let mut matrix = sound();
    matrix.control.across = OPEN;
    let either = told(&matrix);
    assert_eq!(either.wires, [Found::OpenHereOrThere; 2]);
    assert_eq!(
        (either.part, either.next),
        (Found::Sound, Some(Next::Wires))
    );
    matrix.wires = [ohms(0.2), None];
    assert_eq!(told(&matrix).wires, [Found::Sound, Found::Open]);
    matrix.wires = [ohms(0.2), OPEN];
    let both = told(&matrix);
    assert_eq!(both.wires, [Found::Sound, Found::Open]);
    assert_eq!(both.next, None);
}

/// 13.2 + 6 = 19.2 ohm in series: 6.4 more than the part alone.
#[test]
fn a_bad_joint_is_the_ohms_that_the_part_does_not_have() {
    let mut matrix = sound();
    matrix.control.across = ohms(19.2);
    let [Found::ResistiveHereOrThere(more), _] = told(&matrix).wires else {
        panic!("{:?}", told(&matrix));
    };
    assert!((more - 6.4).abs() < 1e-9);
    matrix.wires = [ohms(6.2), ohms(0.2)];
    assert_eq!(told(&matrix).wires, [Found::Resistive(6.2), Found::Sound]);
}

/// 12.8 ohm beside 2 ohm: 1 / (1/12.8 + 1/2) = 1.7297 ohm.
#[test]
fn wires_that_touch_are_the_path_beside_the_part() {
    let mut matrix = sound();
    matrix.control.across = ohms(1.7297);
    let Found::Together(beside) = told(&matrix).between else {
        panic!("{:?}", told(&matrix));
    };
    assert!((beside - 2.0).abs() < 1e-3, "{beside}");
    // An open part and current all the same.
    matrix.part.across = OPEN;
    matrix.control.across = ohms(0.4);
    assert_eq!(told(&matrix).between, Found::Together(0.4));
    assert_eq!(told(&matrix).part, Found::Open);
}

/// The first wire touches ground over 3 ohm: 3.2 there, and 3 + 12.8 + 0.2 at the other pin.
#[test]
fn the_wire_to_ground_is_the_one_with_less() {
    let mut matrix = sound();
    matrix.control.to_ground = [ohms(3.2), ohms(16.0)];
    let first = told(&matrix);
    assert_eq!(first.wires, [Found::ToGround(3.2), Found::Sound]);
    matrix.control.to_ground = [ohms(16.0), ohms(3.2)];
    assert_eq!(told(&matrix).wires, [Found::Sound, Found::ToGround(3.2)]);
    // Through nearly nothing, either.
    matrix.control.to_ground = [ohms(3.2), ohms(3.2)];
    assert_eq!(told(&matrix).wires, [Found::ToGroundHereOrThere(3.2); 2]);
}

#[test]
fn a_short_inside_the_part_is_not_laid_on_its_wires() {
    let mut matrix = sound();
    matrix.control.to_ground = [ohms(5.2), ohms(8.4)];
    matrix.part.to_ground = [None; 2];
    let unread = told(&matrix);
    assert!(!unread.wires.iter().any(|wire| wire.is_bad()), "{unread:?}");
    assert_eq!(unread.next, Some(Next::PartToGround));
    matrix.part.to_ground = [ohms(5.0), ohms(8.2)];
    let told = told(&matrix);
    assert_eq!(told.part, Found::ToGround(5.0));
    assert!(!told.wires.iter().any(|wire| wire.is_bad()), "{told:?}");
}

#[test]
fn an_open_part_hides_its_wires_until_they_are_read() {
    let mut matrix = sound();
    matrix.control.across = OPEN;
    matrix.part.across = OPEN;
    let hidden = told(&matrix);
    assert_eq!((hidden.part, hidden.next), (Found::Open, Some(Next::Wires)));
    assert_eq!(hidden.wires, [Found::Sound; 2], "none has a path to ground");
}

#[test]
fn what_was_typed_becomes_a_number_with_the_leads_off() {
    let read = HarnessRead {
        pins: Default::default(),
        control: SideRead {
            across: Some("13.5".into()),
            to_ground: [Some("OL".into()), Some(" ".into())],
        },
        part: Default::default(),
        wires: [None, None],
        leads: Some("0.3".into()),
        meter: MeterUsed {
            name: "ordinary".into(),
            percent: 1.0,
            counts: 3.0,
        },
    };
    let matrix = matrix(&read).expect("numbers");
    let Some(Look::Ohms(across, u)) = matrix.control.across else {
        panic!("{matrix:?}");
    };
    assert!((across - 13.2).abs() < 1e-9 && u > 0.0);
    assert_eq!(matrix.control.to_ground, [OPEN, None]);
}

/// Control pins 0 and 1, the part's ends 2 and 3, ground 4.
struct Network {
    /// Ohm between two nodes.
    of: Vec<(usize, usize, f64)>,
}

impl Network {
    /// Ohm from `a` to `b`: one ampere in, the node equations solved (Gauss), the volts read.
    fn between(&self, a: usize, b: usize) -> Option<Look> {
        // A leak far below any meter keeps a node that hangs free from dividing by nought.
        let mut rows = vec![vec![0.0; 6]; 5];
        for (node, row) in rows.iter_mut().enumerate() {
            row[node] = 1e-12;
        }
        for &(from, to, ohms) in &self.of {
            for (here, there) in [(from, to), (to, from)] {
                rows[here][here] += 1.0 / ohms;
                rows[here][there] -= 1.0 / ohms;
            }
        }
        rows[a][5] += 1.0;
        rows[b][5] -= 1.0;
        for at in 0..5 {
            let best = (at..5)
                .max_by(|x, y| rows[*x][at].abs().total_cmp(&rows[*y][at].abs()))
                .expect("a row");
            rows.swap(at, best);
            let pivot = rows[at].clone();
            for (other, row) in rows.iter_mut().enumerate() {
                let times = row[at] / pivot[at];
                if other != at {
                    row.iter_mut()
                        .zip(&pivot)
                        .for_each(|(x, p)| *x -= times * p);
                }
            }
        }
        let volts = |node: usize| rows[node][5] / rows[node][node];
        let read = volts(a) - volts(b);
        if read > 40e6 { OPEN } else { ohms(read) }
    }

    fn side(&self, [first, second]: [usize; 2]) -> Side {
        side(
            self.between(first, second),
            [self.between(first, 4), self.between(second, 4)],
        )
    }
}

#[derive(Debug, Clone, Copy)]
enum Fault {
    None,
    Broken(usize),
    Joint(usize, f64),
    Ground(usize, f64),
    Touch(f64),
    PartOpen,
    PartGround(f64),
}

/// The readings of a loom with one fault.
fn read(part: f64, fault: Fault) -> Matrix {
    let wire = |at: usize| match fault {
        Fault::Broken(here) if here == at => None,
        Fault::Joint(here, ohms) if here == at => Some(0.2 + ohms),
        _ => Some(0.2),
    };
    let part_alone: Vec<_> = [
        (!matches!(fault, Fault::PartOpen)).then_some((2, 3, part)),
        match fault {
            Fault::PartGround(ohms) => Some((2, 4, ohms)),
            _ => None,
        },
    ]
    .into_iter()
    .flatten()
    .collect();
    let mut all = part_alone.clone();
    all.extend((0..2).filter_map(|at| Some((at, at + 2, wire(at)?))));
    match fault {
        Fault::Ground(at, ohms) => all.push((at, 4, ohms)),
        Fault::Touch(ohms) => all.push((0, 1, ohms)),
        _ => {}
    }
    Matrix {
        control: Network { of: all }.side([0, 1]),
        part: Network { of: part_alone }.side([2, 3]),
        wires: [0, 1].map(|at| wire(at).map_or(OPEN, ohms)),
    }
}

#[test]
fn one_fault_in_a_network_is_found_where_it_is() {
    for part in [5.0, 12.8, 470.0, 2500.0] {
        for fault in [
            Fault::None,
            Fault::Broken(0),
            Fault::Broken(1),
            Fault::Joint(0, 8.0),
            Fault::Joint(1, 40.0),
            Fault::Ground(0, 0.5),
            Fault::Ground(1, 20.0),
            Fault::Touch(0.5),
            Fault::Touch(0.2 * part),
            Fault::PartOpen,
            Fault::PartGround(4.0),
        ] {
            let told = told(&read(part, fault));
            let bad = [told.wires[0], told.wires[1], told.between, told.part].map(Found::is_bad);
            let at = match fault {
                Fault::None => [false; 4],
                Fault::Broken(0) | Fault::Joint(0, _) | Fault::Ground(0, _) => {
                    [true, false, false, false]
                }
                Fault::Broken(_) | Fault::Joint(..) | Fault::Ground(..) => {
                    [false, true, false, false]
                }
                Fault::Touch(_) => [false, false, true, false],
                Fault::PartOpen | Fault::PartGround(_) => [false, false, false, true],
            };
            assert_eq!(bad, at, "{part} ohm, {fault:?}: {told:?}");
            assert_eq!(told.next, None, "{part} ohm, {fault:?}: all was read");
        }
    }
}
