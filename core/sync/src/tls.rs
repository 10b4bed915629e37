//! TLS to a hub that is known by its certificate's fingerprint and by nothing else: neither
//! names nor dates nor who signed it count, since the shop's hub signs for itself.

use std::fmt;
use std::io::{self, Read, Write};
use std::sync::{Arc, OnceLock};

use rustls::client::Resumption;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::crypto::{self, CryptoProvider};
use rustls::pki_types::{CertificateDer, ServerName, UnixTime};
use rustls::{
    CertificateError, ClientConfig, ClientConnection, DigitallySignedStruct, SignatureScheme,
    StreamOwned,
};
use swarfbook_job::id::Sha256Hex;
use ureq::Error;
use ureq::unversioned::transport::{
    Buffers, ConnectionDetails, Connector, Either, LazyBuffers, NextTimeout, Transport,
    TransportAdapter,
};

use crate::Fingerprint;

/// What devices ask for in the handshake. A hub that shows browsers a certificate of the
/// shop's own shows its lasting one to who asks for this name (RFC 6761: no host has it).
pub const SERVER_NAME: &str = "hub.swarfbook.invalid";

/// What [`ureq::Error::Tls`] says of these two.
pub(crate) const WRONG_CERTIFICATE: &str = "another certificate";
pub(crate) const NO_TLS: &str = "no TLS";

/// Takes the one certificate, and remembers its whole hash.
#[derive(Debug)]
pub struct Pin {
    fingerprint: Fingerprint,
    provider: Arc<CryptoProvider>,
    seen: OnceLock<Sha256Hex>,
}

impl Pin {
    /// For the certificate of this fingerprint.
    pub fn new(fingerprint: Fingerprint) -> Arc<Pin> {
        Arc::new(Pin {
            fingerprint,
            provider: Arc::new(crypto::ring::default_provider()),
            seen: OnceLock::new(),
        })
    }

    /// The hash of the certificate that was taken; none before a connection.
    pub fn seen(&self) -> Option<Sha256Hex> {
        self.seen.get().copied()
    }

    /// TLS 1.3 alone: both sides are ours. No session is resumed, so that each connection
    /// looks at the certificate.
    ///
    /// # Errors
    /// As rustls; none with the provider that is built in.
    pub fn config(self: &Arc<Pin>) -> Result<Arc<ClientConfig>, rustls::Error> {
        let mut config = ClientConfig::builder_with_provider(self.provider.clone())
            .with_protocol_versions(&[&rustls::version::TLS13])?
            .dangerous()
            .with_custom_certificate_verifier(self.clone())
            .with_no_client_auth();
        config.resumption = Resumption::disabled();
        Ok(Arc::new(config))
    }
}

impl ServerCertVerifier for Pin {
    fn verify_server_cert(
        &self,
        certificate: &CertificateDer<'_>,
        _: &[CertificateDer<'_>],
        _: &ServerName<'_>,
        _: &[u8],
        _: UnixTime,
    ) -> Result<ServerCertVerified, rustls::Error> {
        let hash = Sha256Hex::of(certificate);
        if !self.fingerprint.is_of(hash) || self.seen.get_or_init(|| hash) != &hash {
            let wrong = CertificateError::ApplicationVerificationFailure;
            return Err(rustls::Error::InvalidCertificate(wrong));
        }
        Ok(ServerCertVerified::assertion())
    }

    fn verify_tls12_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, rustls::Error> {
        let algorithms = &self.provider.signature_verification_algorithms;
        crypto::verify_tls12_signature(message, certificate, signed, algorithms)
    }

    /// That the other side has the certificate's key.
    fn verify_tls13_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signed: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, rustls::Error> {
        let algorithms = &self.provider.signature_verification_algorithms;
        crypto::verify_tls13_signature(message, certificate, signed, algorithms)
    }

    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        self.provider
            .signature_verification_algorithms
            .supported_schemes()
    }
}

/// Puts TLS around connections to `https` addresses; none without a fingerprint.
pub(crate) struct Pinned(pub Option<Arc<ClientConfig>>);

impl fmt::Debug for Pinned {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Pinned")
    }
}

impl<In: Transport> Connector<In> for Pinned {
    type Out = Either<In, Encrypted<In>>;

    fn connect(
        &self,
        details: &ConnectionDetails,
        chained: Option<In>,
    ) -> Result<Option<Self::Out>, Error> {
        let Some(transport) = chained else {
            return Ok(None);
        };
        if !details.needs_tls() {
            return Ok(Some(Either::A(transport)));
        }
        let Some(config) = self.0.clone() else {
            return Err(Error::Tls(WRONG_CERTIFICATE));
        };
        let name = ServerName::try_from(SERVER_NAME).map_err(|_| Error::Tls(NO_TLS))?;
        let mut connection = ClientConnection::new(config, name).map_err(|_| Error::Tls(NO_TLS))?;
        let mut socket = TransportAdapter::new(transport, details.current_time.clone());
        socket.set_timeout(details.timeout);
        // Now, so that nothing is sent to a hub that is another.
        connection.complete_io(&mut socket).map_err(why)?;
        let sizes = details.config;
        Ok(Some(Either::B(Encrypted {
            buffers: LazyBuffers::new(sizes.input_buffer_size(), sizes.output_buffer_size()),
            stream: StreamOwned::new(connection, socket),
        })))
    }
}

fn why(error: io::Error) -> Error {
    let tls = error
        .get_ref()
        .and_then(|inner| inner.downcast_ref::<rustls::Error>());
    match tls {
        Some(rustls::Error::InvalidCertificate(_)) => Error::Tls(WRONG_CERTIFICATE),
        Some(_) => Error::Tls(NO_TLS),
        None => Error::Io(error),
    }
}

/// A connection within TLS.
pub(crate) struct Encrypted<In: Transport> {
    buffers: LazyBuffers,
    stream: StreamOwned<ClientConnection, TransportAdapter<In>>,
}

impl<In: Transport> fmt::Debug for Encrypted<In> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Encrypted")
    }
}

impl<In: Transport> Transport for Encrypted<In> {
    fn buffers(&mut self) -> &mut dyn Buffers {
        &mut self.buffers
    }

    fn transmit_output(&mut self, amount: usize, timeout: NextTimeout) -> Result<(), Error> {
        self.stream.sock.set_timeout(timeout);
        let output = self.buffers.output();
        let output = output.get(..amount).unwrap_or(output);
        self.stream.write_all(output)?;
        self.stream.flush()?;
        Ok(())
    }

    fn await_input(&mut self, timeout: NextTimeout) -> Result<bool, Error> {
        self.stream.sock.set_timeout(timeout);
        let arrived = self.stream.read(self.buffers.input_append_buf())?;
        self.buffers.input_appended(arrived);
        Ok(arrived > 0)
    }

    fn is_open(&mut self) -> bool {
        self.stream.sock.get_mut().is_open()
    }

    fn is_tls(&self) -> bool {
        true
    }
}
