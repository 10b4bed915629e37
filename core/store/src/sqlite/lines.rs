//! Rows of the log in SQLite.

use rusqlite::types::ValueRef;
use rusqlite::{OptionalExtension, Row, params};
use swarfbook_job::entry::Sealed;
use swarfbook_job::id::{CustomerId, DeviceId, EntryId, JobId, Sha256Hex};

use super::Sql;
use crate::StoreError;
use crate::rows::{KeptLine, LastLine, Lines};

/// The columns of a [`KeptLine`].
const KEPT: &str = "seq, hash, bytes, signature";

/// What a disk made of a text is read all the same: a hash tells.
fn text(value: ValueRef<'_>) -> String {
    let bytes = match value {
        ValueRef::Text(bytes) | ValueRef::Blob(bytes) => bytes,
        _ => &[],
    };
    String::from_utf8_lossy(bytes).into_owned()
}

fn kept(row: &Row<'_>) -> rusqlite::Result<KeptLine> {
    Ok(KeptLine {
        seq: row.get(0)?,
        hash: text(row.get_ref(1)?),
        bytes: text(row.get_ref(2)?),
        signature: match row.get_ref(3)? {
            ValueRef::Null => None,
            there => Some(text(there)),
        },
    })
}

impl Lines for Sql<'_> {
    fn last(&self, device: DeviceId) -> Result<Option<LastLine>, StoreError> {
        Ok(self
            .0
            .prepare_cached(
                "SELECT seq, hash, signature IS NOT NULL FROM entry
                 WHERE device = ?1 ORDER BY seq DESC LIMIT 1",
            )?
            .query_row([device.to_string()], |row| {
                Ok(LastLine {
                    seq: row.get(0)?,
                    hash: text(row.get_ref(1)?),
                    is_signed: row.get(2)?,
                })
            })
            .optional()?)
    }

    fn line(&self, device: DeviceId, seq: u64) -> Result<Option<KeptLine>, StoreError> {
        Ok(self
            .0
            .prepare_cached(&format!(
                "SELECT {KEPT} FROM entry WHERE device = ?1 AND seq = ?2"
            ))?
            .query_row(params![device.to_string(), seq], kept)
            .optional()?)
    }

    fn hash(&self, device: DeviceId, seq: u64) -> Result<Option<String>, StoreError> {
        Ok(self
            .0
            .prepare_cached("SELECT hash FROM entry WHERE device = ?1 AND seq = ?2")?
            .query_row(params![device.to_string(), seq], |row| {
                Ok(text(row.get_ref(0)?))
            })
            .optional()?)
    }

    fn after(
        &self,
        device: DeviceId,
        seq: u64,
        take: &mut dyn FnMut(&KeptLine) -> Result<bool, StoreError>,
    ) -> Result<(), StoreError> {
        let mut query = self.0.prepare_cached(&format!(
            "SELECT {KEPT} FROM entry WHERE device = ?1 AND seq > ?2 ORDER BY seq"
        ))?;
        let mut rows = query.query(params![device.to_string(), seq])?;
        while let Some(row) = rows.next()? {
            if !take(&kept(row)?)? {
                break;
            }
        }
        Ok(())
    }

    fn devices(&self) -> Result<Vec<(DeviceId, u64, u64)>, StoreError> {
        let mut query = self
            .0
            .prepare_cached("SELECT device, MAX(seq), COUNT(*) FROM entry GROUP BY device")?;
        let rows = query.query_map([], |row| {
            Ok((row.get::<_, String>(0)?, row.get(1)?, row.get(2)?))
        })?;
        let mut devices = Vec::new();
        for row in rows {
            let (name, last, count) = row?;
            devices.extend(name.parse().ok().map(|device| (device, last, count)));
        }
        Ok(devices)
    }

    fn of_job(
        &self,
        job: JobId,
        skip: u32,
        take: &mut dyn FnMut(&KeptLine) -> Result<bool, StoreError>,
    ) -> Result<(), StoreError> {
        let counted = self.counted(job)?;
        let mut query = self.0.prepare_cached(&format!(
            "SELECT {KEPT} FROM entry WHERE {counted} ORDER BY rowid LIMIT -1 OFFSET ?2"
        ))?;
        let mut rows = query.query(params![job.to_string(), skip])?;
        while let Some(row) = rows.next()? {
            if !take(&kept(row)?)? {
                break;
            }
        }
        Ok(())
    }

    fn job_head(&self, job: JobId) -> Result<Option<(u32, EntryId)>, StoreError> {
        let counted = self.counted(job)?;
        let head: Option<(u32, String)> = self
            .0
            .prepare_cached(&format!(
                "SELECT last.lines, entry.id
                 FROM (SELECT COUNT(*) AS lines, MAX(rowid) AS at FROM entry WHERE {counted}) AS last
                 JOIN entry ON entry.rowid = last.at"
            ))?
            .query_row([job.to_string()], |row| Ok((row.get(0)?, row.get(1)?)))
            .optional()?;
        Ok(head.and_then(|(lines, last)| Some((lines, last.parse().ok()?))))
    }

    fn unsigned(&self, job: JobId) -> Result<Vec<EntryId>, StoreError> {
        self.ids(
            "SELECT id FROM entry WHERE job = ?1 AND signature IS NULL",
            [job.to_string()],
        )
    }

    fn insert(&self, line: &Sealed) -> Result<(), StoreError> {
        let entry = &line.entry;
        self.0
            .prepare_cached(
                "INSERT INTO entry (id, job, device, seq, hash, bytes, signature)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            )?
            .execute(params![
                entry.id.to_string(),
                entry.job.to_string(),
                entry.device.to_string(),
                entry.seq,
                line.hash.to_string(),
                line.bytes,
                line.signature.as_ref().map(|by| &by.signature),
            ])?;
        Ok(())
    }

    fn hold(&self, line: EntryId, job: JobId, until: i64) -> Result<(), StoreError> {
        self.0
            .prepare_cached("INSERT INTO waiting (entry, job, until) VALUES (?1, ?2, ?3)")?
            .execute(params![line.to_string(), job.to_string(), until])?;
        Ok(())
    }

    fn due(&self, now: i64) -> Result<Vec<KeptLine>, StoreError> {
        let mut query = self.0.prepare_cached(&format!(
            "SELECT {KEPT} FROM entry JOIN waiting ON waiting.entry = entry.id WHERE until <= ?1"
        ))?;
        let rows = query.query_map([now], kept)?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    fn release(&self, line: EntryId) -> Result<(), StoreError> {
        self.0
            .prepare_cached("DELETE FROM waiting WHERE entry = ?1")?
            .execute([line.to_string()])?;
        Ok(())
    }

    fn waiting(&self) -> Result<u64, StoreError> {
        Ok(self
            .0
            .query_row("SELECT COUNT(*) FROM waiting", [], |row| row.get(0))?)
    }

    fn writer(&self, device: DeviceId) -> Result<Option<String>, StoreError> {
        Ok(self
            .0
            .prepare_cached("SELECT public_key FROM writer WHERE device = ?1")?
            .query_row([device.to_string()], |row| row.get(0))
            .optional()?)
    }

    fn writer_with(&self, key: &str) -> Result<Option<DeviceId>, StoreError> {
        let devices = self.ids(
            "SELECT device FROM writer WHERE public_key = ?1 ORDER BY device",
            [key],
        )?;
        Ok(devices.first().copied())
    }

    fn set_writer(&self, device: DeviceId, key: &str) -> Result<(), StoreError> {
        self.0
            .prepare_cached(
                "INSERT INTO writer (device, public_key) VALUES (?1, ?2)
                 ON CONFLICT (device) DO UPDATE SET public_key = excluded.public_key",
            )?
            .execute(params![device.to_string(), key])?;
        Ok(())
    }

    fn name_photo(&self, photo: Sha256Hex) -> Result<(), StoreError> {
        self.0
            .prepare_cached("INSERT OR IGNORE INTO photo_named (photo) VALUES (?1)")?
            .execute([photo.to_string()])?;
        Ok(())
    }

    fn photos_named(&self) -> Result<Vec<Sha256Hex>, StoreError> {
        self.ids("SELECT photo FROM photo_named ORDER BY photo", [])
    }

    fn is_photo_named(&self, photo: Sha256Hex) -> Result<bool, StoreError> {
        Ok(self
            .0
            .prepare_cached("SELECT EXISTS (SELECT 1 FROM photo_named WHERE photo = ?1)")?
            .query_row([photo.to_string()], |row| row.get(0))?)
    }

    fn name_link(&self, link: Sha256Hex, job: JobId) -> Result<(), StoreError> {
        self.0
            .prepare_cached("INSERT OR IGNORE INTO link_named (link, job) VALUES (?1, ?2)")?
            .execute(params![link.to_string(), job.to_string()])?;
        Ok(())
    }

    fn job_of_link(&self, link: Sha256Hex) -> Result<Option<JobId>, StoreError> {
        let jobs = self.ids(
            "SELECT job FROM link_named WHERE link = ?1",
            [link.to_string()],
        )?;
        Ok(jobs.first().copied())
    }

    fn name_customer(&self, customer: CustomerId, job: JobId) -> Result<(), StoreError> {
        self.0
            .prepare_cached("INSERT OR IGNORE INTO customer_named (customer, job) VALUES (?1, ?2)")?
            .execute(params![customer.to_string(), job.to_string()])?;
        Ok(())
    }

    fn name_car(&self, car: &str, job: JobId) -> Result<(), StoreError> {
        self.0
            .prepare_cached("INSERT OR IGNORE INTO car_named (car, job) VALUES (?1, ?2)")?
            .execute(params![car, job.to_string()])?;
        Ok(())
    }
}

impl Sql<'_> {
    /// Which rows of `entry` count of the job that is the first parameter. Seldom does any
    /// wait, and the index alone answers then.
    fn counted(&self, job: JobId) -> Result<&'static str, StoreError> {
        let waits: bool = self
            .0
            .prepare_cached("SELECT EXISTS (SELECT 1 FROM waiting WHERE job = ?1)")?
            .query_row([job.to_string()], |row| row.get(0))?;
        Ok(if waits {
            "job = ?1 AND id NOT IN (SELECT entry FROM waiting)"
        } else {
            "job = ?1"
        })
    }
}
