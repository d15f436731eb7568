//! The app as it is shipped: how soon it answers, what it holds in memory, how long fifty clients wait.

mod client;

mod load;

mod pages;

mod peer;

mod workshops;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use anyhow::{Result, ensure};

use self::client::Client;
use self::load::{CLIENTS, Pace, Waits, load, now};
use self::pages::{Page, found, links};
use self::peer::Peer;
use crate::app::App;
use crate::process::{cargo, run as start};

/// What `design.md` allows: milliseconds of a page at the 99th percentile, of the start, and MB.
const PAGE_MS: f64 = 50.0;
const START_MS: f64 = 300.0;
const RESIDENT_MB: f64 = 200.0;

/// Starts of each workshop; the first is also the first of its day.
const STARTS: usize = 7;

/// Requests of each client for one page, and for the pages in turn.
const EACH: usize = 20;
const EACH_IN_TURN: usize = 60;

/// Measures both workshops. Debug timings mean nothing, so a debug build starts itself again as a
/// release build.
pub fn run(arguments: &[String]) -> Result<()> {
    if cfg!(debug_assertions) {
        return start(
            cargo()
                .args(["run", "--release", "--package", "xtask", "--", "latency"])
                .args(arguments),
        );
    }
    let (program, enlarge) = workshops::built()?;
    println!("load average before: {}", load_average());
    println!("budgets: page {PAGE_MS} ms at p99, start {START_MS} ms, resident {RESIDENT_MB} MB");
    for (name, data) in workshops::made(&program, &enlarge)? {
        println!("\n## {name}, {:.1} MB", fs::metadata(&data)?.len() as f64 / 1e6);
        starts(&program, &data)?;
        let app = App::start(&program, &data)?;
        measure(&app, arguments)?;
    }
    println!("\nload average after: {}", load_average());
    Ok(())
}

/// How soon a fresh start has answered its first request.
fn starts(program: &Path, data: &Path) -> Result<()> {
    let mut waits_ms = Vec::new();
    for _ in 0..STARTS {
        let began = now();
        let app = App::start(program, data)?;
        Client::browser(app.host())?.visit("/")?;
        waits_ms.push(began.elapsed().as_secs_f64() * 1e3);
        app.stop()?;
    }
    let first = waits_ms.remove(0);
    waits_ms.sort_by(f64::total_cmp);
    println!(
        "start to first answer, ms: first of the day {first:.0}, then {:.0} to {:.0}",
        waits_ms[0],
        waits_ms[waits_ms.len() - 1]
    );
    Ok(())
}

/// Pages one by one, then all in turn at two paces, then paper and files; memory in between.
fn measure(app: &App, arguments: &[String]) -> Result<()> {
    let mut client = Client::plain(app.host())?;
    memory(app, "after the start");
    first_paint(&mut client)?;
    learn(app, &mut client)?;
    memory(app, "after learning");
    let (mut pages, mut files) = found(&mut client);
    let is_wanted =
        |(name, _): &Page| arguments.is_empty() || arguments.iter().any(|word| name.contains(word));
    pages.retain(is_wanted);
    files.retain(is_wanted);
    println!("{:<24} {:>8} {:>8} {HEADING}", "page", "bytes", "on wire");
    let mut browser = Client::browser(app.host())?;
    for (name, path) in &pages {
        let plain = client.get(path)?.body.len();
        let wire = browser.get(path)?.body.len();
        let waits = load(app.host(), std::slice::from_ref(path), EACH, Pace::NoPause)?;
        println!("{name:<24} {plain:>8} {wire:>8} {}", figures(&waits));
    }
    memory(app, "after the pages");
    let paths: Vec<String> = pages.iter().map(|(_, path)| path.clone()).collect();
    if !paths.is_empty() {
        println!("{:<42} {HEADING}", format!("{CLIENTS} clients, all pages in turn"));
        for (name, pace) in [("without a pause", Pace::NoPause), ("a tap a second", Pace::Hands)] {
            let waits = load(app.host(), &paths, EACH_IN_TURN, pace)?;
            println!("{name:<42} {}", figures(&waits));
        }
        memory(app, "after the pages in turn");
        compare(&mut client, &paths)?;
    }
    for (name, path) in &files {
        let began = now();
        let answer = client.get(path)?;
        ensure!(answer.status == 200, "{path} is answered with {}", answer.status);
        let wait_ms = began.elapsed().as_secs_f64() * 1e3;
        println!("{name:<24} {:>10} bytes, one client: {wait_ms:>7.0} ms", answer.body.len());
        memory(app, "  then");
    }
    Ok(())
}

/// The first look at the learning chart, which of many trials is not there at once: how long it
/// takes, and how long people wait for other pages meanwhile.
fn learn(app: &App, client: &mut Client) -> Result<()> {
    let began = now();
    let is_there = |client: &mut Client| -> Result<bool> {
        let answer = client.get("/chart")?;
        ensure!(matches!(answer.status, 200 | 202), "/chart is answered with {}", answer.status);
        Ok(answer.status == 200)
    };
    if is_there(client)? {
        println!("first look at the learning chart: {:.0} ms", began.elapsed().as_secs_f64() * 1e3);
        return Ok(());
    }
    println!("{:<42} {HEADING}", format!("{CLIENTS} clients, a tap a second"));
    let others = ["/".to_owned(), "/trials".to_owned(), "/rings".to_owned()];
    let waits = load(app.host(), &others, 2, Pace::Hands)?;
    println!("{:<42} {}", "other pages while it learns", figures(&waits));
    while !is_there(client)? {
        std::thread::sleep(std::time::Duration::from_millis(50));
    }
    println!("the learning chart was there after {:.1} s", began.elapsed().as_secs_f64());
    Ok(())
}

const HEADING: &str = "  p50 ms   p99 ms   max ms      /s";

fn figures(waits: &Waits) -> String {
    let p99_ms = waits.share_ms(0.99);
    format!(
        "{:>8.1} {p99_ms:>8.1} {:>8.1} {:>7.0}{}",
        waits.share_ms(0.5),
        waits.share_ms(1.0),
        waits.per_second(),
        if p99_ms > PAGE_MS { "  over" } else { "" }
    )
}

/// What a browser fetches before the first page stands: how many requests, how many bytes.
fn first_paint(client: &mut Client) -> Result<()> {
    let mut browser = Client::browser(client.host())?;
    let page = client.text("/")?;
    let mut wire = browser.get("/")?.body.len();
    let sources = page.split("src=\"").skip(1).filter_map(|part| part.split('"').next());
    let parts: BTreeSet<String> = links(&page)
        .chain(sources.map(str::to_owned))
        .filter(|link| link.starts_with("/assets/"))
        .collect();
    let mut plain = page.len();
    for part in &parts {
        plain += client.get(part)?.body.len();
        wire += browser.get(part)?.body.len();
    }
    println!(
        "first paint of Today: {} requests, {plain} bytes, {wire} on the wire",
        parts.len() + 1
    );
    Ok(())
}

fn memory(app: &App, when: &str) {
    if let Some((now_mb, most_mb)) = app.memory_mb() {
        let over = if most_mb > RESIDENT_MB { "  over" } else { "" };
        println!("resident {when}: {now_mb:.0} MB, at most {most_mb:.0} MB{over}");
    }
}

/// The same pages as files, from Python's own server, asked for by the same clients.
fn compare(client: &mut Client, paths: &[String]) -> Result<()> {
    let folder = crate::process::root().join("target/latency/same-pages");
    fs::create_dir_all(&folder)?;
    let mut files = Vec::new();
    for (number, path) in paths.iter().enumerate() {
        fs::write(folder.join(number.to_string()), client.get(path)?.body)?;
        files.push(format!("/{number}"));
    }
    let peer = Peer::of(&folder)?;
    let waits = load(&peer.host, &files, EACH_IN_TURN, Pace::NoPause)?;
    println!("{:<42} {}", "peer: the same as files, Python http.server", figures(&waits));
    Ok(())
}

fn load_average() -> String {
    let known = fs::read_to_string("/proc/loadavg").ok();
    known.map_or_else(|| "not known".to_owned(), |line| line.trim().to_owned())
}
