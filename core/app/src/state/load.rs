//! A job with all that tells of it.

use std::sync::{Arc, OnceLock};

use swarfbook_job::fold::JobState;
use swarfbook_job::id::JobId;
use swarfbook_job::procedure::Procedure;
use swarfbook_judge::history::{self, Other};
use swarfbook_judge::{Beside, Judged};
use swarfbook_measure::code::Table;
use swarfbook_measure::unit::Units;
use swarfbook_store::Store;
use swarfbook_words::{Language, in_language, speaking};

use super::fold::{Folded, lock};
use super::past::others;
use super::{App, settings};
use crate::problem::Problem;

/// A job as the log tells it, with the procedure that it follows and what follows from it.
pub(crate) struct Loaded {
    pub state: Arc<JobState>,
    pub procedure: Arc<Procedure>,
    /// The units that this device is told numbers in.
    pub units: Units,
    folded: Arc<Folded>,
    judgement: Arc<Judgement>,
}

/// A judgement with all that it rests on beside the job's own lines.
pub(super) struct Judgement {
    /// Its sentences are in this one.
    language: Language,
    others: Arc<Vec<Other>>,
    codes: Arc<Table>,
    beside: Beside,
    judged: OnceLock<Judged>,
}

/// As many judgements as languages are kept of a job.
const JUDGED: usize = 2;

impl Loaded {
    /// What is judged about the job, worked out when it is first asked for.
    pub fn judged(&self) -> &Judged {
        let Judgement {
            language,
            beside,
            judged,
            ..
        } = &*self.judgement;
        judged.get_or_init(|| in_language(*language, || Judged::of(&self.state, beside)))
    }

    /// What is known beside the job.
    pub fn beside(&self) -> &Beside {
        &self.judgement.beside
    }

    /// The lines that it was made from.
    pub fn folded(&self) -> &Folded {
        &self.folded
    }

    /// The same job as other lines would tell it; nothing of that is kept.
    pub fn with_state(self, state: JobState) -> Loaded {
        let Judgement {
            language,
            others,
            codes,
            beside,
            ..
        } = &*self.judgement;
        Loaded {
            state: Arc::new(state),
            judgement: Arc::new(Judgement {
                language: *language,
                others: others.clone(),
                codes: codes.clone(),
                beside: beside.clone(),
                judged: OnceLock::new(),
            }),
            ..self
        }
    }
}

/// A job of this device.
///
/// # Errors
/// As the store's; when there is no such job, or its procedure is not here.
pub(crate) fn load(app: &App, store: &Store, job: JobId) -> Result<Loaded, Problem> {
    let folded = app.jobs().folded(store, job)?;
    let others = others(app.jobs(), store, &folded)?;
    with(app, store, folded, others)
}

/// The same without the car's earlier visits, and not kept: for its row in the list.
///
/// # Errors
/// As [`load`].
pub(crate) fn load_alone(app: &App, store: &Store, job: JobId) -> Result<Loaded, Problem> {
    let folded = app.jobs().glanced(store, job)?;
    with(app, store, folded, Arc::default())
}

fn with(
    app: &App,
    store: &Store,
    folded: Arc<Folded>,
    others: Arc<Vec<Other>>,
) -> Result<Loaded, Problem> {
    let codes = app.jobs().texts.codes(store)?;
    Ok(Loaded {
        procedure: app
            .jobs()
            .procedure(store, folded.state.procedure.as_ref())?,
        units: settings::units(store)?,
        state: folded.state.clone(),
        judgement: judgement(&folded, others, codes),
        folded,
    })
}

fn judgement(folded: &Folded, others: Arc<Vec<Other>>, codes: Arc<Table>) -> Arc<Judgement> {
    let language = speaking();
    let same = |known: &&Arc<Judgement>| {
        known.language == language
            && Arc::ptr_eq(&known.codes, &codes)
            && (Arc::ptr_eq(&known.others, &others) || known.others.is_empty() && others.is_empty())
    };
    let mut kept = lock(&folded.judgements);
    if let Some(known) = kept.iter().find(same) {
        return known.clone();
    }
    let judgement = Arc::new(Judgement {
        language,
        beside: Beside {
            earlier: history::earlier(&others, &folded.state),
            chosen: history::chosen_before(&others, &folded.state),
            codes: codes.clone(),
        },
        others,
        codes,
        judged: OnceLock::new(),
    });
    kept.insert(0, judgement.clone());
    kept.truncate(JUDGED);
    judgement
}
