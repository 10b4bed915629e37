//! Reading the archive, trusting nothing that it says of itself.

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Seek};

use serde::de::DeserializeOwned;
use swarfbook_job::entry::{Entry, MAX_ENTRY_BYTES, Sealed, Signature};
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;
use zip::ZipArchive;
use zip::result::ZipError;

use super::{
    CUSTOMERS, DRAFTS, Exported, FORM, FORM_VERSION, LOG, MANIFEST, Manifest, PHOTOS, PROCEDURES,
    README, SETTINGS, SIGNATURES, signatures,
};
use crate::gap::is_lost;
use crate::{MAX_PHOTO_BYTES, StoreError};

/// The most that a part which is held whole may weigh unpacked.
const MAX_PART_BYTES: u64 = 64 * 1024 * 1024;

pub(super) struct Archive<R: Read + Seek> {
    zip: ZipArchive<R>,
    manifest: Manifest,
}

impl<R: Read + Seek> Archive<R> {
    pub(super) fn open(from: R) -> Result<Archive<R>, StoreError> {
        let zip = ZipArchive::new(from).map_err(|error| match error {
            ZipError::Io(error) if error.kind() != std::io::ErrorKind::UnexpectedEof => {
                StoreError::file(say!("the-export-cant-be-read"))(error)
            }
            _ => StoreError::Export(say!("the-file-is-no-export-or-it-was")),
        })?;
        let manifest = Manifest {
            form: FORM.into(),
            version: FORM_VERSION,
            holds: Exported::default(),
            heads: BTreeMap::new(),
            signatures: 0,
        };
        let mut archive = Archive { zip, manifest };
        archive.manifest = archive.json(MANIFEST)?;
        if archive.manifest.form != FORM {
            return Err(StoreError::Export(say!("the-file-is-no-export")));
        }
        if archive.manifest.version > FORM_VERSION {
            return Err(StoreError::Export(say!(
                "the-export-has-form-version-this-version-reads",
                version = archive.manifest.version,
                form_version = FORM_VERSION
            )));
        }
        Ok(archive)
    }

    /// Reads every part once: each line canonical and in its chain, each photo
    /// what its name says, as many of each as the manifest tells. Gives the photos whose
    /// bytes are not what their names say.
    pub(super) fn look_through(&mut self) -> Result<Vec<Sha256Hex>, StoreError> {
        let lost = self.manifest.holds.not_whole.clone();
        let mut found = Exported {
            photos_missing: self.manifest.holds.photos_missing,
            not_whole: lost.clone(),
            customers: self.rows::<serde_json::Value>(CUSTOMERS)?.len() as u64,
            procedures: self.rows::<serde_json::Value>(PROCEDURES)?.len() as u64,
            ..Exported::default()
        };
        let mut heads: BTreeMap<DeviceId, Sha256Hex> = BTreeMap::new();
        let mut seqs: BTreeMap<DeviceId, u64> = BTreeMap::new();
        self.each_line(|line| {
            let Entry { device, seq, .. } = line.entry;
            let last = seqs.insert(device, seq).unwrap_or(0);
            let prev = heads.insert(device, line.hash).unwrap_or(Sha256Hex::ZERO);
            let behind_a_gap =
                seq > last + 1 && is_lost(&lost.lines_lost, device, last + 1, seq - 1);
            if line.entry.prev != prev && !behind_a_gap {
                return Err(StoreError::Export(say!(
                    "the-export-was-changed-line-seq-of-device",
                    seq = seq,
                    device = device
                )));
            }
            if !signatures::fits(line) {
                return Err(StoreError::Export(say!(
                    "the-export-was-changed-line-seq-of-device-device",
                    seq = seq,
                    device = device
                )));
            }
            found.entries += 1;
            Ok(())
        })?;
        let mut damaged = Vec::new();
        for photo in self.photos()? {
            match self.photo(photo) {
                Err(StoreError::Export(_)) => damaged.push(photo),
                read => drop(read?),
            }
            found.photos += 1;
        }
        self.rows::<serde_json::Value>(DRAFTS)?;
        self.json::<serde_json::Value>(SETTINGS)?;
        self.part(README, MAX_PART_BYTES)?;
        let mut signatures = 0;
        for name in self.names(LOG) {
            signatures += self.signatures(&name)?.len() as u64;
        }
        if found != self.manifest.holds
            || heads != self.manifest.heads
            || signatures != self.manifest.signatures
        {
            return Err(StoreError::Export(say!(
                "the-export-does-not-hold-what-its-manifest"
            )));
        }
        Ok(damaged)
    }

    /// How much it holds, as it says itself.
    pub(super) fn holds(&self) -> &Exported {
        &self.manifest.holds
    }

    /// Hands on every line, a device's in their order.
    pub(super) fn each_line(
        &mut self,
        mut take: impl FnMut(&Sealed) -> Result<(), StoreError>,
    ) -> Result<(), StoreError> {
        for name in self.names(LOG) {
            let mut signed = self.signatures(&name)?;
            let part = self.zip.by_name(&name).map_err(|_| lacks(&name))?;
            let mut part = BufReader::new(part);
            let mut line = String::new();
            loop {
                line.clear();
                // Counted, so that a line without an end can't fill the memory.
                let most = MAX_ENTRY_BYTES as u64 + 1;
                let read = part
                    .by_ref()
                    .take(most)
                    .read_line(&mut line)
                    .map_err(|_| not_unpacked(&name))?;
                if read == 0 {
                    break;
                }
                let text = line.trim_end_matches('\n');
                let mut line = Sealed::read(text).map_err(|error| changed(&name, error))?;
                if name != format!("{LOG}{}.jsonl", line.entry.device) {
                    return Err(changed(&name, say!("a-line-in-it-is-of-another-device")));
                }
                line.signature = signed.remove(&line.entry.seq);
                take(&line)?;
            }
            let device = name.trim_start_matches(LOG).trim_end_matches(".jsonl");
            let lost = |seq: u64| {
                device.parse().is_ok_and(|device| {
                    is_lost(&self.manifest.holds.not_whole.lines_lost, device, seq, seq)
                })
            };
            if !signed.keys().all(|seq| lost(*seq)) {
                return Err(changed(
                    &name,
                    say!("a-signature-belongs-to-none-of-its-lines"),
                ));
            }
        }
        Ok(())
    }

    /// The signatures of the lines in that part of the log; exports of before have none.
    fn signatures(&mut self, log: &str) -> Result<BTreeMap<u64, Signature>, StoreError> {
        let device = log.trim_start_matches(LOG).trim_end_matches(".jsonl");
        let name = format!("{SIGNATURES}{device}.txt");
        if self.zip.index_for_name(&name).is_none() {
            return Ok(BTreeMap::new());
        }
        let bytes = self.part(&name, MAX_PART_BYTES)?;
        signatures::read(&String::from_utf8_lossy(&bytes))
            .ok_or_else(|| changed(&name, say!("a-signature-in-it-cant-be-read")))
    }

    /// The photos that it has, by name.
    pub(super) fn photos(&self) -> Result<Vec<Sha256Hex>, StoreError> {
        self.names(PHOTOS)
            .iter()
            .map(|name| {
                name.trim_start_matches(PHOTOS)
                    .parse()
                    .map_err(|_| changed(name, say!("this-is-no-photos-name")))
            })
            .collect()
    }

    pub(super) fn photo(&mut self, photo: Sha256Hex) -> Result<Vec<u8>, StoreError> {
        let name = format!("{PHOTOS}{photo}");
        let bytes = self.part(&name, MAX_PHOTO_BYTES as u64)?;
        if Sha256Hex::of(&bytes) != photo {
            return Err(changed(&name, say!("its-bytes-are-not-what-its-name-says")));
        }
        Ok(bytes)
    }

    pub(super) fn json<T: DeserializeOwned>(&mut self, name: &str) -> Result<T, StoreError> {
        let bytes = self.part(name, MAX_PART_BYTES)?;
        serde_json::from_slice(&bytes).map_err(|_| misshapen(name))
    }

    pub(super) fn rows<T: DeserializeOwned>(&mut self, name: &str) -> Result<Vec<T>, StoreError> {
        let bytes = self.part(name, MAX_PART_BYTES)?;
        serde_json::Deserializer::from_slice(&bytes)
            .into_iter()
            .collect::<Result<_, _>>()
            .map_err(|_| misshapen(name))
    }

    fn part(&mut self, name: &str, most: u64) -> Result<Vec<u8>, StoreError> {
        let part = self.zip.by_name(name).map_err(|_| lacks(name))?;
        let mut bytes = Vec::new();
        // Its own account of its size is not believed.
        part.take(most + 1)
            .read_to_end(&mut bytes)
            .map_err(|_| not_unpacked(name))?;
        if bytes.len() as u64 > most {
            return Err(changed(name, say!("it-is-larger-than-any-may-be")));
        }
        Ok(bytes)
    }

    fn names(&self, within: &str) -> Vec<String> {
        let mut names: Vec<String> = self
            .zip
            .file_names()
            .filter_map(Result::ok)
            .filter(|name| name.starts_with(within) && name != within)
            .map(|name| name.into_owned())
            .collect();
        names.sort();
        names
    }
}

fn lacks(name: &str) -> StoreError {
    StoreError::Export(say!("the-file-is-no-whole-export-it-lacks", name = name))
}

fn not_unpacked(name: &str) -> StoreError {
    changed(name, say!("it-cant-be-unpacked"))
}

fn misshapen(name: &str) -> StoreError {
    changed(name, say!("its-form-is-not-that-of-such-a-part"))
}

/// `why` in our own words: a parser's are English and name places in bytes.
fn changed(name: &str, why: impl std::fmt::Display) -> StoreError {
    StoreError::Export(say!(
        "the-export-cant-be-trusted-name-was-changed",
        name = name,
        why = why
    ))
}
