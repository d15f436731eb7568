//! A window of a stated size and scheme, with the few things a person does in it.

use std::path::Path;
use std::time::Duration;

use base64::prelude::{BASE64_STANDARD, Engine as _};
use serde_json::{Value, json};
use thirtyfour::prelude::*;
use tokio::time::Instant;

use crate::program::PATIENCE;

const LOOK_EVERY: Duration = Duration::from_millis(50);

/// A size people have: width and height in CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// What it is called in file names.
    pub name: &'static str,
    pub width: u32,
    pub height: u32,
    /// How many times everything is enlarged.
    pub zoom: u32,
}

/// A phone held upright.
pub const PHONE: Size = Size { name: "390", width: 390, height: 844, zoom: 1 };

/// A laptop.
pub const LAPTOP: Size = Size { name: "1280", width: 1280, height: 800, zoom: 1 };

/// The narrowest window that WCAG 2.2 asks to do without sideways scrolling (success criterion
/// 1.4.10, Reflow): 320 CSS pixels.
pub const NARROW: Size = Size { name: "320", width: 320, height: 640, zoom: 1 };

/// The laptop with the page enlarged to 200 % (success criterion 1.4.4, Resize Text).
pub const ZOOMED: Size = Size { name: "1280 at 200 %", width: 640, height: 400, zoom: 2 };

/// The colours the device asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scheme {
    Light,
    Dark,
    /// The device's own few colours in place of the page's.
    Forced,
}

impl Scheme {
    /// As style sheets call it.
    pub fn word(self) -> &'static str {
        match self {
            Scheme::Light => "light",
            Scheme::Dark => "dark",
            Scheme::Forced => "forced colours",
        }
    }
}

/// Makes the browser's window this large, this light, and touched with a finger on a phone.
pub async fn resize(browser: &WebDriver, size: Size, scheme: Scheme) {
    let cdp = browser.cdp();
    let metrics = json!({
        "width": size.width, "height": size.height, "deviceScaleFactor": size.zoom,
        "mobile": size == PHONE,
    });
    cdp.send_raw("Emulation.setDeviceMetricsOverride", metrics).await.expect("sized");
    let forced = scheme == Scheme::Forced;
    let features = json!({ "features": [
        { "name": "prefers-color-scheme", "value": if scheme == Scheme::Dark { "dark" } else { "light" } },
        { "name": "forced-colors", "value": if forced { "active" } else { "none" } },
        { "name": "prefers-reduced-motion", "value": "reduce" },
    ]});
    cdp.send_raw("Emulation.setEmulatedMedia", features).await.expect("lit");
}

/// Waits until an element is there and shown.
pub async fn see(browser: &WebDriver, css: &str) -> WebElement {
    browser
        .query(By::Css(css))
        .wait(PATIENCE, LOOK_EVERY)
        .and_displayed()
        .first()
        .await
        .unwrap_or_else(|error| panic!("{css} is not shown: {error}"))
}

/// Brings an element to the middle of the window, clear of the list under the thumb.
async fn middle(browser: &WebDriver, element: &WebElement) {
    let script = "arguments[0].scrollIntoView({ block: 'center', inline: 'nearest' })";
    let element = element.to_json().expect("an element");
    browser.execute(script, vec![element]).await.expect("scrolled");
}

/// Presses the button or link whose words contain `words`.
pub async fn press(browser: &WebDriver, words: &str) {
    let quoted = format!("\"{words}\"");
    let path = format!(
        "//button[contains(normalize-space(.), {quoted})] | //a[contains(normalize-space(.), {quoted})] \
         | //summary[contains(normalize-space(.), {quoted})]"
    );
    let found =
        browser.query(By::XPath(path)).wait(PATIENCE, LOOK_EVERY).and_displayed().first().await;
    let element = found.unwrap_or_else(|error| panic!("nothing to press says {words:?}: {error}"));
    middle(browser, &element).await;
    element.click().await.unwrap_or_else(|error| panic!("{words:?} cannot be pressed: {error}"));
}

/// Presses a button or link that leads to another page, and waits for that page.
pub async fn go(browser: &WebDriver, words: &str) {
    browser.execute("window.before = true", Vec::new()).await.expect("marked");
    press(browser, words).await;
    let arrived = "return window.before === undefined && document.readyState === 'complete'";
    let started = Instant::now();
    loop {
        // Between two pages there is no script to ask.
        let answer = browser.execute(arrived, Vec::new()).await;
        if answer.is_ok_and(|answer| answer.json() == &Value::Bool(true)) {
            return;
        }
        assert!(started.elapsed() < PATIENCE, "{words:?} leads nowhere");
        tokio::time::sleep(LOOK_EVERY).await;
    }
}

/// Types into the field with this name, in place of what stood there.
pub async fn fill(browser: &WebDriver, name: &str, text: &str) {
    let field = see(browser, &format!("[name=\"{name}\"]")).await;
    field.clear().await.expect("emptied");
    field.send_keys(text).await.expect("typed");
}

/// Chooses the entry with this value in the list with this name.
pub async fn choose(browser: &WebDriver, name: &str, value: &str) {
    let css = format!("select[name=\"{name}\"] option[value=\"{value}\"]");
    browser.find(By::Css(css)).await.expect("there to choose").click().await.expect("chosen");
}

/// The words shown on the page.
pub async fn words(browser: &WebDriver) -> String {
    see(browser, "body").await.text().await.expect("words")
}

/// Keeps a picture of the whole page, however long.
pub async fn picture(browser: &WebDriver, path: &Path) {
    let shot = browser
        .cdp()
        .send_raw(
            "Page.captureScreenshot",
            json!({ "format": "png", "captureBeyondViewport": true }),
        )
        .await
        .expect("a picture");
    keep_base64(&shot["data"], path);
}

/// Writes what the browser sent as base64 to a file.
pub fn keep_base64(sent: &Value, path: &Path) {
    let text = sent.as_str().expect("base64");
    std::fs::write(path, BASE64_STANDARD.decode(text).expect("base64")).expect("kept");
}

/// Picks the tick or choice with this name and value.
pub async fn pick(browser: &WebDriver, name: &str, value: &str) {
    let css = format!(
        "input[name=\"{name}\"][value=\"{value}\"], select[name=\"{name}\"] option[value=\"{value}\"]"
    );
    let found = browser.query(By::Css(css)).wait(PATIENCE, LOOK_EVERY).first().await;
    let element = found.unwrap_or_else(|error| panic!("{name} has no {value}: {error}"));
    middle(browser, &element).await;
    element.click().await.unwrap_or_else(|error| panic!("{name} {value}: {error}"));
}

/// Taps a button of bench mode by what it does, as soon as it can be tapped.
pub async fn tap(browser: &WebDriver, does: &str) {
    let css = format!("button[name=\"do\"][value=\"{does}\"]:not([disabled])");
    let started = Instant::now();
    loop {
        // The screen may be swapped under the finger; a person taps again.
        let tapped = match browser.find(By::Css(css.as_str())).await {
            Ok(button) => button.click().await,
            Err(error) => Err(error),
        };
        let Err(error) = tapped else { break };
        assert!(started.elapsed() < PATIENCE, "nothing to tap does {does}: {error}");
        tokio::time::sleep(LOOK_EVERY).await;
    }
    settled(browser).await;
}

/// Waits until no tap is on its way.
pub async fn settled(browser: &WebDriver) {
    let quiet =
        "return document.readyState === 'complete' && !document.querySelector('[aria-busy=true]')";
    let started = Instant::now();
    while started.elapsed() < PATIENCE {
        // A tap is on its way as soon as it is made, so an idle screen is one that has answered.
        let answer = browser.execute(quiet, Vec::new()).await;
        if answer.is_ok_and(|answer| answer.json() == &Value::Bool(true)) {
            return;
        }
        tokio::time::sleep(LOOK_EVERY).await;
    }
}

/// Waits until an element says these words.
pub async fn until(browser: &WebDriver, css: &str, words: &str) {
    let started = Instant::now();
    let mut last = String::new();
    while started.elapsed() < PATIENCE {
        if let Ok(element) = browser.find(By::Css(css)).await {
            last = element.text().await.unwrap_or(last);
            if last.contains(words) {
                return;
            }
        }
        tokio::time::sleep(LOOK_EVERY).await;
    }
    panic!("{css} says {last:?}, not {words:?}");
}

/// Waits until a script says true.
pub async fn comes_true(browser: &WebDriver, script: &str) {
    let started = Instant::now();
    loop {
        let answer = browser.execute(format!("return ({script})"), Vec::new()).await;
        if answer.is_ok_and(|answer| answer.json() == &Value::Bool(true)) {
            return;
        }
        assert!(started.elapsed() < PATIENCE, "never true: {script}");
        tokio::time::sleep(LOOK_EVERY).await;
    }
}

/// How far the page is wider than its window, in CSS pixels.
pub async fn overhang(browser: &WebDriver) -> i64 {
    browser
        .execute(
            "return document.documentElement.scrollWidth - document.documentElement.clientWidth",
            Vec::new(),
        )
        .await
        .expect("measured")
        .json()
        .as_i64()
        .expect("a whole number")
}
