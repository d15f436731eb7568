//! Every page that links lead to, at both sizes and in both schemes.

use std::collections::{BTreeSet, VecDeque};
use std::path::PathBuf;

use thirtyfour::prelude::*;

use crate::axe::violations;
use crate::driver::Driver;
use crate::program::Program;
use crate::window::{LAPTOP, PHONE, Scheme, go, overhang, picture, resize};

/// Addresses that are no pages, by their ending or beginning.
const NO_PAGES: &[&str] =
    &[".pdf", ".xlsx", ".csv", ".json", ".jpg", ".png", "/assets/", "/paper/", "/live"];

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
    let mut wrong = Vec::new();
    let welcome = browser.current_url().await.expect("an address").path().to_owned();
    look(&browser, &welcome, pictures.as_ref(), &mut wrong).await;
    go(&browser, "Look around the sample").await;

    let mut seen = BTreeSet::new();
    let mut waiting = VecDeque::from(["/".to_owned()]);
    while let Some(path) = waiting.pop_front() {
        if !seen.insert(pattern(&path)) {
            continue;
        }
        browser.goto(format!("{address}{path}")).await.expect("opens");
        waiting.extend(links(&browser, &address).await);
        look(&browser, &path, pictures.as_ref(), &mut wrong).await;
    }
    browser.quit().await.expect("closes");
    assert!(wrong.is_empty(), "{} of {} pages:\n{}", wrong.len(), seen.len(), wrong.join("\n"));
    for needed in
        ["/orders", "/runs", "/trials", "/rings", "/workshop", "/faults", "/handouts", "/help"]
    {
        assert!(seen.contains(needed), "no link leads to {needed}");
    }
}

/// Looks at one page at both sizes and in both schemes.
async fn look(
    browser: &WebDriver,
    path: &str,
    pictures: Option<&PathBuf>,
    wrong: &mut Vec<String>,
) {
    for (size, scheme) in [
        (PHONE, Scheme::Light),
        (PHONE, Scheme::Dark),
        (LAPTOP, Scheme::Light),
        (LAPTOP, Scheme::Dark),
    ] {
        resize(browser, size, scheme).await;
        let at = format!("{path} at {} px, {}", size.name, scheme.word());
        let overhang = overhang(browser).await;
        if overhang > 0 {
            wrong.push(format!("{at}: {overhang} px wider than the window"));
        }
        wrong.extend(violations(browser).await.into_iter().map(|found| format!("{at}: {found}")));
        if let Some(folder) = pictures {
            std::fs::create_dir_all(folder).expect("a folder");
            let name = pattern(path).trim_matches('/').replace('/', "-");
            let name = if name.is_empty() { "today".to_owned() } else { name };
            picture(browser, &folder.join(format!("{name}-{}-{}.png", size.name, scheme.word())))
                .await;
        }
    }
}

#[test]
fn pages_that_differ_by_their_record_are_one_page() {
    assert_eq!(pattern("/orders/12/sheet?line=2"), "/orders/N/sheet");
    assert_eq!(pattern("/"), "/");
    assert_eq!(pattern("/faults/F01"), "/faults/N");
}
