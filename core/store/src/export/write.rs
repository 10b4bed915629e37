//! Writing an export.

use std::collections::BTreeMap;
use std::io::{Seek, Write};

use serde::Serialize;
use swarfbook_job::entry::Sealed;
use swarfbook_job::id::DeviceId;
use swarfbook_words::say;
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipWriter};

use super::{
    CUSTOMERS, DRAFTS, Draft, Exported, FORM, FORM_VERSION, LOG, MANIFEST, Manifest, PHOTOS,
    PROCEDURES, README, SETTINGS, SIGNATURES, ending::Ending, signatures::Written,
};
use crate::log::sealed;
use crate::{LostLines, Store, StoreError};

impl Store {
    /// Writes all lines, photos, customers, procedures, drafts, and those
    /// settings that are named in `settings`; lists lines and photos that are not whole.
    /// Same store, same bytes.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`] and SQLite's.
    pub fn export(&self, to: impl Write + Seek, settings: &[&str]) -> Result<Exported, StoreError> {
        let mut archive = Archive {
            zip: ZipWriter::new(Ending::at(to)),
        };
        archive.text(README, include_str!("README.txt"))?;
        let mut holds = Exported::default();
        let mut heads = BTreeMap::new();
        let mut all_signatures = Vec::new();

        for (device, _) in self.heads()? {
            archive.begin(&format!("{LOG}{device}.jsonl"))?;
            let signatures = Written::of(self, device)?;
            let mut next = 1;
            self.each_whole_line(device, |line, has_signature| {
                let seq = line.entry.seq;
                if has_signature && !signatures.vouches_for(seq) {
                    return Ok(());
                }
                if line.entry.seq > next {
                    holds.not_whole.lines_lost.push(LostLines {
                        device,
                        first: next,
                        last: line.entry.seq - 1,
                    });
                }
                next = line.entry.seq + 1;
                heads.insert(device, line.hash);
                holds.entries += 1;
                archive.line(&line.bytes)
            })?;
            if !signatures.signed.is_empty() {
                all_signatures.push((device, signatures));
            }
            let last = self.last_seq(device)?;
            if last >= next {
                holds.not_whole.lines_lost.push(LostLines {
                    device,
                    first: next,
                    last,
                });
            }
        }
        let lost = self.read_only().map_or(0, |why| why.lost);
        let named = holds.not_whole.lines_lost.iter();
        let named = named.map(|gap| gap.last + 1 - gap.first).sum();
        holds.not_whole.lines_unnamed = lost.saturating_sub(named);
        let mut signatures = 0;
        for (device, written) in all_signatures {
            archive.text(&format!("{SIGNATURES}{device}.txt"), &written.text)?;
            signatures += written.signed.len() as u64;
        }
        let customers = self.customers()?;
        holds.customers = customers.len() as u64;
        archive.lines(CUSTOMERS, &customers)?;
        let procedures = self.procedures()?;
        holds.procedures = procedures.len() as u64;
        archive.lines(PROCEDURES, &procedures)?;
        archive.lines(DRAFTS, &self.all_drafts()?)?;
        archive.text(SETTINGS, &serde_json::to_string(&self.chosen(settings)?)?)?;

        for photo in self.photos_named()? {
            match self.photo(photo) {
                Ok(bytes) => {
                    holds.photos += 1;
                    archive.photo(&format!("{PHOTOS}{photo}"), &bytes)?;
                }
                Err(StoreError::Photo(_)) => holds.photos_missing += 1,
                // One that can't be read must not keep the others back.
                Err(_) => holds.not_whole.photos_damaged.push(photo),
            }
        }
        // Last: an archive without it was cut short.
        let manifest = Manifest {
            form: FORM.into(),
            version: FORM_VERSION,
            holds: holds.clone(),
            heads,
            signatures,
        };
        archive.text(MANIFEST, &serde_json::to_string(&manifest)?)?;
        archive.zip.finish().map_err(wrong)?;
        Ok(holds)
    }

    /// The number of a device's last line, whole or not.
    fn last_seq(&self, device: DeviceId) -> Result<u64, StoreError> {
        let last = self.rows(|rows| rows.last(device))?;
        Ok(last.map_or(0, |last| last.seq))
    }

    /// Hands on each line of a device that is as it was written, in their order, and whether
    /// something stands in the place of its signature.
    fn each_whole_line(
        &self,
        device: DeviceId,
        mut take: impl FnMut(&Sealed, bool) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        self.rows(|rows| {
            rows.after(device, 0, &mut |kept| {
                if let Ok(line) = sealed(&kept.hash, &kept.bytes)
                    && line.entry.seq == kept.seq
                    && line.entry.device == device
                {
                    take(&line, kept.signature.is_some())?;
                }
                Ok(true)
            })
        })
    }

    fn chosen(&self, names: &[&str]) -> Result<BTreeMap<String, serde_json::Value>, StoreError> {
        let mut chosen = BTreeMap::new();
        for name in names {
            if let Some(value) = self.setting(name)? {
                chosen.insert((*name).to_owned(), value);
            }
        }
        Ok(chosen)
    }

    fn all_drafts(&self) -> Result<Vec<Draft>, StoreError> {
        let drafts = self.rows(|rows| rows.all_drafts())?.into_iter();
        let drafts = drafts.map(|(job, field, text)| Draft { job, field, text });
        Ok(drafts.collect())
    }
}

struct Archive<W: Write + Seek> {
    zip: ZipWriter<Ending<W>>,
}

impl<W: Write + Seek> Archive<W> {
    fn begin(&mut self, name: &str) -> Result<(), StoreError> {
        // Without the fields for more than 4 GB, which not every reader knows: ten
        // million lines would be needed, and then it is told, not cut.
        let form = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
        self.zip.start_file(name, form).map_err(wrong)
    }

    fn line(&mut self, line: &str) -> Result<(), StoreError> {
        self.bytes(line.as_bytes())?;
        self.bytes(b"\n")
    }

    fn lines<T: Serialize>(&mut self, name: &str, rows: &[T]) -> Result<(), StoreError> {
        self.begin(name)?;
        rows.iter()
            .try_for_each(|row| self.line(&serde_json::to_string(row)?))
    }

    fn text(&mut self, name: &str, text: &str) -> Result<(), StoreError> {
        self.begin(name)?;
        self.bytes(text.as_bytes())
    }

    /// Photos are packed already: stored as they are, so that any tool can cut them out.
    fn photo(&mut self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let form = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
        self.zip.start_file(name, form).map_err(wrong)?;
        self.bytes(bytes)
    }

    fn bytes(&mut self, bytes: &[u8]) -> Result<(), StoreError> {
        self.zip
            .write_all(bytes)
            .map_err(StoreError::file(say!("the-export-cant-be-written")))
    }
}

fn wrong(error: zip::result::ZipError) -> StoreError {
    StoreError::file(say!("the-export-cant-be-written"))(error.into())
}
