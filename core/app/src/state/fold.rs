//! Folds, kept by the head of a job's lines and made anew only when lines came.

use std::collections::{BTreeSet, VecDeque};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use swarfbook_job::entry::Entry;
use swarfbook_job::fold::{JobState, fold};
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_job::procedure::Procedure;
use swarfbook_store::{JobHead, Store};
use swarfbook_words::say;

use super::load::Judgement;
use super::past::Past;
use super::texts::Texts;
use crate::problem::Problem;

/// How many jobs are kept at a time: more than one device has in hand. One with four counted
/// photos holds some 2 MB.
const KEPT: usize = 12;

/// The jobs that were asked for last, the newest first, and what every job needs.
#[derive(Default)]
pub(crate) struct Jobs {
    kept: Mutex<VecDeque<Arc<Folded>>>,
    pub(super) texts: Texts,
}

/// What the log of a job tells, and what was made of it.
pub(crate) struct Folded {
    head: JobHead,
    entries: Vec<Arc<Entry>>,
    unsigned: BTreeSet<EntryId>,
    pub state: Arc<JobState>,
    /// Its procedure is here, and says what its lines mean.
    is_read: bool,
    /// Other jobs of its car as they were when they were last asked for.
    pub(super) past: Mutex<Option<Past>>,
    pub(super) judgements: Mutex<Vec<Arc<Judgement>>>,
}

impl Folded {
    fn of(
        store: &Store,
        texts: &Texts,
        job: JobId,
        head: JobHead,
        entries: Vec<Arc<Entry>>,
        unsigned: BTreeSet<EntryId>,
    ) -> Folded {
        let state = fold(job, entries.iter().map(Arc::as_ref));
        let roles = texts.roles(store, state.procedure.as_ref()).ok();
        Folded {
            head,
            entries,
            unsigned,
            is_read: roles.is_some(),
            state: Arc::new(state.read_by(roles.unwrap_or_default())),
            past: Mutex::default(),
            judgements: Mutex::default(),
        }
    }

    /// It holds all of the log, read by its procedure, which may have come in since.
    fn stands(&self, head: &JobHead) -> bool {
        self.head == *head && self.is_read
    }

    /// Whether nobody signed a line.
    pub fn is_unsigned(&self, line: EntryId) -> bool {
        self.unsigned.contains(&line)
    }

    /// The lines that it was made from.
    pub fn entries(&self) -> impl Iterator<Item = &Entry> {
        self.entries.iter().map(Arc::as_ref)
    }
}

impl Jobs {
    /// A job as its log tells it now; it is kept.
    ///
    /// # Errors
    /// As the store's, and when there is no such job.
    pub fn folded(&self, store: &Store, job: JobId) -> Result<Arc<Folded>, Problem> {
        let head = head(store, job)?;
        let known = self.known(job);
        if let Some(known) = known.as_ref().filter(|known| known.stands(&head)) {
            return Ok(known.clone());
        }
        let folded = match known {
            Some(known) => self.grown(store, &known, head)?,
            None => None,
        };
        let folded = match folded {
            Some(folded) => folded,
            None => self.read(store, job, head)?,
        };
        let folded = Arc::new(folded);
        self.keep(folded.clone());
        Ok(folded)
    }

    /// The same for a job that is looked at beside others: it takes no other's place.
    ///
    /// # Errors
    /// As [`Jobs::folded`].
    pub fn glanced(&self, store: &Store, job: JobId) -> Result<Arc<Folded>, Problem> {
        let head = head(store, job)?;
        let mut kept = lock(&self.kept).iter().cloned().collect::<Vec<_>>();
        kept.retain(|known| known.state.id == job && known.stands(&head));
        match kept.pop() {
            Some(known) => Ok(known),
            None => Ok(Arc::new(self.read(store, job, head)?)),
        }
    }

    /// The procedure that a job follows, by id and version, in the language that is spoken.
    ///
    /// # Errors
    /// As the store's, and when it is not here.
    pub fn procedure(
        &self,
        store: &Store,
        followed: Option<&(String, u32)>,
    ) -> Result<Arc<Procedure>, Problem> {
        self.texts.procedure(store, followed)
    }

    fn read(&self, store: &Store, job: JobId, head: JobHead) -> Result<Folded, Problem> {
        let entries = store.entries(job)?.into_iter().map(Arc::new).collect();
        let unsigned = store.unsigned(job)?;
        let texts = &self.texts;
        Ok(Folded::of(store, texts, job, head, entries, unsigned))
    }

    /// The same job with the lines that came in since; `None` where `known` holds lines that were
    /// never committed.
    fn grown(
        &self,
        store: &Store,
        known: &Folded,
        head: JobHead,
    ) -> Result<Option<Folded>, Problem> {
        let Some(more) = store.entries_behind(known.state.id, &known.head)? else {
            return Ok(None);
        };
        let entries = known.entries.iter().cloned();
        let entries = entries.chain(more.into_iter().map(Arc::new)).collect();
        let (job, texts) = (known.state.id, &self.texts);
        let folded = Folded::of(store, texts, job, head, entries, store.unsigned(job)?);
        // It holds only for the same car, which it says of itself.
        *lock(&folded.past) = lock(&known.past).clone();
        Ok(Some(folded))
    }

    fn known(&self, job: JobId) -> Option<Arc<Folded>> {
        let mut kept = lock(&self.kept);
        let at = kept.iter().position(|known| known.state.id == job)?;
        let known = kept.remove(at)?;
        kept.push_front(known.clone());
        Some(known)
    }

    fn keep(&self, folded: Arc<Folded>) {
        let mut kept = lock(&self.kept);
        kept.retain(|known| known.state.id != folded.state.id);
        kept.push_front(folded);
        kept.truncate(KEPT);
    }
}

/// Whoever panicked while holding it left it whole.
pub(super) fn lock<T>(kept: &Mutex<T>) -> MutexGuard<'_, T> {
    kept.lock().unwrap_or_else(PoisonError::into_inner)
}

pub(super) fn head(store: &Store, job: JobId) -> Result<JobHead, Problem> {
    store
        .job_head(job)?
        .ok_or_else(|| Problem::not_found(say!("there-is-no-such-job-on-this-device")))
}
