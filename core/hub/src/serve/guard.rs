//! Who may ask: the person who has the printed address, by its key.
//!
//! The key comes once in the address and is then a cookie that scripts can't
//! read and other sites can't send. Each browser also gets a name of its own, as a second
//! cookie: its profile, with whose settings it is answered. `/sync/` has its own door: signatures; `/r/`
//! is opened by the secret in its path; `/verify` is for anybody.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, Uri, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::{App, Profile};
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::term;

use super::Hub;
use super::language::{of_hub, of_stranger, spoken};
use super::refuse::{Refusal, bad_request, page};

/// Under which name the store keeps the key.
const SETTING: &str = "hub_key";

/// 32 random bytes in hexadecimal.
#[derive(Clone)]
pub struct Key(String);

impl Key {
    /// The store's key; made when there is none.
    pub(super) fn of_store(app: &App) -> Result<Key, Problem> {
        let mut store = app.store();
        if let Some(kept) = store.setting::<String>(SETTING)? {
            return Ok(Key(kept));
        }
        let mut bytes = [0u8; 32];
        getrandom::fill(&mut bytes).map_err(|error| {
            Problem::new(
                ProblemKind::Storage,
                format!("The system gave no random numbers: {error}."),
                "Start the hub again.",
            )
        })?;
        // The hash of random bytes is as random, and comes with its spelling.
        let key = Sha256Hex::of(&bytes).to_string();
        store.set(SETTING, &key)?;
        Ok(Key(key))
    }

    /// As the address carries it.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Compares hashes, so that the time it takes tells nothing of the key.
    fn fits(&self, given: &str) -> bool {
        Sha256Hex::of(self.0.as_bytes()) == Sha256Hex::of(given.as_bytes())
    }
}

/// Lets in who may come in, and has them answered in their language.
pub(super) async fn guard(State(hub): State<Hub>, mut request: Request, next: Next) -> Response {
    // Devices are told in English, and tell it again in their own language.
    if request.uri().path().starts_with("/sync/") && host_of(request.headers()).is_some() {
        return next.run(request).await;
    }
    let known = knows(&hub, &request);
    let profile = known.then(|| profile_in(request.headers())).flatten();
    let language = if known {
        of_hub(&hub, profile.clone()).await
    } else {
        of_stranger(&hub, request.headers()).await
    };
    request.extensions_mut().insert(Asks(profile));
    spoken(language, let_in(hub, known, request, next)).await
}

/// The browser that asks; none for a program that has the key and keeps no cookies.
#[derive(Clone)]
pub(super) struct Asks(pub Option<Profile>);

fn profile_in(headers: &HeaderMap) -> Option<Profile> {
    let host = host_of(headers)?;
    Profile::read(cookie_in(headers, &profile_cookie(host))?)
}

/// Names a browser that has no name yet.
fn name_browser(headers: &HeaderMap, host: &str, response: &mut Response) {
    if profile_in(headers).is_some() {
        return;
    }
    // Without randomness it goes by the hub's own settings; the next look tries again.
    let Ok(profile) = Profile::make() else {
        return;
    };
    let cookie = kept_cookie(&profile_cookie(host), profile.as_str());
    if let Ok(cookie) = HeaderValue::from_str(&cookie) {
        response.headers_mut().append(header::SET_COOKIE, cookie);
    }
}

fn kept_cookie(name: &str, value: &str) -> String {
    format!("{name}={value}; Path=/; HttpOnly; SameSite=Strict; Max-Age=31536000")
}

async fn let_in(hub: Hub, known: bool, request: Request, next: Next) -> Response {
    let Some(host) = host_of(request.headers()) else {
        let why = term!(
            "The hub answers to its number only (such as 127.0.0.1 or 192.0.2.7) or to localhost, so that no other site can reach it under a name of its own. Use the address that the hub printed."
        );
        return page(
            StatusCode::MISDIRECTED_REQUEST,
            term!("Not this address"),
            &format!("<p>{why}</p>"),
        );
    };
    let path = request.uri().path();
    let reads = matches!(*request.method(), Method::GET | Method::HEAD);
    if !reads && !same_origin(request.headers(), host) {
        return Refusal(
            StatusCode::FORBIDDEN,
            bad_request(
                term!("This request came from another site."),
                term!("Use the hub's own screens."),
            ),
        )
        .into_response();
    }
    // The page that checks a report holds nothing of the shop's, and asks for nothing.
    if path == "/verify" && reads {
        return next.run(request).await;
    }
    // Its secret is its key.
    let secret = path.strip_prefix("/r/").unwrap_or_default();
    if !secret.is_empty() && !secret.contains('/') {
        return next.run(request).await;
    }
    if let Some(given) = key_in(request.uri())
        && request.method() == Method::GET
        && hub.key.fits(given)
    {
        let cookie = kept_cookie(&cookie_name(host), given);
        let mut answer =
            ([(header::SET_COOKIE, cookie)], Redirect::to(own_path(path))).into_response();
        name_browser(request.headers(), host, &mut answer);
        return answer;
    }
    if !known {
        let how = term!(
            "Open the whole address that the hub printed when it started, with its key. It is needed once for each browser."
        );
        return page(
            StatusCode::UNAUTHORIZED,
            term!("This hub does not know you"),
            &format!("<p>{how}</p>"),
        );
    }
    // A screen that is opened, not what it then asks for.
    if !reads || path.starts_with("/photo/") || path.starts_with("/assets/") {
        return next.run(request).await;
    }
    let headers = request.headers().clone();
    let mut answer = next.run(request).await;
    if let Some(host) = host_of(&headers) {
        name_browser(&headers, host, &mut answer);
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

/// Whether this browser has shown the key before.
fn knows(hub: &Hub, request: &Request) -> bool {
    host_of(request.headers())
        .and_then(|host| cookie_in(request.headers(), &cookie_name(host)))
        .is_some_and(|given| hub.key.fits(given))
}

/// The host as asked for, when it is a number or localhost: a name that
/// somebody else controls could point here (DNS rebinding).
fn host_of(headers: &HeaderMap) -> Option<&str> {
    let host = headers.get(header::HOST)?.to_str().ok()?;
    let authority: axum::http::uri::Authority = host.parse().ok()?;
    let name = authority.host();
    let number = name
        .trim_start_matches('[')
        .trim_end_matches(']')
        .parse::<std::net::IpAddr>();
    (number.is_ok() || name.eq_ignore_ascii_case("localhost")).then_some(host)
}

/// Cookies do not know ports: two hubs on one machine must not share theirs.
fn cookie_name(host: &str) -> String {
    format!("swarfbook-{}", port_of(host))
}

fn profile_cookie(host: &str) -> String {
    format!("swarfbook-who-{}", port_of(host))
}

fn port_of(host: &str) -> &str {
    host.rsplit_once(':')
        .map(|(_, port)| port)
        .filter(|port| port.bytes().all(|b| b.is_ascii_digit()))
        .unwrap_or("80")
}

fn cookie_in<'a>(headers: &'a HeaderMap, name: &str) -> Option<&'a str> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|value| value.to_str().ok())
        .flat_map(|value| value.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(key, _)| *key == name)
        .map(|(_, value)| value)
}

fn key_in(uri: &Uri) -> Option<&str> {
    uri.query()?
        .split('&')
        .find_map(|pair| pair.strip_prefix("key="))
}

/// A page of another port has the same cookies; its origin tells it apart.
fn same_origin(headers: &HeaderMap, host: &str) -> bool {
    match headers.get(header::ORIGIN) {
        None => true,
        Some(origin) => origin
            .to_str()
            .is_ok_and(|origin| origin.strip_prefix("http://") == Some(host)),
    }
}
