//! A pattern picked by its picture, its ring set with the slider, the chain turned by keyboard and by
//! mouse, and an order begun with it.

use thirtyfour::prelude::*;

use crate::driver::Driver;
use crate::look::look;
use crate::program::Program;
use crate::window::{
    LAPTOP, PHONE, Scheme, comes_true, fill, go, press, resize, see, until, words,
};

async fn said(browser: &WebDriver, script: &str) -> String {
    let answer = browser.execute(format!("return String({script})"), Vec::new()).await;
    answer.expect("asked").json().as_str().expect("words").to_owned()
}

/// The turning picture has the rings of the question in it.
const TURNS: &str = "document.querySelector('.turntable.turns canvas') !== null \
                     && Number(document.getElementById('turntable').dataset.drawn) > 0";
const FACING: &str = "document.getElementById('turntable').dataset.facing";
const ZOOM: &str = "document.getElementById('turntable').dataset.zoom";
const AT_REST: &str = "document.querySelector('#answer:not([aria-busy])') !== null";
const PER_CM: &str = "document.querySelector('#answer [data-n=\"per-length\"] .value').textContent";

/// How many points of the picture are not those of the empty place.
const COVERED: &str = "
    const done = arguments[arguments.length - 1];
    const canvas = document.querySelector('.turntable canvas');
    const turntable = document.getElementById('turntable');
    // What was drawn is kept only until the frame is shown: ask within a frame that draws.
    turntable.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true }));
    requestAnimationFrame(() => {
        const copy = document.createElement('canvas');
        [copy.width, copy.height] = [canvas.width, canvas.height];
        const pen = copy.getContext('2d');
        pen.drawImage(canvas, 0, 0);
        const points = pen.getImageData(0, 0, copy.width, copy.height).data;
        let covered = 0;
        for (let at = 3; at < points.length; at += 4) if (points[at] > 0) covered += 1;
        done(covered / (points.length / 4));
    });
";

async fn keys(browser: &WebDriver, css: &str, keys: &str) {
    let script = format!("document.querySelector('{css}').focus()");
    browser.execute(script, Vec::new()).await.expect("focused");
    browser.action_chain().send_keys(keys).perform().await.expect("typed");
}

/// In the sample, at the page of the Byzantine chain, picked by its picture.
async fn at_byzantine(browser: &WebDriver, program: &Program) {
    browser.goto(&program.address).await.expect("opens");
    go(browser, "Look around the sample").await;
    browser.goto(format!("{}/chain", program.address)).await.expect("opens");
    let pictures = "[...document.querySelectorAll('.patterns img')].every(one => one.complete && one.naturalWidth > 0)";
    comes_true(browser, pictures).await;
    go(browser, "Byzantine chain").await;
}

#[tokio::test(flavor = "multi_thread")]
async fn a_chain_is_picked_set_turned_by_keyboard_and_begun_as_an_order() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let browser = driver.browser().await;
    resize(&browser, LAPTOP, Scheme::Light).await;
    at_byzantine(&browser, &program).await;
    comes_true(&browser, TURNS).await;

    // The picture shows rings, not an empty place, and not a filled one.
    let covered = browser.execute_async(COVERED, Vec::new()).await.expect("looked");
    let covered = covered.json().as_f64().expect("a share");
    assert!((0.05..0.9).contains(&covered), "{covered}");

    // The slider by keyboard: numbers follow at once, the program's own at rest.
    keys(&browser, "#slide", "\u{e014}\u{e014}").await;
    comes_true(&browser, "location.search.includes('inside=')").await;
    comes_true(&browser, AT_REST).await;
    // One step more, so that what is read while it moves is what is asked at rest.
    let (before, address) = (said(&browser, PER_CM).await, said(&browser, "location.search").await);
    keys(&browser, "#slide", "\u{e014}").await;
    comes_true(&browser, &format!("{PER_CM} !== '{before}'")).await;
    let moved = said(&browser, PER_CM).await;
    comes_true(&browser, &format!("location.search !== '{address}'")).await;
    comes_true(&browser, AT_REST).await;
    let number = |words: &str| words.split(' ').next().and_then(|n| n.parse::<f64>().ok());
    let (moved, rest) = (number(&moved), number(&said(&browser, PER_CM).await));
    let off = moved.zip(rest).map(|(moved, rest)| (moved - rest).abs() / rest);
    assert!(off.is_some_and(|off| off < 2e-3), "{moved:?} while it moves, {rest:?} at rest");

    // Turned by keyboard, brought nearer, set back.
    let home = said(&browser, FACING).await;
    keys(&browser, "#turntable", "\u{e012}\u{e012}\u{e013}").await;
    comes_true(&browser, &format!("{FACING} !== '{home}'")).await;
    keys(&browser, "#turntable", "+").await;
    comes_true(&browser, &format!("Number({ZOOM}) > 1.1")).await;
    keys(&browser, "#turntable", "\u{e011}").await;
    comes_true(&browser, &format!("{FACING} === '0.000 0.000 0.000 1.000'")).await;

    // Dragged with the mouse.
    let canvas = browser.find(By::Css(".turntable canvas")).await.expect("a canvas");
    browser
        .action_chain()
        .move_to_element_center(&canvas)
        .click_and_hold()
        .move_by_offset(60, 20)
        .release()
        .perform()
        .await
        .expect("dragged");
    comes_true(&browser, &format!("{FACING} !== '0.000 0.000 0.000 1.000'")).await;

    // Contacts on demand, told in words too.
    press(&browser, "As at first").await;
    browser.find(By::Id("contacts")).await.expect("a tick").click().await.expect("ticked");
    see(&browser, "#contacts-told").await;

    let wrong = look(
        &browser,
        "/chain/pattern",
        &[
            (PHONE, Scheme::Light),
            (PHONE, Scheme::Dark),
            (LAPTOP, Scheme::Light),
            (LAPTOP, Scheme::Dark),
            (LAPTOP, Scheme::Forced),
        ],
    )
    .await;
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    resize(&browser, LAPTOP, Scheme::Light).await;

    // How it bends and opens comes by itself, without being asked for.
    until(&browser, "#handling", "Last ring").await;

    // The ring of the next rod, and a bracelet of it: rings counted, an order made, its run sheet shown.
    let next = browser.find(By::Css("table.rods tr.next a")).await;
    let address = next.expect("a rod").attr("href").await.expect("asked").expect("an address");
    browser.goto(format!("{}{address}", program.address)).await.expect("opens");
    comes_true(&browser, TURNS).await;
    fill(&browser, "length", "180 mm").await;
    keys(&browser, "#clasp", "\u{e004}").await;
    until(&browser, "#answer", "Rings for the piece").await;
    comes_true(&browser, AT_REST).await;
    let rings =
        said(&browser, "document.querySelector('#answer [data-n=\"rings\"] .value').textContent")
            .await;
    go(&browser, "Make this").await;
    let ring = see(&browser, "[name=\"line-1-ring\"]").await;
    let ring = ring.value().await.expect("a value").unwrap_or_default();
    assert!(ring.contains("closed"), "{ring}");
    go(&browser, "Save the order").await;
    go(&browser, "un sheet").await;
    let sheet = words(&browser).await;
    assert!(sheet.contains("Byzantine"), "{sheet}");
    assert!(rings.parse::<u32>().is_ok_and(|rings| rings > 60), "{rings}");
    browser.quit().await.expect("closes");
}

#[tokio::test(flavor = "multi_thread")]
async fn without_webgl_the_still_picture_stands_and_the_slider_still_moves_the_numbers() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let browser = driver.browser_without_webgl().await;
    resize(&browser, PHONE, Scheme::Light).await;
    at_byzantine(&browser, &program).await;
    see(&browser, "#slide").await;
    let before = said(&browser, PER_CM).await;
    keys(&browser, "#slide", "\u{e014}\u{e014}").await;
    comes_true(&browser, &format!("{PER_CM} !== '{before}'")).await;
    comes_true(&browser, AT_REST).await;
    see(&browser, "#still svg.linked").await;
    let fetched = said(
        &browser,
        "performance.getEntriesByType('resource').some(one => one.name.includes('chain-view'))",
    )
    .await;
    assert_eq!(fetched, "false", "the library is fetched where it cannot be used");
    until(&browser, "h1", "Byzantine").await;
    browser.quit().await.expect("closes");
}
