//! Many runs on all cores, in an order that does not change what they give.

use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

/// How often the person is told how far it is.
const TELL_EVERY: Duration = Duration::from_millis(100);

/// Does every work on as many threads as there are cores; `stop` is asked with the share done, and ends it.
///
/// What was not done when it was stopped is none.
pub fn runs<W: Sync, T: Send>(
    works: &[W],
    one: impl Fn(&W) -> T + Sync,
    mut stop: impl FnMut(f64) -> bool,
) -> Vec<Option<T>> {
    let done: Vec<Mutex<Option<T>>> = works.iter().map(|_| Mutex::new(None)).collect();
    let (next, ended, count) = (
        AtomicUsize::new(0),
        AtomicBool::new(false),
        AtomicUsize::new(0),
    );
    let cores = thread::available_parallelism().map_or(1, usize::from);
    let work = || {
        while !ended.load(Ordering::Relaxed) {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(each) = works.get(at) else {
                break;
            };
            let result = one(each);
            if let Ok(mut place) = done[at].lock() {
                *place = Some(result);
            }
            count.fetch_add(1, Ordering::Relaxed);
        }
    };
    thread::scope(|scope| {
        let workers: Vec<_> = (0..cores.min(works.len()))
            .map(|_| scope.spawn(work))
            .collect();
        while workers.iter().any(|w| !w.is_finished()) {
            let share = count.load(Ordering::Relaxed) as f64 / works.len() as f64;
            if stop(share) {
                ended.store(true, Ordering::Relaxed);
            }
            thread::sleep(TELL_EVERY);
        }
    });
    let taken = |place: Mutex<Option<T>>| place.into_inner().unwrap_or_default();
    done.into_iter().map(taken).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_every_work_is_done_once_and_stands_in_its_place() {
        let works: Vec<usize> = (0..500).collect();
        let calls = AtomicUsize::new(0);
        let done = runs(
            &works,
            |n| {
                calls.fetch_add(1, Ordering::Relaxed);
                n * n
            },
            |_| false,
        );
        assert_eq!(calls.into_inner(), 500);
        assert!(done.iter().enumerate().all(|(n, d)| *d == Some(n * n)));
    }

    #[test]
    fn law_what_is_stopped_leaves_the_rest_undone_and_says_so() {
        let works = vec![(); 1000];
        let slow = |(): &()| thread::sleep(Duration::from_millis(5));
        let done = runs(&works, slow, |share| share > 0.0);
        let made = done.iter().flatten().count();
        assert!(made > 0 && made < 1000, "{made}");
    }
}
