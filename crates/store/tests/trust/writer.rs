//! A program the tests start to write to a data file, and kill: it adds orders with two lines each
//! and says the number of every one that was acknowledged.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use linkwright_store::records::{OrderLine, RingOrder};
use linkwright_store::{Id, Moment, Store, StoreError};

fn main() -> ExitCode {
    let given: Vec<String> = std::env::args().skip(1).collect();
    let [path, first, end] = given.as_slice() else {
        eprintln!("give a data file, a first number and the one to stop before");
        return ExitCode::from(2);
    };
    match write(path, first.parse().unwrap_or(1), end.parse().unwrap_or(1)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn write(path: &str, first: u64, end: u64) -> Result<(), Box<dyn std::error::Error>> {
    let now = Moment::parse("2026-11-25T08:30:00Z").ok_or("no moment")?;
    let store = Store::open(Path::new(path))?;
    let mut out = std::io::stdout().lock();
    for number in first..end {
        store.act(now, &format!("Added order {number}"), |act| {
            let id = act.add(&order(number))?;
            act.add(&line(id, 1))?;
            act.add(&line(id, 2))?;
            Ok::<_, StoreError>(())
        })?;
        writeln!(out, "{number}")?;
        out.flush()?;
    }
    Ok(())
}

fn order(number: u64) -> RingOrder {
    RingOrder {
        name: number.to_string(),
        asked_on: "2026-11-25".to_owned(),
        due_on: None,
        buyer: String::new(),
        note: "kept or never acknowledged".to_owned(),
        closed_on: None,
    }
}

fn line(order_id: Id<RingOrder>, position: u32) -> OrderLine {
    OrderLine {
        rings: Some(100),
        metal: "copper".to_owned(),
        temper: "soft".to_owned(),
        wire_typed: "18 awg".to_owned(),
        wire_mm: 1.024,
        ring_typed: Some("4 mm inside, open".to_owned()),
        ..OrderLine::begun(order_id, position, format!("line {position}"))
    }
}
