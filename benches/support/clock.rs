//! Time spent on one core.

use std::fs;
use std::time::{Duration, Instant};

use criterion::measurement::{Measurement, ValueFormatter, WallTime};
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

/// Measures processor time, which other work on the machine takes nothing from. It
/// is told by the tick of a few milliseconds; samples have to be longer than that.
pub struct Processor;

impl Measurement for Processor {
    type Intermediate = Clock;
    type Value = Duration;

    fn start(&self) -> Clock {
        Clock::start()
    }

    fn end(&self, clock: Clock) -> Duration {
        clock.took()
    }

    fn add(&self, one: &Duration, other: &Duration) -> Duration {
        *one + *other
    }

    fn zero(&self) -> Duration {
        Duration::ZERO
    }

    fn to_f64(&self, value: &Duration) -> f64 {
        value.as_nanos() as f64
    }

    fn formatter(&self) -> &dyn ValueFormatter {
        WallTime.formatter()
    }
}
