//! The archive that lessons are handed on in.

use std::fs::File;
use std::io::{BufWriter, Error, Write};

use serde::Serialize;
use swarfbook_debris::fit::{finder_sha256, names};
use swarfbook_debris::{Upright, crop_png};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::lesson::Lesson;

const FORM: &str = "swarfbook-lessons";
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Manifest<'a> {
    form: &'a str,
    version: u32,
    lessons: u64,
    finder: String,
    figures: &'a [&'a str],
}

#[derive(Serialize)]
struct Line<'a> {
    crop: &'a str,
    photo: u64,
    #[serde(flatten)]
    lesson: &'a Lesson,
}

/// A pack in the making.
pub(super) struct Pack {
    zip: ZipWriter<BufWriter<File>>,
    lines: Vec<u8>,
    lessons: u64,
}

impl Pack {
    pub(super) fn new(file: File) -> Result<Pack, Error> {
        let mut pack = Pack {
            zip: ZipWriter::new(BufWriter::new(file)),
            lines: Vec::new(),
            lessons: 0,
        };
        pack.part(
            "README.txt",
            include_bytes!("README.txt"),
            CompressionMethod::Deflated,
        )?;
        Ok(pack)
    }

    /// Adds a piece of a photo, by the photo's number in this pack.
    pub(super) fn add(
        &mut self,
        photo: u64,
        lesson: &Lesson,
        upright: &Upright,
    ) -> Result<(), Error> {
        let [from, to] = lesson.window;
        let png = crop_png(upright, from, to).map_err(Error::other)?;
        self.lessons += 1;
        let crop = format!("crops/{:06}.png", self.lessons);
        self.part(&crop, &png, CompressionMethod::Stored)?;
        let line = Line {
            crop: &crop,
            photo,
            lesson,
        };
        serde_json::to_writer(&mut self.lines, &line)?;
        self.lines.push(b'\n');
        Ok(())
    }

    pub(super) fn end(mut self) -> Result<(), Error> {
        let lines = std::mem::take(&mut self.lines);
        self.part("lessons.jsonl", &lines, CompressionMethod::Deflated)?;
        let manifest = Manifest {
            form: FORM,
            version: VERSION,
            lessons: self.lessons,
            finder: finder_sha256(),
            figures: names(),
        };
        let manifest = serde_json::to_vec(&manifest)?;
        self.part("pack.json", &manifest, CompressionMethod::Deflated)?;
        let out = self.zip.finish()?;
        out.into_inner()
            .map_err(|error| error.into_error())?
            .sync_all()
    }

    fn part(&mut self, name: &str, bytes: &[u8], how: CompressionMethod) -> Result<(), Error> {
        // No times in it, so that the same lessons make the same file.
        let options = SimpleFileOptions::DEFAULT.compression_method(how);
        self.zip.start_file(name, options)?;
        self.zip.write_all(bytes)
    }
}
