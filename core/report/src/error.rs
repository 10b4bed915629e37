//! Why a report can't be made.

use swarfbook_job::id::{EntryId, Sha256Hex};

/// Why a report can't be made, and what to do.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// The content is of another form.
    #[error(
        "this report is of form {found}; this version writes form {}. Update the tool.",
        crate::content::FORM
    )]
    Form {
        /// That of the content.
        found: u32,
    },
    /// A figure names a line that is not among the sources.
    #[error(
        "a figure of the report rests on line {entry} of the log, and that line is not among its sources"
    )]
    NoSource {
        /// The one that the figure names.
        entry: EntryId,
    },
    /// The deciding photo is not among the photos.
    #[error("the photo that decides (line {entry}) is not among the photos of the report")]
    NotAmongPhotos {
        /// The one that took the photo.
        entry: EntryId,
    },
    /// The bytes of a photo were not handed in.
    #[error(
        "the bytes of the photo {copy} are missing; make its copy first, or leave `copy` empty"
    )]
    PhotoMissing {
        /// Hash of the copy.
        copy: Sha256Hex,
    },
    /// The bytes are not what the hash says.
    #[error(
        "the bytes of the photo {copy} have changed since its hash was taken; make its copy again"
    )]
    PhotoChanged {
        /// Hash of the copy.
        copy: Sha256Hex,
    },
    /// Not a JPEG.
    #[error("the photo {copy} is not a JPEG; make its copy again")]
    NotJpeg {
        /// Hash of the copy.
        copy: Sha256Hex,
    },
    /// A copy holds EXIF or other data beside the picture, which may tell a place.
    #[error(
        "the photo {copy} holds data beside the picture (EXIF or the like); make its copy again without"
    )]
    PhotoTells {
        /// Hash of the copy.
        copy: Sha256Hex,
    },
    /// The words of the language are not whole.
    #[error("the report's words can't be read")]
    Words(#[source] serde_json::Error),
    /// A template can't be set; what the engine says of it is the source.
    #[error("the report can't be set out: a template does not fit what it is given")]
    Template(#[from] minijinja::Error),
    /// The report can't be set for paper.
    #[error("the report can't be set for paper: {0}")]
    Pdf(String),
    /// The PDF would break a rule of PDF/UA or PDF/A; which, as the library names it.
    #[error("the report can't be set for paper: the file would break a rule of PDF/UA or PDF/A")]
    PdfRule(String),
    /// The gauge card's code can't be made.
    #[error("the code of the gauge card can't be made")]
    Card,
    /// No key to sign with.
    #[error("there is no key to sign the report with")]
    Key,
    /// The seal has no place in the file, or more than one.
    #[error("the report has no single place for its seal")]
    NoPlace,
}
