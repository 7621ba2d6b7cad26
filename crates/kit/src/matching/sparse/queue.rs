//! A queue of events whose times never run backwards.

/// A time, and what may happen then.
pub(super) type Event = (i64, u32, u32);

/// A radix heap: events are kept by the highest bit in which their time differs from the present,
/// so each is moved at most once a bit (R. K. Ahuja, K. Mehlhorn, J. B. Orlin, R. E. Tarjan,
/// "Faster algorithms for the shortest path problem", J. ACM 37, 1990, from memory). Times must be
/// at least 0 and not before the last event taken out.
#[derive(Debug)]
pub(super) struct Queue {
    buckets: Vec<Vec<Event>>,
    now: i64,
}

impl Queue {
    /// An empty queue at time 0.
    pub fn new() -> Self {
        Self {
            buckets: vec![Vec::new(); 65],
            now: 0,
        }
    }

    fn bucket(&self, time: i64) -> usize {
        64 - (time ^ self.now).leading_zeros() as usize
    }

    /// Adds an event.
    pub fn push(&mut self, event: Event) {
        let bucket = self.bucket(event.0.max(self.now));
        self.buckets[bucket].push(event);
    }

    /// Takes one of the earliest events.
    pub fn pop(&mut self) -> Option<Event> {
        if self.buckets[0].is_empty() {
            let first = self.buckets.iter().position(|bucket| !bucket.is_empty())?;
            let mut events = std::mem::take(&mut self.buckets[first]);
            self.now = events.iter().map(|event| event.0).min().unwrap_or(self.now);
            for event in events.drain(..) {
                self.push(event);
            }
            // Hand the emptied room back, unless it has grown large.
            if events.capacity() < 4096 {
                self.buckets[first] = events;
            }
        }
        self.buckets[0].pop()
    }

    /// Forgets all events and goes back to time 0.
    pub fn clear(&mut self) {
        for bucket in &mut self.buckets {
            bucket.clear();
        }
        self.now = 0;
    }
}
