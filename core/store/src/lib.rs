//! The log in SQLite, photos as content-addressed files.
//!
//! One folder: `swarfbook.db`, `photos/ab/abcdef...`, and `copies/`, which may be
//! deleted at any time. An entry is on disk
//! (write-ahead log, `synchronous=FULL`) before [`Store::append`] returns; a
//! photo is written and synced before any entry may name it.

mod backup;
mod beside;
mod blobs;
mod counted;
mod customer;
mod error;
mod export;
mod files;
mod gap;
mod gone;
mod head;
mod held;
mod import;
pub mod key;
mod list;
mod log;
mod outside;
mod partial;
mod peer;
mod photo;
mod private;
mod refusal;
mod rows;
mod setting;
mod sqlite;
mod store;
mod waiting;
mod writer;

pub use backup::BackedUp;
pub use blobs::Blobs;
pub use customer::Customer;
pub use error::{DatabaseFault, StoreError};
pub use export::{Exported, FORM_VERSION, NotWhole, read_back};
pub use files::photo_path;
pub use gap::LostLines;
pub use head::JobHead;
pub use held::Held;
pub use import::Imported;
pub use key::{DeviceKey, KeyError};
pub use list::{JobRow, JobsPage};
pub use log::NewEntry;
pub use outside::refuse_inside;
pub use partial::Arrived;
pub use peer::PairedDevice;
pub use photo::{MAX_PHOTO_BYTES, Photos};
pub use private::private_file;
pub use setting::ProcedureText;
pub use store::Store;
pub use writer::Source;
