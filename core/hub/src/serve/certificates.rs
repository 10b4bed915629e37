//! The certificates that the hub shows. Its own is made once and kept in the store, so that a
//! backup has it: devices know the hub by it. One of the shop's own, for a name, may be given
//! beside it; browsers are shown that one, and it may change at any time.

use std::net::IpAddr;
use std::sync::Arc;

use chrono::{Datelike, Utc};
use rcgen::{CertificateParams, DnType, ExtendedKeyUsagePurpose, KeyPair, KeyUsagePurpose};
use rustls::crypto::{CryptoProvider, ring};
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer, ServerName};
use rustls::server::{ClientHello, ParsedCertificate, ResolvesServerCert};
use rustls::sign::CertifiedKey;
use rustls::{ServerConfig, client::verify_server_name};
use serde::{Deserialize, Serialize};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::{App, Fingerprint};
use swarfbook_job::id::Sha256Hex;
use swarfbook_sync::SERVER_NAME;

/// Under which name the store keeps the hub's own.
const SETTING: &str = "hub_certificate";

/// Longer than a shop keeps a machine: devices that know it must be paired again after a
/// change. They look at no dates; browsers do.
const YEARS: i32 = 20;

/// Both in PEM.
#[derive(Serialize, Deserialize)]
pub struct Pem {
    /// The certificate, and those that lead from it to who signed it.
    pub certificate: String,
    /// Its private key.
    pub key: String,
}

/// What the hub shows, and to whom.
pub struct Certificates {
    config: Arc<ServerConfig>,
    own: Sha256Hex,
    given: Option<CertificateDer<'static>>,
}

impl Certificates {
    /// The store's own, made when there is none; for this machine's `number` in its network
    /// too, where it has one. Beside it one that was `given`.
    ///
    /// # Errors
    /// A [`Problem`] when the store can't be read, or what was given is no certificate with
    /// its key.
    pub fn of_store(
        app: &App,
        number: Option<IpAddr>,
        given: Option<&Pem>,
    ) -> Result<Certificates, Problem> {
        let provider = Arc::new(ring::default_provider());
        let own = certified(&own(app, number)?, &provider)?;
        let given = given.map(|pem| certified(pem, &provider)).transpose()?;
        let (own_hash, given_first) = (
            own.cert.first().map(|first| Sha256Hex::of(first)),
            given.as_ref().and_then(|key| key.cert.first().cloned()),
        );
        let mut config = ServerConfig::builder_with_provider(provider)
            // 1.3 alone: every browser that the screens run in has it.
            .with_protocol_versions(&[&rustls::version::TLS13])
            .map_err(|error| unfit(&error.to_string()))?
            .with_no_client_auth()
            .with_cert_resolver(Arc::new(Shown {
                own: Arc::new(own),
                given: given.map(Arc::new),
            }));
        config.alpn_protocols = vec![b"http/1.1".to_vec()];
        // Nothing is kept of a session, and nothing sent that nobody waits for.
        config.send_tls13_tickets = 0;
        Ok(Certificates {
            config: Arc::new(config),
            own: own_hash.ok_or_else(|| unfit("no certificate in it"))?,
            given: given_first,
        })
    }

    pub(super) fn config(&self) -> Arc<ServerConfig> {
        self.config.clone()
    }

    /// What devices know the hub by.
    pub fn own(&self) -> Fingerprint {
        self.own.into()
    }

    /// What a browser shows; not of a given one, which it trusts by who signed it.
    pub fn to_compare(&self) -> Option<Fingerprint> {
        self.given.is_none().then(|| self.own())
    }

    /// Whether the given certificate is for this name.
    pub(super) fn is_for(&self, name: &str) -> bool {
        let fits = || {
            let certificate = ParsedCertificate::try_from(self.given.as_ref()?).ok()?;
            let name = ServerName::try_from(name).ok()?;
            verify_server_name(&certificate, &name).ok()
        };
        fits().is_some()
    }
}

/// Which certificate is shown to whom.
#[derive(Debug)]
struct Shown {
    own: Arc<CertifiedKey>,
    given: Option<Arc<CertifiedKey>>,
}

impl ResolvesServerCert for Shown {
    fn resolve(&self, hello: ClientHello<'_>) -> Option<Arc<CertifiedKey>> {
        let device = hello.server_name() == Some(SERVER_NAME);
        let given = self.given.as_ref().filter(|_| !device);
        Some(given.unwrap_or(&self.own).clone())
    }
}

fn own(app: &App, number: Option<IpAddr>) -> Result<Pem, Problem> {
    let store = app.store();
    if let Some(kept) = store.setting(SETTING)? {
        return Ok(kept);
    }
    let made = make(number).map_err(|error| {
        Problem::new(
            ProblemKind::Storage,
            format!("No certificate can be made: {error}."),
            "Start the hub again.",
        )
    })?;
    // Where nothing can be written no device can pair either, and this machine needs none.
    let _ = store.set(SETTING, &made);
    Ok(made)
}

fn make(number: Option<IpAddr>) -> Result<Pem, rcgen::Error> {
    let names = ["localhost", "127.0.0.1", "::1"].map(str::to_owned);
    let number = number.map(|number| number.to_string());
    let names: Vec<String> = names.into_iter().chain(number).collect();
    let mut params = CertificateParams::new(names)?;
    params
        .distinguished_name
        .push(DnType::CommonName, "Swarfbook hub");
    let year = Utc::now().year();
    // A clock that is set right later may lie a good while back.
    params.not_before = rcgen::date_time_ymd(year - 1, 1, 1);
    params.not_after = rcgen::date_time_ymd(year + YEARS, 1, 1);
    params.key_usages = vec![KeyUsagePurpose::DigitalSignature];
    params.extended_key_usages = vec![ExtendedKeyUsagePurpose::ServerAuth];
    let key = KeyPair::generate()?;
    Ok(Pem {
        certificate: params.self_signed(&key)?.pem(),
        key: key.serialize_pem(),
    })
}

fn certified(pem: &Pem, provider: &CryptoProvider) -> Result<CertifiedKey, Problem> {
    let chain = CertificateDer::pem_slice_iter(pem.certificate.as_bytes())
        .collect::<Result<Vec<_>, _>>()
        .map_err(|error| unfit(&error.to_string()))?;
    if chain.is_empty() {
        return Err(unfit("no certificate in it"));
    }
    let key = PrivateKeyDer::from_pem_slice(pem.key.as_bytes())
        .map_err(|error| unfit(&format!("its key: {error}")))?;
    CertifiedKey::from_der(chain, key, provider).map_err(|error| unfit(&error.to_string()))
}

fn unfit(why: &str) -> Problem {
    Problem::new(
        ProblemKind::BadInput,
        format!("The certificate can't be used: {why}."),
        "Give a certificate in PEM and the private key that belongs to it.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn app(dir: &tempfile::TempDir) -> App {
        App::open(dir.path()).unwrap()
    }

    #[test]
    fn its_own_is_made_once_and_kept() {
        let (dir, other) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
        let made = Certificates::of_store(&app(&dir), None, None)
            .unwrap()
            .own();
        let again = Certificates::of_store(&app(&dir), None, None).unwrap();
        assert_eq!(again.own(), made);
        assert_eq!(again.to_compare(), Some(made.clone()));
        let others = Certificates::of_store(&app(&other), None, None).unwrap();
        assert_ne!(others.own(), made);
        assert!(!again.is_for("localhost"), "its own lets no names in");
    }

    #[test]
    fn a_given_one_names_the_hub_and_must_have_its_key() {
        let dir = tempfile::tempdir().unwrap();
        let key = KeyPair::generate().unwrap();
        let params = CertificateParams::new(vec!["hub.shop.example".to_owned()]).unwrap();
        let given = Pem {
            certificate: params.self_signed(&key).unwrap().pem(),
            key: key.serialize_pem(),
        };
        let both = Certificates::of_store(&app(&dir), None, Some(&given)).unwrap();
        assert_eq!(both.to_compare(), None);
        assert!(both.is_for("hub.shop.example"));
        for name in ["evil.example", "hub.shop.example.evil.example", "", "a b"] {
            assert!(!both.is_for(name), "{name}");
        }
        let other = KeyPair::generate().unwrap().serialize_pem();
        for (certificate, key) in [
            (given.certificate.as_str(), other.as_str()),
            (given.certificate.as_str(), ""),
            ("", given.key.as_str()),
            ("no PEM", "no PEM"),
        ] {
            let wrong = Pem {
                certificate: certificate.to_owned(),
                key: key.to_owned(),
            };
            let refused = Certificates::of_store(&app(&dir), None, Some(&wrong));
            let why = refused.err().unwrap().to_string();
            assert!(why.contains("can't be used"), "{why}");
        }
    }
}
