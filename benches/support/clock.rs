//! Time spent on one core.

use std::fs;
use std::time::{Duration, Instant};

use lastcourse::watch::Watch;

/// The processor time of this thread; on systems that don't tell, time passed.
pub struct Clock(Instant, Option<Duration>);

impl Clock {
    /// From now on.
    pub fn start() -> Clock {
        Clock(Instant::now(), processor())
    }

    /// The time since the start.
    pub fn took(&self) -> Duration {
        match (self.1, processor()) {
            (Some(before), Some(now)) => now.saturating_sub(before),
            _ => self.0.elapsed(),
        }
    }
}

fn processor() -> Option<Duration> {
    let text = fs::read_to_string("/proc/self/schedstat").ok()?;
    let nanos = text.split_whitespace().next()?.parse().ok()?;
    Some(Duration::from_nanos(nanos))
}

/// Stops when so much time is over.
pub struct Until(pub Clock, pub Duration);

impl Watch for Until {
    fn stop(&self) -> bool {
        self.0.0.elapsed() > self.1 && self.0.took() > self.1
    }
}
