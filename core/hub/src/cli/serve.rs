//! `swarfbook serve`: the hub, until it is told to stop.

use std::io::{IsTerminal, Write};
use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;
use std::time::Instant;

use clap::Args;
use swarfbook_app::{App, Fingerprint};
use tokio::net::TcpListener;

use super::{Data, Failure};
use crate::serve::{Certificates, Hub, Key, Log, Pem, run};

/// In the data folder, where the address with its key is kept for who can't see a terminal.
pub(super) const ADDRESS_FILE: &str = "hub-address";

#[derive(Args)]
pub(super) struct Serve {
    #[command(flatten)]
    data: Data,
    /// Load the invented demo shop when the store is empty.
    #[arg(long)]
    demo: bool,
    /// Address and port; 0.0.0.0 in place of 127.0.0.1 lets phones of the same network in,
    /// encrypted.
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:8350")]
    listen: SocketAddr,
    /// A certificate (PEM) to show to browsers in place of the hub's own, for its names.
    #[arg(long, value_name = "FILE", requires = "certificate_key")]
    certificate: Option<PathBuf>,
    /// Its private key (PEM).
    #[arg(long, value_name = "FILE", requires = "certificate")]
    certificate_key: Option<PathBuf>,
    /// Write a line of JSON for each request to standard error: its kind, status and time.
    #[arg(long)]
    log: bool,
}

impl Serve {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let app = if self.demo {
            let app = swarfbook_app::demo::open(&self.data.dir)?;
            super::say_read_only(&app);
            app
        } else {
            self.data.open()?
        };
        let app = app.as_hub();
        let given = self.given()?;
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .enable_all()
            .build()
            .map_err(|error| Failure::new(format!("The hub can't start: {error}.")))?;
        let until = runtime.block_on(self.serve(Arc::new(app), given))?;
        // A report that is being made can't be ended: the program leaves it. Whatever it was
        // about to write is written whole or not at all.
        runtime.shutdown_timeout(until.saturating_duration_since(Instant::now()));
        Ok(ExitCode::SUCCESS)
    }

    fn given(&self) -> Result<Option<Pem>, Failure> {
        let (Some(certificate), Some(key)) = (&self.certificate, &self.certificate_key) else {
            return Ok(None);
        };
        let read = |file: &Path| {
            std::fs::read_to_string(file).map_err(|error| Failure::file(file, &error))
        };
        Ok(Some(Pem {
            certificate: read(certificate)?,
            key: read(key)?,
        }))
    }

    /// Until it is told to stop; work in hand has until then.
    async fn serve(&self, app: Arc<App>, given: Option<Pem>) -> Result<Instant, Failure> {
        let cannot = |error| Failure::new(format!("{} can't be used: {error}.", self.listen));
        let listener = TcpListener::bind(self.listen).await.map_err(cannot)?;
        let address = listener.local_addr().map_err(cannot)?;
        let reached = reached(address);
        let certificates = Certificates::of_store(&app, reached.map(|at| at.ip()), given.as_ref())?;
        let stopped = stop();
        self.announce(
            address,
            reached,
            Key::of_store(&app)?.as_str(),
            certificates.to_compare(),
        )?;
        let hub = Hub::new(app, certificates, reached, Log(self.log))?;
        Ok(run(listener, hub, stopped).await)
    }

    /// Where the hub is, in a line that a person or a script opens; flushed, since a script
    /// waits for it. What it prints is kept in journals and read by others, so that the key
    /// is in it on a terminal only; else it is in a file for this account alone.
    fn announce(
        &self,
        address: SocketAddr,
        reached: Option<SocketAddr>,
        key: &str,
        fingerprint: Option<Fingerprint>,
    ) -> Result<(), Failure> {
        let own = match address.ip() {
            IpAddr::V4(ip) if ip.is_unspecified() => {
                SocketAddr::from(([127, 0, 0, 1], address.port()))
            }
            IpAddr::V6(ip) if ip.is_unspecified() => {
                SocketAddr::from(([127, 0, 0, 1], address.port()))
            }
            _ => address,
        };
        let scheme = if own.ip().is_loopback() {
            "http"
        } else {
            "https"
        };
        let whole = format!("{scheme}://{own}/?key={key}");
        let mut said = String::new();
        let terminal = std::io::stdout().is_terminal();
        if terminal {
            said += &format!("{whole}\n");
        } else {
            let file = self.data.dir.join(ADDRESS_FILE);
            let kept =
                swarfbook_store::private_file(&file).and_then(|mut kept| writeln!(kept, "{whole}"));
            said += &match kept {
                Ok(()) => format!(
                    "{scheme}://{own}/\nThe address with its key is in {}\n",
                    file.display()
                ),
                // A full disk or a read-only folder is no reason not to serve.
                Err(error) => format!(
                    "{scheme}://{own}/\nThe address with its key can't be kept in {}: {error}. Start it on a terminal to see it.\n",
                    file.display()
                ),
            };
        }
        if let Some(reached) = reached {
            let key = if terminal {
                format!("?key={key}")
            } else {
                String::new()
            };
            said += &format!(
                "Phones pair with https://{reached}\nOther browsers open https://{reached}/{key}\n"
            );
            if let Some(fingerprint) = fingerprint {
                said += &format!(
                    "and must show a certificate with the SHA-256 fingerprint\n{}\n",
                    fingerprint.as_in_browsers()
                );
            }
        }
        // A reader that closes the pipe after the first line, or none at all, is no reason not to serve.
        let mut out = super::out::out();
        let _ = out.write_all(said.as_bytes()).and_then(|()| out.flush());
        Ok(())
    }
}

/// Where other machines reach a hub that listens there.
fn reached(address: SocketAddr) -> Option<SocketAddr> {
    let ip = address.ip();
    if ip.is_unspecified() {
        return own_ip().map(|ip| SocketAddr::new(ip, address.port()));
    }
    (!ip.is_loopback()).then_some(address)
}

/// This machine's number in its network. Nothing is sent: connecting a UDP
/// socket only asks the system which way it would send (192.0.2.1 is reserved
/// for documentation, RFC 5737).
fn own_ip() -> Option<IpAddr> {
    let socket = UdpSocket::bind("0.0.0.0:0").ok()?;
    socket.connect("192.0.2.1:9").ok()?;
    Some(socket.local_addr().ok()?.ip())
}

/// Tells when the system asks for an end. It listens from the call on, not from the first await: who
/// reads the announced address may ask at once.
fn stop() -> impl Future<Output = ()> + Send + 'static {
    #[cfg(unix)]
    let terminate = {
        use tokio::signal::unix::{SignalKind, signal};
        signal(SignalKind::terminate())
    };
    async move {
        let interrupt = tokio::signal::ctrl_c();
        #[cfg(unix)]
        if let Ok(mut terminate) = terminate {
            tokio::select! {
                _ = interrupt => {}
                _ = terminate.recv() => {}
            }
            return;
        }
        // Without its handler the system's own ends the program.
        let _ = interrupt.await;
    }
}
