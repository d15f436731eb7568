//! A necklace from an empty workshop to its labelled batch, on a phone beside a laptop, with the
//! program killed in the middle; the numbers are those of needs.md, T1.

use std::time::Duration;

use thirtyfour::prelude::*;
use tokio::time::Instant;

use crate::driver::Driver;
use crate::program::Program;
use crate::window::{
    LAPTOP, PHONE, Scheme, choose, fill, go, pick, press, resize, see, tap, until, words,
};

/// A change in one window must show in the other within this.
const IN_STEP: Duration = Duration::from_secs(2);

/// Fills in the form at an address and leaves it open.
pub async fn fill_in(browser: &WebDriver, address: &str, fields: &[(&str, &str)]) {
    browser.goto(address).await.expect("opens");
    for (name, text) in fields {
        fill(browser, name, text).await;
    }
}

/// Fills in the form at an address and presses its button.
pub async fn enter(browser: &WebDriver, address: &str, fields: &[(&str, &str)], button: &str) {
    fill_in(browser, address, fields).await;
    go(browser, button).await;
}

/// A holder with its projection measured with the first blade.
pub async fn holder(browser: &WebDriver, workshop: &str, length: &str, projection: &str) {
    let fields = [
        ("name", "plates"),
        ("length", length),
        ("head_start", "8 mm"),
        ("projection", projection),
    ];
    fill_in(browser, &format!("{workshop}/holders/new"), &fields).await;
    choose(browser, "projection_blade", "1").await;
    go(browser, "Save").await;
}

/// A trial that went well, typed in.
pub async fn good_trial(browser: &WebDriver, address: &str, fields: &[(&str, &str)]) {
    fill_in(browser, &format!("{address}/trials/new"), fields).await;
    pick(browser, "outcome", "good").await;
    go(browser, "Keep this trial").await;
}

/// Ticks the whole list before power, the measured projection with it.
pub async fn check_blade(phone: &WebDriver) {
    for check in ["drive", "flat", "teeth", "slot", "screw", "lubricant", "guard", "eyes"] {
        tap(phone, &format!("tick:{check}")).await;
    }
    tap(phone, "projection").await;
    tap(phone, "checked").await;
}

/// Types in the inside diameters of rings, one after another.
pub async fn read_rings(phone: &WebDriver, readings: &[&str]) {
    for read in readings {
        see(phone, "[value=\"reading\"]").await;
        fill(phone, "typed", read).await;
        tap(phone, "reading").await;
        until(phone, ".readings", read).await;
    }
}

async fn set_up(browser: &WebDriver, address: &str) {
    enter(browser, address, &[("name", "Harbour Street bench")], "Start my workshop").await;
    let workshop = format!("{address}/workshop");
    for size in ["3.5", "4.0", "4.5"] {
        let marked = format!("{size} mm");
        let fields = [("name", size), ("marked", marked.as_str())];
        enter(browser, &format!("{workshop}/rods/new"), &fields, "Save").await;
    }
    let blade =
        [("name", "small, thin"), ("diameter", "1 1/4 in"), ("kerf", "0.25 mm"), ("teeth", "250")];
    enter(browser, &format!("{workshop}/blades/new"), &blade, "Save").await;
    holder(browser, &workshop, "60 mm", "1.50 mm").await;
    let lot = [
        ("name", "silver reel 7"),
        ("metal", "sterling"),
        ("temper", "soft"),
        ("diameter", "1.02 mm"),
        ("amount", "6 m"),
    ];
    enter(browser, &format!("{workshop}/lots/new"), &lot, "Save").await;
    browser.goto(format!("{workshop}/habits")).await.expect("opens");
    fill(browser, "stop_turns", "3").await;
    go(browser, "Save").await;
    // The rings tried before: needs.md, T1.
    let tried = [
        ("metal", "sterling"),
        ("temper", "soft"),
        ("wire", "1.02 mm"),
        ("rod", "4.00 mm"),
        ("lot", "silver reel 7"),
        ("inside", "4.12 4.15 4.14 4.16 4.13 mm"),
    ];
    good_trial(browser, address, &tried).await;
}

/// Orders the necklace under a name.
pub async fn order(browser: &WebDriver, address: &str, name: &str) {
    browser.goto(format!("{address}/orders/new")).await.expect("opens");
    pick(browser, "line-1-kind", "chain").await;
    pick(browser, "line-1-by", "rod").await;
    for (name, text) in [
        ("name", name),
        ("line-1-name", "necklace"),
        ("line-1-chain_length", "450 mm"),
        ("line-1-clasp", "12 mm"),
        ("line-1-metal", "sterling"),
        ("line-1-temper", "soft"),
        ("line-1-wire", "1.02 mm"),
        ("line-1-rod", "4.00 mm"),
        ("line-1-spare", "10 %"),
    ] {
        fill(browser, name, text).await;
    }
    choose(browser, "line-1-clasp_is", "in").await;
    go(browser, "Save the order").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_necklace_goes_from_an_empty_workshop_to_its_labelled_batch_through_a_power_cut() {
    let folder = tempfile::tempdir().expect("a folder");
    let data = folder.path().join("bench.linkwright");
    let program = Program::start(&data);
    let address = program.address.clone();
    let driver = Driver::start();
    let phone = driver.browser().await;
    resize(&phone, PHONE, Scheme::Light).await;
    set_up(&phone, &address).await;
    order(&phone, &address, "Ferry Lane 14").await;

    phone.goto(format!("{address}/orders/1/sheet")).await.expect("opens");
    let sheet = words(&phone).await;
    // needs.md, T1: 47 wound, 3 coils, 2.348 m, 19.88 g, 107 rings in the chain, 118 good.
    for said in ["47", "3 coils", "2.348 m", "19.88 g", "107", "118"] {
        assert!(sheet.contains(said), "{said} is not on the sheet:\n{sheet}");
    }
    go(&phone, "Start at the bench").await;

    see(&phone, "[value=\"take\"]").await;
    fill(&phone, "typed", "20.1").await;
    tap(&phone, "take").await;
    tap(&phone, "passed").await;
    for _ in 0..2 {
        tap(&phone, "turns:+10").await;
    }
    until(&phone, ".counter b", "20").await;

    let laptop = driver.browser().await;
    resize(&laptop, LAPTOP, Scheme::Dark).await;
    laptop.goto(phone.current_url().await.expect("an address").as_str()).await.expect("opens");
    until(&laptop, ".counter b", "20").await;
    tap(&phone, "turns:+1").await;
    let tapped = Instant::now();
    until(&laptop, ".counter b", "21").await;
    assert!(tapped.elapsed() < IN_STEP, "the other window took {:?}", tapped.elapsed());
    press(&laptop, "Undo").await;
    until(&phone, ".counter b", "20").await;

    // The power goes; the page stays open on the phone.
    program.kill();
    let program = Program::start_at(&data, &address);
    phone.refresh().await.expect("opens");
    until(&phone, ".counter b", "20").await;
    for _ in 0..2 {
        tap(&phone, "turns:+10").await;
    }
    for _ in 0..7 {
        tap(&phone, "turns:+1").await;
    }
    until(&phone, ".counter b", "47").await;
    tap(&phone, "wound").await;
    tap(&phone, "off").await;
    check_blade(&phone).await;
    for coil in 1..=3 {
        if coil > 1 {
            tap(&phone, "wound:all").await;
            tap(&phone, "off").await;
        }
        tap(&phone, "clamped").await;
        tap(&phone, "slit").await;
        for _ in 0..3 {
            tap(&phone, "count:uncut+1").await;
        }
        tap(&phone, "rest").await;
        tap(&phone, "counted").await;
    }
    read_rings(&phone, &["4.12", "4.15", "4.14", "4.16", "4.13"]).await;
    // needs.md, T1: mean 4.140, sd 0.016, springback 3.5 %.
    let measured = words(&phone).await;
    for said in ["4.140 mm", "0.016 mm", "3.5 %"] {
        assert!(measured.contains(said), "{said} is not shown:\n{measured}");
    }
    tap(&phone, "measured").await;
    see(&phone, "[value=\"label\"]").await;
    fill(&phone, "code", "FL 14").await;
    tap(&phone, "label").await;
    tap(&phone, "finish").await;
    until(&phone, "h1", "Finished").await;

    phone.goto(format!("{address}/rings")).await.expect("opens");
    let rings = words(&phone).await;
    assert!(rings.contains("FL 14") && rings.contains("120"), "{rings}");
    laptop.quit().await.expect("closes");
    phone.quit().await.expect("closes");
    drop(program);
}

#[tokio::test(flavor = "multi_thread")]
async fn a_trial_is_logged_and_found_however_it_is_typed() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let address = program.address.clone();
    let driver = Driver::start();
    let browser = driver.browser().await;
    resize(&browser, PHONE, Scheme::Dark).await;
    enter(&browser, &address, &[("name", "Test bench")], "Start my workshop").await;
    // needs.md, T4: bronze 14 AWG on 6.0, coil 1 broke the blade after 31 rings, 2 and 3 clean.
    for (outcome, event, good) in
        [("failed", "broke", "31"), ("good", "none", "40"), ("good", "none", "40")]
    {
        browser.goto(format!("{address}/trials/new")).await.expect("opens");
        for (name, text) in [
            ("metal", "bronze"),
            ("temper", "soft"),
            ("wire", "14 awg"),
            ("rod", "6.0 mm"),
            ("blade", "small"),
            ("blade_diameter", "1 1/4 in"),
            ("projection", "2.2 mm"),
            ("inside", "6.24 mm"),
            ("good", good),
        ] {
            fill(&browser, name, text).await;
        }
        pick(&browser, "blade_event", event).await;
        pick(&browser, "outcome", outcome).await;
        go(&browser, "Keep this trial").await;
    }
    for typed in ["14 AWG 6 mm", "1.63 on 6"] {
        browser.goto(format!("{address}/trials")).await.expect("opens");
        fill(&browser, "q", typed).await;
        go(&browser, "Find").await;
        let found = words(&browser).await;
        assert!(found.contains("14 awg") && found.contains("6.0 mm"), "{typed}:\n{found}");
    }
    browser.goto(format!("{address}/trials/chart")).await.expect("opens");
    let chart = words(&browser).await;
    assert!(chart.contains("2 good of 3") && chart.contains("few trials"), "{chart}");
    browser.quit().await.expect("closes");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_messy_table_is_brought_in_row_by_row_and_taken_back_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let address = program.address.clone();
    let table = folder.path().join("old trials.csv");
    let rows = "My trials;;;;;;\n\
                Date;Metal;Temper;Wire;Rod;Good;Outcome\n\
                2024-03-04;copper;soft;16 awg;5,0 mm;40;good\n\
                2024-03-05;copper;soft;gauge 16;5,0 mm;41;good\n\
                2024-03-06;copper;soft;1,29 mm;6 mm;39;good\n";
    std::fs::write(&table, rows).expect("written");
    let driver = Driver::start();
    let browser = driver.browser().await;
    resize(&browser, LAPTOP, Scheme::Light).await;
    enter(&browser, &address, &[("name", "Test bench")], "Start my workshop").await;
    browser.goto(format!("{address}/trials/import")).await.expect("opens");
    let file = browser.find(By::Css("input[type=file]")).await.expect("a field");
    file.send_keys(table.to_str().expect("a path")).await.expect("chosen");
    go(&browser, "Send it").await;
    go(&browser, "Use this sheet").await;
    go(&browser, "Look through the rows").await;
    let looked = words(&browser).await;
    assert!(looked.contains("2 rows can be kept and 1 cannot"), "{looked}");
    go(&browser, "Keep the 2 good rows").await;
    assert!(words(&browser).await.contains("2 trials kept"));
    go(&browser, "Undo").await;
    browser.goto(format!("{address}/api/records/trial")).await.expect("opens");
    assert!(words(&browser).await.contains("\"records\":[]"), "{}", words(&browser).await);
    browser.quit().await.expect("closes");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_run_sheet_prints_its_numbers_on_one_front_and_no_buttons() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let address = program.address.clone();
    let driver = Driver::start();
    let browser = driver.browser().await;
    resize(&browser, LAPTOP, Scheme::Light).await;
    set_up(&browser, &address).await;
    order(&browser, &address, "Ferry Lane 14").await;
    browser.goto(format!("{address}/orders/1/sheet")).await.expect("opens");
    let a4 =
        serde_json::json!({ "paperWidth": 8.27, "paperHeight": 11.69, "preferCSSPageSize": false });
    let printed = browser.cdp().send_raw("Page.printToPDF", a4).await.expect("prints");
    let pdf = folder.path().join("sheet.pdf");
    crate::window::keep_base64(&printed["data"], &pdf);
    let text = std::process::Command::new("pdftotext").arg("-layout").arg(&pdf).arg("-").output();
    let text = String::from_utf8(text.expect("pdftotext runs").stdout).expect("UTF-8");
    let pages: Vec<&str> = text.split_terminator('\u{c}').collect();
    assert_eq!(pages.len(), 2, "a front, and a back with blades and cautions:\n{text}");
    assert!(pages[1].contains("all cautions"), "{}", pages[1]);
    for said in ["47", "2.348 m", "19.88 g", "necklace"] {
        assert!(pages[0].contains(said), "{said} is not on the front:\n{text}");
    }
    for control in ["Undo", "Start at the bench", "Choices"] {
        assert!(!text.contains(control), "{control} is on paper:\n{text}");
    }
    browser.quit().await.expect("closes");
}
