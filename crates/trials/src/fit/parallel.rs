//! Independent jobs on the processors there are, answers in the order of the jobs.

use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// More threads than this do not pay for jobs this short.
const THREADS_MOST: usize = 4;

/// `work` of each job; the answers do not depend on how many threads there are.
pub(crate) fn in_parallel<J: Sync, R: Send>(jobs: &[J], work: impl Fn(&J) -> R + Sync) -> Vec<R> {
    let processors = thread::available_parallelism().map_or(1, NonZeroUsize::get);
    let threads = processors.min(THREADS_MOST).min(jobs.len());
    if threads < 2 {
        return jobs.iter().map(work).collect();
    }
    let next = AtomicUsize::new(0);
    let take = || {
        let mut done = Vec::new();
        loop {
            let i = next.fetch_add(1, Ordering::Relaxed);
            let Some(job) = jobs.get(i) else { return done };
            done.push((i, work(job)));
        }
    };
    let mut done = thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(take)).collect();
        let mut done = take();
        for other in others {
            match other.join() {
                Ok(more) => done.extend(more),
                Err(panic) => std::panic::resume_unwind(panic),
            }
        }
        done
    });
    done.sort_unstable_by_key(|(i, _)| *i);
    done.into_iter().map(|(_, answer)| answer).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_come_in_the_order_of_the_jobs() {
        let jobs: Vec<u64> = (0..100).collect();
        let answers = in_parallel(&jobs, |job| job * job);
        assert!(answers.iter().zip(&jobs).all(|(answer, job)| *answer == job * job));
        assert_eq!(answers.len(), 100);
        assert!(in_parallel(&[] as &[u64], |job| *job).is_empty());
    }
}
