//! What the tests work with: a folder of their own, a moment, a rod.

use std::fs;
use std::path::{Path, PathBuf};

use linkwright_store::records::Rod;
use linkwright_store::{Id, Moment, Store};
use rusqlite::Connection;
use tempfile::TempDir;

pub struct Bench {
    pub folder: TempDir,
    pub file: PathBuf,
}

impl Bench {
    pub fn new() -> Bench {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("bench.linkwright");
        Bench { folder, file }
    }

    /// A bench whose data file holds rods named `r1` and so on, and is closed.
    pub fn with_rods(count: u32) -> Bench {
        let bench = Bench::new();
        let store = bench.open();
        for number in 1..=count {
            add_rod(&store, &format!("r{number}"));
        }
        bench
    }

    pub fn open(&self) -> Store {
        Store::open(&self.file).expect("opens")
    }

    /// The file opened behind the program's back.
    pub fn behind(&self) -> Connection {
        Connection::open(&self.file).expect("a database")
    }

    pub fn bytes(&self) -> Vec<u8> {
        fs::read(&self.file).expect("readable")
    }

    /// Names of all files beside the data file, in order.
    pub fn names(&self) -> Vec<String> {
        names_in(self.folder.path())
    }
}

pub fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("Unicode"))
        .collect();
    names.sort();
    names
}

pub fn now() -> Moment {
    Moment::parse("2026-11-25T08:30:00Z").expect("a moment")
}

pub fn rod(name: &str) -> Rod {
    Rod {
        name: name.to_owned(),
        marked_typed: "4 mm".to_owned(),
        marked_mm: 4.0,
        measured_typed: None,
        measured_mm: None,
        note: String::new(),
        retired_on: None,
        retired_why: String::new(),
    }
}

pub fn add_rod(store: &Store, name: &str) -> Id<Rod> {
    store.act(now(), &format!("Added rod {name}"), |act| act.add(&rod(name))).expect("saved")
}

pub fn rod_names(store: &Store) -> Vec<String> {
    let rods = store.read(|view| view.all::<Rod>()).expect("read");
    rods.into_iter().map(|rod| rod.record.name).collect()
}

/// Fills the page in the middle of a file with a value no page begins with.
pub fn damage_the_middle(file: &Path) {
    let mut bytes = fs::read(file).expect("readable");
    let page = 4096;
    let start = bytes.len() / page / 2 * page;
    bytes[start..start + page].fill(0xa5);
    fs::write(file, bytes).expect("written");
}
