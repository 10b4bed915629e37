//! The screens, embedded from the build of `ui/`.

use axum::extract::Request;
use axum::http::{Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use rust_embed::RustEmbed;

use super::refuse::page;

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
        return page(
            StatusCode::NOT_FOUND,
            "Not here",
            "<p>There is nothing at this address.</p>",
        );
    }
    match Screens::get("index.html") {
        Some(file) => answer("index.html", file),
        None => page(
            StatusCode::OK,
            "The screens are not built in",
            "<p>This program was built without its screens. Build them first \
             (<code>npm ci &amp;&amp; npm run build</code> in <code>ui</code>), then the program, \
             or run <code>make run</code>. The command line and sync work without them.</p>",
        ),
    }
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
