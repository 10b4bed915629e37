//! What a technician would tap or measure, by file name.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::Path;

use serde_json::Value;
use swarfbook_job::census::PhotoHints;

use crate::cli::{Failure, out};

/// The hints file. Each photo's part is read when the photo is, so that a part
/// that can't be read spoils no other.
#[derive(Default)]
pub(super) struct Hints(BTreeMap<String, Value>);

impl Hints {
    pub(super) fn read(file: &Path) -> Result<Hints, Failure> {
        let text = std::fs::read_to_string(file).map_err(|error| Failure::file(file, &error))?;
        serde_json::from_str(&text).map(Hints).map_err(|error| {
            Failure::new(format!("{}: not a file of hints: {error}.", file.display()))
        })
    }

    /// Hints for a photo; none, with a word on standard error, when they can't be read.
    pub(super) fn of(&self, file: &str) -> PhotoHints {
        let Some(value) = self.0.get(file) else {
            return PhotoHints::default();
        };
        serde_json::from_value(value.clone()).unwrap_or_else(|error| {
            // A word that can't be said changes nothing of the reading.
            let _ = writeln!(
                out::err(),
                "{file}: its hints can't be used ({error}); it is read without."
            );
            PhotoHints::default()
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_bad_hint_spoils_no_other() {
        let dir = tempfile::tempdir().expect("folder");
        let file = dir.path().join("hints.json");
        std::fs::write(
            &file,
            r#"{"a.jpg":{"taps":[[1,2],[3,4]],"tap_mm":14.0},"b.jpg":{"tap_mm":"long"}}"#,
        )
        .expect("written");
        let hints = Hints::read(&file).map_err(|f| f.words).expect("read");
        assert_eq!(hints.of("a.jpg").tap_mm, Some(14.0));
        assert_eq!(hints.of("b.jpg"), PhotoHints::default());
        assert_eq!(hints.of("c.jpg"), PhotoHints::default());
    }
}
