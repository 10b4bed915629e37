//! How a request came.

use axum::extract::Request;

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wire {
    /// Within TLS.
    Encrypted,
    /// In the clear, but from this machine to itself.
    Inside,
    /// In the clear through a network, where anybody reads it.
    Open,
}

impl Wire {
    /// Called without a socket, all comes from inside.
    pub(super) fn of(request: &Request) -> Wire {
        let carried = request.extensions().get::<Wire>();
        carried.copied().unwrap_or(Wire::Inside)
    }

    pub(super) fn scheme(self) -> &'static str {
        match self {
            Wire::Encrypted => "https",
            Wire::Inside | Wire::Open => "http",
        }
    }
}
