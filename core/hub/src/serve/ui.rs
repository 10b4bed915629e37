//! The screens, embedded from the build of `ui/`.

use std::borrow::Cow;

use axum::extract::Request;
use axum::http::{HeaderValue, Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;
use swarfbook_words::{say, term};

use super::page::{CODE, with_code, words};

#[derive(RustEmbed)]
#[folder = "../../ui/dist"]
#[allow_missing = true]
struct Screens;

pub(super) async fn screen(request: Request) -> Response {
    if !matches!(*request.method(), Method::GET | Method::HEAD) {
        return StatusCode::METHOD_NOT_ALLOWED.into_response();
    }
    let path = request.uri().path().trim_start_matches('/');
    if let Some(file) = Screens::get(path) {
        return answer(path, file);
    }
    // A screen's own address is not a file: the one page finds its way.
    if path.contains('.') {
        return words(
            StatusCode::NOT_FOUND,
            term!("not-here"),
            term!("there-is-nothing-at-this-address"),
        );
    }
    match Screens::get("index.html") {
        Some(file) => answer("index.html", file),
        None => {
            let how = say!(
                "this-program-was-built-without-its-screens-build",
                code = CODE,
                code_2 = CODE,
                code_3 = CODE
            );
            words(
                StatusCode::OK,
                term!("the-screens-are-not-built-in"),
                with_code(&how, &["npm ci && npm run build", "ui", "make run"]),
            )
        }
    }
}

/// The page that checks a report offline, where it is built in.
pub(crate) fn verifier_page() -> Option<Cow<'static, [u8]>> {
    Screens::get("verify.html").map(|file| file.data)
}

/// The same for a browser, under the policy that stands in it: its script is known
/// by its hash, and it may fetch nothing.
pub(super) async fn verifier() -> Response {
    let policy = |page: &str| {
        let (_, rest) = page.split_once("http-equiv=\"Content-Security-Policy\" content=\"")?;
        let (policy, _) = rest.split_once('"')?;
        HeaderValue::from_str(&format!("{policy}; frame-ancestors 'none'")).ok()
    };
    let bytes = verifier_page();
    let page_text = bytes.as_deref().and_then(|b| std::str::from_utf8(b).ok());
    let Some((text, policy)) = page_text.and_then(|text| Some((text.to_owned(), policy(text)?)))
    else {
        let instead = say!("this-program-was-built-without-the-page-that", code = CODE);
        return words(
            StatusCode::NOT_FOUND,
            term!("not-built-in"),
            with_code(&instead, &["swarfbook verify FILE"]),
        );
    };
    let headers = [
        (
            header::CONTENT_TYPE,
            HeaderValue::from_static("text/html; charset=utf-8"),
        ),
        (header::CONTENT_SECURITY_POLICY, policy),
        (header::CACHE_CONTROL, HeaderValue::from_static("no-cache")),
    ];
    (headers, text).into_response()
}

fn answer(path: &str, file: rust_embed::EmbeddedFile) -> Response {
    // The build puts the hash of what is in it into the names under assets.
    let cache = if path.starts_with("assets/") {
        "private, max-age=31536000, immutable"
    } else {
        "no-cache"
    };
    (
        [
            (header::CONTENT_TYPE, file.metadata.mimetype()),
            (header::CACHE_CONTROL, cache),
        ],
        file.data,
    )
        .into_response()
}
