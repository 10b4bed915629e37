//! `swarfbook serve`: the hub, until it is told to stop.

use std::io::{IsTerminal, Write};
use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::process::ExitCode;
use std::sync::Arc;

use clap::Args;
use tokio::net::TcpListener;

use super::{Data, Failure};
use crate::serve::{Hub, router, run};

/// In the data folder, where the address with its key is kept for who can't see a terminal.
const ADDRESS_FILE: &str = "hub-address";

#[derive(Args)]
pub(super) struct Serve {
    #[command(flatten)]
    data: Data,
    /// Load the invented demo shop when the store is empty.
    #[arg(long)]
    demo: bool,
    /// Address and port; 0.0.0.0 in place of 127.0.0.1 lets phones of the same network in.
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:8350")]
    listen: SocketAddr,
}

impl Serve {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let app = if self.demo {
            swarfbook_app::demo::open(&self.data.dir)?
        } else {
            self.data.open()?
        };
        let app = app.as_hub();
        let hub = Hub::new(Arc::new(app))?;
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .enable_all()
            .build()
            .map_err(|error| Failure::new(format!("The hub can't start: {error}.")))?;
        runtime.block_on(self.serve(hub))
    }

    async fn serve(&self, hub: Hub) -> Result<ExitCode, Failure> {
        let cannot = |error| Failure::new(format!("{} can't be used: {error}.", self.listen));
        let listener = TcpListener::bind(self.listen).await.map_err(cannot)?;
        let address = listener.local_addr().map_err(cannot)?;
        let stopped = stop();
        self.announce(address, hub.key().as_str())?;
        run(listener, router(hub), stopped).await;
        Ok(ExitCode::SUCCESS)
    }

    /// Where the hub is, in a line that a person or a script opens; flushed, since a script
    /// waits for it. What it prints is kept in journals and read by others, so that the key
    /// is in it on a terminal only; else it is in a file for this account alone.
    fn announce(&self, address: SocketAddr, key: &str) -> Result<(), Failure> {
        let own = match address.ip() {
            IpAddr::V4(ip) if ip.is_unspecified() => {
                SocketAddr::from(([127, 0, 0, 1], address.port()))
            }
            IpAddr::V6(ip) if ip.is_unspecified() => {
                SocketAddr::from(([127, 0, 0, 1], address.port()))
            }
            _ => address,
        };
        let whole = format!("http://{own}/?key={key}");
        let mut said = String::new();
        if std::io::stdout().is_terminal() {
            said += &format!("{whole}\n");
        } else {
            let file = self.data.dir.join(ADDRESS_FILE);
            swarfbook_store::private_file(&file)
                .and_then(|mut kept| writeln!(kept, "{whole}"))
                .map_err(|error| Failure::file(&file, &error))?;
            said += &format!(
                "http://{own}/\nThe address with its key is in {}\n",
                file.display()
            );
        }
        if address.ip().is_unspecified()
            && let Some(ip) = own_ip()
        {
            let reached = SocketAddr::new(ip, address.port());
            said += &format!("Phones pair with http://{reached}\n");
        }
        // A reader that closes the pipe after the first line, or none at all, is no reason not to serve.
        let mut out = super::out::out();
        let _ = out.write_all(said.as_bytes()).and_then(|()| out.flush());
        Ok(())
    }
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
