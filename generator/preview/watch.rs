//! Saves → one call each time the entries have come to rest.

use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;

use notify::{Config, Event, EventKind, PollWatcher, RecommendedWatcher, RecursiveMode, Watcher};

use super::PreviewError;

/// An editor saves in several steps; the entries are at rest when nothing has happened for this long.
const REST: Duration = Duration::from_millis(60);
/// Where the system offers no notice of changes, or no more of it, the folders are looked through this often.
const POLL: Duration = Duration::from_millis(700);

/// Changes seen from now on.
pub struct Changes {
    watcher: Box<dyn Watcher + Send>,
    seen: Receiver<()>,
}

/// Keeps watching until dropped.
pub struct Watch {
    _watcher: Box<dyn Watcher + Send>,
}

impl Changes {
    pub fn of(roots: &[PathBuf]) -> Result<Changes, PreviewError> {
        native(roots).or_else(|_| polling(roots))
    }

    /// Calls `changed` on a thread of its own after every save, until it returns false or the result is dropped.
    pub fn each(self, mut changed: impl FnMut() -> bool + Send + 'static) -> Watch {
        let Changes { watcher, seen } = self;
        std::thread::spawn(move || {
            while seen.recv().is_ok() {
                loop {
                    match seen.recv_timeout(REST) {
                        Ok(()) => {}
                        Err(RecvTimeoutError::Timeout) => break,
                        Err(RecvTimeoutError::Disconnected) => return,
                    }
                }
                if !changed() {
                    return;
                }
            }
        });
        Watch { _watcher: watcher }
    }
}

fn native(roots: &[PathBuf]) -> Result<Changes, PreviewError> {
    let (sender, seen) = channel();
    let watcher = RecommendedWatcher::new(teller(sender), Config::default()).map_err(|e| failure(roots, &e))?;
    watching(Box::new(watcher), roots, seen)
}

fn polling(roots: &[PathBuf]) -> Result<Changes, PreviewError> {
    let (sender, seen) = channel();
    let config = Config::default().with_poll_interval(POLL).with_compare_contents(true);
    let watcher = PollWatcher::new(teller(sender), config).map_err(|e| failure(roots, &e))?;
    watching(Box::new(watcher), roots, seen)
}

/// Reading the entries is an event too, and must not set off another reading. An error may hide a change.
fn teller(sender: std::sync::mpsc::Sender<()>) -> impl Fn(notify::Result<Event>) + Send + 'static {
    move |event| {
        let is_change = event.map_or(true, |event| !matches!(event.kind, EventKind::Access(_)));
        if is_change {
            // Nobody is left to tell when the preview stops.
            let _ = sender.send(());
        }
    }
}

fn watching(
    mut watcher: Box<dyn Watcher + Send>,
    roots: &[PathBuf],
    seen: Receiver<()>,
) -> Result<Changes, PreviewError> {
    for root in roots {
        let root_only = std::slice::from_ref(root);
        watcher.watch(root, RecursiveMode::Recursive).map_err(|e| failure(root_only, &e))?;
    }
    Ok(Changes { watcher, seen })
}

fn failure(roots: &[PathBuf], error: &notify::Error) -> PreviewError {
    PreviewError::Watch { path: roots.first().cloned().unwrap_or_default(), cause: error.to_string() }
}
