//! The same asked of many things that know nothing of one another.

use std::sync::atomic::{AtomicUsize, Ordering};

/// Taken up together, so that the counter is no hindrance.
const AT_ONCE: usize = 8;

/// `of` for every number below `count`, in order; worked out by as many threads as the machine has
/// processors when `apart`, and the same then.
pub fn each<T: Send>(count: usize, apart: bool, of: &(dyn Fn(usize) -> T + Sync)) -> Vec<T> {
    let processors = std::thread::available_parallelism().map_or(1, usize::from);
    let threads = processors.min(count.div_ceil(AT_ONCE));
    if !apart || threads < 2 {
        return (0..count).map(of).collect();
    }
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done: Vec<(usize, Vec<T>)> = Vec::new();
        loop {
            let from = next.fetch_add(AT_ONCE, Ordering::Relaxed);
            if count <= from {
                return done;
            }
            done.push((from, (from..count.min(from + AT_ONCE)).map(of).collect()));
        }
    };
    let mut all = std::thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut all = work();
        for other in others {
            match other.join() {
                Ok(done) => all.extend(done),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        all
    });
    all.sort_unstable_by_key(|(from, _)| *from);
    all.into_iter().flat_map(|(_, some)| some).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_is_kept() {
        for count in [0, 1, 7, 8, 9, 1000] {
            let square = |n: usize| n * n;
            let wanted: Vec<usize> = (0..count).map(square).collect();
            assert_eq!(each(count, true, &square), wanted);
            assert_eq!(each(count, false, &square), wanted);
        }
    }
}
