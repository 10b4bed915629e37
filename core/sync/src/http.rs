//! The hub over HTTP, as a device reaches it. No TLS in this form.

use std::time::{Duration, SystemTime};

use swarfbook_job::id::DeviceId;
use swarfbook_words::retold;
use ureq::Agent;
use ureq::http;

use crate::auth::{DeviceKey, PairReply, PairRequest, Signed};
use crate::message::{MAX_BODY_BYTES, Request, Response, Words, from_json};
use crate::peer::{Peer, PeerError};

/// A hub in the shop's network.
pub struct HttpHub {
    agent: Agent,
    address: String,
    hub: DeviceId,
    device: DeviceId,
    key: DeviceKey,
}

impl HttpHub {
    /// The hub at `address` (as [`crate::hub_address`] gives it) that answered
    /// the pairing as `hub`; asked by `device` with its key.
    pub fn new(address: &str, hub: DeviceId, device: DeviceId, key: DeviceKey) -> HttpHub {
        HttpHub {
            agent: agent(),
            address: address.to_owned(),
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
        carry(&self.agent, &self.address, request, Some(&signed.header()))
    }
}

/// Pairs `device` with the hub at `address` by the code that it shows.
///
/// # Errors
/// [`PeerError`]; the hub's words when it refused.
pub fn pair(
    address: &str,
    code: &str,
    device: DeviceId,
    name: &str,
    key: &DeviceKey,
) -> Result<PairReply, PeerError> {
    let request = PairRequest::new(code, device, name, key);
    let body =
        serde_json::to_vec(&request).map_err(|error| PeerError::Garbled(error.to_string()))?;
    let response = carry(&agent(), address, &Request::post("/sync/pair", body), None)?;
    let garbled = |error: serde_json::Error| PeerError::Garbled(error.to_string());
    if response.status == 200 {
        return from_json(&response.body).map_err(garbled);
    }
    let words = retold(&from_json::<Words>(&response.body).map_err(garbled)?.words);
    Err(PeerError::Refused {
        status: response.status,
        words,
    })
}

fn agent() -> Agent {
    Agent::config_builder()
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
        .build()
        .into()
}

fn carry(
    agent: &Agent,
    address: &str,
    request: &Request,
    authorization: Option<&str>,
) -> Result<Response, PeerError> {
    let cut = |error: ureq::Error| PeerError::Cut(error.to_string());
    let mut asked = http::Request::builder()
        .method(request.method)
        .uri(format!("{address}{}", request.target));
    if let Some(value) = authorization {
        asked = asked.header("authorization", value);
    }
    let unfit = |error: http::Error| PeerError::Garbled(error.to_string());
    let answered = if request.method == "GET" {
        agent.run(asked.body(()).map_err(unfit)?)
    } else {
        agent.run(asked.body(request.body.as_slice()).map_err(unfit)?)
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

fn now_millis() -> u64 {
    SystemTime::now()
        .duration_since(SystemTime::UNIX_EPOCH)
        .ok()
        .and_then(|since| u64::try_from(since.as_millis()).ok())
        .unwrap_or(0)
}
