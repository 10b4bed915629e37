//! Opening a link: which report, and whether it is still open.

use std::sync::Arc;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fold::{JobState, ShareState};
use swarfbook_job::id::{JobId, Sha256Hex};
use swarfbook_report::reply::{Given, ReplyPage, WithdrawnPage, reply_page, withdrawn_page};
use swarfbook_report::words::Words;
use swarfbook_store::Store;
use swarfbook_words::{Language, id, say, speaking};

use super::link::code_hash;
use crate::present::standing;
use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::report::unmade;
use crate::state::App;
use crate::state::settings::device_settings;
use crate::view::ReportStanding;

/// A link as it is used.
pub(in crate::serve) struct LinkUsed<'a> {
    /// As the link carries it; the log has its hash alone.
    pub secret: &'a str,
    /// The code that came with it; empty without.
    pub code: &'a str,
    /// Go on to the report that stands in place of this one.
    pub newest: bool,
}

impl<'a> LinkUsed<'a> {
    /// As a command brings it.
    pub fn new(secret: &'a str, code: &'a str, newest: bool) -> LinkUsed<'a> {
        LinkUsed {
            secret,
            code: code.trim(),
            newest,
        }
    }
}

/// A link that is open, and the job behind it.
pub(super) struct Opened {
    pub job: JobId,
    pub state: Arc<JobState>,
    pub share: ShareState,
    /// How its report stands.
    pub standing: ReportStanding,
    /// This link leads on to the report that stands in its place.
    pub way_on: bool,
}

pub(in crate::serve) fn page(app: &App, used: &LinkUsed<'_>) -> Result<Reply, Problem> {
    let opened = open(app, used)?;
    if let Some(page) = withdrawn(&opened, used)? {
        return Ok(page);
    }
    let (given, name) = {
        let store = app.store();
        (given(&opened), name(store, &opened)?)
    };
    show(app, &opened, used, given, &name, None, false)
}

pub(in crate::serve) fn read(app: &App, used: &LinkUsed<'_>) -> Result<Reply, Problem> {
    let opened = open(app, used)?;
    if let Some(page) = withdrawn(&opened, used)? {
        return Ok(page);
    }
    let report = opened.share.share.report;
    let unread = || {
        Problem::new(
            ProblemKind::NotFound,
            say!("the-report-behind-this-link-cant-be-read"),
            say!("ask-the-shop-for-a-new-one"),
        )
    };
    let bytes = app.store().photo(report).map_err(|_| unread())?;
    let html = String::from_utf8(bytes).map_err(|_| unread())?;
    Ok(Reply::Report {
        sha256: report.to_string(),
        html,
    })
}

/// The language of the report behind a link; the device's where it opens none.
pub(crate) fn language(app: &App, secret: &str) -> Language {
    let link = Sha256Hex::of(secret.as_bytes());
    let store = app.store();
    let Some(job) = store.job_of_link(link).ok().flatten() else {
        return speaking();
    };
    let folded = app.jobs().folded(store, job).ok();
    folded
        .iter()
        .flat_map(|folded| &folded.state.shares)
        .find(|share| share.share.link == link)
        .and_then(|share| Language::of_tag(&share.share.asked.lang))
        .unwrap_or_else(speaking)
}

/// The job and the share behind a link.
pub(super) fn open(app: &App, used: &LinkUsed<'_>) -> Result<Opened, Problem> {
    let LinkUsed { secret, code, .. } = *used;
    let link = Sha256Hex::of(secret.as_bytes());
    let store = app.store();
    let settings = device_settings(store)?.unwrap_or_default();
    let telephone = &settings.telephone;
    // A hub is one shop's, so that it may be named without knowing what was asked.
    let closed = || {
        let of = ShopSaid {
            lang: speaking().tag(),
            shop: &settings.shop,
            telephone,
        };
        Problem::new(
            ProblemKind::NotFound,
            say!("this-link-opens-no-report"),
            of.told(id!("report-reply-ask-again")),
        )
    };
    let job = store.job_of_link(link)?.ok_or_else(closed)?;
    let state = app.jobs().folded(store, job)?.state.clone();
    let share = state
        .shares
        .iter()
        .find(|share| share.share.link == link)
        .cloned()
        .ok_or_else(closed)?;
    let of = ShopSaid {
        lang: &share.share.asked.lang,
        shop: &share.share.asked.shop,
        telephone,
    };
    if app.clock().now() >= share.share.expires {
        return Err(Problem::new(
            ProblemKind::NotFound,
            say!("this-link-has-run-out"),
            of.told(id!("report-reply-ask-again")),
        ));
    }
    if let Some(wanted) = share.share.code {
        right_code(code_hash(secret, code) == wanted, code, &of)?;
    }
    let next = next(&state, &share, app.clock().now());
    let share = match next {
        Some(next) if used.newest => next.clone(),
        _ => share,
    };
    Ok(Opened {
        way_on: next.is_some() && !used.newest,
        standing: how_it_stands(&state, &share),
        job,
        share,
        state,
    })
}

/// A report whose making was taken back is as good as withdrawn.
fn how_it_stands(state: &JobState, share: &ShareState) -> ReportStanding {
    match state.report(share.share.report) {
        Some(report) => standing(state, report),
        None => ReportStanding::Withdrawn {
            at: String::new(),
            reason: String::new(),
        },
    }
}

/// The share that stands in place of one, when the same link may open it: it is
/// still open, asks for no code (which this link can't know), and tells nothing
/// that the first one left out.
fn next<'a>(
    state: &'a JobState,
    share: &ShareState,
    now: DateTime<FixedOffset>,
) -> Option<&'a ShareState> {
    if how_it_stands(state, share) == ReportStanding::Stands {
        return None;
    }
    let mut later = state.shares.iter().rev();
    later.find(|other| {
        other.stamp.entry != share.stamp.entry
            && other.share.report != share.share.report
            && other.share.code.is_none()
            && now < other.share.expires
            && other.share.leave_out.covers(share.share.leave_out)
            && how_it_stands(state, other) == ReportStanding::Stands
    })
}

/// What the link shows instead, when its report was withdrawn.
pub(super) fn withdrawn(opened: &Opened, used: &LinkUsed<'_>) -> Result<Option<Reply>, Problem> {
    let ReportStanding::Withdrawn { at, reason } = &opened.standing else {
        return Ok(None);
    };
    let page = WithdrawnPage {
        asked: &opened.share.share.asked,
        at: at.parse().ok(),
        reason,
        code: used.code,
        way_on: opened.way_on,
    };
    let html = withdrawn_page(&page).map_err(unmade)?;
    Ok(Some(Reply::Page { html }))
}

/// The shop's telephone number; empty where it was not entered.
fn telephone(app: &App) -> Result<String, Problem> {
    Ok(device_settings(app.store())?.unwrap_or_default().telephone)
}

/// Who a customer hears of, and in which language.
struct ShopSaid<'a> {
    lang: &'a str,
    shop: &'a str,
    telephone: &'a str,
}

impl ShopSaid<'_> {
    /// A sentence to the customer with the shop's name in it, and its number where it is known.
    fn told(&self, path: &str) -> String {
        let words = Words::of(self.lang);
        let name = self.shop.trim();
        let shop = if name.is_empty() {
            words.get(id!("report-reply-the-shop"))
        } else {
            name
        };
        let said = words.fill(path, &[("shop", shop)]);
        if self.telephone.trim().is_empty() {
            return said;
        }
        let number = words.fill(id!("report-page-telephone"), &[("number", self.telephone)]);
        format!("{said} {number}.")
    }
}

/// Who serves links counts the wrong codes, by where they come from.
fn right_code(right: bool, code: &str, of: &ShopSaid<'_>) -> Result<(), Problem> {
    if right {
        return Ok(());
    }
    if code.trim().is_empty() {
        return Err(Problem::new(
            ProblemKind::CodeWanted,
            of.told(id!("report-reply-code-wanted")),
            say!("type-its-six-digits"),
        ));
    }
    Err(Problem::new(
        ProblemKind::CodeWanted,
        say!("this-is-not-the-code"),
        say!("look-at-the-six-digits-again-or-ask"),
    ))
}

/// What was answered so far, by item.
fn given(opened: &Opened) -> Vec<Option<Given>> {
    let of_item = |item: &String| {
        opened
            .state
            .answers
            .iter()
            .map(|at| &at.answer)
            .find(|answer| answer.share == opened.share.stamp.entry && answer.item == *item)
            .map(|answer| Given {
                choice: Some(answer.choice),
                text: answer.text.clone(),
            })
    };
    opened.share.share.asked.items.iter().map(of_item).collect()
}

/// Who answered last by this link; empty before the first answer.
fn name(store: &Store, opened: &Opened) -> Result<String, Problem> {
    let last = opened
        .state
        .answers
        .iter()
        .rfind(|at| at.answer.share == opened.share.stamp.entry)
        .map(|at| at.answer.by);
    let Some(who) = last else {
        return Ok(String::new());
    };
    Ok(store.customer(who)?.map(|c| c.name).unwrap_or_default())
}

/// The signed page behind a link; empty where it can't be read.
fn report_text(app: &App, opened: &Opened) -> String {
    let bytes = app.store().photo(opened.share.share.report);
    bytes
        .ok()
        .and_then(|bytes| String::from_utf8(bytes).ok())
        .unwrap_or_default()
}

pub(super) fn show(
    app: &App,
    opened: &Opened,
    used: &LinkUsed<'_>,
    given: Vec<Option<Given>>,
    name: &str,
    problem: Option<String>,
    thanks: bool,
) -> Result<Reply, Problem> {
    let report = report_text(app, opened);
    let telephone = telephone(app)?;
    let page = ReplyPage {
        asked: &opened.share.share.asked,
        given,
        name,
        code: used.code,
        problem,
        thanks,
        superseded: opened.standing != ReportStanding::Stands,
        way_on: opened.way_on,
        newest: used.newest,
        report: &report,
        telephone: &telephone,
    };
    Ok(Reply::Page {
        html: reply_page(&page).map_err(unmade)?,
    })
}
