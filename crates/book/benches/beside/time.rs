//! Taking times.

use std::time::{Duration, Instant};

pub(crate) fn ms(time: Duration) -> f64 {
    1e3 * time.as_secs_f64()
}

pub(crate) fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}

pub(crate) fn least(times: &[Duration]) -> f64 {
    times.iter().min().copied().map_or(f64::NAN, ms)
}

/// Processor time of this process so far, all its threads: on a busy machine it says more than the
/// clock. In hundredths of a second, the step of Linux.
pub(crate) fn processor() -> Duration {
    let text = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    // After the name of the program in brackets: state, and from the twelfth on user and system.
    let fields = text.rsplit_once(')').map_or("", |(_, rest)| rest).split_whitespace();
    let hundredths: u64 = fields.skip(11).take(2).filter_map(|n| n.parse::<u64>().ok()).sum();
    Duration::from_millis(10 * hundredths)
}

/// By the clock.
pub(crate) fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let begun = Instant::now();
    let done = work();
    (done, begun.elapsed())
}

/// The median of some runs.
pub(crate) fn of_some<T>(runs: usize, mut work: impl FnMut() -> T) -> Duration {
    let one = |_| {
        let begun = Instant::now();
        std::hint::black_box(work());
        begun.elapsed()
    };
    median((0..runs).map(one).collect())
}

/// The most memory this process has held, megabytes.
pub(crate) fn most_memory_mb() -> f64 {
    std::fs::read_to_string("/proc/self/status")
        .ok()
        .and_then(|s| {
            let line = s.lines().find(|l| l.starts_with("VmHWM"))?.to_owned();
            line.split_whitespace().nth(1)?.parse::<f64>().ok()
        })
        .map_or(f64::NAN, |kb| kb / 1024.0)
}
