//! A program killed at any moment loses nothing that it had acknowledged.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};
use std::thread;
use std::time::Duration;

use linkwright_store::records::{OrderLine, RingOrder};
use linkwright_store::{StoreError, check};

use crate::bench::Bench;

/// Entries that must have been acknowledged in all.
const ENTRIES: u64 = 500;
/// The kills come wherever this seed puts them.
const SEED: u64 = 0x5eed_2026;
/// Lines of every order the writer adds.
const LINES: u64 = 2;

#[test]
fn nothing_acknowledged_is_lost_by_kills_at_random_points_over_500_entries() {
    let bench = Bench::new();
    let mut dice = Dice(SEED);
    let (mut next, mut acknowledged, mut kills) = (1, Vec::new(), 0);
    while acknowledged.len() < usize::try_from(ENTRIES).expect("small") || kills < 20 {
        let writer = start(&bench, next);
        let newly = killed_after(writer, dice.up_to(45), dice.up_to(6000));
        acknowledged.extend(newly);
        kills += 1;
        next = 1 + all_there(&bench, &acknowledged);
    }
}

fn start(bench: &Bench, first: u64) -> Child {
    Command::new(env!("CARGO_BIN_EXE_linkwright-store-writer"))
        .arg(&bench.file)
        .args([first.to_string(), u64::MAX.to_string()])
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts")
}

/// Kills the writer some microseconds after so many entries; all entries it acknowledged by then.
fn killed_after(mut writer: Child, entries: u64, microseconds: u64) -> Vec<u64> {
    let mut lines = BufReader::new(writer.stdout.take().expect("piped")).lines();
    let mut acknowledged = Vec::new();
    let mut hear = |line: std::io::Result<String>| {
        acknowledged.push(line.expect("read").parse::<u64>().expect("a number"));
    };
    for _ in 0..entries {
        hear(lines.next().expect("it goes on until it is killed"));
    }
    thread::sleep(Duration::from_micros(microseconds));
    writer.kill().expect("killed");
    lines.for_each(hear);
    writer.wait().expect("gone");
    acknowledged
}

/// Fails unless every acknowledged order is there with its lines; the last order's number.
fn all_there(bench: &Bench, acknowledged: &[u64]) -> u64 {
    if bench.file.exists() {
        assert_eq!(check(&bench.file).expect("checked").troubles, []);
    }
    let store = bench.open();
    let (orders, lines) = store
        .read(|view| Ok::<_, StoreError>((view.all::<RingOrder>()?, view.count::<OrderLine>()?)))
        .expect("read");
    let there: Vec<u64> =
        orders.iter().map(|order| order.record.name.parse().expect("a number")).collect();
    for number in acknowledged {
        assert!(there.contains(number), "order {number} was acknowledged and is lost");
    }
    assert_eq!(lines, LINES * there.len() as u64, "an order is there without its lines");
    there.into_iter().max().unwrap_or(0)
}

/// Numbers that look random and are the same every time: xorshift (Marsaglia 2003), from memory.
struct Dice(u64);

impl Dice {
    fn up_to(&mut self, most: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % (most + 1)
    }
}
