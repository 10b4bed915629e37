//! Lists of actions, as a seed draws them.

use proptest::collection::vec;
use proptest::option::{of, weighted};
use proptest::prelude::*;

use super::action::{Action, Drawn};

/// A whole job, or what there is of it.
pub fn job() -> impl Strategy<Value = Vec<Action>> {
    let begun = prop_oneof![
        3 => Just(Vec::new()),
        2 => (1_u8..40).prop_map(|n| vec![Action::Usual(n)]),
    ];
    (begun, vec(action(), 0..22)).prop_map(|(mut begun, more)| {
        begun.extend(more);
        begun
    })
}

/// What is found on a photo: mostly little, now and then a pan full.
fn drawn() -> impl Strategy<Value = Drawn> {
    let few = vec((0_u8..9, 0_u8..7), 0..6);
    let many = (0_u8..9, 0_u8..7, 20_usize..90).prop_map(|(class, size, n)| vec![(class, size); n]);
    let pieces = prop_oneof![4 => few.boxed(), 1 => many.boxed()];
    (
        pieces,
        weighted(0.85, Just(())),
        1_u8..9,
        0_u8..100,
        any::<bool>(),
        weighted(0.08, Just(())),
    )
        .prop_map(|(pieces, scale, smallest, cover, fluid, unread)| Drawn {
            pieces,
            scale: scale.is_some(),
            smallest,
            cover,
            fluid,
            unread: unread.is_some(),
        })
}

fn action() -> impl Strategy<Value = Action> {
    let n = any::<u8>;
    let intake = prop_oneof![
        3 => (1_u16..400, of(0_u8..200), any::<bool>())
            .prop_map(|(km, since, vin)| Action::Car { km, since, vin }),
        2 => n().prop_map(Action::Customer),
        1 => Just(Action::EraseCustomer),
        2 => (n(), n(), n())
            .prop_map(|(text, symptoms, when)| Action::Complaint { text, symptoms, when }),
        3 => (any::<bool>(), n()).prop_map(|(before, which)| Action::Codes { before, which }),
        2 => (n(), of(0_u16..2000)).prop_map(|(by, limit)| Action::GoAhead { by, limit }),
        1 => (n(), of(any::<u16>()), n())
            .prop_map(|(of, minor, text)| Action::Price { of, minor, text }),
    ];
    let shop = prop_oneof![
        2 => (0_u8..3).prop_map(Action::Device),
        1 => Just(Action::Sync),
        2 => n().prop_map(Action::Technician),
        2 => (0_u8..4).prop_map(Action::Units),
        1 => n().prop_map(Action::Tools),
        1 => (0_u8..3).prop_map(Action::Language),
        1 => any::<u16>().prop_map(Action::Wait),
        1 => (0_u8..60).prop_map(Action::Visit),
        1 => (0_u8..4).prop_map(Action::OldJob),
        1 => (0_u8..4).prop_map(Action::ShopsOwn),
    ];
    let steps = prop_oneof![
        5 => (1_u8..14).prop_map(Action::Usual),
        1 => Just(Action::LeaveOutTheRest),
        2 => n().prop_map(Action::Tick),
        2 => (n(), n()).prop_map(|(step, text)| Action::Skip { step, text }),
        3 => (n(), n(), weighted(0.3, Just(())))
            .prop_map(|(step, text, private)| Action::Note { step, text, private: private.is_some() }),
        8 => (n(), n(), weighted(0.3, n()))
            .prop_map(|(topic, choice, text)| Action::Observe { topic, choice, text }),
        5 => (n(), n()).prop_map(|(topic, at)| Action::Measure { topic, at }),
    ];
    let pan = prop_oneof![
        6 => (n(), weighted(0.85, drawn())).prop_map(|(which, census)| Action::Photo { which, census }),
        1 => (n(), drawn()).prop_map(|(photo, census)| Action::Count { photo, census }),
        2 => (n(), n(), weighted(0.7, 0_u8..9))
            .prop_map(|(photo, piece, to)| Action::Correct { photo, piece, to }),
        2 => n().prop_map(Action::Confirm),
        1 => (n(), n(), n()).prop_map(|(photo, to, how)| Action::Link { photo, to, how }),
        3 => (0_u8..4, n()).prop_map(|(chosen, text)| Action::Decide { chosen, text }),
    ];
    let bench = prop_oneof![
        2 => (n(), n()).prop_map(|(kind, codes)| Action::Component { kind, codes }),
        2 => (n(), 0_u8..10).prop_map(|(part, quantity)| Action::Limits { part, quantity }),
        1 => (n(), 0_u8..5).prop_map(|(part, how)| Action::Harness { part, how }),
        5 => (n(), 0_u8..10, 0_u8..6)
            .prop_map(|(part, quantity, how)| Action::Reading { part, quantity, how }),
        1 => (n(), 0_u8..10, 0_u8..10).prop_map(|(kind, bad, good)| Action::Bench { kind, bad, good }),
        1 => n().prop_map(Action::Mend),
        2 => (of(n()), n()).prop_map(|(part, text)| Action::Replace { part, text }),
    ];
    let parts = prop_oneof![
        2 => (1_u8..9, n()).prop_map(|(count, text)| Action::Off { count, text }),
        2 => (n(), 1_u8..9, any::<bool>())
            .prop_map(|(part, count, new)| Action::Back { part, count, new }),
        1 => (n(), n()).prop_map(|(part, text)| Action::Lost { part, text }),
        2 => (n(), of(n())).prop_map(|(step, torque)| Action::Tighten { step, torque }),
    ];
    let after = prop_oneof![
        2 => Just(Action::Undo),
        3 => (n(), of(n())).prop_map(|(line, text)| Action::Retract { line, text }),
        2 => weighted(0.1, Just(())).prop_map(|paper| Action::Report { paper: paper.is_some() }),
        1 => (n(), n()).prop_map(|(report, text)| Action::Withdraw { report, text }),
        1 => Just(Action::Share),
        2 => (n(), n(), n()).prop_map(|(item, choice, text)| Action::Answer { item, choice, text }),
    ];
    prop_oneof![
        3 => intake.boxed(),
        3 => shop.boxed(),
        5 => steps.boxed(),
        5 => pan.boxed(),
        4 => bench.boxed(),
        2 => parts.boxed(),
        3 => after.boxed(),
    ]
}
