//! Many at once: threads of one program, and two programs.

use std::process::Command;
use std::thread;

use linkwright_store::records::{RingOrder, Rod};
use linkwright_store::{StoreError, check};

use crate::bench::{Bench, add_rod, now, rod, rod_names};

#[test]
fn eight_writers_and_their_readers_lose_nothing_and_see_no_half_of_an_action() {
    const WRITERS: u32 = 8;
    const EACH: u32 = 20;
    let bench = Bench::new();
    let store = bench.open();
    thread::scope(|scope| {
        for writer in 0..WRITERS {
            let store = &store;
            scope.spawn(move || {
                for number in 0..EACH {
                    let pair = |act: &linkwright_store::Act<'_>| {
                        act.add(&rod(&format!("{writer}-{number} a")))?;
                        act.add(&rod(&format!("{writer}-{number} b")))
                    };
                    store.act(now(), "Added two", pair).expect("saved");
                    let seen = store.read(|view| view.count::<Rod>()).expect("read");
                    assert_eq!(seen % 2, 0, "half of an action was seen");
                }
            });
        }
    });
    assert_eq!(rod_names(&store).len(), (WRITERS * EACH * 2) as usize);
    drop(store);
    assert_eq!(check(&bench.file).expect("checked").troubles, []);
}

#[test]
fn a_look_does_not_change_while_others_write() {
    let bench = Bench::with_rods(1);
    let store = bench.open();
    store
        .read(|view| {
            let before = view.count::<Rod>()?;
            add_rod(&store, "meanwhile");
            assert_eq!(view.count::<Rod>()?, before);
            assert_eq!(view.count::<RingOrder>()?, 0);
            Ok::<_, StoreError>(())
        })
        .expect("read");
    assert_eq!(store.read(|view| view.count::<Rod>()).expect("read"), 2);
}

#[test]
fn a_second_program_is_told_that_the_file_is_in_use_and_gets_in_when_the_first_has_gone() {
    let bench = Bench::new();
    let store = bench.open();
    let second = || {
        let output = Command::new(env!("CARGO_BIN_EXE_linkwright-store-writer"))
            .arg(&bench.file)
            .args(["1", "2"])
            .output()
            .expect("it starts");
        (output.status.success(), String::from_utf8(output.stderr).expect("UTF-8"))
    };
    let (done, said) = second();
    assert!(!done && said.contains("another linkwright has this data file open"), "{said}");
    drop(store);
    let (done, said) = second();
    assert!(done, "{said}");
}

/// The system refuses to let the file grow beyond 300 blocks of 512 bytes, as a full disk does.
#[cfg(unix)]
#[test]
fn a_full_disk_is_reported_and_every_entry_acknowledged_before_is_there() {
    let bench = Bench::new();
    drop(bench.open());
    let output = Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 300; exec \"$0\" \"$@\""])
        .arg(env!("CARGO_BIN_EXE_linkwright-store-writer"))
        .arg(&bench.file)
        .args(["1", "100000"])
        .output()
        .expect("it starts");
    let said = String::from_utf8(output.stderr).expect("UTF-8");
    assert!(said.contains("nothing was saved: the disk is full"), "{said}");
    let acknowledged = String::from_utf8(output.stdout).expect("UTF-8").lines().count();
    assert!(acknowledged > 0);
    assert_eq!(check(&bench.file).expect("checked").troubles, []);
    let orders = bench.open().read(|view| view.count::<RingOrder>()).expect("read");
    assert_eq!(orders, acknowledged as u64, "neither lost nor half there");
}
