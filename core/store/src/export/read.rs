//! Taking an export in.

use std::collections::BTreeMap;
use std::io::{Read, Seek};

use serde_json::Value;
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;

use super::archive::Archive;
use super::{CUSTOMERS, DRAFTS, Draft, Exported, PROCEDURES, SETTINGS};
use crate::{Customer, Imported, ProcedureText, Source, Store, StoreError};

/// Reads an export through as an import does, and gives what it holds.
///
/// # Errors
/// [`StoreError::Export`] when it is not whole, [`StoreError::File`].
pub fn read_back(from: impl Read + Seek) -> Result<Exported, StoreError> {
    let mut archive = Archive::open(from)?;
    match archive.look_through()?.first() {
        None => Ok(archive.holds().clone()),
        Some(photo) => Err(StoreError::Export(say!(
            "the-photo-photo-in-the-export-is-damaged",
            photo = photo
        ))),
    }
}

impl Store {
    /// Takes in all that an export holds and this store lacks, all or nothing: lines
    /// by their chains, photos by their hashes, customers as in sync, and of settings
    /// those named in `settings`, as [`Store::export`] writes them. A setting or draft
    /// that is here already stays. Lines that the export lists as lost may be missing in it, and
    /// a photo in it may be damaged: what is not whole is in the answer, and the rest comes in.
    /// `refuse` sees the export's settings first, and once more while nobody else writes, and
    /// may say why it must not come in. Gives what was new.
    ///
    /// # Errors
    /// [`StoreError::Export`] when the file is no whole export, was changed, or holds a
    /// setting that no export holds; [`StoreError::Gap`] and [`StoreError::Fork`] when
    /// its lines do not fit those here, [`StoreError::Full`] and the like.
    pub fn import_export(
        &self,
        from: impl Read + Seek,
        now_millis: u64,
        settings: &[&str],
        refuse: impl Fn(&BTreeMap<String, Value>) -> Option<String>,
    ) -> Result<Exported, StoreError> {
        self.writable()?;
        let mut archive = Archive::open(from)?;
        // Everything is looked at before anything is written.
        let damaged = archive.look_through()?;
        let theirs: BTreeMap<String, Value> = archive.json(SETTINGS)?;
        // Keys are settings too: who wrote the file could plant theirs.
        if let Some(name) = theirs
            .keys()
            .find(|name| !settings.contains(&name.as_str()))
        {
            return Err(StoreError::Export(say!(
                "the-export-was-changed-it-holds-the-setting",
                name = name.escape_debug()
            )));
        }
        if let Some(why) = refuse(&theirs) {
            return Err(StoreError::Export(why));
        }
        let mut photos = Vec::new();
        let mut mended = 0;
        let taken = self
            .take_photos(&mut archive, &damaged, &mut photos, &mut mended)
            .and_then(|()| {
                self.together(|store| {
                    // Somebody else may have written since.
                    match refuse(&theirs) {
                        Some(why) => Err(StoreError::Export(why)),
                        None => store.take_rest(archive, now_millis, theirs),
                    }
                })
            });
        match taken {
            Ok(mut new) => {
                new.not_whole.photos_damaged.extend(damaged);
                photos.iter().for_each(|photo| self.arrived_whole(*photo));
                Ok(Exported {
                    photos: photos.len() as u64 + mended,
                    ..new
                })
            }
            Err(why) => {
                // No line names them; what can't be removed does no harm.
                for photo in photos {
                    self.photos.blobs.forget(photo);
                }
                Err(why)
            }
        }
    }

    /// Photos come before the lines that name them, as everywhere. One that mends a photo
    /// of this store is no new one: it stays, whatever becomes of the rest.
    fn take_photos(
        &self,
        archive: &mut Archive<impl Read + Seek>,
        damaged: &[Sha256Hex],
        new: &mut Vec<Sha256Hex>,
        mended: &mut u64,
    ) -> Result<(), StoreError> {
        for photo in archive.photos()? {
            if damaged.contains(&photo) {
                continue;
            }
            match self.photo(photo) {
                Ok(_) => {}
                Err(StoreError::Photo(_)) => {
                    self.put_photo(&archive.photo(photo)?)?;
                    new.push(photo);
                }
                Err(_) => {
                    self.put_photo(&archive.photo(photo)?)?;
                    *mended += 1;
                }
            }
        }
        Ok(())
    }

    fn take_rest(
        &self,
        mut archive: Archive<impl Read + Seek>,
        now_millis: u64,
        settings: BTreeMap<String, Value>,
    ) -> Result<Exported, StoreError> {
        let customers: Vec<Customer> = archive.rows(CUSTOMERS)?;
        let procedures: Vec<ProcedureText> = archive.rows(PROCEDURES)?;
        let drafts: Vec<Draft> = archive.rows(DRAFTS)?;
        let mut new = Exported {
            not_whole: archive.holds().not_whole.clone(),
            ..Exported::default()
        };
        let lost = archive.holds().not_whole.lines_lost.clone();
        let mut unsigned: BTreeMap<DeviceId, u64> = BTreeMap::new();
        self.import_fed(Source::Hand, now_millis, &lost, |take| {
            archive.each_line(|line| {
                let is_new = u64::from(take(line)? == Imported::New);
                new.entries += is_new;
                let of_device = unsigned.entry(line.entry.device).or_default();
                *of_device = match line.signature {
                    // It names all before it.
                    Some(_) => 0,
                    None => *of_device + is_new,
                };
                Ok(())
            })
        })?;
        new.unsigned = unsigned.values().sum();
        let known = self.customers()?.len();
        self.merge_customers(&customers, now_millis)?;
        new.customers = (self.customers()?.len() - known) as u64;
        let known = self.procedures()?.len();
        for procedure in &procedures {
            self.add_procedure(procedure)?;
        }
        new.procedures = (self.procedures()?.len() - known) as u64;
        for (name, value) in &settings {
            if self.setting::<Value>(name)?.is_none() {
                self.set(name, value)?;
            }
        }
        for draft in &drafts {
            self.at_once(|rows| rows.put_first_draft(draft.job, &draft.field, &draft.text))?;
        }
        Ok(new)
    }
}
