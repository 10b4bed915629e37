//! The signature of a report, and the check of it: whole and genuine, or which
//! part is not.
//!
//! ```text
//! statement = RFC 8785 JSON of [`Statement`]: what the report says (a hash a
//!             field of its content), its photos, the last lines of the log that
//!             it was made from, and a hash of each part of the file
//! signature = Ed25519 (RFC 8032) over "swarfbook-report-1\n" + statement
//! seal      = base64 of {"content", "signature", "statement"}, RFC 8785 JSON
//! ```
//!
//! In HTML the seal stands in `<pre id="seal" hidden="hidden">`, in PDF in the
//! attached file `seal.txt`, behind [`pdf::MARK`] and filled up with spaces; the
//! content is the attached file `report.json` there. Every byte of the file but
//! those of the seal belongs to a part, so nothing can be added unseen. No
//! rendering is needed to check: a later version can check an early report.

mod html;
mod pdf;
mod sign;
mod statement;
mod verify;

pub use sign::{Signer, sign_html, sign_pdf};
pub use statement::{FileKind, Part, Statement, fingerprint};
pub use verify::{Fault, verify};
