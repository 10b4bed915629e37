//! The shell on Tauri's mock runtime: its real wiring, real permissions, no window.

#![allow(clippy::unwrap_used)] // in helpers of tests, too

use std::fs;
use std::io::Cursor;
use std::path::PathBuf;
use std::rc::Rc;
use std::time::{Duration, SystemTime};

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use swarfbook_job::id::Sha256Hex;
use tauri::ipc::{CallbackFn, InvokeBody};
use tauri::test::{INVOKE_KEY, MockRuntime, get_ipc_response, mock_builder};
use tauri::webview::InvokeRequest;
use tauri::{App, WebviewUrl, WebviewWindow, WebviewWindowBuilder};

struct Shell {
    folder: Rc<tempfile::TempDir>,
    _app: App<MockRuntime>,
    window: WebviewWindow<MockRuntime>,
}

impl Shell {
    fn open() -> Shell {
        Shell::with_window("main")
    }

    fn with_window(label: &str) -> Shell {
        Shell::opened_with(label, None)
    }

    fn opened_with(label: &str, opened: Option<String>) -> Shell {
        Shell::on(Rc::new(tempfile::tempdir().unwrap()), label, opened)
    }

    /// Ends it and opens another on the same data, as after a kill.
    fn again(self) -> Shell {
        let folder = Rc::clone(&self.folder);
        drop(self);
        Shell::on(folder, "main", None)
    }

    fn on(folder: Rc<tempfile::TempDir>, label: &str, opened: Option<String>) -> Shell {
        let door = swarfbook_app::App::open(folder.path()).unwrap();
        let outbox = folder.path().join("outbox");
        let taken = Some(folder.path().join("Pictures"));
        let app = swarfbook_shell::builder(mock_builder(), door, outbox, opened, taken)
            .build(swarfbook_shell::context())
            .unwrap();
        let window = WebviewWindowBuilder::new(&app, label, WebviewUrl::default())
            .build()
            .unwrap();
        Shell {
            folder,
            _app: app,
            window,
        }
    }

    fn ask(&self, command: &str, body: InvokeBody) -> Result<Value, Value> {
        self.ask_from("tauri://localhost", command, body)
    }

    fn ask_from(&self, page: &str, command: &str, body: InvokeBody) -> Result<Value, Value> {
        let request = InvokeRequest {
            cmd: command.to_owned(),
            callback: CallbackFn(0),
            error: CallbackFn(1),
            url: page.parse().unwrap(),
            body,
            headers: Default::default(),
            invoke_key: INVOKE_KEY.to_owned(),
        };
        get_ipc_response(&self.window, request).map(|answer| answer.deserialize().unwrap())
    }

    fn call(&self, command: Value) -> Result<Value, Value> {
        self.ask("call", json!({ "command": command }).into())
    }
}

fn png() -> Vec<u8> {
    let picture = image::RgbImage::from_fn(96, 80, |x, y| image::Rgb([x as u8, y as u8, 7]));
    let mut bytes = Cursor::new(Vec::new());
    picture
        .write_to(&mut bytes, image::ImageFormat::Png)
        .unwrap();
    bytes.into_inner()
}

#[test]
fn a_command_is_carried_and_its_reply_comes_back() {
    let shell = Shell::open();
    let job = shell.call(json!({"do": "open_job"})).unwrap();
    assert_eq!(job["reply"], "job");
    let jobs = shell.call(json!({"do": "jobs", "limit": 10})).unwrap();
    assert_eq!(jobs["total"], 1);
}

#[test]
fn a_problem_comes_back_as_one() {
    let shell = Shell::open();
    let nobody = "00000000-0000-7000-8000-000000000000";
    let problem = shell.call(json!({"do": "job", "job": nobody})).unwrap_err();
    assert_eq!(problem["kind"], "not_found");
    assert!(
        problem["do_next"]
            .as_str()
            .is_some_and(|words| !words.is_empty())
    );
}

#[test]
fn a_command_that_nobody_knows_is_a_problem_too() {
    let shell = Shell::open();
    let problem = shell.call(json!({"do": "burn_the_shop"})).unwrap_err();
    assert_eq!(problem["kind"], "bad_request");
}

#[test]
fn a_photo_arrives_whole_in_each_shape_that_a_webview_sends() {
    let bytes = png();
    let name = Sha256Hex::of(&bytes).to_string();
    let numbers: Vec<Value> = bytes.iter().map(|byte| json!(byte)).collect();
    let shapes = [
        ("raw, as on a desk", InvokeBody::Raw(bytes.clone())),
        (
            "numbers, as Tauri sends bytes on Android",
            InvokeBody::Json(numbers.into()),
        ),
        (
            "base64, as the screens send it on Android",
            InvokeBody::Json(json!({ "base64": STANDARD.encode(&bytes) })),
        ),
    ];
    for (shape, body) in shapes {
        let kept = Shell::open().ask("put_photo", body);
        assert_eq!(kept, Ok(json!({ "photo": name })), "{shape}");
    }
}

#[test]
fn a_photo_that_did_not_arrive_whole_is_refused() {
    let shell = Shell::open();
    for body in [
        json!([137, 80, 256]),
        json!([137, -1]),
        json!([1.5]),
        json!(["a"]),
        json!({"base64": "not base64!"}),
        json!({"bytes": []}),
        json!(null),
    ] {
        let problem = shell
            .ask("put_photo", InvokeBody::Json(body.clone()))
            .unwrap_err();
        assert_eq!(problem["kind"], "bad_request", "{body}");
    }
}

#[test]
fn what_is_no_picture_is_refused_in_the_doors_words() {
    let shell = Shell::open();
    for bytes in [Vec::new(), b"a letter to the customer".to_vec()] {
        let problem = shell.ask("put_photo", InvokeBody::Raw(bytes)).unwrap_err();
        assert_eq!(problem["kind"], "bad_input");
    }
}

#[test]
fn nothing_of_tauris_own_may_be_called() {
    let shell = Shell::open();
    for command in [
        "plugin:event|listen",
        "plugin:app|version",
        "plugin:window|close",
        "plugin:webview|create_webview_window",
        "plugin:path|resolve_directory",
        "plugin:resources|close",
    ] {
        let refused = shell.ask(command, InvokeBody::default());
        let said = refused.unwrap_err().to_string();
        assert!(
            said.contains("not allowed") || said.contains("not found"),
            "{command}: {said}"
        );
    }
}

#[test]
fn only_our_own_page_in_our_own_window_may_call() {
    let start = || InvokeBody::Json(json!({"command": {"do": "start"}}));
    assert!(Shell::open().ask("call", start()).is_ok());
    assert!(Shell::with_window("other").ask("call", start()).is_err());
    let stranger = Shell::open().ask_from("http://192.0.2.7/", "call", start());
    assert!(stranger.is_err(), "{stranger:?}");
}

#[test]
fn a_file_goes_out_whole_and_replaces_nothing() {
    let shell = Shell::open();
    let file =
        |name: &str| json!({ "file": { "name": name, "base64": STANDARD.encode("a report") } });
    let place = |name: &str| -> PathBuf {
        let handed = shell.ask("hand_over", file(name).into()).unwrap();
        serde_json::from_value(handed["place"].clone()).unwrap()
    };
    let (first, second) = (place("report A 1.html"), place("report A 1.html"));
    assert_ne!(first, second);
    for path in [&first, &second] {
        assert!(path.starts_with(shell.folder.path().join("outbox")));
        assert_eq!(fs::read_to_string(path).unwrap(), "a report");
    }
    let refused = shell.ask("hand_over", file("a.sh").into()).unwrap_err();
    assert!(refused["what"].as_str().unwrap().contains("a.sh"));
    let cut = json!({ "file": { "name": "a.pdf", "base64": "%%" } });
    let cut = shell.ask("hand_over", cut.into()).unwrap_err();
    assert!(cut["what"].as_str().unwrap().contains("whole"), "{cut}");
}

#[test]
fn everything_goes_out_of_one_app_and_into_another() {
    let from = Shell::open();
    from.call(json!({"do": "open_job"})).unwrap();
    let handed = from
        .ask("hand_over_everything", json!({ "name": "all.zip" }).into())
        .unwrap();
    let export = handed["place"].as_str().unwrap().to_owned();

    let to = Shell::opened_with("main", Some(export));
    let empty = || InvokeBody::Json(json!({}));
    let waits = json!({ "what": "export", "name": "all.zip" });
    assert_eq!(to.ask("handed_in", empty()).unwrap(), waits);
    assert_eq!(
        to.ask("handed_in", empty()).unwrap(),
        waits,
        "until it is taken in"
    );
    let jobs = |shell: &Shell| shell.call(json!({"do": "jobs", "limit": 10})).unwrap();
    assert_eq!(jobs(&to)["total"], 0, "nothing comes in unasked");
    assert!(
        to.ask("take_in", empty()).unwrap()["lines"]
            .as_u64()
            .unwrap()
            > 0
    );
    assert_eq!(jobs(&to)["jobs"], jobs(&from)["jobs"]);
    assert_eq!(
        to.ask("handed_in", empty()).unwrap(),
        json!({ "what": "nothing" })
    );
    assert!(to.ask("take_in", empty()).is_err());
}

#[test]
fn a_file_that_is_no_export_is_refused_and_stays() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("holiday.zip");
    fs::write(&file, "no archive").unwrap();
    let shell = Shell::opened_with("main", Some(file.to_str().unwrap().to_owned()));
    let problem = shell.ask("take_in", json!({}).into()).unwrap_err();
    assert!(problem["do_next"].is_string(), "{problem}");
    assert!(file.exists());
}

#[test]
fn a_pairing_link_is_told_once() {
    let link = "swarfbook://pair?hub=https%3A%2F%2F192.0.2.7%3A8350&code=12345678\
        &sha256=0123456789abcdef01230123456789abcdef01230123456789abcdef01230123";
    let shell = Shell::opened_with("main", Some(link.to_owned()));
    let ask = || shell.ask("handed_in", json!({}).into()).unwrap();
    assert_eq!(
        ask(),
        json!({ "what": "pair", "address": "https://192.0.2.7:8350", "code": "12345678",
            "fingerprint": "0123456789abcdef01230123456789abcdef01230123456789abcdef01230123" })
    );
    assert_eq!(ask(), json!({ "what": "nothing" }));
}

/// What the phone's own camera leaves behind, and the job that it was for.
struct Left {
    shell: Shell,
    job: Value,
}

impl Left {
    fn new() -> Left {
        let shell = Shell::open();
        let job = shell.call(json!({"do": "open_job"})).unwrap()["job"].clone();
        Left { shell, job }
    }

    /// A file as the chooser names it.
    fn file(&self, number: u32, bytes: &[u8]) -> PathBuf {
        let pictures = self.shell.folder.path().join("Pictures");
        fs::create_dir_all(&pictures).unwrap();
        let path = pictures.join(format!("JPEG_20260504_101500_{number}.jpg"));
        fs::write(&path, bytes).unwrap();
        path
    }

    fn strays(&self) -> Vec<Value> {
        let told = self.shell.ask("strays", json!({}).into()).unwrap();
        told.as_array().unwrap().clone()
    }

    /// The line that a screen writes for a photo.
    fn write(&self, photo: &Value) {
        let fact = json!({"fact": "photo_taken", "step": self.job["step_in_hand"],
            "photo": photo, "subject": "other"});
        let line = json!({"do": "write", "job": self.job["id"], "fact": fact, "sure": true});
        self.shell.call(line).unwrap();
    }

    fn photos(&self) -> Vec<Value> {
        let ask = json!({"do": "job", "job": self.job["id"]});
        let job = self.shell.call(ask).unwrap()["job"].clone();
        job["photos"].as_array().unwrap().clone()
    }

    fn killed(self) -> Left {
        Left {
            shell: self.shell.again(),
            job: self.job,
        }
    }
}

#[test]
fn a_photo_of_the_phones_camera_that_never_arrived_is_taken_in_once() {
    let left = Left::new();
    assert_eq!(left.strays(), [Value::Null; 0], "no folder, no stray");
    let bytes = png();
    let file = left.file(1, &bytes);
    let name = json!(Sha256Hex::of(&bytes));

    let strays = left.strays();
    assert_eq!(strays.len(), 1);
    assert_eq!(strays[0]["photo"], name);
    assert_eq!(strays[0]["whole"], true);
    let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
    let age = now.unwrap().as_millis() - u128::from(strays[0]["taken"].as_u64().unwrap());
    assert!(age < 60_000, "{age} ms");

    // Killed before the technician answered: it waits on.
    let left = left.killed();
    assert_eq!(left.strays(), strays);
    assert!(file.exists());

    // Killed after its line was on disk, before the file went.
    left.write(&name);
    assert!(file.exists(), "gone only once it is found in a job");
    let left = left.killed();
    assert_eq!(left.strays(), [Value::Null; 0]);
    assert!(!file.exists());
    assert_eq!(left.photos().len(), 1);
    assert_eq!(left.photos()[0]["photo"], name);
}

#[test]
fn a_photo_that_arrived_is_no_stray_and_its_file_goes() {
    let left = Left::new();
    let bytes = png();
    let file = left.file(1, &bytes);
    let kept = left.shell.ask("put_photo", InvokeBody::Raw(bytes)).unwrap();
    // Here, but in no job: killed between the photo and its line.
    assert_eq!(left.strays().len(), 1);
    left.write(&kept["photo"]);
    assert_eq!(left.strays(), [Value::Null; 0]);
    assert!(!file.exists());
}

#[test]
fn what_is_no_photo_is_told_as_such_and_others_files_are_left_alone() {
    let left = Left::new();
    let torn = left.file(1, b"\xff\xd8\xff\xe0 and no more");
    let empty = left.file(2, b"");
    let old = left.file(3, b"");
    let two_days = SystemTime::now() - Duration::from_secs(2 * 24 * 60 * 60);
    let opened = fs::File::options().write(true).open(&old).unwrap();
    opened.set_modified(two_days).unwrap();
    let other = torn.with_file_name("holiday.jpg");
    fs::write(&other, png()).unwrap();

    let strays = left.strays();
    assert_eq!(strays.len(), 1, "{strays:?}");
    assert_eq!(strays[0]["whole"], false);
    assert!(torn.exists(), "nothing goes unasked");
    assert!(empty.exists(), "the camera may stand open over it");
    assert!(!old.exists(), "the camera was left again long ago");
    assert!(other.exists());
}

#[test]
fn a_stray_goes_on_a_word_and_no_other_does() {
    let left = Left::new();
    let (first, second) = (png(), {
        let mut other = png();
        other.push(0);
        other
    });
    let files = [left.file(1, &first), left.file(2, &second)];
    assert_eq!(left.strays().len(), 2);
    let gone = json!({ "photo": Sha256Hex::of(&first) });
    left.shell.ask("drop_stray", gone.into()).unwrap();
    assert!(!files[0].exists() && files[1].exists());
    assert_eq!(left.strays()[0]["photo"], json!(Sha256Hex::of(&second)));
    let path = json!({ "photo": "../../swarfbook.db" });
    assert!(left.shell.ask("drop_stray", path.into()).is_err());
}
