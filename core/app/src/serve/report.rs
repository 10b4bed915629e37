//! The report: as it would be now, or made, signed and noted in the log.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use swarfbook_job::fact::{Fact, LeaveOut, ReportForm};
use swarfbook_job::id::{JobId, Sha256Hex};
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::seal::{Signer, sign_html, sign_pdf};
use swarfbook_report::{Paper, ReportError};
use swarfbook_store::Store;

use swarfbook_report::words::Words;
use swarfbook_words::{Language, id, in_language, speaking};

use crate::command::{CopyAsked, Sheet};
use crate::problem::Problem;
use crate::reply::Reply;
use crate::report::{Hidden, Making, ToolsNow, content, unmade};
use crate::settings::Settings;
use crate::state::App;
use crate::state::load;
use crate::state::settings::device_settings;

pub(super) fn preview(app: &App, job: JobId, copy: CopyAsked) -> Result<Reply, Problem> {
    let (content, photos) = gather(app, job, copy)?;
    Ok(reply(
        swarfbook_report::render(&content, &photos).map_err(unmade)?,
    ))
}

pub(super) fn make(app: &App, job: JobId, copy: CopyAsked) -> Result<Reply, Problem> {
    let (html, _) = made(app, job, copy)?;
    note(app, job, html.as_bytes(), ReportForm::Page)?;
    Ok(reply(html))
}

/// The signed page, and what it says.
pub(super) fn made(app: &App, job: JobId, copy: CopyAsked) -> Result<(String, Content), Problem> {
    let (content, photos) = gather(app, job, copy)?;
    let html = signed(app, |signer| sign_html(&content, &photos, signer))?;
    Ok((html, content))
}

pub(super) fn make_pdf(
    app: &App,
    job: JobId,
    sheet: Sheet,
    copy: CopyAsked,
) -> Result<Reply, Problem> {
    let bytes = pdf(app, job, sheet, copy)?;
    Ok(Reply::ReportPdf {
        sha256: Sha256Hex::of(&bytes).to_string(),
        base64: STANDARD.encode(&bytes),
    })
}

pub(crate) fn pdf(
    app: &App,
    job: JobId,
    sheet: Sheet,
    copy: CopyAsked,
) -> Result<Vec<u8>, Problem> {
    let (content, photos) = gather(app, job, copy)?;
    let paper = match sheet {
        Sheet::A4 => Paper::A4,
        Sheet::Letter => Paper::Letter,
    };
    let bytes = signed(app, |signer| sign_pdf(&content, &photos, paper, signer))?;
    note(app, job, &bytes, ReportForm::Paper)?;
    Ok(bytes)
}

/// Texts that hold what a copy is to leave out, told before it is made.
pub(super) fn named_texts(app: &App, job: JobId, leave_out: LeaveOut) -> Result<Reply, Problem> {
    let store = app.store();
    let loaded = load(app, store, job)?;
    let hidden = Hidden::of(store, &loaded.state, leave_out)?;
    Ok(Reply::NamedTexts {
        texts: hidden.named(&loaded),
    })
}

fn gather(app: &App, job: JobId, copy: CopyAsked) -> Result<(Content, Photos), Problem> {
    let store = app.store();
    let record = super::record::of_shop(app, store)?;
    // Told in the customer's language from the log on: nothing is translated after.
    let language = copy.language.unwrap_or_else(speaking);
    let gathered = |store: &Store| {
        let loaded = load(app, store, job)?;
        let hidden = Hidden::of(store, &loaded.state, copy.leave_out)?;
        let loaded = hidden.keep_out_of(loaded);
        let settings = device_settings(store)?.unwrap_or_default();
        content(&Making {
            store,
            loaded: &loaded,
            shop_lines: shop_lines(&settings, language)?,
            shop: settings.shop,
            guard: settings.guard,
            tools: ToolsNow {
                device: store.device(),
                name: settings.technician,
                tools: hidden.keep_out_of_tools(settings.tools),
            },
            now: app.clock().now(),
            language,
            leave_out: copy.leave_out,
            left_out: hidden.sentences(),
            record: &record,
        })
    };
    in_language(language, || store.at_one_moment(gathered))
}

/// Address and telephone of the shop, as far as they were entered.
fn shop_lines(settings: &Settings, language: Language) -> Result<Vec<String>, Problem> {
    let words = Words::of(language.tag());
    let mut lines = Vec::new();
    let address = settings.address.trim();
    if !address.is_empty() {
        lines.push(address.to_owned());
    }
    let telephone = settings.telephone.trim();
    if !telephone.is_empty() {
        lines.push(words.fill(id!("report-page-telephone"), &[("number", telephone)]));
    }
    Ok(lines)
}

/// Signs with the key of this device.
fn signed<T>(
    app: &App,
    sign: impl FnOnce(&Signer<'_>) -> Result<T, ReportError>,
) -> Result<T, Problem> {
    let key = super::sync::own_key(app.store())?;
    sign(&Signer {
        public_hex: &key.public_hex(),
        sign: &|text| key.sign(text),
    })
    .map_err(unmade)
}

/// Writes that the report was made.
fn note(app: &App, job: JobId, bytes: &[u8], form: ReportForm) -> Result<(), Problem> {
    let sha256 = Sha256Hex::of(bytes);
    app.store().together(|store| {
        let (_, head) = store.head(store.device())?;
        let made = Fact::ReportMade {
            sha256,
            head,
            form: Some(form),
        };
        super::append(app, store, job, vec![made])?;
        Ok(())
    })
}

fn reply(html: String) -> Reply {
    Reply::Report {
        sha256: Sha256Hex::of(html.as_bytes()).to_string(),
        html,
    }
}
