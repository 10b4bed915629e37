//! Pairing on the hub's own screen: the one-time code, and who is paired.

use std::net::SocketAddr;

use axum::extract::State;
use axum::extract::rejection::FormRejection;
use axum::http::{HeaderMap, StatusCode};
use axum::response::Response;
use axum::{Extension, Form, Json};
use minijinja::value::Serde;
use minijinja::{Value, context};
use serde::{Deserialize, Serialize};
use swarfbook_app::PairLink;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_job::id::DeviceId;
use swarfbook_sync::auth::CODE_LIFE_MILLIS;
use swarfbook_words::{say, term};

use super::Hub;
use super::language::aside;
use super::page::page;
use super::refuse::{Refusal, bad_request};
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
    aside(move || show(&hub, "", None)).await?
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
    let (left, right) = link.code.split_at(4);
    let shown = context! {
        picture => picture(&link)?,
        picture_is => term!("address-code-and-fingerprint-for-the-devices-camera"),
        point => term!("point-the-devices-camera-at-it-and-open"),
        code => format!("{left} {right}"),
        how => say!("type-it-on-the-device-within-value-minutes", value = CODE_LIFE_MILLIS / 60_000),
        address_is => term!("the-hubs-address"),
        address => link.hub,
        fingerprint_is => term!("fingerprint-of-its-certificate-the-first-20-digits"),
        fingerprint => hub.certificates.own().to_type(),
    };
    show(hub, "", Some(shown))
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

/// The link for a device's camera, as SVG. Where the hub listens on its own machine alone there
/// is none: the address in it would lead the device to itself.
fn picture(link: &PairLink) -> Result<Option<String>, Problem> {
    let host = link.hub.split_once("://").map_or("", |(_, host)| host);
    if is_own(host) {
        return Ok(None);
    }
    swarfbook_app::qr::svg(&link.write()).map(Some)
}

/// Which device is to be removed.
#[derive(Deserialize)]
pub(super) struct Which {
    device: DeviceId,
}

/// `POST /pair/remove`: ends the pairing of a device that was lost or sold.
pub(super) async fn remove(
    State(hub): State<Hub>,
    form: Result<Form<Which>, FormRejection>,
) -> Result<Response, Refusal> {
    let Form(Which { device }) = form.map_err(|_| {
        bad_request(
            term!("no-device-was-named"),
            term!("go-back-and-choose-one"),
        )
    })?;
    aside(move || {
        hub.app.store().remove_peer(device).map_err(Problem::from)?;
        let gone = term!("that-device-is-not-paired-any-more-its");
        show(&hub, gone, None)
    })
    .await?
}

fn new_code(hub: &Hub) -> Result<String, Refusal> {
    hub.code.show(now_millis()).map_err(|error| {
        Problem::new(
            ProblemKind::Storage,
            say!("no-code-can-be-made-error", error = error),
            term!("start-the-hub-again"),
        )
        .into()
    })
}

/// A device in the list.
#[derive(Serialize)]
struct Row {
    id: DeviceId,
    words: String,
}

/// The page, with what was just done and what is shown once.
fn show(hub: &Hub, news: &str, shown: Option<Value>) -> Result<Response, Refusal> {
    let peers = hub.app.store().peers().map_err(Problem::from)?;
    let devices: Vec<Row> = peers
        .iter()
        .map(|peer| Row {
            id: peer.device,
            words: say!(
                "peer-since-paired",
                peer = peer.name,
                paired = peer.paired.format(term!("short-day-format"))
            ),
        })
        .collect();
    Ok(page(
        StatusCode::OK,
        "pair.html",
        term!("pair-a-device"),
        context! {
            news,
            shown,
            devices => Value::from(Serde(devices)),
            show => term!("show-a-code"),
            paired => term!("paired-devices"),
            nobody => term!("no-device-is-paired"),
            remove => term!("remove"),
            browsers => term!("browsers-that-were-let-in"),
            back => term!("back-to-the-jobs"),
        },
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
            (
                picture(&link)
                    .unwrap()
                    .is_some_and(|svg| svg.contains("<svg")),
                link.hub,
            )
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
