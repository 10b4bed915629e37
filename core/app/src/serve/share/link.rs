//! Making a link.

use chrono::Duration;
use swarfbook_job::fact::{Asked, Fact, ReportForm, Share};
use swarfbook_job::id::{JobId, Sha256Hex};

use swarfbook_words::say;

use crate::command::CopyAsked;
use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::serve::{append, job_view, report, sync};
use crate::state::App;

/// 160 bits: more than anybody can guess (128 are asked for).
const SECRET_BYTES: usize = 20;
/// The longest that a link may stay open, in days.
const MAX_DAYS: u32 = 365;

/// What kind of link is wanted.
pub(in crate::serve) struct LinkAsked {
    /// The hub's address; `None` for the paired one.
    pub base: Option<String>,
    /// How long it stays open.
    pub days: u32,
    /// Ask for a code.
    pub with_code: bool,
    /// What kind of copy.
    pub copy: CopyAsked,
}

pub(in crate::serve) fn share(app: &App, job: JobId, asked: LinkAsked) -> Result<Reply, Problem> {
    let LinkAsked {
        base,
        days,
        with_code,
        copy,
    } = asked;
    if !(1..=MAX_DAYS).contains(&days) {
        return Err(Problem::bad_input(
            say!("a-link-cant-stay-open-for-days-days", days = days),
            say!("choose-1-to-max-days-days", max_days = MAX_DAYS),
        ));
    }
    let base = address(app, base)?;
    let (html, content) = report::made(app, job, copy)?;
    let report = app.store().put_photo(html.as_bytes())?;

    let secret = hex(&random::<SECRET_BYTES>()?);
    let code = with_code.then(random_code).transpose()?;
    let expires = app.clock().now() + Duration::days(i64::from(days));
    let share = Share {
        link: Sha256Hex::of(secret.as_bytes()),
        code: code.as_deref().map(|code| code_hash(&secret, code)),
        report,
        asked: Asked {
            lang: content.lang.clone(),
            shop: content.shop.name.clone(),
            car: car(&content.car.description, &content.car.plate),
            short: [&content.answer.can_it_be_saved, &content.answer.what_to_do]
                .into_iter()
                .chain(&content.answer.beside)
                .map(|said| said.words.clone())
                .collect(),
            items: content
                .advice
                .iter()
                .map(|item| item.what.clone())
                .collect(),
            invented: content.invented,
        },
        expires,
        leave_out: copy.leave_out,
    };
    app.store().together(|store| {
        let (_, head) = store.head(store.device())?;
        let lines = vec![
            Fact::ReportMade {
                sha256: report,
                head,
                form: Some(ReportForm::Page),
            },
            Fact::ReportShared { share },
        ];
        append(app, store, job, lines)
    })?;
    let url = format!("{base}/r/{secret}");
    let here_only = here_only(&base);
    // Whoever points a phone at it would be led to the phone itself.
    let for_others = here_only.is_none();
    Ok(Reply::Shared {
        qr_svg: for_others.then(|| crate::qr::svg(&url)).transpose()?,
        url,
        code,
        here_only,
        expires: crate::present::day_words(expires),
        job: job_view(app, job)?,
    })
}

/// Where the customer's link leads: the hub that serves this screen, or the one
/// that this device is paired with.
fn address(app: &App, base: Option<String>) -> Result<String, Problem> {
    let Some(base) = base else {
        return sync::hub_address(app)?.ok_or_else(|| {
            Problem::new(
                ProblemKind::NotYet,
                say!("the-customer-reads-the-report-on-the-shops"),
                say!("pair-it-first-or-hand-over-the-report"),
            )
        });
    };
    swarfbook_sync::hub_address(&base)
        .map_err(|error| Problem::bad_input(error.to_string(), say!("open-the-hub-by-its-number")))
}

/// What is wrong with an address that leads no other machine anywhere.
fn here_only(base: &str) -> Option<String> {
    let authority = base.split_once("://").map_or(base, |(_, rest)| rest);
    let host = match authority.strip_prefix('[') {
        Some(v6) => v6.split(']').next().unwrap_or_default(),
        None => authority.split([':', '/']).next().unwrap_or_default(),
    };
    let number: Result<std::net::IpAddr, _> = host.parse();
    let number = number.map(|ip| ip.to_canonical());
    // RFC 6761, 6.3: "localhost." and all names within it.
    let name = host.trim_end_matches('.').to_ascii_lowercase();
    let here = name == "localhost"
        || name.ends_with(".localhost")
        || number.is_ok_and(|ip| ip.is_loopback() || ip.is_unspecified());
    here.then(|| say!("this-link-opens-on-this-computer-only-host", host = host))
}

/// Over the secret too, so that six digits can't be tried out on the log.
pub(super) fn code_hash(secret: &str, code: &str) -> Sha256Hex {
    Sha256Hex::of(format!("{secret}{code}").as_bytes())
}

fn car(description: &str, plate: &str) -> String {
    let both = [description, plate].map(str::trim);
    let said: Vec<&str> = both.into_iter().filter(|text| !text.is_empty()).collect();
    said.join(", ")
}

fn random_code() -> Result<String, Problem> {
    let number = u32::from_be_bytes(random::<4>()?) % 1_000_000;
    Ok(format!("{number:06}"))
}

fn random<const N: usize>() -> Result<[u8; N], Problem> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|error| {
        Problem::new(
            ProblemKind::Storage,
            say!("the-system-gave-no-random-numbers-error", error = error),
            say!("start-the-app-again"),
        )
    })?;
    Ok(bytes)
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::here_only;

    #[test]
    fn an_address_of_this_machine_alone_is_said_to_be_one() {
        for base in [
            "http://127.0.0.1:8080",
            "http://127.1.2.3",
            "http://localhost:80",
            "http://[::1]:8080",
            "http://0.0.0.0:8080",
            "http://[::ffff:127.0.0.1]:8080",
            "http://localhost.:8080",
            "http://shop.localhost",
            "http://LOCALHOST",
        ] {
            assert!(here_only(base).is_some(), "{base}");
        }
        for base in [
            "http://192.0.2.7:8080",
            "http://[2001:db8::1]:8080",
            "http://[::ffff:192.0.2.7]:8080",
            "http://localhost.example",
        ] {
            assert_eq!(here_only(base), None, "{base}");
        }
    }
}
