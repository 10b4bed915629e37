//! Who may ask: the person who has the printed address, by its key.
//!
//! The key comes once in the address and begins a session, whose secret is a cookie that
//! scripts can't read, other sites can't send, and that leaves no encrypted connection. Each
//! browser also gets a name of its own, as a second cookie: its profile, with whose settings it
//! is answered. `/sync/` has its own door: signatures; `/r/` is opened by the secret in its
//! path; `/verify`, `/trust` and `/health` are for anybody, `/metrics` for this machine.

use std::net::IpAddr;

use axum::extract::{Query, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use cookie::{Cookie, SameSite, time::Duration};
use serde::Deserialize;
use swarfbook_app::Profile;
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::term;

use super::Hub;
use super::browsers::now;
use super::key::Key;
use super::language::{aside, of_hub, of_stranger, spoken};
use super::listen::From;
use super::page::words;
use super::refuse::{Refusal, bad_request};
use super::sessions::WHOLE;
use super::wire::Wire;

/// Lets in who may come in, and has them answered in their language.
pub(super) async fn guard(State(hub): State<Hub>, mut request: Request, next: Next) -> Response {
    let wire = Wire::of(&request);
    let Some(host) = hub.host_of(request.headers(), wire).map(str::to_owned) else {
        let language = of_stranger(&hub, request.headers()).await;
        return spoken(language, async { not_this_address() }).await;
    };
    // Devices are told in English, and tell it again in their own language.
    if request.uri().path().starts_with("/sync/") {
        return next.run(request).await;
    }
    let at = At { host, wire };
    let session = match known(&hub, at.cookie(request.headers(), SESSION)).await {
        Ok(session) => session,
        Err(refused) => return refused.into_response(),
    };
    let profile = session.and_then(|_| at.profile_in(request.headers()));
    let language = match session {
        Some(_) => of_hub(&hub, profile.clone()).await,
        None => of_stranger(&hub, request.headers()).await,
    };
    request.extensions_mut().insert(Asks { profile, session });
    spoken(language, let_in(hub, at, request, next)).await
}

/// The browser that asks; no profile for a program that keeps only its session.
#[derive(Clone)]
pub(super) struct Asks {
    pub profile: Option<Profile>,
    pub session: Option<Sha256Hex>,
}

/// The session whose secret this is.
async fn known(hub: &Hub, secret: Option<String>) -> Result<Option<Sha256Hex>, Refusal> {
    let Some(secret) = secret else {
        return Ok(None);
    };
    let hub = hub.clone();
    aside(move || {
        let key = Key::of_store(&hub.app)?;
        let mut sessions = hub.sessions();
        let found = sessions.of(&secret, &key, now());
        if found.is_some() && sessions.is_due(now()) {
            // Known here whether or not the disk takes it.
            let _ = sessions.keep(hub.app.store(), now());
        }
        Ok(found)
    })
    .await?
}

/// A new session for who has the key, in place of an old one; its secret.
async fn begin(
    hub: Hub,
    given: String,
    from: Option<IpAddr>,
    browser: String,
    old: Option<Sha256Hex>,
) -> Result<Option<String>, Refusal> {
    aside(move || {
        let key = Key::of_store(&hub.app)?;
        if !key.fits(&given) {
            return Ok(None);
        }
        let mut sessions = hub.sessions();
        sessions.end(|session| Some(session.id) == old);
        let secret = sessions.begin(&key, from, &browser, now())?;
        let _ = sessions.keep(hub.app.store(), now());
        Ok(Some(secret))
    })
    .await?
}

/// What a cookie is for.
const SESSION: &str = "swarfbook";
const PROFILE: &str = "swarfbook-who";
/// A name alone, of whom settings are kept: it lets nobody in.
const PROFILE_LIFE: i64 = 365 * 24 * 60 * 60;

/// Where a browser thinks that it is.
struct At {
    host: String,
    wire: Wire,
}

impl At {
    /// Cookies do not know ports: two hubs on one machine must not share theirs. The prefix
    /// is the browser's promise that it was set within TLS by this host (RFC 6265bis, 4.1.3.2).
    fn name(&self, what: &str) -> String {
        let prefix = match self.wire {
            Wire::Encrypted => "__Host-",
            Wire::Inside | Wire::Open => "",
        };
        format!("{prefix}{what}-{}", port_of(&self.host))
    }

    fn cookie(&self, headers: &HeaderMap, what: &str) -> Option<String> {
        let name = self.name(what);
        headers
            .get_all(header::COOKIE)
            .iter()
            .filter_map(|line| line.to_str().ok())
            .flat_map(Cookie::split_parse)
            .flatten()
            .find(|cookie| cookie.name() == name)
            .map(|cookie| cookie.value().to_owned())
    }

    fn set(&self, what: &str, value: &str, seconds: i64) -> String {
        Cookie::build((self.name(what), value))
            .path("/")
            .http_only(true)
            .same_site(SameSite::Strict)
            .max_age(Duration::seconds(seconds))
            .secure(self.wire == Wire::Encrypted)
            .to_string()
    }

    fn profile_in(&self, headers: &HeaderMap) -> Option<Profile> {
        Profile::read(&self.cookie(headers, PROFILE)?)
    }

    /// Names a browser that has no name yet.
    fn name_browser(&self, has_one: bool, response: &mut Response) {
        if has_one {
            return;
        }
        // Without randomness it goes by the hub's own settings; the next look tries again.
        let Ok(profile) = Profile::make() else {
            return;
        };
        let cookie = self.set(PROFILE, profile.as_str(), PROFILE_LIFE);
        if let Ok(cookie) = HeaderValue::from_str(&cookie) {
            response.headers_mut().append(header::SET_COOKIE, cookie);
        }
    }

    /// A page of another port has the same cookies; its origin tells it apart.
    fn is_origin_of(&self, headers: &HeaderMap) -> bool {
        match headers.get(header::ORIGIN) {
            None => true,
            Some(origin) => origin
                .to_str()
                .ok()
                .and_then(|origin| origin.strip_prefix(self.wire.scheme()))
                .is_some_and(|rest| rest.strip_prefix("://") == Some(self.host.as_str())),
        }
    }
}

fn not_this_address() -> Response {
    words(
        StatusCode::MISDIRECTED_REQUEST,
        term!("not-this-address"),
        term!("the-hub-answers-to-its-number-only-such"),
    )
}

async fn let_in(hub: Hub, at: At, request: Request, next: Next) -> Response {
    let path = request.uri().path();
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    if !reads && !at.is_origin_of(request.headers()) {
        return Refusal(
            StatusCode::FORBIDDEN,
            bad_request(
                term!("this-request-came-from-another-site"),
                term!("use-the-hubs-own-screens"),
            ),
        )
        .into_response();
    }
    // Pages that hold nothing of the shop's, and ask for nothing.
    if ["/verify", "/trust", "/health"].contains(&path) && reads {
        return next.run(request).await;
    }
    // Numbers of nobody, for who keeps this machine running.
    if path == "/metrics" && reads && at.wire == Wire::Inside {
        return next.run(request).await;
    }
    // Its secret is its key.
    let secret = path.strip_prefix("/r/").unwrap_or_default();
    if !secret.is_empty() && !secret.contains('/') {
        return next.run(request).await;
    }
    let named = at.profile_in(request.headers()).is_some();
    if let Some(given) = key_in(request.uri())
        && request.method() == Method::GET
    {
        let from = request.extensions().get::<From>().map(|From(ip)| *ip);
        let browser = request.headers().get(header::USER_AGENT);
        let browser = browser.and_then(|name| name.to_str().ok()).unwrap_or("?");
        let old = request
            .extensions()
            .get::<Asks>()
            .and_then(|asks| asks.session);
        let begun = begin(hub, given, from, browser.to_owned(), old);
        match begun.await {
            Ok(Some(secret)) => {
                let cookie = at.set(SESSION, &secret, WHOLE);
                let to = Redirect::to(own_path(path));
                let mut answer = ([(header::SET_COOKIE, cookie)], to).into_response();
                at.name_browser(named, &mut answer);
                return answer;
            }
            Ok(None) => {}
            Err(refused) => return refused.into_response(),
        }
    }
    let known = request.extensions().get::<Asks>();
    if known.is_none_or(|asks| asks.session.is_none()) {
        return words(
            StatusCode::UNAUTHORIZED,
            term!("this-hub-does-not-know-you"),
            term!("open-the-whole-address-that-the-hub-printed"),
        );
    }
    // A screen that is opened, not what it then asks for.
    let opens = reads && !path.starts_with("/photo/") && !path.starts_with("/assets/");
    let mut answer = next.run(request).await;
    if opens {
        at.name_browser(named, &mut answer);
    }
    answer
}

/// A path that begins with two strokes would lead a browser to another host
/// (RFC 3986, 4.2: a reference without a scheme).
fn own_path(path: &str) -> &str {
    let elsewhere = path
        .get(1..2)
        .is_some_and(|next| ["/", "\\"].contains(&next));
    if elsewhere { "/" } else { path }
}

impl Hub {
    /// The host as asked for, when it is a number, localhost, or within TLS a name of the
    /// given certificate: a name that somebody else controls could point here (DNS rebinding).
    pub(super) fn host_of<'a>(&self, headers: &'a HeaderMap, wire: Wire) -> Option<&'a str> {
        let host = headers.get(header::HOST)?.to_str().ok()?;
        let authority: axum::http::uri::Authority = host.parse().ok()?;
        let name = authority.host();
        let number = name
            .trim_start_matches('[')
            .trim_end_matches(']')
            .parse::<std::net::IpAddr>();
        let good = number.is_ok()
            || name.eq_ignore_ascii_case("localhost")
            || (wire == Wire::Encrypted && self.certificates.is_for(name));
        good.then_some(host)
    }
}

fn port_of(host: &str) -> &str {
    host.rsplit_once(':')
        .map(|(_, port)| port)
        .filter(|port| port.bytes().all(|b| b.is_ascii_digit()))
        .unwrap_or("80")
}

/// What a request may carry in its address: the hub's key, once.
#[derive(Deserialize)]
struct WithKey {
    key: String,
}

fn key_in(uri: &Uri) -> Option<String> {
    let Query(with) = Query::<WithKey>::try_from_uri(uri).ok()?;
    Some(with.key)
}
