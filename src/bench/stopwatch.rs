//! Processor seconds of the work, on a machine that does other work too.

use std::cell::Cell;
use std::fs;
use std::time::Instant;

/// Below this many seconds the wall clock is used, since the system counts a processor's time in steps of some milliseconds.
const SHORT: f64 = 0.02;
/// Least seconds between two questions to the system: a question costs microseconds, and searches check the time very often.
const STEP: f64 = 0.002;

/// Counts the seconds for which this thread had a processor where the system reports them (Linux does), else the seconds that passed. Only
/// the thread that started it may read it.
pub struct Stopwatch {
    began: Instant,
    busy: Option<f64>,
    /// Seconds passed at the last reading, and the seconds reported then.
    last: Cell<(f64, f64)>,
}

impl Stopwatch {
    /// Starts now.
    pub fn start() -> Stopwatch {
        Stopwatch {
            began: Instant::now(),
            busy: processor_seconds(),
            last: Cell::new((0.0, 0.0)),
        }
    }

    /// The seconds so far.
    pub fn seconds(&self) -> f64 {
        let passed = self.began.elapsed().as_secs_f64();
        let Some(before) = self.busy.filter(|_| passed > SHORT) else {
            return passed;
        };
        let (then, read) = self.last.get();
        if passed < then + STEP {
            return read;
        }
        let seconds = processor_seconds().map_or(passed, |after| after - before);
        self.last.set((passed, seconds));
        seconds
    }
}

/// How many seconds this thread has had a processor, where the system reports it.
fn processor_seconds() -> Option<f64> {
    let told = fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: f64 = told.split(' ').next()?.parse().ok()?;
    Some(nanoseconds / 1e9)
}
