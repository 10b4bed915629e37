//! What is answered to a request that came in the clear through a network: how to come
//! encrypted, and nothing else. Whatever was asked, nothing of the book goes out.

use axum::extract::{Request, State};
use axum::http::{Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use minijinja::context;
use swarfbook_words::{say, term};

use super::Hub;
use super::language::{of_stranger, spoken};
use super::page::{CODE, page, with_code};
use super::refuse::{Refusal, bad_request};
use super::wire::Wire;

pub(super) async fn refuse(State(hub): State<Hub>, request: Request, next: Next) -> Response {
    if Wire::of(&request) != Wire::Open {
        return next.run(request).await;
    }
    if request.uri().path().starts_with("/sync/") {
        // An app of before reads these words, in English as all devices do.
        let words = "The hub exchanges encrypted only. Update the app, then pair again.";
        let answer = swarfbook_sync::Response::refused(StatusCode::FORBIDDEN.as_u16(), words);
        return (StatusCode::FORBIDDEN, answer.body).into_response();
    }
    let language = of_stranger(&hub, request.headers()).await;
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    // A customer's link goes on to its report; a key in the address is not sent again.
    let path = request.uri().path();
    let path = if path.starts_with("/r/") { path } else { "/" };
    let host = hub.host_of(request.headers(), Wire::Encrypted);
    let address = host.map(|host| format!("https://{host}{path}"));
    spoken(language, async { how_to_come(reads, address) }).await
}

fn how_to_come(reads: bool, address: Option<String>) -> Response {
    if !reads {
        return Refusal(
            StatusCode::FORBIDDEN,
            bad_request(
                term!("this-hub-takes-nothing-that-is-not-encrypted"),
                term!("open-it-by-https"),
            ),
        )
        .into_response();
    }
    let compare = say!("the-browser-warns-you-since-the-hub-signed", code = CODE);
    page(
        StatusCode::FORBIDDEN,
        "encrypted.html",
        term!("this-hub-is-encrypted"),
        context! {
            address,
            open => term!("open-the-encrypted-address"),
            compare => with_code(&compare, &["/trust"]),
            decide => term!("where-every-digit-is-the-same-accept-the"),
            why => term!("this-page-came-without-encryption-and-anybody-could"),
        },
    )
}
