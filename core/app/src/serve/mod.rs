//! One file a verb: what each command does.

mod calibration;
mod census;
mod codes;
mod costs;
mod customer;
pub(crate) mod export;
mod jobs;
pub(crate) mod lessons;
mod log;
mod numbers;
mod open_job;
mod part_sets;
pub(crate) mod photo;
mod procedures;
pub(crate) mod record;
pub(crate) mod report;
mod settings;
mod settle;
pub(crate) mod share;
mod start;
pub(crate) mod sync;
mod undo;
mod vin;
mod write;

use std::sync::Arc;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use swarfbook_job::fact::Fact;
use swarfbook_job::fold::{JobState, fold};
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_store::{NewEntry, Store};
use swarfbook_words::{decided, in_language, speaking};

use crate::command::{Command, CopyAsked};
use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::settings::{device_settings, units};
use crate::state::{hand, load};
use crate::view::JobView;
use share::LinkUsed;

/// Does `what` with everything said in the language of this device.
pub(crate) fn speak<T>(app: &App, what: impl FnOnce() -> T) -> T {
    // Within a carrier's own words it was decided already, and is not read again.
    if decided().is_some() {
        return what();
    }
    // Settings that can't be read are told by what reads them.
    let settings = device_settings(app.store()).ok().flatten();
    let language = settings.and_then(|settings| settings.language);
    in_language(language.unwrap_or_default(), what)
}

pub(crate) fn serve(app: &App, command: Command) -> Result<Reply, Problem> {
    if only_reads(&command) {
        return app.store().at_one_moment(|_| done(app, command));
    }
    done(app, command)
}

/// Whether a command writes nothing at all, not even what is derived. Those that make a report
/// or a list read their moment themselves, behind what they write.
fn only_reads(command: &Command) -> bool {
    matches!(
        command,
        Command::Start {}
            | Command::Job { .. }
            | Command::Photo { .. }
            | Command::Log { .. }
            | Command::NamedTexts { .. }
            | Command::Costs { .. }
            | Command::OpenShared { .. }
            | Command::ReadShared { .. }
            | Command::Settings {}
            | Command::Procedures {}
            | Command::PlanTightening { .. }
            | Command::CodeTable {}
            | Command::PartSets {}
            | Command::SyncState {}
    )
}

fn done(app: &App, command: Command) -> Result<Reply, Problem> {
    match command {
        Command::Start {} => start::start(app),
        Command::Jobs {
            search,
            skip,
            limit,
        } => jobs::jobs(app, &search, skip, limit),
        Command::OpenJob { procedure } => open_job::open(app, procedure),
        Command::Job { job } => reply_job(app, job),
        Command::Write { job, fact, sure } => write::write(app, job, *fact, sure),
        Command::WriteDisplayed {
            job,
            step,
            photo,
            component,
            reading,
            sure,
        } => {
            let taken = write::Displayed {
                step,
                photo,
                component,
                reading: *reading,
            };
            write::displayed(app, job, taken, sure)
        }
        Command::Undo { job } => undo::undo(app, job),
        Command::Retract { job, entry, reason } => undo::retract(app, job, entry, reason),
        Command::TakeCensus { job, photo } => census::take(app, job, photo),
        Command::Photo { job, photo } => census::show(app, job, photo),
        Command::SaveCustomer { job, name, contact } => customer::save(app, job, &name, &contact),
        Command::EraseCustomer { customer } => customer::erase(app, customer),
        Command::Log { job } => log::log(app, job),
        Command::PreviewReport {
            job,
            leave_out,
            language,
        } => report::preview(
            app,
            job,
            CopyAsked {
                leave_out,
                language,
            },
        ),
        Command::Costs { job } => costs::costs(app, job),
        Command::NamedTexts { job, leave_out } => report::named_texts(app, job, leave_out),
        Command::MakeReport {
            job,
            leave_out,
            language,
        } => report::make(
            app,
            job,
            CopyAsked {
                leave_out,
                language,
            },
        ),
        Command::ShareReport {
            job,
            base,
            days,
            with_code,
            leave_out,
            language,
        } => {
            let asked = share::LinkAsked {
                base,
                days,
                with_code,
                copy: CopyAsked {
                    leave_out,
                    language,
                },
            };
            share::share(app, job, asked)
        }
        Command::OpenShared {
            secret,
            code,
            newest,
        } => in_language(share::language(app, &secret), || {
            share::page(app, &LinkUsed::new(&secret, &code, newest))
        }),
        Command::ReadShared {
            secret,
            code,
            newest,
        } => in_language(share::language(app, &secret), || {
            share::read(app, &LinkUsed::new(&secret, &code, newest))
        }),
        Command::AnswerShared {
            secret,
            code,
            newest,
            name,
            answers,
        } => in_language(share::language(app, &secret), || {
            let used = LinkUsed::new(&secret, &code, newest);
            share::answer(app, &used, &name, &answers)
        }),
        Command::MakeReportPdf {
            job,
            sheet,
            leave_out,
            language,
        } => report::make_pdf(
            app,
            job,
            sheet,
            CopyAsked {
                leave_out,
                language,
            },
        ),
        Command::KeepDraft { job, field, text } => settings::keep_draft(app, job, &field, &text),
        Command::StandAt { job, place } => settings::stand_at(app, job, place),
        Command::GaugeCard { language } => {
            let base64 = STANDARD.encode(crate::report::card(language.unwrap_or_else(speaking))?);
            Ok(Reply::GaugeCard { base64 })
        }
        Command::Record {} => record::show(app),
        Command::Settings {} => settings::get(app),
        Command::SaveSettings { settings } => settings::save(app, settings),
        Command::Procedures {} => procedures::list(app),
        Command::AddProcedure { text } => procedures::add(app, &text),
        Command::PlanTightening { job, asked } => {
            let store = app.store();
            let folded = app.jobs().folded(store, job)?;
            let units = units(store)?;
            let plan = Box::new(crate::present::tighten::planned(
                &folded.state,
                &asked,
                units,
            )?);
            Ok(Reply::Tightening { plan })
        }
        Command::ReadNumbers { typed } => numbers::read(app, &typed),
        Command::ReadVin { photo } => vin::read(app, photo),
        Command::CodeTable {} => codes::show(app),
        Command::SetCodeTable { text } => codes::set(app, &text),
        Command::ReadCode { typed, bytes } => codes::read(&typed, bytes),
        Command::PartSets {} => part_sets::list(app),
        Command::SavePartSet { job, name } => part_sets::save(app, job, &name),
        Command::ForgetPartSet { name } => part_sets::forget(app, &name),
        Command::Pair {
            address,
            code,
            fingerprint,
        } => sync::pair(app, &address, &code, &fingerprint),
        Command::SyncNow {} => sync::now(app),
        Command::SyncState {} => sync::state(app),
    }
}

pub(crate) fn job_view(app: &App, job: JobId) -> Result<Box<JobView>, Problem> {
    app.store().at_one_moment(|store| {
        let loaded = load(app, store, job)?;
        crate::present::job(store, &loaded).map(Box::new)
    })
}

fn reply_job(app: &App, job: JobId) -> Result<Reply, Problem> {
    Ok(Reply::Job {
        job: job_view(app, job)?,
    })
}

/// Appends lines of one job at the time of now, behind those that say whose hand writes
/// them where the job does not know it; gives the last one's id. Within [`Store::together`],
/// with all that the lines follow from: somebody else may write the same.
pub(crate) fn append(
    app: &App,
    store: &Store,
    job: JobId,
    facts: Vec<Fact>,
) -> Result<Option<EntryId>, Problem> {
    // A job that begins has no lines yet.
    let state = match store.job_head(job)? {
        Some(_) => app.jobs().folded(store, job)?.state.clone(),
        None => Arc::new(fold(job, [])),
    };
    append_to(app, store, &state, facts)
}

/// The same to a job that is at hand as it stands.
fn append_to(
    app: &App,
    store: &Store,
    state: &JobState,
    facts: Vec<Fact>,
) -> Result<Option<EntryId>, Problem> {
    let (job, now) = (state.id, app.clock().now());
    let lines: Vec<NewEntry> = hand::signature(store, state)?
        .into_iter()
        .chain(facts)
        .map(|fact| NewEntry { job, fact, now })
        .collect();
    Ok(store.append(&lines)?.last().map(|line| line.entry.id))
}
