//! The script: a short job with good and bad input, a command a line.

use std::collections::HashMap;

use serde_json::{Value, json};

use crate::Carrier;

const PHOTO: &[u8] = include_bytes!("../../core/app/demo/patch-06.jpg");

/// Steps with a name and a command; `"$name"` stands for what an earlier step gave.
fn commands() -> Vec<(&'static str, Value)> {
    let write = |fact: Value| json!({"do": "write", "job": "$job", "fact": fact, "sure": false});
    let reading = |samples: Value| {
        write(
            json!({"fact": "reading_taken", "component": "$solenoid", "reading": {
            "quantity": "resistance", "samples": samples, "leads": "0.2", "part_c": 21.0,
            "meter": {"name": "Workshop meter", "percent": 0.9, "counts": 2.0}, "contact_shown": true}}),
        )
    };
    vec![
        ("start", json!({"do": "start"})),
        (
            "settings",
            json!({"do": "save_settings", "settings": {"technician": "Robin Invented", "shop": "Invented", "hand": "left", "paper": "desk", "glove": true, "meter": null}}),
        ),
        (
            "numbers",
            json!({"do": "read_numbers", "typed": [
                {"name": "The odometer", "typed": "73500 mi", "quantity": "distance"},
                {"name": "The leads", "typed": "", "quantity": "resistance"}]}),
        ),
        (
            "no number",
            json!({"do": "read_numbers", "typed": [
                {"name": "The torque", "typed": "8 km", "quantity": "torque"}]}),
        ),
        ("card", json!({"do": "gauge_card"})),
        ("job", json!({"do": "open_job", "procedure": null})),
        (
            "no such procedure",
            json!({"do": "open_job", "procedure": "nothing"}),
        ),
        (
            "car",
            write(
                json!({"fact": "car_noted", "car": {"plate": "TEST 1", "vin": null, "description": "invented", "odometer_km": 90000.0, "fluid_changed_at_km": 60000.0}}),
            ),
        ),
        (
            "car tick",
            write(json!({"fact": "step_ticked", "step": "car"})),
        ),
        (
            "not a code",
            write(
                json!({"fact": "codes_read", "moment": "before", "codes": [{"code": "X9", "state": "stored"}]}),
            ),
        ),
        (
            "codes",
            write(
                json!({"fact": "codes_read", "moment": "before", "codes": [{"code": "P0758", "state": "stored"}]}),
            ),
        ),
        (
            "customer",
            json!({"do": "save_customer", "job": "$job", "name": "Sam Invented", "contact": ""}),
        ),
        (
            "tick without evidence",
            write(json!({"fact": "step_ticked", "step": "pan-photo"})),
        ),
        (
            "photo",
            write(
                json!({"fact": "photo_taken", "step": "patch", "photo": "$photo", "subject": "patch"}),
            ),
        ),
        (
            "photo that is not here",
            write(
                json!({"fact": "photo_taken", "step": "patch", "photo": "0000000000000000000000000000000000000000000000000000000000000000", "subject": "patch"}),
            ),
        ),
        (
            "census",
            json!({"do": "take_census", "job": "$job", "photo": "$photo line"}),
        ),
        (
            "confirm",
            write(json!({"fact": "census_confirmed", "photo": "$photo line"})),
        ),
        (
            "solenoid",
            write(
                json!({"fact": "component_noted", "component": {"name": "Solenoid B", "kind": "on_off_solenoid", "connector": "", "part_number": "", "codes": ["P0758"]}}),
            ),
        ),
        (
            "spec",
            write(
                json!({"fact": "spec_entered", "component": "$solenoid", "spec": {"quantity": "resistance", "low": 11.0, "high": 15.0, "at_c": 20.0, "source": "invented data sheet"}}),
            ),
        ),
        ("reading", reading(json!(["37.8", "37.8", "37.9"]))),
        ("a negative reading", reading(json!(["-3"]))),
        ("a doubtful reading", reading(json!(["12,5 kΩ"]))),
        ("undo", json!({"do": "undo", "job": "$job"})),
        (
            "draft",
            json!({"do": "keep_draft", "job": "$job", "field": "note", "text": "half a no"}),
        ),
        (
            "stand",
            json!({"do": "stand_at", "job": "$job", "place": "drained"}),
        ),
        ("the job", json!({"do": "job", "job": "$job"})),
        (
            "the list",
            json!({"do": "jobs", "search": "test", "skip": 0, "limit": 10}),
        ),
        ("the log", json!({"do": "log", "job": "$job"})),
        ("preview", json!({"do": "preview_report", "job": "$job"})),
        ("report", json!({"do": "make_report", "job": "$job"})),
        ("procedures", json!({"do": "procedures"})),
        (
            "a bad procedure",
            json!({"do": "add_procedure", "text": "id = 3"}),
        ),
        (
            "no such job",
            json!({"do": "job", "job": "00000000-0000-0000-0000-000000000000"}),
        ),
        ("sync", json!({"do": "sync_state"})),
        ("start again", json!({"do": "start"})),
    ]
}

/// Runs the script; each answer is a reply, or `{"problem": ...}`.
pub fn run(carrier: &mut dyn Carrier) -> Vec<(String, Value)> {
    let mut given: HashMap<String, String> = HashMap::new();
    let mut answers = Vec::new();
    let photo = carrier.put_photo(PHOTO).expect("a photo is taken in");
    given.insert("$photo".into(), photo);
    // The command line tells it to people, the others to screens: only that it is refused is the same.
    carrier.put_photo(b"no photo").expect_err("refused");
    for (step, command) in commands() {
        let answer = match carrier.call(&filled(command, &given)) {
            Ok(reply) => {
                let entry = reply["entry"].as_str();
                let job = reply["job"]["id"].as_str();
                match (step, entry, job) {
                    ("job", _, Some(job)) => given.insert("$job".into(), job.into()),
                    ("photo", Some(entry), _) => given.insert("$photo line".into(), entry.into()),
                    ("solenoid", Some(entry), _) => given.insert("$solenoid".into(), entry.into()),
                    _ => None,
                };
                reply
            }
            Err(problem) => json!({"problem": problem}),
        };
        answers.push((step.to_owned(), answer));
    }
    answers
}

fn filled(value: Value, given: &HashMap<String, String>) -> Value {
    match value {
        Value::String(text) => Value::String(given.get(&text).cloned().unwrap_or(text)),
        Value::Array(items) => items.into_iter().map(|v| filled(v, given)).collect(),
        Value::Object(map) => map
            .into_iter()
            .map(|(k, v)| (k, filled(v, given)))
            .collect(),
        other => other,
    }
}
