//! The check of a signed report for a page that works without a network: the same
//! code that `swarfbook verify` runs, as WebAssembly. The page's words are in
//! `page/words`; what is told here is without language.
//!
//! Three calls over plain memory: [`room`] gives room for the file, [`check`]
//! looks at it, and what it returns is the place of [`told`] bytes of JSON: a
//! [`Told`].

use std::cell::RefCell;

use serde::Serialize;
use swarfbook_seal::{Fault, FileKind, Statement, fingerprint, verify};

/// A larger file is no report: a dozen photos make 3 MB.
const MOST_BYTES: usize = 128 * 1024 * 1024;
/// More faults than anybody reads.
const MOST_FAULTS: usize = 12;
/// Names of parts come out of a file that may be forged.
const MOST_LETTERS: usize = 120;

/// What there is to tell of a file.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Told {
    /// Every part is as it was signed.
    Whole {
        /// "html" or "pdf".
        file: FileKind,
        /// The shop as it signs.
        shop: String,
        /// All of it is invented (demo).
        invented: bool,
        /// When it was made, RFC 3339.
        made: String,
        /// The job's id.
        job: String,
        /// The key in short.
        digits: String,
    },
    /// It is not.
    Broken {
        /// What is wrong, the first dozen.
        faults: Vec<FaultTold>,
        /// How many more there are.
        more: usize,
    },
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct FaultTold {
    /// Which words of the page tell it.
    fault: &'static str,
    /// The part, or the number of the form; empty where there is none.
    name: String,
}

/// Looks at a file.
pub fn tell(file: &[u8]) -> Told {
    match verify(file) {
        Ok(statement) => whole(&statement),
        Err(faults) => Told::Broken {
            more: faults.len().saturating_sub(MOST_FAULTS),
            faults: faults.iter().take(MOST_FAULTS).map(fault).collect(),
        },
    }
}

fn whole(statement: &Statement) -> Told {
    Told::Whole {
        file: statement.file,
        shop: short(&statement.shop),
        invented: statement.invented,
        made: statement.made.at.to_rfc3339(),
        job: statement.made.job.to_string(),
        digits: fingerprint(&statement.key).unwrap_or_default(),
    }
}

fn fault(fault: &Fault) -> FaultTold {
    let (fault, name) = match fault {
        Fault::NoSeal => ("no_seal", String::new()),
        Fault::SealDamaged => ("seal_damaged", String::new()),
        Fault::Form(form) => ("form", form.to_string()),
        Fault::Signature => ("signature", String::new()),
        Fault::Kind => ("kind", String::new()),
        Fault::Changed(part) => ("changed", short(part)),
        Fault::Missing(part) => ("missing", short(part)),
        Fault::Added(part) => ("added", short(part)),
        Fault::Field(field) => ("field", short(field)),
        Fault::Layout => ("layout", String::new()),
    };
    FaultTold { fault, name }
}

fn short(text: &str) -> String {
    let shown = text.chars().filter(|c| !c.is_control());
    shown.take(MOST_LETTERS).collect()
}

#[derive(Default)]
struct Desk {
    file: Vec<u8>,
    told: Vec<u8>,
}

thread_local! {
    static DESK: RefCell<Desk> = RefCell::default();
}

/// Room for a file of that many bytes; a null pointer for one that is too large.
#[allow(unsafe_code)] // a fixed name, so that the page finds it; nothing else is unsafe
#[unsafe(no_mangle)]
pub extern "C" fn room(bytes: u32) -> *mut u8 {
    let bytes = bytes as usize;
    if bytes > MOST_BYTES {
        return std::ptr::null_mut();
    }
    DESK.with_borrow_mut(|desk| {
        desk.file = vec![0; bytes];
        desk.file.as_mut_ptr()
    })
}

/// Looks at what was written there.
#[allow(unsafe_code)] // as above
#[unsafe(no_mangle)]
pub extern "C" fn check() -> *const u8 {
    DESK.with_borrow_mut(|desk| {
        desk.told = serde_json::to_vec(&tell(&desk.file)).unwrap_or_default();
        desk.told.as_ptr()
    })
}

/// How many bytes that told.
#[allow(unsafe_code)] // as above
#[unsafe(no_mangle)]
pub extern "C" fn told() -> u32 {
    DESK.with_borrow(|desk| u32::try_from(desk.told.len()).unwrap_or(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_too_large_gets_no_room() {
        assert!(room(u32::MAX).is_null());
        assert!(!room(10).is_null());
    }

    #[test]
    fn a_file_that_is_no_report_is_told_without_words() {
        room(3);
        check();
        let text = DESK.with_borrow(|desk| String::from_utf8(desk.told.clone()));
        assert_eq!(
            text.as_deref(),
            Ok(r#"{"is":"broken","faults":[{"fault":"no_seal","name":""}],"more":0}"#)
        );
        assert_eq!(told() as usize, text.map_or(0, |t| t.len()));
    }

    #[test]
    fn a_forged_name_can_not_fill_the_page() {
        let long = "x\u{7}".repeat(10_000);
        let told = fault(&Fault::Changed(long));
        assert_eq!(told.name.len(), MOST_LETTERS);
    }
}
