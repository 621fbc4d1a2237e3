//! The same steps as `compile`, served from memory on loopback: recompiles when an entry is saved and reloads open
//! pages. Writes nothing to the disk, prints nothing, and answers only this machine.

mod address;
mod edition;
mod overlay;
mod server;
mod watch;

use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;

use tokio::net::TcpListener;
use tokio::runtime::Runtime;
use tokio::sync::watch as latest;

use crate::entry::Day;
use crate::render::Theme;
pub use edition::Tally;
use edition::{Edition, Roots};

/// What to serve, and where.
#[derive(Clone, Debug)]
pub struct Options {
    /// Folders of collections, as for `compile`.
    pub roots: Vec<PathBuf>,
    /// Folders of pictures that may not be published.
    pub photos: Vec<PathBuf>,
    /// 0 takes any free port.
    pub port: u16,
    /// The day against which reviews are called stale.
    pub today: Option<Day>,
}

/// Why there is no preview. What is wrong with the entries is shown in the pages, and is not among these.
#[derive(Debug)]
pub enum PreviewError {
    Port { port: u16, cause: std::io::Error },
    Runtime { cause: std::io::Error },
    Watch { path: PathBuf, cause: String },
    Theme { cause: String },
}

impl std::fmt::Display for PreviewError {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            PreviewError::Port { port, cause } => {
                write!(out, "cannot listen on port {port} of this machine: {cause}; name another with --port")
            }
            PreviewError::Runtime { cause } => write!(out, "cannot start the preview: {cause}"),
            PreviewError::Watch { path, cause } => write!(out, "cannot watch {}: {cause}", path.display()),
            PreviewError::Theme { cause } => write!(out, "{cause}"),
        }
    }
}

impl std::error::Error for PreviewError {}

/// A preview at work. Dropping it stops it.
pub struct Preview {
    address: SocketAddr,
    editions: latest::Receiver<Arc<Edition>>,
    // In this order: no more changes are seen, then the server goes.
    _watch: watch::Watch,
    runtime: Runtime,
}

/// Compiles once, then serves and watches until the result is dropped.
///
/// # Errors
/// See [`PreviewError`].
pub fn start(options: &Options) -> Result<Preview, PreviewError> {
    let theme = Theme::built_in().map_err(|cause| PreviewError::Theme { cause })?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(1)
        .enable_io()
        .build()
        .map_err(|cause| PreviewError::Runtime { cause })?;
    let no_port = |cause| PreviewError::Port { port: options.port, cause };
    // Bound before the first compile, so that a port in use is told at once.
    let listener = runtime.block_on(TcpListener::bind((Ipv4Addr::LOCALHOST, options.port))).map_err(no_port)?;
    let address = listener.local_addr().map_err(no_port)?;
    // Watched before the first compile, so that no save falls between.
    let roots = Roots { entries: options.roots.clone(), photos: options.photos.clone() };
    let watched: Vec<PathBuf> = roots.entries.iter().chain(&roots.photos).cloned().collect();
    let changes = watch::Changes::of(&watched)?;
    let first = Edition::first(&roots, &theme, options.today);
    let (sender, editions) = latest::channel(Arc::new(first));
    let app = server::app(editions.clone(), address);
    runtime.spawn(async move { axum::serve(listener, app).await });
    let today = options.today;
    let watch = changes.each(move || {
        let next = sender.borrow().next(&roots, &theme, today);
        match next {
            Some(next) => sender.send(Arc::new(next)).is_ok(),
            None => !sender.is_closed(),
        }
    });
    Ok(Preview { address, editions, _watch: watch, runtime })
}

impl Preview {
    /// Where it listens.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Tells each edition, the first at once, until the user asks to stop (Ctrl-C).
    pub fn until_stopped(mut self, mut tell: impl FnMut(&Tally)) {
        self.editions.mark_changed();
        self.runtime.block_on(async {
            loop {
                tokio::select! {
                    changed = self.editions.changed() => match changed {
                        Ok(()) => tell(&self.editions.borrow_and_update().tally),
                        Err(_) => return,
                    },
                    // Without a handler the signal ends the program by itself.
                    stop = tokio::signal::ctrl_c() => if stop.is_ok() { return },
                }
            }
        });
        // Open event streams never end by themselves.
        self.runtime.shutdown_background();
    }
}
