//! Many clients at once, and how long each of them waited.

use std::thread;
use std::time::{Duration, Instant};

use anyhow::{Result, anyhow, ensure};

use super::client::Client;

/// How many ask at once.
pub const CLIENTS: usize = 50;

/// How long the clients pause after an answer.
#[derive(Clone, Copy)]
pub enum Pace {
    /// Not at all: as fast as the server can, the hardest case.
    NoPause,
    /// So long as a quick hand takes for the next tap.
    Hands,
}

const TAP: Duration = Duration::from_secs(1);

/// What the clients saw.
pub struct Waits {
    sorted: Vec<Duration>,
    lasted: Duration,
}

impl Waits {
    /// The wait that a share of requests did not exceed, in ms.
    pub fn share_ms(&self, share: f64) -> f64 {
        let below = self.sorted.len().saturating_sub(1);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a place in a list of a few thousand"
        )]
        let at = (below as f64 * share).ceil() as usize;
        self.sorted.get(at).map_or(f64::NAN, |wait| wait.as_secs_f64() * 1e3)
    }

    /// Answers in a second, all clients together.
    pub fn per_second(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
        let answers = self.sorted.len() as f64;
        answers / self.lasted.as_secs_f64()
    }
}

/// Lets [`CLIENTS`] ask for the paths in turn, each beginning at another, `each` times per client.
pub fn load(host: &str, paths: &[String], each: usize, pace: Pace) -> Result<Waits> {
    let began = now();
    let outcomes: Vec<Result<Vec<Duration>>> = thread::scope(|scope| {
        let clients: Vec<_> = (0..CLIENTS)
            .map(|client| scope.spawn(move || ask(host, paths, client, each, pace)))
            .collect();
        clients
            .into_iter()
            .map(|client| client.join().unwrap_or_else(|_| Err(anyhow!("a client broke off"))))
            .collect()
    });
    let lasted = began.elapsed();
    let mut sorted = Vec::new();
    for outcome in outcomes {
        sorted.extend(outcome?);
    }
    sorted.sort_unstable();
    Ok(Waits { sorted, lasted })
}

fn ask(
    host: &str,
    paths: &[String],
    client: usize,
    each: usize,
    pace: Pace,
) -> Result<Vec<Duration>> {
    let mut connection = Client::browser(host)?;
    let mut waits = Vec::with_capacity(each);
    if let Pace::Hands = pace {
        // People do not tap in step.
        thread::sleep(TAP.mul_f64(fraction(client)));
    }
    for request in 0..each {
        let path = &paths[(client * 7 + request) % paths.len()];
        let began = now();
        let answer = connection.get(path)?;
        waits.push(began.elapsed());
        ensure!(answer.status == 200, "{path} is answered with {}", answer.status);
        if let Pace::Hands = pace {
            thread::sleep(TAP);
        }
    }
    Ok(waits)
}

fn fraction(client: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "fifty at most")]
    let share = client as f64 / CLIENTS as f64;
    share
}

/// The clock of the timings.
#[expect(clippy::disallowed_methods, reason = "this chore is a timing")]
pub fn now() -> Instant {
    Instant::now()
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::Waits;

    #[test]
    fn one_slow_answer_in_a_hundred_shows_in_the_last_hundredth_only() {
        let mut sorted = vec![Duration::from_millis(1); 99];
        sorted.push(Duration::from_millis(900));
        let waits = Waits { sorted, lasted: Duration::from_secs(2) };
        let ms = |share| waits.share_ms(share).round();
        assert_eq!((ms(0.5), ms(0.98), ms(1.0)), (1.0, 1.0, 900.0));
        assert!((waits.per_second() - 50.0).abs() < 1e-9);
    }
}
