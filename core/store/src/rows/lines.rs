//! Rows of the log: lines as they were sealed, who may write them, which wait.

use swarfbook_job::entry::Sealed;
use swarfbook_job::id::{CustomerId, DeviceId, EntryId, JobId, Sha256Hex};

use crate::StoreError;

/// A line as it is kept, not yet looked at: a disk may have changed it.
#[derive(Debug, Clone)]
pub(crate) struct KeptLine {
    pub seq: u64,
    pub hash: String,
    pub bytes: String,
    pub signature: Option<String>,
}

/// The last line of a device.
#[derive(Debug, Clone)]
pub(crate) struct LastLine {
    pub seq: u64,
    pub hash: String,
    pub is_signed: bool,
}

/// Takes lines one by one; `false` wants no more.
pub(crate) type Take<'a> = &'a mut dyn FnMut(&KeptLine) -> Result<bool, StoreError>;

/// Lines, by device and number, and by job in the order in which they came in.
pub(crate) trait Lines {
    /// The last one of a device.
    fn last(&self, device: DeviceId) -> Result<Option<LastLine>, StoreError>;

    /// One of a device by its number.
    fn line(&self, device: DeviceId, seq: u64) -> Result<Option<KeptLine>, StoreError>;

    /// The hash alone of one.
    fn hash(&self, device: DeviceId, seq: u64) -> Result<Option<String>, StoreError>;

    /// Those of a device behind number `seq`, in order.
    fn after(&self, device: DeviceId, seq: u64, take: Take<'_>) -> Result<(), StoreError>;

    /// Each device with the number of its last line, and how many there are.
    fn devices(&self) -> Result<Vec<(DeviceId, u64, u64)>, StoreError>;

    /// Those of a job that do not wait, without the first `skip`.
    fn of_job(&self, job: JobId, skip: u32, take: Take<'_>) -> Result<(), StoreError>;

    /// How many of a job do not wait, and which of them came in last.
    fn job_head(&self, job: JobId) -> Result<Option<(u32, EntryId)>, StoreError>;

    /// Those of a job without a signature.
    fn unsigned(&self, job: JobId) -> Result<Vec<EntryId>, StoreError>;

    /// Adds one. Its id, and its number among those of its device, must be new.
    fn insert(&self, line: &Sealed) -> Result<(), StoreError>;

    /// Has a line wait, until so many milliseconds since 1970.
    fn hold(&self, line: EntryId, job: JobId, until: i64) -> Result<(), StoreError>;

    /// Those that wait for a time up to `now`.
    fn due(&self, now: i64) -> Result<Vec<KeptLine>, StoreError>;

    /// Lets a line count.
    fn release(&self, line: EntryId) -> Result<(), StoreError>;

    /// How many wait.
    fn waiting(&self) -> Result<u64, StoreError>;

    /// The key that a device's lines are taken in under.
    fn writer(&self, device: DeviceId) -> Result<Option<String>, StoreError>;

    /// The other way round; of several devices the first by name.
    fn writer_with(&self, key: &str) -> Result<Option<DeviceId>, StoreError>;

    /// Sets that key.
    fn set_writer(&self, device: DeviceId, key: &str) -> Result<(), StoreError>;

    /// Notes that a line names a photo.
    fn name_photo(&self, photo: Sha256Hex) -> Result<(), StoreError>;

    /// Photos that were noted, in order.
    fn photos_named(&self) -> Result<Vec<Sha256Hex>, StoreError>;

    /// Whether one was.
    fn is_photo_named(&self, photo: Sha256Hex) -> Result<bool, StoreError>;

    /// Notes that a line of a job makes a link.
    fn name_link(&self, link: Sha256Hex, job: JobId) -> Result<(), StoreError>;

    /// The job that a link is of.
    fn job_of_link(&self, link: Sha256Hex) -> Result<Option<JobId>, StoreError>;

    /// Notes that a line of a job names a customer.
    fn name_customer(&self, customer: CustomerId, job: JobId) -> Result<(), StoreError>;

    /// Notes that a line of a job names a car by this plate or VIN.
    fn name_car(&self, car: &str, job: JobId) -> Result<(), StoreError>;
}
