//! Pairing on the hub's own screen: the one-time code, and who is paired.

use std::net::SocketAddr;

use axum::extract::State;
use axum::http::{HeaderMap, StatusCode};
use axum::response::Response;
use axum::{Extension, Json};
use serde::Serialize;
use swarfbook_app::PairLink;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_job::id::DeviceId;
use swarfbook_sync::auth::CODE_LIFE_MILLIS;
use swarfbook_words::{say, term};

use super::Hub;
use super::language::aside;
use super::refuse::{Refusal, bad_request, escape, page};
use super::sync::now_millis;
use super::wire::Wire;

#[derive(Serialize)]
pub(super) struct Shown {
    /// Eight digits.
    code: String,
    /// How long it can be used.
    minutes: u64,
}

/// `POST /pair-code`: a new code as JSON; the one before is void.
pub(super) async fn code(State(hub): State<Hub>) -> Result<Json<Shown>, Refusal> {
    let code = aside(move || new_code(&hub)).await??;
    Ok(Json(Shown {
        code,
        minutes: CODE_LIFE_MILLIS / 60_000,
    }))
}

/// `GET /pair`: who is paired, and a key to show a code.
pub(super) async fn who(State(hub): State<Hub>) -> Result<Response, Refusal> {
    aside(move || show(&hub, "")).await?
}

/// `POST /pair`: the same with a new code.
pub(super) async fn who_and_code(
    State(hub): State<Hub>,
    wire: Option<Extension<Wire>>,
    headers: HeaderMap,
) -> Result<Response, Refusal> {
    let wire = wire.map_or(Wire::Inside, |Extension(wire)| wire);
    let host = hub.host_of(&headers, wire).unwrap_or_default().to_owned();
    aside(move || show_code(&hub, &host)).await?
}

fn show_code(hub: &Hub, host: &str) -> Result<Response, Refusal> {
    let code = new_code(hub)?;
    let link = PairLink {
        hub: for_devices(host, hub.reached),
        code,
        fingerprint: Some(hub.certificates.own()),
    };
    let picture = picture(&link)?;
    let (left, right) = link.code.split_at(4);
    let how = say!(
        "Type it on the device within {} minutes. It works once.",
        CODE_LIFE_MILLIS / 60_000
    );
    let fingerprint = hub.certificates.own().to_type();
    show(
        hub,
        &format!(
            "{picture}<p style=\"font-size:3rem;letter-spacing:.1em\"><output>{left} {right}</output></p>\
             <p>{how}</p><dl><dt>{}</dt><dd><b>{}</b></dd><dt>{}</dt><dd><b><code>{fingerprint}</code></b></dd></dl>",
            term!("The hub's address"),
            escape(&link.hub),
            term!("Fingerprint of its certificate, the first 20 digits")
        ),
    )
}

/// The address by which devices find the hub. A browser on the hub's own machine may know
/// it by one that leads a device to itself.
fn for_devices(host: &str, reached: Option<SocketAddr>) -> String {
    match reached {
        Some(reached) if is_own(host) => format!("https://{reached}"),
        _ if is_own(host) => format!("http://{host}"),
        _ => format!("https://{host}"),
    }
}

fn is_own(host: &str) -> bool {
    ["127.", "localhost", "[::1]"]
        .iter()
        .any(|own| host.starts_with(own))
}

/// The link for a device's camera. Where the hub listens on its own machine alone there is
/// none: the address in it would lead the device to itself.
fn picture(link: &PairLink) -> Result<String, Problem> {
    let host = link.hub.split_once("://").map_or("", |(_, host)| host);
    if is_own(host) {
        return Ok(String::new());
    }
    let picture = swarfbook_app::qr::svg(&link.write())?;
    Ok(format!(
        "<div style=\"width:18rem\" role=\"img\" aria-label=\"{}\">{picture}</div><p>{}</p>",
        term!("Address, code and fingerprint, for the device's camera"),
        term!("Point the device's camera at it and open the link with the app, or type all three.")
    ))
}

/// `POST /pair/remove`: ends the pairing of a device that was lost or sold.
pub(super) async fn remove(State(hub): State<Hub>, form: String) -> Result<Response, Refusal> {
    let device: DeviceId = form
        .strip_prefix("device=")
        .and_then(|device| device.parse().ok())
        .ok_or_else(|| {
            bad_request(
                term!("No device was named."),
                term!("Go back and choose one."),
            )
        })?;
    aside(move || {
        hub.app.store().remove_peer(device).map_err(Problem::from)?;
        let gone = term!("That device is not paired any more. Its lines stay in the log.");
        show(&hub, &format!("<p>{gone}</p>"))
    })
    .await?
}

fn new_code(hub: &Hub) -> Result<String, Refusal> {
    let mut code = hub.code();
    let shown = code.show(now_millis()).map_err(|error| {
        Problem::new(
            ProblemKind::Storage,
            say!("No code can be made: {}.", error),
            term!("Start the hub again."),
        )
    })?;
    Ok(shown.to_owned())
}

fn show(hub: &Hub, news: &str) -> Result<Response, Refusal> {
    let peers = hub.app.store().peers().map_err(Problem::from)?;
    let mut rows = String::new();
    for peer in &peers {
        rows += &format!(
            "<li>{} <form method=\"post\" action=\"/pair/remove\" \
             style=\"display:inline\"><button name=\"device\" value=\"{}\">{}</button></form></li>",
            say!(
                "{}, since {}",
                escape(&peer.name),
                peer.paired.format(term!("%-d %b %Y"))
            ),
            peer.device,
            term!("Remove")
        );
    }
    let devices = if rows.is_empty() {
        format!("<p>{}</p>", term!("No device is paired."))
    } else {
        format!("<ul>{rows}</ul>")
    };
    Ok(page(
        StatusCode::OK,
        term!("Pair a device"),
        &format!(
            "{news}<form method=\"post\" action=\"/pair\"><button style=\"font-size:1.2rem;\
             padding:1rem\">{}</button></form><h2>{}</h2>{devices}<p><a href=\"/browsers\">{}</a></p>\
             <p><a href=\"/\">{}</a></p>",
            term!("Show a code"),
            term!("Paired devices"),
            term!("Browsers that were let in"),
            term!("Back to the jobs")
        ),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_is_drawn_for_an_address_that_a_device_can_reach() {
        let drawn = |host: &str, reached: Option<&str>| {
            let link = PairLink {
                hub: for_devices(host, reached.map(|at| at.parse().unwrap())),
                code: "12345678".to_owned(),
                fingerprint: None,
            };
            (picture(&link).unwrap().contains("<svg"), link.hub)
        };
        let lan = "192.0.2.7:8350";
        let there = (true, format!("https://{lan}"));
        assert_eq!(drawn(lan, None), there);
        for own in ["127.0.0.1:8350", "localhost:8350", "[::1]:8350"] {
            assert_eq!(drawn(own, None), (false, format!("http://{own}")));
            assert_eq!(drawn(own, Some(lan)), there, "{own}");
        }
        assert_eq!(drawn("hub.example", Some(lan)).1, "https://hub.example");
    }
}
