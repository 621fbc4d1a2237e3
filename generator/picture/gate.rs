//! How much is held in memory at once: whoever opens a picture asks first, and waits while others hold too much.

use std::sync::{Condvar, Mutex, PoisonError};

/// Bytes that all pictures being opened may take together. One that takes more comes alone.
pub struct Gate {
    room: u64,
    held: Mutex<u64>,
    left: Condvar,
}

/// Room in the gate, given back when dropped.
pub struct Held<'a> {
    gate: &'a Gate,
    bytes: u64,
}

impl Gate {
    pub fn new(room: u64) -> Gate {
        Gate { room, held: Mutex::new(0), left: Condvar::new() }
    }

    pub fn enter(&self, bytes: u64) -> Held<'_> {
        let bytes = bytes.min(self.room);
        let mut held = self.held.lock().unwrap_or_else(PoisonError::into_inner);
        while *held + bytes > self.room {
            held = self.left.wait(held).unwrap_or_else(PoisonError::into_inner);
        }
        *held += bytes;
        Held { gate: self, bytes }
    }
}

impl Drop for Held<'_> {
    fn drop(&mut self) {
        *self.gate.held.lock().unwrap_or_else(PoisonError::into_inner) -= self.bytes;
        self.gate.left.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicU64, Ordering};

    use super::Gate;

    #[test]
    fn no_more_is_held_than_there_is_room_for() {
        let (gate, now, most) = (Gate::new(10), AtomicU64::new(0), AtomicU64::new(0));
        std::thread::scope(|scope| {
            for bytes in [4, 6, 5, 3, 10, 99, 1, 7] {
                let (gate, now, most) = (&gate, &now, &most);
                scope.spawn(move || {
                    let _held = gate.enter(bytes);
                    let bytes = bytes.min(10);
                    most.fetch_max(now.fetch_add(bytes, Ordering::SeqCst) + bytes, Ordering::SeqCst);
                    now.fetch_sub(bytes, Ordering::SeqCst);
                });
            }
        });
        assert!((1..=10).contains(&most.load(Ordering::SeqCst)));
        assert_eq!(now.load(Ordering::SeqCst), 0);
    }
}
