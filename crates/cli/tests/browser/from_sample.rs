//! From an order to its labelled batch on a phone, in the sample workshop: what needs.md asks in T1
//! and T2, with the sample's own stock and trials.

use thirtyfour::prelude::*;

use crate::driver::Driver;
use crate::journey::{check_blade, order, read_rings};
use crate::program::Program;
use crate::window::{PHONE, Scheme, fill, go, pick, resize, see, settled, tap, words};

/// More screens than any run here has.
const SCREENS_MOST: usize = 600;

/// The phone at the start page of the sample.
async fn in_sample(program: &Program, driver: &Driver) -> WebDriver {
    let phone = driver.browser().await;
    resize(&phone, PHONE, Scheme::Light).await;
    phone.goto(&program.address).await.expect("opens");
    go(&phone, "Look around the sample").await;
    phone
}

async fn heading(phone: &WebDriver) -> String {
    settled(phone).await;
    see(phone, "h1").await.text().await.unwrap_or_default()
}

/// Takes a run through the bench, whatever steps its sheet has, every coil counted as planned.
/// Gives back how many coils were counted.
async fn through_the_bench(phone: &WebDriver, readings: &[&str], code: &str) -> usize {
    let mut coils = 0;
    for _ in 0..SCREENS_MOST {
        match heading(phone).await.as_str() {
            "Take the wire" => tap(phone, "take").await,
            "Anneal or not" => tap(phone, "passed").await,
            "Wind the coil" => tap(phone, "wound:all").await,
            "Coil off the rod" => tap(phone, "off").await,
            "Divide the coil" => tap(phone, "divided").await,
            "Fit and check the blade" => check_blade(phone).await,
            "Clamp the coil" => tap(phone, "clamped").await,
            "Slit" => tap(phone, "slit").await,
            "Count the rings" => {
                tap(phone, "planned").await;
                tap(phone, "counted").await;
                coils += 1;
            }
            "Measure ten rings" => {
                read_rings(phone, readings).await;
                tap(phone, "measured").await;
            }
            "Label the batch" => {
                fill(phone, "code", code).await;
                tap(phone, "label").await;
            }
            "Finish" => tap(phone, "finish").await,
            "Finished" => return coils,
            other => panic!("no screen of the bench is called {other:?}"),
        }
    }
    panic!("the run does not come to its end");
}

async fn is_in_a_drawer(phone: &WebDriver, address: &str, code: &str) {
    phone.goto(format!("{address}/rings")).await.expect("opens");
    let rings = words(phone).await;
    assert!(rings.contains(code), "{code} is not among the rings:\n{rings}");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_necklace_goes_to_its_labelled_batch_in_the_sample_workshop() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let phone = in_sample(&program, &driver).await;
    order(&phone, &program.address, "Ferry Lane 44").await;
    go(&phone, "Run sheet of necklace").await;
    let sheet = words(&phone).await;
    for said in ["450", "silver reel 7", "4.00 mm", "Odds of enough"] {
        assert!(sheet.contains(said), "{said} is not on the sheet:\n{sheet}");
    }
    go(&phone, "Start at the bench").await;
    let coils = through_the_bench(&phone, &["4.13", "4.14", "4.15"], "FL 44").await;
    assert!((2..=6).contains(&coils), "{coils} coils for 118 rings");
    is_in_a_drawer(&phone, &program.address, "FL 44").await;
    phone.quit().await.expect("closes");
}

#[tokio::test(flavor = "multi_thread")]
async fn class_kits_go_to_their_labelled_batch_in_the_sample_workshop() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let phone = in_sample(&program, &driver).await;
    phone.goto(format!("{}/orders/new", program.address)).await.expect("opens");
    pick(&phone, "line-1-kind", "kits").await;
    pick(&phone, "line-1-by", "rod").await;
    for (name, text) in [
        ("name", "Evening class, summer"),
        ("line-1-name", "first chain"),
        ("line-1-kits", "4"),
        ("line-1-rings_each", "96"),
        ("line-1-spare_each", "6"),
        ("line-1-metal", "copper"),
        ("line-1-temper", "soft"),
        ("line-1-wire", "16 awg"),
        ("line-1-rod", "5.0 mm"),
    ] {
        fill(&phone, name, text).await;
    }
    go(&phone, "Save the order").await;
    go(&phone, "Run sheet of first chain").await;
    let sheet = words(&phone).await;
    // Four kits of 102.
    assert!(sheet.contains("408"), "{sheet}");
    go(&phone, "Start at the bench").await;
    let coils = through_the_bench(&phone, &["5.17", "5.18", "5.19"], "CLASS 2").await;
    assert!(coils >= 6, "{coils} coils for 408 rings");
    is_in_a_drawer(&phone, &program.address, "CLASS 2").await;
    phone.quit().await.expect("closes");
}
