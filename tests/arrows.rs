//! The shape of the house: which crate may know which, and that the pure ones
//! stay pure. When this fails, change the code, or the picture in DEVELOPERS.md
//! and the table here together, with the reason.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The heading in DEVELOPERS.md over what is drawn of crates.
const OF_CRATES: &str = "### Arrows between crates";
/// The same inside `core/app`.
const INSIDE_APP: &str = "### Arrows inside core/app";

/// Who knows whom by a picture in DEVELOPERS.md, from the bottom up: a line each,
/// "who knows a, b" or "who knows nobody".
fn drawn(heading: &str) -> Vec<(String, BTreeSet<String>)> {
    let text = fs::read_to_string(root().join("DEVELOPERS.md")).expect("text");
    let (_, behind) = text.split_once(heading).expect("the heading");
    let block = behind.split("```").nth(1).expect("a picture");
    let lines = block.lines().filter(|line| !line.trim().is_empty());
    let arrows: Vec<(String, BTreeSet<String>)> = lines
        .map(|line| {
            let (who, known) = line.split_once(" knows ").expect("who knows whom");
            let known = known.split(',').map(str::trim);
            let known = known.filter(|name| *name != "nobody").map(str::to_owned);
            (who.trim().to_owned(), known.collect())
        })
        .collect();
    let mut above = BTreeSet::new();
    for (who, known) in &arrows {
        for other in known {
            assert!(
                above.contains(other),
                "{heading}: a circle at {who} and {other}"
            );
        }
        assert!(
            above.insert(who.clone()),
            "{heading}: {who} stands there twice"
        );
    }
    arrows
}

/// Fails for an arrow that is drawn and not taken, and for one that is taken and not drawn.
fn as_drawn(heading: &str, taken: &BTreeMap<String, BTreeSet<String>>) {
    let drawn = drawn(heading);
    for (who, known) in &drawn {
        let takes = taken.get(who).unwrap_or_else(|| panic!("{who} is gone"));
        let more: Vec<_> = takes.difference(known).collect();
        assert!(more.is_empty(), "{who} must not know {more:?}");
        let less: Vec<_> = known.difference(takes).collect();
        assert!(less.is_empty(), "{who} does not know {less:?} any more");
    }
    let named: BTreeSet<_> = drawn.iter().map(|(who, _)| who).collect();
    let left: Vec<_> = taken.keys().filter(|who| !named.contains(who)).collect();
    assert!(left.is_empty(), "not in the picture: {left:?}");
}

/// Crates that read no clock, no file, no network and no randomness, with all
/// that they may stand on. A new name here needs a reason in DEVELOPERS.md.
const PURE: [(&str, &[&str]); 12] = [
    (
        "words",
        &["fluent-bundle", "fluent-syntax", "serde", "ts-rs"],
    ),
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
    ("display", &[]),
    ("frame", &[]),
    ("guide", &[]),
    ("meter", &[]),
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
    ("judge", &["chrono", "serde", "thiserror", "ts-rs"]),
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
    let packages = packages().into_iter();
    packages.map(|(name, (_, known))| (name, known)).collect()
}

/// The same, with each member's folder.
fn packages() -> BTreeMap<String, (PathBuf, BTreeSet<String>)> {
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
        let manifest = Path::new(package["manifest_path"].as_str().expect("a path"));
        all.insert(
            package["name"].as_str().expect("a name").to_owned(),
            (manifest.parent().expect("a folder").to_owned(), names),
        );
    }
    all
}

#[test]
fn arrows_between_crates_are_those_that_are_drawn() {
    let mut taken = BTreeMap::new();
    for (package, (dir, known)) in packages() {
        let Some(name) = package.strip_prefix("swarfbook-").filter(|n| *n != "tests") else {
            continue;
        };
        let code: Vec<String> = rust_files(&dir.join("src"))
            .iter()
            .flat_map(|f| code(f))
            .collect();
        let known = known.iter().filter_map(|other| {
            let other = other.strip_prefix("swarfbook-")?;
            let path = format!("swarfbook_{other}");
            let takes = code.iter().any(|line| line.contains(&path));
            assert!(takes, "{name} depends on {other} and does not use it");
            Some(other.to_owned())
        });
        taken.insert(name.to_owned(), known.collect());
    }
    as_drawn(OF_CRATES, &taken);
}

#[test]
fn arrows_inside_the_app_are_those_that_are_drawn() {
    let src = root().join("core/app/src");
    let mut taken: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for file in rust_files(&src) {
        let inside = file.strip_prefix(&src).expect("inside");
        let first = inside.components().next().expect("a name");
        let module = first.as_os_str().to_str().expect("a name");
        let module = module.trim_end_matches(".rs");
        // The crate's own root names its modules and nothing else.
        if module == "lib" {
            continue;
        }
        let knows = taken.entry(module.to_owned()).or_default();
        for line in code(&file) {
            assert!(
                !line.contains("crate::{"),
                "{}: one path a line",
                file.display()
            );
            for (at, path) in line.match_indices("crate::") {
                let name: String = line
                    .chars()
                    .skip(line.get(..at).expect("before").chars().count() + path.len())
                    .take_while(|c| c.is_ascii_lowercase() || *c == '_')
                    .collect();
                knows.extend(Some(name).filter(|name| name != module));
            }
        }
    }
    as_drawn(INSIDE_APP, &taken);
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
            for line in code(&file) {
                for word in IMPURE {
                    assert!(
                        !line.contains(word),
                        "{}: {word} in a pure crate: {line}",
                        file.display(),
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

#[test]
fn only_the_first_backend_of_the_store_knows_sqlite() {
    for (package, known) in dependencies() {
        assert!(
            !known.contains("rusqlite") || package == "swarfbook-store",
            "{package} knows SQLite"
        );
    }
    let store = root().join("core/store/src");
    for file in rust_files(&store) {
        let below = file.starts_with(store.join("sqlite"));
        assert!(
            below || !code(&file).iter().any(|line| line.contains("rusqlite")),
            "{} knows SQLite",
            file.display()
        );
    }
}

/// The lines of a file that are compiled: no comments and no tests, which stand at the end of a
/// file or in files of their own.
fn code(file: &Path) -> Vec<String> {
    let text = fs::read_to_string(file).expect("text");
    let lines = text.lines().map(str::trim);
    lines
        .take_while(|line| *line != "#[cfg(test)]")
        .filter(|line| !line.starts_with("//"))
        .map(str::to_owned)
        .collect()
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
