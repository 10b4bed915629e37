//! The signature of a report, and the check of it: whole and genuine, or which
//! part is not.
//!
//! ```text
//! statement = RFC 8785 JSON of [`Statement`]: what the report says (a hash a
//!             field of its content), its photos, the last lines of the log that
//!             it was made from, a hash of each part of the file, and its length
//! signature = Ed25519 (RFC 8032) over "swarfbook-report-1\n" + statement
//! seal      = base64 of {"content", "signature", "statement"}, RFC 8785 JSON
//! ```
//!
//! In HTML the seal stands in `<pre id="seal" hidden="hidden">`, in PDF in the
//! attached file `seal.txt`, behind [`paper::MARK`] and filled up with spaces; the
//! content is the attached file `report.json` there. Every byte of the file but
//! those of the seal belongs to a part, so nothing can be added unseen. The seal itself
//! is taken only as it is written: base64 and JSON have one form here, its filling has the
//! length that was signed, and a PDF is laid out as the writer lays it out (`layout`). So
//! no byte of a file can be other than it was. No rendering is needed to check: a later
//! version can check an early report.
//!
//! Form 1 states no length. Its PDFs are checked all the same: the places of all objects
//! are in its signed table, so that the layout leaves one length. In a page of form 1 the
//! carried content, which no reader shows, may be deflated otherwise, if it is the same.
//!
//! A crate of its own, without templates, faces and pictures, so that it fits into
//! a page that checks a report offline (`core/verifier`).
//!
//! Pure: no I/O, no clock.

mod layout;
mod made;
pub mod page;
pub mod paper;
mod statement;
mod verify;

pub use made::{LogHead, Made};
pub use statement::{
    FIRST_FORM, FORM, FileKind, PURPOSE, Part, Seal, Statement, fields, fingerprint,
};
pub use verify::{Fault, verify};
