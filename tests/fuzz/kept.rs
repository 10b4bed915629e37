//! Files: photos, exports, signed reports, a database that a disk changed.

use std::fs;
use std::io::{Cursor, Read};
use std::path::Path;

use swarfbook_job::id::JobId;
use swarfbook_store::{Store, read_back};
use uuid::Uuid;
use zip::ZipArchive;

use crate::{hammer, hammer_over};

/// The whole path of a photo, as the photo's own fuzzing has it (`core/debris/fuzz`).
#[path = "../../core/debris/fuzz/src/lib.rs"]
mod photo;

/// What `core/store` and `core/seal` keep of every form.
fn fixtures(of: &str, like: &str) -> Vec<Vec<u8>> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../core/{of}/tests/fixtures"));
    let files = fs::read_dir(dir).expect("fixtures");
    let mut files: Vec<_> = files.map(|file| file.expect("reads").path()).collect();
    files.retain(|file| file.display().to_string().contains(like));
    files.sort();
    let read = files.into_iter().map(|file| fs::read(file).expect("reads"));
    read.collect()
}

#[test]
fn a_photo() {
    hammer("photo", |bytes| {
        let tapped = [&[0_u8; photo::TAPPED], bytes].concat();
        let _ = photo::whole_path(&tapped, None);
        let _ = photo::whole_path(bytes, None);
    });
}

/// What can be read back can be taken in, and holds as much.
#[test]
fn an_export() {
    hammer_over("export", &fixtures("store", "export-of"), |bytes| {
        let Ok(holds) = read_back(Cursor::new(bytes)) else {
            return;
        };
        let dir = tempfile::tempdir().expect("folder");
        let store = Store::open(dir.path()).expect("opens");
        let taken = store.import_export(Cursor::new(bytes), 0, &["settings"], |_| None);
        match taken {
            Ok(new) => assert_eq!(new.entries, holds.entries),
            Err(why) => assert!(!why.to_string().is_empty()),
        }
    });
}

/// Whatever is changed in a signed file, it does not verify.
#[test]
fn a_signed_report() {
    let genuine = fixtures("seal", "report-form");
    hammer_over("report", &genuine, |bytes| {
        let whole = swarfbook_seal::verify(bytes).is_ok();
        let same = genuine.iter().any(|file| file == bytes);
        assert_eq!(whole, same);
    });
}

/// A disk may change any byte: what is left is read or refused, and no line is another.
#[test]
fn a_database() {
    let databases: Vec<Vec<u8>> = fixtures("store", "store-form")
        .iter()
        .map(|zip| {
            let mut zip = ZipArchive::new(Cursor::new(zip)).expect("a ZIP");
            let mut part = zip.by_name("swarfbook.db").expect("a database");
            let mut bytes = Vec::new();
            part.read_to_end(&mut bytes).expect("reads");
            bytes
        })
        .collect();
    let job = JobId(Uuid::from_u128(7));
    let lines = |dir: &Path| -> Option<Vec<String>> {
        let store = Store::open(dir).ok()?;
        let lines = store.entries(job).ok()?;
        let mut to = Cursor::new(Vec::new());
        if store.export(&mut to, &["settings"]).is_ok() {
            read_back(to).expect("an export that was made is whole");
        }
        Some(lines.iter().map(|line| format!("{line:?}")).collect())
    };
    let genuine: Vec<String> = databases
        .iter()
        .flat_map(|bytes| {
            let dir = tempfile::tempdir().expect("folder");
            fs::write(dir.path().join("swarfbook.db"), bytes).expect("written");
            lines(dir.path()).expect("reads")
        })
        .collect();
    hammer_over("database", &databases, |bytes| {
        let dir = tempfile::tempdir().expect("folder");
        fs::write(dir.path().join("swarfbook.db"), bytes).expect("written");
        for line in lines(dir.path()).unwrap_or_default() {
            assert!(genuine.contains(&line), "{line}");
        }
    });
}
