//! What a step asks for, as on a good day: little debris, all in spec, dry.

use swarfbook_app::view::{Standing, StepView, WantView};
use swarfbook_job::fact::*;
use swarfbook_job::procedure::Evidence;

use super::action::{Action, Drawn};
use super::shop::Shop;

/// The step in hand, with all that it asks for, and its tick.
pub fn step(shop: &mut Shop) {
    let Some(step) = in_hand(shop) else { return };
    for want in &step.wants {
        if !want.have && !want.want.optional {
            give(shop, &step, want);
        }
    }
    if in_hand(shop).is_some_and(|now| now.id == step.id) {
        shop.write(Fact::StepTicked { step: step.id });
    }
}

fn in_hand(shop: &Shop) -> Option<StepView> {
    let view = shop.view.as_ref()?;
    let mut steps = view.stages.iter().flat_map(|stage| &stage.steps);
    steps
        .find(|step| step.standing == Standing::InHand)
        .cloned()
}

fn give(shop: &mut Shop, step: &StepView, want: &WantView) {
    let id = step.id.clone();
    match &want.want.evidence {
        Evidence::Car => shop.act(&Action::Car {
            km: 120,
            since: Some(60),
            vin: false,
        }),
        Evidence::Complaint { .. } => shop.act(&Action::Complaint {
            text: 0,
            symptoms: 0,
            when: 0,
        }),
        Evidence::Codes { moment } => {
            shop.write(Fact::CodesRead {
                moment: *moment,
                codes: Vec::new(),
            });
        }
        Evidence::GoAhead => shop.act(&Action::GoAhead {
            by: 2,
            limit: Some(300),
        }),
        Evidence::Photo { subject, .. } => {
            let drawn = Drawn {
                pieces: vec![(0, 0), (4, 0)],
                scale: true,
                smallest: 2,
                cover: 8,
                fluid: false,
                unread: false,
            };
            if let Some(photo) = shop.photo(id, *subject)
                && let Some(kind) = subject.kind()
            {
                shop.count(photo, &drawn, kind);
            }
        }
        Evidence::Observe { topic, choices, .. } => {
            let calm = [
                "no",
                "none",
                "clear",
                "red",
                "clean",
                "trickle",
                "dry",
                "gone",
                "thin_film",
            ];
            let choice = choices
                .iter()
                .find(|choice| calm.contains(&choice.id.as_str()))
                .or(choices.first());
            if let Some(choice) = choice {
                let observed = Observed {
                    step: id,
                    topic: topic.clone(),
                    choice: choice.id.clone(),
                    ..Observed::default()
                };
                shop.write(Fact::Observed { observed });
            }
        }
        Evidence::Timed { topic, .. } => shop.measure(id, topic.clone(), want, 0.04),
        Evidence::Measure {
            topic, min, max, ..
        } => {
            // The window of the level and what is in it, °C; else a fifth of what can be.
            let celsius = match topic.as_str() {
                "level_low_c" => Some(30.0),
                "level_c" => Some(40.0),
                "level_high_c" => Some(50.0),
                _ => None,
            };
            match celsius {
                Some(value) => {
                    let measured = Measured {
                        step: id,
                        topic: topic.clone(),
                        value,
                        typed: format!("{value} °C"),
                    };
                    shop.write(Fact::Measured { measured });
                }
                None => {
                    let (topic, share) = (topic.clone(), if max > min { 0.2 } else { 0.0 });
                    shop.measure(id, topic, want, share);
                }
            }
        }
        Evidence::Text { topic, .. } => {
            let token = shop.token();
            let note = Fact::Noted {
                step: id,
                topic: Some(topic.clone()),
                text: format!("fluid by the maker's name {token}"),
                private: false,
            };
            shop.write_with(note, Some(token));
        }
        Evidence::Census => confirm(shop),
        Evidence::Components => shop.component(0, 2),
        Evidence::Readings { quantity } => {
            let parts = shop.view.as_ref().map(|view| view.components.clone());
            for part in parts.unwrap_or_default() {
                if !part.specs.iter().any(|spec| spec.quantity == *quantity) {
                    shop.limits(part.entry, *quantity);
                }
                shop.reading(part.entry, *quantity, 0);
            }
        }
        Evidence::Decision => {
            let advised = shop
                .view
                .as_ref()
                .and_then(|view| Some(view.wear.as_ref()?.advice));
            if let Some(advised) = advised {
                shop.write(Fact::Decided {
                    advised,
                    chosen: advised,
                    reason: None,
                });
            }
        }
        Evidence::Replace { electrical, .. } => shop.act(&Action::Replace {
            part: electrical.then_some(0),
            text: 0,
        }),
        Evidence::Tighten { what, .. } => {
            let tightened = Tightened {
                what: what.clone(),
                torque_nm: Some(9.0),
                by_hand_first: true,
                passes: 2,
                ..Tightened::default()
            };
            shop.write(Fact::Tightened {
                step: id,
                tightened,
            });
        }
        Evidence::Report => shop.act(&Action::Report { paper: false }),
        Evidence::Answer | Evidence::PartsOff | Evidence::PartsBack | Evidence::Explains => {}
    }
}

fn confirm(shop: &mut Shop) {
    let view = shop.view.as_ref();
    let counted: Vec<_> = view
        .iter()
        .flat_map(|view| &view.photos)
        .filter(|photo| {
            let census = photo.census.as_ref();
            census.is_some_and(|census| census.problem.is_none() && !census.confirmed)
        })
        .map(|photo| photo.entry)
        .collect();
    for photo in counted {
        shop.write(Fact::CensusConfirmed { photo });
    }
}
