//! A shop that gives the steps, questions and answers of the procedure names of its own is told
//! the same: what the code needs of them is a `role` in the file.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod carried;

use bay::Bay;
use serde_json::Value;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::*;
use swarfbook_job::procedure::BUILT_IN;
use swarfbook_words::Language;

/// How the ids of the procedure that ships are called here.
type Name = fn(&str) -> String;

fn own(id: &str) -> String {
    format!("own_{}", id.replace('-', "_"))
}

/// The procedure that ships with every id renamed; without its roles where they are not wanted.
fn renamed(roles: bool) -> String {
    fn walk(value: &mut toml::Value, roles: bool) {
        match value {
            toml::Value::Table(table) => {
                if !roles {
                    table.remove("role");
                }
                for (key, value) in table.iter_mut() {
                    match value {
                        toml::Value::String(id)
                            if ["id", "topic", "about"].contains(&key.as_str()) =>
                        {
                            *id = own(id);
                        }
                        toml::Value::String(what) if key == "what" => what.insert_str(0, "the "),
                        other => walk(other, roles),
                    }
                }
            }
            toml::Value::Array(all) => all.iter_mut().for_each(|one| walk(one, roles)),
            _ => {}
        }
    }
    let mut procedure: toml::Value = toml::from_str(BUILT_IN).expect("toml");
    walk(&mut procedure, roles);
    procedure["id"] = "own".into();
    toml::to_string(&procedure).expect("toml")
}

impl Bay {
    /// All that is judged: how the steps stand, score, advice, fluid, and what the report says.
    fn told(&self) -> Value {
        let view = self.view();
        let standing: Vec<String> = view
            .stages
            .iter()
            .flat_map(|stage| &stage.steps)
            .map(|step| format!("{}: {:?}", step.title, step.standing))
            .collect();
        let content: Value = carried::content(&self.report());
        let said = [
            "answer", "wear", "findings", "fluid", "proof", "advice", "decision", "noted",
            "not_done",
        ];
        let mut told: Vec<Value> = said.map(|part| content[part].clone()).into();
        told.push(serde_json::to_value(&view.fluid_words).expect("json"));
        told.push(serde_json::to_value(view.wear.map(|wear| wear.advice_words)).expect("json"));
        told.push(serde_json::to_value(&standing).expect("json"));
        let mut told = Value::Array(told);
        without_lines(&mut told);
        told
    }
}

/// Lines have other ids in another job.
fn without_lines(value: &mut Value) {
    match value {
        Value::Object(fields) => {
            fields.remove("from");
            fields.values_mut().for_each(without_lines);
        }
        Value::Array(all) => all.iter_mut().for_each(without_lines),
        _ => {}
    }
}

fn observed(name: Name, step: &str, topic: &str, choices: &[&str]) -> Fact {
    let mut choices = choices.iter().map(|id| name(id));
    Fact::Observed {
        observed: Observed {
            step: name(step),
            topic: name(topic),
            choice: choices.next().unwrap_or_default(),
            also: choices.collect(),
            text: String::new(),
        },
    }
}

fn measured(name: Name, step: &str, topic: &str, value: f64) -> Fact {
    Fact::Measured {
        measured: Measured {
            step: name(step),
            topic: name(topic),
            value,
            typed: value.to_string(),
        },
    }
}

/// A job in which every role says something.
fn work(bay: &Bay, name: Name) {
    let tick = |step: &str| bay.write(Fact::StepTicked { step: name(step) });
    bay.write(Fact::CarNoted {
        car: Car {
            plate: "TEST 1".into(),
            odometer_km: Some(160_000.0),
            fluid_changed_at_km: Some(90_000.0),
            ..Car::default()
        },
    });
    bay.write(Fact::ComplaintNoted {
        complaint: Complaint {
            words: "It slips.".into(),
            when: Vec::new(),
            symptoms: vec![name("slips")],
        },
    });
    bay.write(measured(name, "drained", "fluid_out_l", 4.0));
    bay.write(measured(name, "drained", "fluid_out_c", 60.0));
    bay.write(observed(name, "drained", "fluid_colour", &["black"]));
    bay.write(observed(name, "drained", "fluid_smell", &["burnt"]));
    bay.write(observed(name, "drained", "fluid_look", &["glittering"]));
    bay.write(observed(name, "magnets", "paste", &["thick_paste"]));
    bay.write(observed(name, "patch", "steel_feel", &["flat"]));
    bay.write(observed(name, "census", "chunk", &["clip"]));
    bay.write(observed(name, "filter-read", "filter", &["lining_dust"]));
    tick("pan-clean");
    bay.write(Fact::Noted {
        step: name("first-fill"),
        topic: Some(name("fluid_in_name")),
        text: "Invented fluid".into(),
        private: false,
    });
    bay.write(measured(name, "first-fill", "fluid_in_l", 3.0));
    tick("gears");
    bay.write(measured(name, "level", "level_low_c", 35.0));
    bay.write(measured(name, "level", "level_high_c", 45.0));
    bay.write(measured(name, "level", "level_c", 40.0));
    bay.write(observed(name, "level", "level_seen", &["trickle"]));
    bay.write(observed(name, "leak-warm", "leak", &["dry"]));
    bay.write(observed(name, "road-test", "road_test", &["same"]));
    bay.write(measured(name, "report", "next_look_km", 40_000.0));
}

fn same(id: &str) -> String {
    id.to_owned()
}

#[test]
fn a_procedure_whose_ids_are_all_renamed_is_judged_alike() {
    let ships = Bay::new();
    let shops = Bay::by(&renamed(true));
    work(&ships, same);
    work(&shops, own);
    assert_eq!(ships.told(), shops.told());
    // Of what is grave, a word that a name decided before must not be lost.
    let before = ships.told().to_string();
    ships.write(observed(same, "codes-after", "leak", &["leaks"]));
    shops.write(observed(own, "codes-after", "leak", &["leaks"]));
    let leaks = ships.told();
    assert_ne!(leaks.to_string(), before);
    assert!(
        leaks.to_string().contains("leak check saw a leak"),
        "{leaks}"
    );
    assert_eq!(leaks, shops.told());
    for seen in ["nothing", "dipstick_above", "dipstick_between"] {
        ships.write(observed(same, "level", "level_seen", &[seen]));
        shops.write(observed(own, "level", "level_seen", &[seen]));
        assert_eq!(ships.told(), shops.told(), "{seen}");
    }
}

/// What the test above would show if it held nothing.
#[test]
fn without_roles_other_names_say_nothing() {
    let ships = Bay::new();
    let shops = Bay::by(&renamed(false));
    work(&ships, same);
    work(&shops, own);
    assert_ne!(ships.told(), shops.told());
}

/// What was tightened is told in the language of the screens; what it is does not go by that.
#[test]
fn with_a_dipstick_no_plug_is_closed_in_any_language() {
    for language in Language::ALL {
        let bay = Bay::new();
        let Ok(Reply::Settings { mut settings, .. }) = bay.app.call(Command::Settings {}) else {
            panic!("no settings")
        };
        settings.language = Some(language);
        let saved = bay.app.call(Command::SaveSettings { settings });
        saved.expect("saved");
        bay.write(observed(same, "level", "level_seen", &["dipstick_between"]));
        let view = bay.view();
        let mut steps = view.stages.iter().flat_map(|stage| &stage.steps);
        let step = steps
            .find(|step| step.id == "plugs-closed")
            .expect("a step");
        assert_eq!(step.in_the_way, Vec::<String>::new(), "{language:?}");
        bay.write(Fact::StepTicked {
            step: "plugs-closed".into(),
        });
    }
}
