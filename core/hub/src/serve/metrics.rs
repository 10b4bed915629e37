//! Whether the hub is well, and what it counts of itself: numbers, of nobody.

use std::time::{Duration, Instant};

use axum::Json;
use axum::extract::{Request, State};
use axum::http::{StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use prometheus_client::encoding::text::encode;
use prometheus_client::encoding::{EncodeLabelSet, EncodeLabelValue};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::registry::{Registry, Unit};
use serde_json::json;
use swarfbook_app::problem::Problem;

use super::Hub;
use super::browsers::now;
use super::key::Key;
use super::language::aside;
use super::refuse::Refusal;

/// How long the store may take before the hub counts as not well.
const PATIENCE: Duration = Duration::from_secs(5);
/// Bounds of the times that answers take, in seconds.
const BOUNDS: [f64; 9] = [0.001, 0.005, 0.025, 0.1, 0.25, 1.0, 2.5, 10.0, 30.0];

/// What was asked for. The path itself is counted and written nowhere: it may hold a secret.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, EncodeLabelValue)]
enum Kind {
    Call,
    Photo,
    Sync,
    Report,
    Pairing,
    Watch,
    Screen,
}

impl Kind {
    fn of(path: &str) -> Kind {
        let (first, _) = path
            .get(1..)
            .map_or(("", ""), |rest| rest.split_once('/').unwrap_or((rest, "")));
        match first {
            "call" => Kind::Call,
            "photo" => Kind::Photo,
            "sync" => Kind::Sync,
            "r" => Kind::Report,
            "pair" | "pair-code" | "browsers" => Kind::Pairing,
            "health" | "metrics" => Kind::Watch,
            _ => Kind::Screen,
        }
    }

    fn word(self) -> &'static str {
        match self {
            Kind::Call => "call",
            Kind::Photo => "photo",
            Kind::Sync => "sync",
            Kind::Report => "report",
            Kind::Pairing => "pairing",
            Kind::Watch => "watch",
            Kind::Screen => "screen",
        }
    }
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct Answered {
    kind: Kind,
    status: u16,
}

/// All counts, and the text that they are in.
pub(super) struct Counts {
    registry: Registry,
    requests: Family<Answered, Counter>,
    seconds: Histogram,
    connections: Gauge,
    turned_away: Counter,
    sessions: Gauge,
    devices: Gauge,
}

impl Default for Counts {
    fn default() -> Counts {
        let mut registry = Registry::with_prefix("swarfbook");
        let counts = (
            Family::<Answered, Counter>::default(),
            Histogram::new(BOUNDS),
            [Gauge::default(), Gauge::default(), Gauge::default()],
            Counter::default(),
            Gauge::<i64>::default(),
        );
        let (requests, seconds, [connections, sessions, devices], turned_away, started) = counts;
        started.set(now());
        registry.register("requests", "Requests that were answered", requests.clone());
        registry.register_with_unit(
            "answer",
            "Time from a request's head to its answer's",
            Unit::Seconds,
            seconds.clone(),
        );
        registry.register("connections", "Connections now", connections.clone());
        registry.register(
            "connections_turned_away",
            "Connections of addresses that had too many",
            turned_away.clone(),
        );
        registry.register("sessions", "Browsers that are let in", sessions.clone());
        registry.register("devices", "Devices that are paired", devices.clone());
        registry.register_with_unit(
            "start_time",
            "When the hub started, since 1970",
            Unit::Seconds,
            started,
        );
        Counts {
            registry,
            requests,
            seconds,
            connections,
            turned_away,
            sessions,
            devices,
        }
    }
}

impl Counts {
    pub(super) fn turn_away(&self) {
        self.turned_away.inc();
    }

    /// One more connection, until what it gives is dropped.
    pub(super) fn connected(&self) -> Connected {
        self.connections.inc();
        Connected(self.connections.clone())
    }
}

pub(super) struct Connected(Gauge);

impl Drop for Connected {
    fn drop(&mut self) {
        self.0.dec();
    }
}

/// Counts every answer, and has it written down where that is asked for.
pub(super) async fn count(State(hub): State<Hub>, request: Request, next: Next) -> Response {
    let begun = Instant::now();
    let kind = Kind::of(request.uri().path());
    let response = next.run(request).await;
    let (took, status) = (begun.elapsed(), response.status().as_u16());
    let answered = Answered { kind, status };
    hub.counts.requests.get_or_create(&answered).inc();
    hub.counts.seconds.observe(took.as_secs_f64());
    hub.log.write(
        "request",
        json!({
            "kind": kind.word(),
            "status": status,
            "ms": (took.as_secs_f64() * 1e4).round() / 10.0,
        }),
    );
    response
}

/// `GET /health`: 200 where the store answers, else 503.
pub(super) async fn health(State(hub): State<Hub>) -> Response {
    let asked = aside(move || Key::of_store(&hub.app).map(|_| ()));
    let well = match tokio::time::timeout(PATIENCE, asked).await {
        Ok(Ok(Ok(()))) => Ok(()),
        Ok(_) => Err("The store can't be read."),
        Err(_) => Err("The store does not answer."),
    };
    match well {
        Ok(()) => Json(json!({ "status": "ok" })).into_response(),
        Err(why) => {
            let body = json!({ "status": "failing", "why": why });
            (StatusCode::SERVICE_UNAVAILABLE, Json(body)).into_response()
        }
    }
}

/// `GET /metrics`: OpenMetrics, as Prometheus reads it.
pub(super) async fn metrics(State(hub): State<Hub>) -> Result<Response, Refusal> {
    let text = aside(move || -> Result<String, Problem> {
        let key = Key::of_store(&hub.app)?;
        let open = hub.sessions().open(&key, now()).len();
        let devices = hub.app.store().peers()?.len();
        hub.counts.sessions.set(i64::try_from(open).unwrap_or(0));
        hub.counts.devices.set(i64::try_from(devices).unwrap_or(0));
        let mut text = String::new();
        // Writing to a String does not fail.
        let _ = encode(&mut text, &hub.counts.registry);
        Ok(text)
    })
    .await??;
    let kind = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    Ok(([(header::CONTENT_TYPE, kind)], text).into_response())
}
