//! Every page that links lead to, at both sizes and in both schemes.

use std::collections::{BTreeSet, VecDeque};
use std::path::{Path, PathBuf};

use thirtyfour::prelude::*;

use crate::driver::Driver;
use crate::look::{look, look_at_fit};
use crate::program::Program;
use crate::window::{LAPTOP, NARROW, PHONE, Scheme, Size, ZOOMED, go, picture, resize};

/// Addresses that are no pages, by their ending or beginning.
const NO_PAGES: &[&str] =
    &[".pdf", ".xlsx", ".csv", ".json", ".toml", ".jpg", ".png", "/assets/", "/paper/", "/live"];

/// The same page with another record: digits, and what follows a question mark, do not count.
fn pattern(path: &str) -> String {
    let path = path.split(['?', '#']).next().unwrap_or(path);
    let mut pattern = String::new();
    for part in path.split('/').skip(1) {
        pattern.push('/');
        let numbered = part.chars().any(|letter| letter.is_ascii_digit());
        pattern.push_str(if numbered { "N" } else { part });
    }
    pattern
}

async fn links(browser: &WebDriver, address: &str) -> Vec<String> {
    let script = "return [...document.querySelectorAll('a[href]')].map(a => a.href)";
    let found = browser.execute(script, Vec::new()).await.expect("links");
    let found: Vec<String> = found.convert().expect("a list of addresses");
    found
        .into_iter()
        .filter_map(|link| link.strip_prefix(address).map(str::to_owned))
        .map(|path| path.split('#').next().unwrap_or_default().to_owned())
        .filter(|path| !NO_PAGES.iter().any(|no| path.contains(no)))
        .collect()
}

/// Opens every page that links lead to, once, and looks at it; gives back which there were.
async fn every_page(
    browser: &WebDriver,
    address: &str,
    mut look: impl AsyncFnMut(&str),
) -> BTreeSet<String> {
    let mut seen = BTreeSet::new();
    let mut waiting = VecDeque::from(["/".to_owned()]);
    while let Some(path) = waiting.pop_front() {
        if !seen.insert(pattern(&path)) {
            continue;
        }
        browser.goto(format!("{address}{path}")).await.expect("opens");
        waiting.extend(links(browser, address).await);
        look(&path).await;
    }
    seen
}

const SIZES: &[(Size, Scheme)] = &[
    (PHONE, Scheme::Light),
    (PHONE, Scheme::Dark),
    (LAPTOP, Scheme::Light),
    (LAPTOP, Scheme::Dark),
];

#[tokio::test(flavor = "multi_thread")]
async fn every_page_of_the_sample_is_accessible_and_fits_the_window() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let browser = driver.browser().await;
    let pictures = std::env::var_os("LINKWRIGHT_PICTURES").map(PathBuf::from);
    let address = program.address.clone();

    resize(&browser, PHONE, Scheme::Light).await;
    browser.goto(&address).await.expect("opens");
    let welcome = browser.current_url().await.expect("an address").path().to_owned();
    let mut wrong = look_and_keep(&browser, &welcome, pictures.as_deref()).await;
    resize(&browser, PHONE, Scheme::Light).await;
    go(&browser, "Look around the sample").await;

    let seen = every_page(&browser, &address, async |path| {
        wrong.extend(look_and_keep(&browser, path, pictures.as_deref()).await);
        wrong.extend(look_at_fit(&browser, path, &[NARROW, ZOOMED]).await);
    })
    .await;
    browser.quit().await.expect("closes");
    assert!(
        wrong.is_empty(),
        "{} findings on {} pages:\n{}",
        wrong.len(),
        seen.len(),
        wrong.join("\n")
    );
    for needed in
        ["/orders", "/runs", "/trials", "/rings", "/workshop", "/faults", "/handouts", "/help"]
    {
        assert!(seen.contains(needed), "no link leads to {needed}");
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_page_of_the_sample_fits_with_text_twice_as_large() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let browser = driver.browser_with_large_text().await;
    let address = program.address.clone();
    resize(&browser, LAPTOP, Scheme::Light).await;
    browser.goto(&address).await.expect("opens");
    let size = browser
        .execute("return getComputedStyle(document.documentElement).fontSize", Vec::new())
        .await;
    assert_eq!(size.expect("asked").json(), "32px", "text is not twice as large");
    let mut wrong = look_at_fit(&browser, "welcome", &[LAPTOP]).await;
    go(&browser, "Look around the sample").await;
    every_page(&browser, &address, async |path| {
        wrong.extend(look_at_fit(&browser, path, &[PHONE, LAPTOP]).await);
    })
    .await;
    browser.quit().await.expect("closes");
    assert!(wrong.is_empty(), "{} findings:\n{}", wrong.len(), wrong.join("\n"));
}

/// Looks at one page at both sizes and in both schemes, and keeps pictures if they are wanted.
async fn look_and_keep(browser: &WebDriver, path: &str, pictures: Option<&Path>) -> Vec<String> {
    let wrong = look(browser, path, SIZES).await;
    let Some(folder) = pictures else { return wrong };
    std::fs::create_dir_all(folder).expect("a folder");
    let name = pattern(path).trim_matches('/').replace('/', "-");
    let name = if name.is_empty() { "today".to_owned() } else { name };
    for (size, scheme) in SIZES {
        resize(browser, *size, *scheme).await;
        let file = format!("{name}-{}-{}.png", size.name, scheme.word());
        picture(browser, &folder.join(file)).await;
    }
    wrong
}

#[test]
fn pages_that_differ_by_their_record_are_one_page() {
    assert_eq!(pattern("/orders/12/sheet?line=2"), "/orders/N/sheet");
    assert_eq!(pattern("/"), "/");
    assert_eq!(pattern("/faults/F01"), "/faults/N");
}
