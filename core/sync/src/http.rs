//! The hub over HTTPS, as a device reaches it; over plain HTTP on the same machine alone.

use std::sync::Arc;
use std::time::{Duration, SystemTime};

use rustls::ClientConfig;
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::{kept, say};
use ureq::Agent;
use ureq::http;
use ureq::unversioned::resolver::DefaultResolver;
use ureq::unversioned::transport::{Connector, TcpConnector};

use crate::Fingerprint;
use crate::address::stays_here;

use crate::auth::{DeviceKey, PairReply, PairRequest, Signed};
use crate::message::{MAX_BODY_BYTES, Request, Response, Words, from_json};
use crate::peer::{Peer, PeerError};
use crate::tls::{self, Pin, Pinned};

/// Where a hub is, and the certificate that it must show.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HubAt {
    /// As [`crate::hub_address`] gives it.
    pub address: String,
    /// None is needed for a hub on this machine.
    pub fingerprint: Option<Fingerprint>,
}

/// A hub in the shop's network.
pub struct HttpHub {
    line: Result<Line, PeerError>,
    hub: DeviceId,
    device: DeviceId,
    key: DeviceKey,
}

impl HttpHub {
    /// The hub there that answered the pairing as `hub`; asked by `device` with its key.
    pub fn new(at: &HubAt, hub: DeviceId, device: DeviceId, key: DeviceKey) -> HttpHub {
        HttpHub {
            line: Line::to(at),
            hub,
            device,
            key,
        }
    }
}

impl Peer for HttpHub {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        let signed = Signed::sign(request, self.device, self.hub, &self.key, now_millis())
            .map_err(|error| PeerError::Cut(error.to_string()))?;
        let line = self.line.as_ref().map_err(Clone::clone)?;
        line.carry(request, Some(&signed.header()))
    }
}

/// A hub that took a device in.
#[derive(Debug)]
pub struct PairedWith {
    /// What it answered.
    pub reply: PairReply,
    /// The certificate that it showed, if it needed one.
    pub certificate: Option<Sha256Hex>,
}

/// Pairs `device` with the hub there by the code that it shows.
///
/// # Errors
/// [`PeerError`]; the hub's words when it refused.
pub fn pair(
    at: &HubAt,
    code: &str,
    device: DeviceId,
    name: &str,
    key: &DeviceKey,
) -> Result<PairedWith, PeerError> {
    let request = PairRequest::new(code, device, name, key);
    let body = serde_json::to_vec(&request).map_err(PeerError::strange)?;
    let line = Line::to(at)?;
    let response = line.carry(&Request::post("/sync/pair", body), None)?;
    if response.status == 200 {
        return Ok(PairedWith {
            reply: from_json(&response.body).map_err(PeerError::strange)?,
            certificate: line.pin.and_then(|pin| pin.seen()),
        });
    }
    let words = kept(
        &from_json::<Words>(&response.body)
            .map_err(PeerError::strange)?
            .words,
    );
    Err(PeerError::Refused {
        status: response.status,
        words,
    })
}

/// What requests go through.
struct Line {
    agent: Agent,
    address: String,
    pin: Option<Arc<Pin>>,
}

impl Line {
    /// # Errors
    /// [`PeerError::Unencrypted`] and [`PeerError::NoFingerprint`]: nothing is sent in the
    /// clear, nor to a hub that can't be told from another.
    fn to(at: &HubAt) -> Result<Line, PeerError> {
        let address = at.address.clone();
        if !address.starts_with("https://") {
            if !stays_here(&address) {
                return Err(PeerError::Unencrypted(address));
            }
            return Ok(Line {
                agent: agent(None),
                address,
                pin: None,
            });
        }
        let fingerprint = at.fingerprint.clone().ok_or(PeerError::NoFingerprint)?;
        let pin = Pin::new(fingerprint);
        let config = pin.config().map_err(PeerError::strange)?;
        Ok(Line {
            agent: agent(Some(config)),
            address,
            pin: Some(pin),
        })
    }

    fn carry(&self, request: &Request, authorization: Option<&str>) -> Result<Response, PeerError> {
        let mut asked = http::Request::builder()
            .method(request.method)
            .uri(format!("{}{}", self.address, request.target));
        if let Some(value) = authorization {
            asked = asked.header("authorization", value);
        }
        let unfit = |_: http::Error| PeerError::Cut(say!("no-request-can-be-made-to-this-address"));
        let answered = if request.method == "GET" {
            self.agent.run(asked.body(()).map_err(unfit)?)
        } else {
            self.agent
                .run(asked.body(request.body.as_slice()).map_err(unfit)?)
        };
        let mut answered = answered.map_err(cut)?;
        let status = answered.status().as_u16();
        let body = answered
            .body_mut()
            .with_config()
            .limit(MAX_BODY_BYTES as u64)
            .read_to_vec()
            .map_err(cut)?;
        Ok(Response { status, body })
    }
}

fn cut(error: ureq::Error) -> PeerError {
    match error {
        ureq::Error::Tls(tls::WRONG_CERTIFICATE) => PeerError::WrongCertificate,
        ureq::Error::Tls(tls::NO_TLS) => PeerError::NotEncrypted,
        other => PeerError::Cut(other.to_string()),
    }
}

fn agent(config: Option<Arc<ClientConfig>>) -> Agent {
    let settings = Agent::config_builder()
        // A status is an answer here, with words in its body.
        .http_status_as_error(false)
        // The hub is where the technician said, nowhere else.
        .max_redirects(0)
        .proxy(None)
        .timeout_connect(Some(Duration::from_secs(5)))
        .timeout_per_read(Some(Duration::from_secs(30)))
        .timeout_per_write(Some(Duration::from_secs(30)))
        // Less than the hub keeps a silent connection, so that none is used as it ends.
        .max_idle_age(Duration::from_secs(5))
        .build();
    let connector = ().chain(TcpConnector::default()).chain(Pinned(config));
    Agent::with_parts(settings, connector, DefaultResolver::default())
}

fn now_millis() -> u64 {
    SystemTime::now()
        .duration_since(SystemTime::UNIX_EPOCH)
        .ok()
        .and_then(|since| u64::try_from(since.as_millis()).ok())
        .unwrap_or(0)
}
