//! From a wish, and from a pattern of one's own, to the run sheet: a chain to measure of two ring sizes, and a
//! pattern pasted, put right, kept, made too small, made large enough and ordered.

use thirtyfour::prelude::*;

use crate::driver::Driver;
use crate::look::{look, look_at_fit};
use crate::program::Program;
use crate::window::{
    LAPTOP, NARROW, PHONE, Scheme, Size, ZOOMED, comes_true, fill, go, pick, press, resize, see,
    until, words,
};

const AT: &[(Size, Scheme)] = &[
    (PHONE, Scheme::Light),
    (PHONE, Scheme::Dark),
    (LAPTOP, Scheme::Light),
    (LAPTOP, Scheme::Dark),
];

/// Two rings a repeat, of two sizes, of which one is said without inside and closed.
const PASTED: &str = r#"pattern = "boat_house"
title = "large and little by turns"

[[ring_size]]
name = "large"
wire = "1.02 mm"
ring = "5.15 mm"

[[ring_size]]
name = "little"
wire = "1.02 mm"
ring = "3.57 mm inside closed"

[repeat]
as = "chain"
along_mm = 9
twist_deg = 0

[[ring]]
name = "A"
size = "large"
centre_mm = [0, 0, 0]
normal = [0, 1, 0]
through = [{ ring = "B", back = 1 }]

[[ring]]
name = "B"
size = "little"
centre_mm = [0, 0, 4.5]
normal = [1, 0, 0]
through = [{ ring = "A" }]
"#;

async fn in_the_sample(browser: &WebDriver, program: &Program, size: Size) {
    resize(browser, size, Scheme::Light).await;
    browser.goto(&program.address).await.expect("opens");
    go(browser, "Look around the sample").await;
}

async fn value(browser: &WebDriver, css: &str) -> String {
    see(browser, css).await.value().await.expect("asked").unwrap_or_default()
}

/// Puts a text where it is typed, as pasting does.
async fn paste(browser: &WebDriver, css: &str, text: &str) {
    let script = "const at = document.querySelector(arguments[0]); at.focus(); at.select(); \
                  document.execCommand('insertText', false, arguments[1]);";
    browser.execute(script, vec![css.into(), text.into()]).await.expect("pasted");
}

/// Sets fields of the question together, so that nothing in between is asked.
async fn set(browser: &WebDriver, fields: &[(&str, &str)]) {
    let script = "for (const [name, text] of arguments[0]) document.getElementById(name).value = text; \
                  document.getElementById('ask').dispatchEvent(new Event('change'));";
    browser.execute(script, vec![serde_json::json!(fields)]).await.expect("set");
}

#[tokio::test(flavor = "multi_thread")]
async fn a_chain_to_measure_of_two_ring_sizes_becomes_an_order_with_a_run_sheet_for_each() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let phone = driver.browser().await;
    in_the_sample(&phone, &program, PHONE).await;
    phone.goto(format!("{}/chain", program.address)).await.expect("opens");
    go(&phone, "Begin with a width").await;
    fill(&phone, "width", "8").await;
    go(&phone, "Look for it").await;
    // Nothing is guessed, and nothing typed is lost.
    until(&phone, "#width-about .complaint", "does not say").await;
    assert_eq!(value(&phone, "#width").await, "8");
    fill(&phone, "width", "8 mm").await;
    fill(&phone, "length", "300 mm").await;
    press(&phone, "Only some patterns").await;
    pick(&phone, "pattern", "large_and_small").await;
    go(&phone, "Look for it").await;
    until(&phone, "#answer-1 .miss", "8.00 mm").await;
    until(&phone, "#answer-1 .made", "Smaller ring, closed").await;
    until(&phone, ".glance li:first-child", "on rod").await;
    let mut wrong = look(&phone, "a chain to measure, answered", AT).await;
    wrong.extend(look_at_fit(&phone, "a chain to measure, answered", &[NARROW, ZOOMED]).await);
    resize(&phone, PHONE, Scheme::Light).await;
    let closed = "[...document.querySelectorAll('#answer-1 .made dt')] \
                  .filter((dt) => dt.textContent.endsWith('closed')) \
                  .map((dt) => dt.nextElementSibling.querySelector('.value').textContent.split(' ')[0]).join()";
    let closed = phone.execute(format!("return {closed}"), Vec::new()).await.expect("asked");
    let closed = closed.json().as_str().expect("words").to_owned();
    let closed: Vec<f64> = closed.split(',').map(|mm| mm.parse().expect("millimetres")).collect();
    assert!(closed.len() == 2 && closed[0] > closed[1], "{closed:?}");

    go(&phone, "Make this").await;
    until(&phone, ".further > legend", "Ring size 2: small ring").await;
    for (field, told) in [("line-1-ring", closed[0]), ("line-1-ring-2", closed[1])] {
        let typed = value(&phone, &format!("[name=\"{field}\"]")).await;
        let mm: f64 =
            typed.strip_suffix(" mm inside closed").and_then(|mm| mm.parse().ok()).expect("a ring");
        // The card shows three places of it.
        assert!((mm - told).abs() < 0.000_6, "{field}: {typed} where the card says {told} mm");
    }
    assert_eq!(value(&phone, "[name=\"line-1-chain_length\"]").await, "300 mm");
    fill(&phone, "name", "Slipway 4").await;
    go(&phone, "Save the order").await;
    let told = words(&phone).await;
    assert!(told.contains("large_and_small of 300 mm") && told.contains("ring size 2:"), "{told}");
    wrong.extend(look(&phone, "an order of two ring sizes with its work", AT).await);
    resize(&phone, PHONE, Scheme::Light).await;
    // What was found on the shelf is cut from the shelf.
    assert!(!told.contains("1 to buy"), "{told}");
    go(&phone, "Run sheet of ring size 2").await;
    let sheet = words(&phone).await;
    assert!(sheet.contains("ring size 2 of 2"), "{sheet}");
    phone.quit().await.expect("closes");
    assert!(wrong.is_empty(), "{} findings:\n{}", wrong.len(), wrong.join("\n"));
}

#[tokio::test(flavor = "multi_thread")]
async fn a_pattern_of_ones_own_is_pasted_put_right_kept_ordered_and_its_run_sheet_opened() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let browser = driver.browser().await;
    in_the_sample(&browser, &program, LAPTOP).await;
    browser.goto(format!("{}/chain", program.address)).await.expect("opens");
    go(&browser, "Own patterns").await;
    paste(&browser, "#text", PASTED).await;
    go(&browser, "Check it").await;
    until(&browser, "#wrong", "Line 7: ring size \"large\" ring").await;
    until(&browser, "#wrong .it", "ring = \"5.15 mm\"").await;
    assert_eq!(value(&browser, "#text").await, PASTED);
    let mut wrong = look(&browser, "an own pattern refused", AT).await;
    resize(&browser, LAPTOP, Scheme::Light).await;

    paste(&browser, "#text", &PASTED.replace("5.15 mm", "5.15 mm inside closed")).await;
    go(&browser, "Check it").await;
    until(&browser, "#stands", "it stands").await;
    see(&browser, "#stands svg").await;
    wrong.extend(look(&browser, "an own pattern that stands", AT).await);
    wrong.extend(look_at_fit(&browser, "an own pattern that stands", &[NARROW, ZOOMED]).await);
    resize(&browser, LAPTOP, Scheme::Light).await;
    go(&browser, "Keep it").await;
    until(&browser, "h1", "Large and little by turns").await;
    comes_true(&browser, "Number(document.getElementById('turntable').dataset.drawn) > 0").await;
    comes_true(&browser, "document.querySelector('.turntable.turns canvas') !== null").await;

    // A ring too small: by how much, what would do, and no picture of what cannot be.
    set(&browser, &[("inside", "1.5 mm"), ("inside2", "1.2 mm")]).await;
    until(&browser, "#verdict", "is missing").await;
    until(&browser, ".ways-out", "Of your rods the first whose ring goes is").await;
    comes_true(&browser, "document.querySelector('.turntable.turns') === null").await;
    until(&browser, "#still", "do not go together").await;
    wrong.extend(look(&browser, "rings that do not go together", AT).await);
    resize(&browser, LAPTOP, Scheme::Light).await;
    set(&browser, &[("inside", "5.15 mm"), ("inside2", "3.57 mm"), ("length", "240 mm")]).await;
    until(&browser, "#answer", "Rings for the piece").await;
    comes_true(&browser, "document.querySelector('.turntable.turns canvas') !== null").await;
    comes_true(&browser, "document.querySelector('#answer:not([aria-busy])') !== null").await;

    go(&browser, "Make this").await;
    until(&browser, ".further > legend", "Ring size 2: small ring").await;
    fill(&browser, "name", "Boathouse 12").await;
    for field in ["line-1-tolerance", "line-1-tolerance-2"] {
        fill(&browser, field, "0.1 mm").await;
    }
    go(&browser, "Save the order").await;
    // How its rings go together is worked out beside the pages; the page follows by itself.
    until(&browser, "main", "boat_house of 240 mm").await;
    let told = words(&browser).await;
    assert!(!told.contains("Cannot be made"), "{told}");
    go(&browser, "Run sheet of ring size 1").await;
    until(&browser, "main", "large and little by turns, ring size 1 of 2").await;
    browser.quit().await.expect("closes");
    assert!(wrong.is_empty(), "{} findings:\n{}", wrong.len(), wrong.join("\n"));
}
