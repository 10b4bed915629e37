//! The command line and HTTP carry the same door.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::process::Output;

use common::{Calls, Running, picture, swarfbook};
use serde_json::{Value, json};

fn run(args: &[&str]) -> Output {
    swarfbook().args(args).output().expect("runs")
}

/// What differs by nature: ids and times from run to run, and who is the hub.
fn without_names(value: &Value) -> Value {
    match value {
        Value::Object(fields) => Value::Object(
            fields
                .iter()
                .filter(|(name, _)| *name != "is_hub")
                .map(|(name, value)| (name.clone(), without_names(value)))
                .collect(),
        ),
        Value::Array(values) => values.iter().map(without_names).collect(),
        Value::String(text) if text.len() == 36 && text.matches('-').count() == 4 => json!("an id"),
        Value::String(text) if text.len() >= 20 && text.starts_with("20") && text.contains('T') => {
            json!("a time")
        }
        other => other.clone(),
    }
}

#[test]
fn a_script_of_commands_is_answered_alike_over_http_and_the_command_line() {
    let (by_line, by_http) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let mut line = Calls::open(by_line.path());
    let hub = Running::start(by_http.path(), &[]);
    let mut both = |command: &dyn Fn(&str) -> Value, jobs: &[String; 2]| {
        let first = line.ask(&command(&jobs[0]));
        let answer = hub.call(&command(&jobs[1])).json();
        // A problem is the answer itself over HTTP; its status says so.
        let second = if answer.get("reply").is_some() {
            answer
        } else {
            json!({ "problem": answer })
        };
        assert_eq!(without_names(&first), without_names(&second));
        [first, second]
    };
    let none = [String::new(), String::new()];
    both(&|_| json!({"do":"start"}), &none);
    let opened = both(&|_| json!({"do":"open_job"}), &none);
    let jobs = opened.map(|reply| reply["job"]["id"].as_str().expect("an id").to_owned());
    both(&|job| json!({"do":"job","job":job}), &jobs);
    both(
        &|job| {
            json!({"do":"write","job":job,"fact":{"fact":"noted","step":"car","topic":null,
                   "text":"Oil on the bell housing"}})
        },
        &jobs,
    );
    both(&|job| json!({"do":"undo","job":job}), &jobs);
    both(&|job| json!({"do":"log","job":job}), &jobs);
    both(&|_| json!({"do":"jobs","limit":10}), &jobs);
    both(
        &|_| json!({"do":"job","job":"00000000-0000-4000-8000-000000000000"}),
        &jobs,
    );
    both(&|_| json!({"do":"no_such_command"}), &jobs);
    both(&|_| json!({"do":"sync_state"}), &jobs);
    line.close();
}

#[test]
fn a_photo_goes_in_and_comes_out_smaller_and_is_listed_and_reported() {
    let dir = tempfile::tempdir().expect("folder");
    let data = dir.path().join("data");
    let data = data.to_str().expect("a path");
    let file = dir.path().join("photo.png");
    std::fs::write(&file, picture()).expect("written");
    let kept = run(&["photo", file.to_str().expect("a path"), "--data", data]);
    assert!(kept.status.success(), "{kept:?}");
    let name = String::from_utf8_lossy(&kept.stdout).trim().to_owned();

    let hub = Running::start(std::path::Path::new(data), &[]);
    let put = hub.ask("POST", "/photo", "image/png", &picture());
    assert_eq!(
        put.json()["photo"],
        json!(name),
        "the same name by either way"
    );
    let copy = hub.ask("GET", &format!("/photo/{name}?w=100"), "", b"");
    assert_eq!(
        (copy.status, copy.header("content-type")),
        (200, "image/jpeg")
    );
    assert!(copy.header("cache-control").contains("immutable"));
    let picture = image::load_from_memory(&copy.body).expect("a picture");
    assert!(picture.width() <= 100, "{}", picture.width());

    let job = hub.call(&json!({"do":"open_job"})).json()["job"]["id"].clone();
    let job = job.as_str().expect("an id");
    let listed = run(&["jobs", "--data", data]);
    let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
    assert!(listed.starts_with(&format!("{job}\t")), "{listed}");

    let out = dir.path().join("report.html");
    let out = out.to_str().expect("a path");
    let made = run(&["report", job, "--data", data, "--out", out]);
    assert!(made.status.success(), "{made:?}");
    let html = std::fs::read_to_string(out).expect("a file");
    assert!(
        html.trim_start()
            .to_lowercase()
            .starts_with("<!doctype html>")
    );
    let pdf = out.replace(".html", ".pdf");
    assert_ne!(pdf, out);
    let made = run(&["report", job, "--data", data, "--out", &pdf]);
    assert!(made.status.success(), "{made:?}");
    assert!(std::fs::read(&pdf).expect("a file").starts_with(b"%PDF-"));
    for file in [out, pdf.as_str()] {
        whole_known_or_not(file, data);
    }
    let other = out.replace(".html", ".txt");
    let refused = run(&["report", job, "--data", data, "--out", &other]);
    assert_eq!(refused.status.code(), Some(2));
    assert!(!std::path::Path::new(&other).exists());
}

/// Success is for what is genuine and known alone; a script asks nothing else.
fn whole_known_or_not(file: &str, data: &str) {
    let said = |more: &[&str]| {
        let out = run(&[&["verify", file], more].concat());
        let text = String::from_utf8_lossy(&[out.stdout, out.stderr].concat()).into_owned();
        let known = text.contains("Genuine and known");
        assert_eq!(out.status.success(), known, "{text}");
        (out.status.code(), text)
    };
    let (code, text) = said(&[]);
    assert_eq!(code, Some(2), "{text}");
    assert!(text.contains("Whole: every part is as it was signed."));
    let digits = text.split("Key:").nth(1).expect("told").trim_start()[..24].to_owned();
    assert_eq!(said(&["--key", &digits]).0, Some(0));
    assert_eq!(said(&["--data", data]).0, Some(0));
    assert_eq!(said(&["--key", "0000 0000 0000 0000 0000"]).0, Some(1));
    let other = tempfile::tempdir().expect("folder");
    let other = other.path().to_str().expect("a path").to_owned();
    assert_eq!(said(&["--data", &other]).0, Some(1));
    // One byte behind its end.
    let copy = format!("{file}.copy");
    std::fs::copy(file, &copy).expect("copied");
    let mut bytes = std::fs::read(&copy).expect("read");
    bytes.push(b'\n');
    std::fs::write(&copy, bytes).expect("written");
    let longer = run(&["verify", &copy, "--data", data]);
    assert_eq!(longer.status.code(), Some(1), "{longer:?}");
}

#[test]
fn the_demo_loads_into_an_empty_store_only() {
    let dir = tempfile::tempdir().expect("folder");
    let hub = Running::start(dir.path(), &["--demo"]);
    let jobs = hub.call(&json!({"do":"jobs","limit":10})).json();
    assert_eq!(jobs["total"], 3);
    assert!(
        jobs["jobs"]
            .as_array()
            .expect("jobs")
            .iter()
            .all(|job| job["demo"] == true)
    );
    assert!(hub.stop());
    let again = Running::start(dir.path(), &["--demo"]);
    assert_eq!(
        again.call(&json!({"do":"jobs","limit":10})).json()["total"],
        3
    );
}

#[test]
fn the_census_has_a_line_for_each_photo_in_the_order_given() {
    let dir = tempfile::tempdir().expect("folder");
    let path = |name: &str| dir.path().join(name).to_str().expect("a path").to_owned();
    std::fs::write(path("patch-noise.png"), picture()).expect("written");
    std::fs::write(path("pan-broken.jpg"), b"\xff\xd8\xff nothing").expect("written");
    let files = [
        path("pan-broken.jpg"),
        path("magnet-absent.jpg"),
        path("patch-noise.png"),
    ];
    let out = swarfbook()
        .args(["census", "--json", "--threads", "2"])
        .args(&files)
        .output()
        .expect("runs");
    assert_eq!(out.status.code(), Some(1), "none of them can be read");
    let lines: Vec<Value> = String::from_utf8_lossy(&out.stdout)
        .lines()
        .map(|line| serde_json::from_str(line).expect("a JSON line"))
        .collect();
    let told: Vec<_> = lines.iter().map(|l| (&l["file"], &l["kind"])).collect();
    assert_eq!(
        told,
        [
            (&json!("pan-broken.jpg"), &json!("pan")),
            (&json!("magnet-absent.jpg"), &json!("magnet")),
            (&json!("patch-noise.png"), &json!("patch")),
        ]
    );
    for line in &lines {
        assert!(
            line["problem"].as_str().is_some_and(|p| p.len() > 10),
            "{line}"
        );
        assert!(line["decode_ms"].is_number() && line["ms"].is_number());
    }
    assert_eq!(lines[2]["size_px"], json!([320, 240]));
}

/// Tag of EXIF 2.32 (CIPA DC-008): FocalLengthIn35mmFilm 0xA405, in the IFD that 0x8769 leads to.
#[test]
fn the_census_tells_the_lens_that_the_photo_names() {
    let exif = [
        b"MM\0\x2a\0\0\0\x08".as_slice(),
        b"\0\x01\x87\x69\0\x04\0\0\0\x01\0\0\0\x1a\0\0\0\0",
        b"\0\x01\xa4\x05\0\x03\0\0\0\x01\0\x1a\0\0\0\0\0\0",
    ];
    let mut photo = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new(&mut photo);
    image::ImageEncoder::set_exif_metadata(&mut encoder, exif.concat()).expect("taken");
    let grey = image::RgbImage::from_pixel(320, 240, image::Rgb([200; 3]));
    encoder.encode_image(&grey).expect("a photo");
    let dir = tempfile::tempdir().expect("folder");
    let file = dir.path().join("patch-grey.jpg");
    std::fs::write(&file, photo).expect("written");
    let out = swarfbook().args(["census", "--json"]).arg(&file).output();
    let line: Value = serde_json::from_slice(&out.expect("runs").stdout).expect("a JSON line");
    assert_eq!(line["size_px"], json!([320, 240]), "{line}");
    assert_eq!(line["lens"]["focal_35mm"], json!(26.0), "{line}");
}

#[test]
fn the_demo_moves_to_another_folder_by_export_and_import() {
    let (from, to) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let path = |dir: &tempfile::TempDir, name: &str| {
        dir.path().join(name).to_str().expect("a path").to_owned()
    };
    let (there, here) = (path(&from, "data"), path(&to, "data"));
    assert!(Running::start(std::path::Path::new(&there), &["--demo"]).stop());
    let file = path(&from, "all.zip");
    let ok = |args: &[&str]| {
        let out = run(args);
        assert!(
            out.status.success(),
            "{args:?}: {}",
            String::from_utf8_lossy(&out.stderr)
        );
        String::from_utf8(out.stdout).expect("text")
    };
    ok(&["export", "--data", &there, "--out", &file]);
    ok(&["import", &file, "--data", &here]);
    let jobs = ok(&["jobs", "--data", &there]);
    assert_eq!(jobs.lines().count(), 3);
    assert_eq!(ok(&["jobs", "--data", &here]), jobs);
    for job in jobs.lines() {
        let id = job.split('\t').next().expect("an id");
        // Undo takes back a device's own lines, and these are another's now.
        let view = |data: &str| {
            let mut calls = Calls::open(std::path::Path::new(data));
            let mut reply = calls.ask(&json!({"do":"job","job":id}));
            assert!(reply["job"]["id"] == id, "{reply}");
            reply["job"]["undo_words"] = Value::Null;
            reply
        };
        assert_eq!(view(&there), view(&here), "{job}");
    }
    assert!(
        ok(&["import", &file, "--data", &here]).starts_with("new: lines 0, photos 0"),
        "a second time"
    );
    let cut = path(&to, "cut.zip");
    let bytes = std::fs::read(&file).expect("reads");
    std::fs::write(&cut, &bytes[..bytes.len() - 1000]).expect("written");
    let refused = run(&["import", &cut, "--data", &path(&to, "third")]);
    assert_eq!(refused.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("cut short"));
}
