//! The hub as seen from a device.

use std::ops::Deref;

use swarfbook_job::id::DeviceId;
use swarfbook_store::Store;
use swarfbook_words::{say, term};

use crate::message::{Request, Response};
use crate::serve;

/// Whoever answers requests: a hub over the network, or a store beside this one.
pub trait Peer {
    /// Carries one request there and its answer back.
    ///
    /// # Errors
    /// [`PeerError::Cut`] when either did not arrive whole; the request may
    /// have been done all the same.
    fn ask(&self, request: &Request) -> Result<Response, PeerError>;
}

/// Why a peer gave no answer that can be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PeerError {
    /// It could not be reached, or the connection broke.
    #[error("{}", say!("the-hub-cant-be-reached-value", value = .0))]
    Cut(String),
    /// Its address asks for plain HTTP through the network, as those of older pairings do.
    #[error("{}", say!("this-device-was-paired-with-value-before-the", value = .0))]
    Unencrypted(String),
    /// Nobody told which certificate it has.
    #[error("{}", term!("the-fingerprint-of-the-hubs-certificate-is-missing"))]
    NoFingerprint,
    /// It shows another certificate than the one that it is known by.
    #[error("{}", term!("the-hub-showed-another-certificate-than-the-one"))]
    WrongCertificate,
    /// It does not answer as TLS asks.
    #[error("{}", term!("what-answers-at-this-address-does-not-encrypt"))]
    NotEncrypted,
    /// It answered that it would not.
    #[error("{words}")]
    Refused {
        /// The status, as HTTP has them.
        status: u16,
        /// Why, in the hub's words.
        words: String,
    },
    /// It answered something that is no answer.
    #[error("{}", say!("the-hubs-answer-cant-be-understood-value", value = .0))]
    Garbled(String),
}

impl PeerError {
    /// What came is in no form that this version knows. A parser's words of it are English and
    /// name places in bytes: they help nobody who exchanges with a hub.
    pub(crate) fn strange<T>(_: T) -> PeerError {
        PeerError::Garbled(say!("its-form-is-not-known-here"))
    }
}

/// A hub in this process: its store, and who asks.
pub struct InProcess<F> {
    store: F,
    from: DeviceId,
    now_millis: u64,
}

impl<S: Deref<Target = Store>, F: Fn() -> S> InProcess<F> {
    /// The hub that keeps `store`, asked by the device `from`.
    pub fn new(store: F, from: DeviceId, now_millis: u64) -> InProcess<F> {
        InProcess {
            store,
            from,
            now_millis,
        }
    }
}

impl<S: Deref<Target = Store>, F: Fn() -> S> Peer for InProcess<F> {
    fn ask(&self, request: &Request) -> Result<Response, PeerError> {
        Ok(serve::answer(
            &(self.store)(),
            self.from,
            self.now_millis,
            request,
        ))
    }
}
