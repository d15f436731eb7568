//! The app as a program: started, asked, told to stop.

use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::process::Command;
use std::thread;
use std::time::Duration;

use crate::program::Program;

/// Tells it to stop as the system does, and says whether it ended well.
fn stopped(mut program: Program) -> bool {
    let told = Command::new("kill").arg(program.child.id().to_string()).status();
    assert!(told.expect("told").success());
    program.child.wait().expect("it ends").success()
}

#[test]
fn stopped_while_a_browser_holds_its_connection_the_data_file_alone_is_everything() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("bench.linkwright");
    let program = Program::start(&data);
    let host = program.address.trim_start_matches("http://").to_owned();
    let mut browser = TcpStream::connect(&host).expect("connected");
    write!(browser, "GET /welcome HTTP/1.1\r\nHost: {host}\r\n\r\n").expect("asked");
    let mut answer = [0; 15];
    browser.read_exact(&mut answer).expect("answered");
    assert_eq!(&answer, b"HTTP/1.1 200 OK");
    assert!(folder.path().join("bench.linkwright-wal").exists(), "it writes to a log");
    assert!(stopped(program));
    assert!(!folder.path().join("bench.linkwright-wal").exists(), "the log was left behind");
}

#[test]
fn the_backup_of_the_day_is_made_beside_the_work() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let made = || {
        let backups = fs::read_dir(folder.path().join("backups"));
        let mut names = backups.into_iter().flatten().flatten().map(|entry| entry.file_name());
        names.any(|name| name.to_string_lossy().ends_with(".linkwright"))
    };
    // Ten seconds at most: a slow machine under load.
    let there = (0..100).any(|_| {
        thread::sleep(Duration::from_millis(100));
        made()
    });
    assert!(there, "no backup was made");
    assert!(stopped(program));
}
