//! Writes what `tests/forms.rs` keeps of a form of the store, before that form lands:
//! `cargo run -p swarfbook-store --example keep -- FORM core/store/tests/fixtures`.
//! What is there already is never written anew: it is by the program of its time.
#![allow(clippy::expect_used)] // run by hand, once a form

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

use chrono::DateTime;
use serde_json::json;
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{CustomerId, DeviceId, JobId};
use swarfbook_store::{NewEntry, PairedDevice, ProcedureText, Store, photo_path};
use uuid::Uuid;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

const PROCEDURE: &str = "id = \"shop-way\"\nversion = 1\ntitle = \"The shop's\"\n\n\
    [[stage]]\nid = \"all\"\ntitle = \"All\"\n\n[[stage.step]]\nid = \"look\"\ntitle = \"Look\"\n";

fn main() {
    let mut arguments = std::env::args().skip(1);
    let form = arguments.next().expect("FORM");
    let to = PathBuf::from(arguments.next().expect("a folder"));
    let work = std::env::temp_dir().join(format!("swarfbook-keep-{form}"));
    let data = work.join("data");
    let store = Store::open(&data).expect("opens");
    fill(&store, &data);
    export(&store, &to.join(format!("export-of-{form}.zip")));
    let backup = work.join("backup");
    store.backup(&backup).expect("backs up");
    pack(&backup, &to.join(format!("backup-of-{form}.zip")));
    drop(store);
    pack(&data, &to.join(format!("store-form-{form}.zip")));
    damage(&data);
    let store = Store::open(&data).expect("opens");
    export(&store, &to.join(format!("export-of-{form}-damaged.zip")));
    drop(store);
    fs::remove_dir_all(work).expect("removed");
}

fn fill(store: &Store, data: &Path) {
    let now = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time");
    let job = JobId(Uuid::from_u128(7));
    let customer = CustomerId(Uuid::from_u128(8));
    store
        .save_customer(customer, "Ada Invented", "1", now)
        .expect("kept");
    let photo = store.put_photo(b"stands for a photo").expect("kept");
    let gone = store.put_photo(b"its file is lost later").expect("kept");
    let append = |fact: serde_json::Value| {
        let fact: Fact = serde_json::from_value(fact).expect("a fact");
        let line = NewEntry { job, fact, now };
        store.append(&[line]).expect("written").remove(0).entry.id
    };
    append(json!({"fact":"opened","procedure":"pan-service-electrical","procedure_version":1}));
    append(
        json!({"fact":"car_noted","car":{"plate":"INV 1","vin":null,"description":"",
        "odometer_km":120000.0,"fluid_changed_at_km":null}}),
    );
    append(json!({"fact":"customer_linked","customer":customer}));
    append(json!({"fact":"noted","step":"car","topic":null,
        "text":"a first version \u{1f6e2} \"","private":false}));
    append(json!({"fact":"photo_taken","step":"pan-photo","photo":photo,"subject":"pan"}));
    append(json!({"fact":"photo_taken","step":"pan-photo","photo":gone,"subject":"pan"}));
    let ticked = append(json!({"fact":"step_ticked","step":"codes-before"}));
    append(json!({"fact":"retracted","entry":ticked,"reason":null}));
    store.keep_draft(job, "note", "half typed").expect("kept");
    let shop = json!({"shop": "Invented shop"});
    store.set("settings", &shop).expect("kept");
    let procedure = ProcedureText {
        id: "shop-way".into(),
        version: 1,
        text: PROCEDURE.into(),
    };
    store.add_procedure(&procedure).expect("kept");
    let paired = PairedDevice {
        device: DeviceId(Uuid::from_u128(9)),
        name: "bay".into(),
        public_key: "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c".into(),
        paired: now,
    };
    store.add_peer(&paired).expect("kept");
    fs::remove_file(photo_path(data, gone)).expect("gone");
}

fn new_file(path: &Path) -> File {
    File::create_new(path).expect("a new file: what is kept is never written anew")
}

fn export(store: &Store, to: &Path) {
    let mut file = new_file(to);
    store.export(&mut file, &["settings"]).expect("exports");
}

fn pack(folder: &Path, to: &Path) {
    let mut zip = ZipWriter::new(new_file(to));
    let mut folders = vec![folder.to_owned()];
    while let Some(next) = folders.pop() {
        let inside = fs::read_dir(next).expect("reads");
        let mut inside: Vec<PathBuf> = inside.map(|file| file.expect("reads").path()).collect();
        inside.sort();
        for path in inside {
            if path.is_dir() {
                folders.push(path);
                continue;
            }
            let name = path.strip_prefix(folder).expect("within");
            let name = name.to_str().expect("text");
            zip.start_file(name, SimpleFileOptions::default())
                .expect("begun");
            let bytes = fs::read(&path).expect("reads");
            zip.write_all(&bytes).expect("written");
        }
    }
    zip.finish().expect("packed");
}

/// Flips a bit in the note, and one in the photo.
fn damage(data: &Path) {
    let database = data.join("swarfbook.db");
    let mut bytes = fs::read(&database).expect("reads");
    let said = b"a first version";
    for at in 0..bytes.len() - said.len() {
        if bytes[at..].starts_with(said) {
            bytes[at + 2] ^= 1;
        }
    }
    fs::write(&database, bytes).expect("written");
    for shelf in fs::read_dir(data.join("photos")).expect("reads") {
        let shelf = shelf.expect("reads").path();
        for photo in fs::read_dir(shelf).into_iter().flatten() {
            let photo = photo.expect("reads").path();
            fs::write(photo, b"stands for a phot0").expect("written");
        }
    }
}
