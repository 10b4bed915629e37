//! The shape of the house: which crate may know which, and that the pure ones
//! stay pure. When this fails, change the code, or the picture in DEVELOPERS.md
//! and the table here together, with the reason.

#![allow(clippy::expect_used)] // in helpers of tests, too

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Who may know whom, from the bottom up. What is not named is not known.
const ARROWS: [(&str, &[&str]); 14] = [
    ("words", &[]),
    ("job", &["words"]),
    ("debris", &["job"]),
    ("guide", &["debris"]),
    ("measure", &["words", "job"]),
    ("wear", &["words", "job"]),
    ("store", &["words", "job"]),
    ("seal", &["job"]),
    ("verifier", &["seal"]),
    (
        "report",
        &["words", "job", "wear", "debris", "measure", "seal"],
    ),
    ("sync", &["words", "job", "store"]),
    (
        "app",
        &[
            "words", "job", "debris", "measure", "wear", "store", "report", "seal", "sync",
        ],
    ),
    ("hub", &["words", "app", "debris", "job", "store", "sync"]),
    ("shell", &["words", "app", "job"]),
];

/// Crates that read no clock, no file, no network and no randomness, with all
/// that they may stand on. A new name here needs a reason in DEVELOPERS.md.
const PURE: [(&str, &[&str]); 8] = [
    ("words", &["serde", "serde_json", "ts-rs"]),
    (
        "job",
        &[
            "chrono",
            "serde",
            "serde_json",
            "serde_json_canonicalizer",
            "sha2",
            "thiserror",
            "toml",
            "ts-rs",
            "uuid",
        ],
    ),
    (
        "debris",
        &[
            "image",
            "kamadak-exif",
            "pulp",
            "serde",
            "serde_json",
            "sha2",
            "thiserror",
        ],
    ),
    ("guide", &[]),
    (
        "seal",
        &[
            "base64",
            "chrono",
            "ed25519-dalek",
            "miniz_oxide",
            "serde",
            "serde_json",
            "serde_json_canonicalizer",
        ],
    ),
    ("verifier", &["serde", "serde_json"]),
    ("measure", &["libm", "serde", "thiserror", "toml", "ts-rs"]),
    ("wear", &["serde", "statrs", "thiserror", "toml", "ts-rs"]),
];

/// What a pure crate's source must not name outside its tests.
const IMPURE: [&str; 12] = [
    "std::fs",
    "std::net",
    "std::env",
    "std::process",
    "std::io::stdin",
    "SystemTime",
    "Instant",
    "Utc::now",
    "Local::now",
    "new_v4",
    "new_v7",
    "rand::",
];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// Ordinary dependencies by package, of the workspace's members.
fn dependencies() -> BTreeMap<String, BTreeSet<String>> {
    let out = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--format-version=1", "--offline"])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
    let metadata: serde_json::Value = serde_json::from_slice(&out.stdout).expect("json");
    let mut all = BTreeMap::new();
    for package in metadata["packages"].as_array().expect("packages") {
        let names = package["dependencies"]
            .as_array()
            .expect("dependencies")
            .iter()
            .filter(|d| d["kind"].is_null())
            .map(|d| d["name"].as_str().expect("a name").to_owned())
            .collect();
        all.insert(package["name"].as_str().expect("a name").to_owned(), names);
    }
    all
}

#[test]
fn arrows_point_one_way() {
    let all = dependencies();
    let mut seen = BTreeSet::new();
    for (name, may) in ARROWS {
        let package = format!("swarfbook-{name}");
        let known = all
            .get(&package)
            .unwrap_or_else(|| panic!("{package} is gone"));
        for other in known.iter().filter_map(|d| d.strip_prefix("swarfbook-")) {
            assert!(may.contains(&other), "{name} must not know {other}");
        }
        // No crate may know one that stands after it in the table.
        for other in may {
            assert!(
                seen.contains(other),
                "the table itself has a circle at {name}"
            );
        }
        seen.insert(name);
    }
    let named: BTreeSet<String> = ARROWS
        .iter()
        .map(|(n, _)| format!("swarfbook-{n}"))
        .collect();
    let left: Vec<_> = all
        .keys()
        .filter(|p| !named.contains(*p) && *p != "swarfbook-tests")
        .collect();
    assert!(left.is_empty(), "not in the picture: {left:?}");
}

#[test]
fn pure_crates_stand_on_pure_things_only() {
    let all = dependencies();
    for (name, may) in PURE {
        for other in &all[&format!("swarfbook-{name}")] {
            assert!(
                other.starts_with("swarfbook-") || may.contains(&other.as_str()),
                "{name} has gained {other}: is it pure, and is the reason in DEVELOPERS.md?"
            );
        }
    }
}

#[test]
fn pure_crates_read_no_clock_no_file_and_no_chance() {
    for (name, _) in PURE {
        for file in rust_files(&root().join("core").join(name).join("src")) {
            let text = fs::read_to_string(&file).expect("text");
            for (number, line) in text.lines().enumerate() {
                let code = line.trim();
                // Tests stand at the end of a file, or in files of their own.
                if code == "#[cfg(test)]" {
                    break;
                }
                if code.starts_with("//") {
                    continue;
                }
                for word in IMPURE {
                    assert!(
                        !code.contains(word),
                        "{}:{}: {word} in a pure crate",
                        file.display(),
                        number + 1
                    );
                }
            }
        }
    }
}

#[test]
fn only_the_shell_knows_tauri_and_only_the_hub_knows_its_server() {
    for (package, known) in dependencies() {
        let tauri = known
            .iter()
            .any(|d| d == "tauri" || d.starts_with("tauri-"));
        assert!(
            !tauri || package == "swarfbook-shell",
            "{package} knows tauri"
        );
        let server = known.contains("axum") || known.contains("hyper");
        assert!(
            !server || package == "swarfbook-hub",
            "{package} knows a server"
        );
    }
}

fn rust_files(dir: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(dir).expect("a folder") {
        let path = entry.expect("an entry").path();
        let tests = path.file_stem().is_some_and(|s| s == "tests");
        if path.is_dir() && !tests {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|e| e == "rs") && !tests {
            files.push(path);
        }
    }
    files
}
