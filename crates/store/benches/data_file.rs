//! A data file with 100,000 trials opened, read, written to, copied and exported; never a gate.

use std::path::PathBuf;
use std::sync::LazyLock;

use divan::{Bencher, black_box};
use linkwright_store::export::{Beside, ExportError, json};
use linkwright_store::records::{BladeEvent, Outcome, Trial, TrialSource};
use linkwright_store::{Id, Moment, Store, StoreError, back_up, check};
use tempfile::TempDir;

const TRIALS: i64 = 100_000;
const CLIENTS: usize = 50;

fn main() {
    divan::main();
}

/// The file, made once and open for all benches but those that open it.
struct Kept {
    folder: TempDir,
    path: PathBuf,
}

static KEPT: LazyLock<Kept> = LazyLock::new(|| {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("bench.linkwright");
    let store = Store::open(&path).expect("opens");
    let many = |act: &linkwright_store::Act<'_>| {
        (0..TRIALS).try_for_each(|number| act.add(&trial(number)).map(drop))
    };
    store.act(now(), "Added many trials", many).expect("saved");
    drop(store);
    Kept { folder, path }
});

fn now() -> Moment {
    Moment::parse("2026-11-25T08:30:00Z").expect("a moment")
}

fn trial(number: i64) -> Trial {
    Trial {
        tried_on: format!("2026-{:02}-{:02}", number % 12 + 1, number % 28 + 1),
        source: TrialSource::Typed,
        metal: ["copper", "sterling", "brass"][usize::try_from(number % 3).unwrap_or(0)].to_owned(),
        temper: "soft".to_owned(),
        annealed: false,
        wire_typed: "1.02 mm".to_owned(),
        wire_mm: 1.02,
        rod_typed: "4 mm".to_owned(),
        rod_mm: 4.0,
        wire_lot_id: None,
        blade_id: None,
        blade_name: "fine".to_owned(),
        blade_diameter_mm: Some(25.0),
        projection_typed: Some("2.1 mm".to_owned()),
        projection_mm: Some(2.1),
        inside_typed: None,
        inside_mean_mm: None,
        inside_readings: None,
        turns_wound: Some(110),
        turns_relaxed: None,
        good: Some(100),
        uncut: Some(2),
        nicked: Some(1),
        crushed: Some(0),
        blade_event: BladeEvent::None,
        outcome: Outcome::Good,
        run_id: None,
        coil_number: None,
        worker: String::new(),
        note: "an invented trial".to_owned(),
    }
}

#[divan::bench]
fn open_and_close(bencher: Bencher) {
    let path = &KEPT.path;
    bencher.bench_local(|| drop(black_box(Store::open(path).expect("opens"))));
}

#[divan::bench]
fn one_entry_saved(bencher: Bencher) {
    let store = Store::open(&KEPT.path).expect("opens");
    bencher.bench_local(|| store.act(now(), "Added a trial", |act| act.add(&trial(1))));
}

#[divan::bench(threads = [1, CLIENTS])]
fn one_trial_read(bencher: Bencher) {
    let store = Store::open(&KEPT.path).expect("opens");
    let id = Id::<Trial>::new(TRIALS / 2);
    bencher.bench(|| store.read(|view| view.get(black_box(id))));
}

#[divan::bench(sample_count = 5)]
fn checked(bencher: Bencher) {
    bencher.bench_local(|| check(&KEPT.path));
}

#[divan::bench(sample_count = 5)]
fn backed_up(bencher: Bencher) {
    let to = KEPT.folder.path().join("copy.linkwright");
    bencher.bench_local(|| {
        drop(std::fs::remove_file(&to));
        back_up::<ExportError>(&KEPT.path, &to).expect("made");
    });
}

#[divan::bench(sample_count = 5)]
fn exported(bencher: Bencher) {
    let store = Store::open(&KEPT.path).expect("opens");
    let write = |view: &linkwright_store::View<'_>| {
        json(view, Beside::default(), std::io::sink()).map_err(|error| match error {
            ExportError::Store(error) => error,
            other => unreachable!("the sink takes everything and the file is open: {other}"),
        })
    };
    bencher.bench_local(|| store.read::<(), StoreError>(write));
}
