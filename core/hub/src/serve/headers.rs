//! Headers that every answer carries.

use axum::extract::Request;
use axum::http::{HeaderValue, header};
use axum::middleware::Next;
use axum::response::Response;

/// Styles may stand in the page since the screens set lengths in `style=`; the
/// report's preview is a sandboxed frame, its pictures and faces are `data:` URLs.
const CSP: &str = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; \
    worker-src 'self' blob:; style-src 'self' 'unsafe-inline'; img-src 'self' blob: data:; \
    font-src 'self' data:; \
    media-src 'self' blob:; frame-src 'self' blob: data:; object-src 'none'; base-uri 'none'; \
    form-action 'self'; frame-ancestors 'none'";

pub(super) async fn add(request: Request, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    // The page that checks a report brings a stricter one.
    headers
        .entry(header::CONTENT_SECURITY_POLICY)
        .or_insert(HeaderValue::from_static(CSP));
    let fixed = [
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        // Not "no-referrer": a browser then hides the origin of our own forms too.
        (header::REFERRER_POLICY, "same-origin"),
        (header::X_FRAME_OPTIONS, "DENY"),
    ];
    for (name, value) in fixed {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.insert(
        "permissions-policy",
        HeaderValue::from_static("camera=(self), microphone=(), geolocation=()"),
    );
    headers.insert(
        "cross-origin-opener-policy",
        HeaderValue::from_static("same-origin"),
    );
    headers.insert(
        "cross-origin-resource-policy",
        HeaderValue::from_static("same-origin"),
    );
    headers
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    response
}
