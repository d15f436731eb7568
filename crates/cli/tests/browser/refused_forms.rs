//! Forms that come back with complaints: as accessible, and as well fitted, as when they were blank.

use thirtyfour::prelude::*;

use crate::driver::Driver;
use crate::look::{look, look_at_fit};
use crate::program::Program;
use crate::window::{LAPTOP, NARROW, PHONE, Scheme, Size, ZOOMED, fill, go, resize};

const AT: &[(Size, Scheme)] =
    &[(PHONE, Scheme::Light), (PHONE, Scheme::Dark), (LAPTOP, Scheme::Light)];

/// A form: its page, what is typed wrong, and its button.
type Form = (&'static str, &'static [(&'static str, &'static str)], &'static str);

const FORMS: &[Form] = &[
    ("/orders/new", &[("line-1-wire", "18")], "Save the order"),
    ("/trials/new", &[("wire", "thin"), ("inside", "4.1 and a bit")], "Keep this trial"),
    ("/trials/import", &[], "Send it"),
    ("/rings/new", &[("wire", "thin")], "Save"),
    ("/workshop/rods/new", &[("marked", "five")], "Save"),
    ("/workshop/blades/new", &[("diameter", "-3 mm")], "Save"),
    ("/workshop/holders/new", &[("length", "long")], "Save"),
    ("/workshop/lots/new", &[("diameter", "18"), ("amount", "some")], "Save"),
    ("/workshop/metals/new", &[], "Save"),
    ("/workshop/habits", &[("confidence", "surely")], "Save"),
];

#[tokio::test(flavor = "multi_thread")]
async fn every_form_that_is_refused_says_why_beside_its_fields_and_is_accessible() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let address = program.address.clone();
    let driver = Driver::start();
    let browser = driver.browser().await;
    resize(&browser, PHONE, Scheme::Light).await;
    browser.goto(&address).await.expect("opens");
    let nameless =
        "document.querySelectorAll('[required]').forEach(one => { one.required = false; })";
    browser.execute(nameless, Vec::new()).await.expect("let through");
    go(&browser, "Start my workshop").await;
    let mut wrong = refused(&browser, "/welcome").await;
    resize(&browser, PHONE, Scheme::Light).await;
    go(&browser, "Look around the sample").await;
    for (path, typed, button) in FORMS {
        resize(&browser, PHONE, Scheme::Light).await;
        browser.goto(format!("{address}{path}")).await.expect("opens");
        browser.execute(nameless, Vec::new()).await.expect("let through");
        for (name, text) in *typed {
            fill(&browser, name, text).await;
        }
        go(&browser, button).await;
        wrong.extend(refused(&browser, path).await);
    }
    browser.quit().await.expect("closes");
    assert!(wrong.is_empty(), "{} findings:\n{}", wrong.len(), wrong.join("\n"));
}

/// The form came back; what was typed stands in fields that say they are wrong, each with its words.
async fn refused(browser: &WebDriver, path: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    let unsaid = "
        const fields = [...document.querySelectorAll('main [aria-invalid=true]')];
        const mute = fields.filter(one => {
            const about = (one.getAttribute('aria-describedby') ?? '').split(' ')
                .map(id => document.getElementById(id)?.textContent.trim() ?? '').join('');
            return about === '';
        });
        return [document.querySelectorAll('main .complaint').length, mute.map(one => one.name)];
    ";
    let found = browser.execute(unsaid, Vec::new()).await.expect("asked");
    let (complaints, mute): (usize, Vec<String>) = found.convert().expect("a count and names");
    if complaints == 0 {
        wrong.push(format!("{path}: nothing is complained of"));
    }
    wrong.extend(mute.iter().map(|name| format!("{path}: {name} is wrong and does not say why")));
    wrong.extend(look(browser, &format!("{path} refused"), AT).await);
    wrong.extend(look_at_fit(browser, &format!("{path} refused"), &[NARROW, ZOOMED]).await);
    wrong
}
