//! Every step of bench mode, with its complaints, in every scheme and for either hand.

use std::path::PathBuf;

use thirtyfour::prelude::*;

use crate::driver::Driver;
use crate::look::{look, look_at_fit};
use crate::program::Program;
use crate::window::{
    LAPTOP, NARROW, PHONE, Scheme, Size, ZOOMED, fill, go, pick, picture, press, resize, see, tap,
    until, words,
};

/// As the device is set, right hand.
const AS_THE_DEVICE: &[(Size, Scheme)] = &[
    (PHONE, Scheme::Light),
    (PHONE, Scheme::Dark),
    (PHONE, Scheme::Forced),
    (LAPTOP, Scheme::Light),
    (LAPTOP, Scheme::Dark),
];

/// High contrast, left hand.
const CHOSEN: &[(Size, Scheme)] =
    &[(PHONE, Scheme::Light), (PHONE, Scheme::Dark), (LAPTOP, Scheme::Light)];

/// The steps by the words they are gone to with; dividing is gone to though no coil is long.
const STEPS: [&str; 12] = [
    "wire", "anneal", "wind:1", "off:1", "divide:1", "blade:1", "clamp:1", "slit:1", "counts:1",
    "measure", "label", "finish",
];

/// Where a number or a word is refused: the step, the field, what is typed and the button.
const REFUSED: [(&str, &str, &str, &str); 5] = [
    ("wire", "typed", "plenty", "take"),
    ("off:1", "typed", "900", "off"),
    ("blade:1", "typed", "0.5", "projection"),
    ("measure", "typed", "41.3", "reading"),
    ("label", "code", " ", "label"),
];

/// Goes to a step from the list of steps, as a person does who looks something up.
async fn stand_at(browser: &WebDriver, run: &str, step: &str) {
    resize(browser, PHONE, Scheme::Light).await;
    browser.goto(format!("{run}/steps")).await.expect("opens");
    let button = see(browser, &format!("button[value=\"go:{step}\"]")).await;
    button.click().await.expect("pressed");
    see(browser, &format!("[data-step^=\"{}\"]", step.split(':').next().unwrap_or(step))).await;
}

/// Keeps pictures of the screen at both sizes where they are wanted.
async fn keep_pictures(browser: &WebDriver, name: &str) {
    let Some(folder) = std::env::var_os("LINKWRIGHT_PICTURES").map(PathBuf::from) else { return };
    std::fs::create_dir_all(&folder).expect("a folder");
    for size in [PHONE, LAPTOP] {
        resize(browser, size, Scheme::Light).await;
        let file = format!("bench-{}-{}.png", name.replace(':', "-"), size.name);
        picture(browser, &folder.join(file)).await;
    }
}

async fn every_step(
    browser: &WebDriver,
    run: &str,
    at: &[(Size, Scheme)],
    hand: &str,
) -> Vec<String> {
    let mut wrong = Vec::new();
    for step in STEPS {
        stand_at(browser, run, step).await;
        wrong.extend(look(browser, &format!("{step}, {hand}"), at).await);
        wrong.extend(look_at_fit(browser, &format!("{step}, {hand}"), &[NARROW, ZOOMED]).await);
        keep_pictures(browser, &format!("{step}-{}", at.len())).await;
    }
    for (step, field, typed, does) in REFUSED {
        stand_at(browser, run, step).await;
        fill(browser, field, typed).await;
        tap(browser, does).await;
        let refused = browser.find(By::Css("#bench .complaint")).await.is_ok();
        assert!(refused, "{step} takes {typed:?}:\n{}", words(browser).await);
        wrong.extend(look(browser, &format!("{step} refused, {hand}"), &at[..2]).await);
    }
    wrong
}

/// The steps with every sum and every caution open.
async fn every_step_open(browser: &WebDriver, run: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    for step in ["wire", "wind:1", "off:1", "blade:1", "clamp:1", "slit:1", "counts:1", "label"] {
        stand_at(browser, run, step).await;
        let open =
            "document.querySelectorAll('#bench details').forEach(one => { one.open = true; })";
        browser.execute(open, Vec::new()).await.expect("opened");
        wrong.extend(look(browser, &format!("{step}, all open"), &AS_THE_DEVICE[..1]).await);
        wrong.extend(look_at_fit(browser, &format!("{step}, all open"), &[NARROW]).await);
        keep_pictures(browser, &format!("{step}-open")).await;
    }
    wrong
}

#[tokio::test(flavor = "multi_thread")]
async fn every_step_at_the_bench_is_accessible_in_every_scheme_and_for_either_hand() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let address = program.address.clone();
    let driver = Driver::start();
    let browser = driver.browser().await;
    resize(&browser, PHONE, Scheme::Light).await;
    browser.goto(&address).await.expect("opens");
    go(&browser, "Look around the sample").await;
    browser.goto(format!("{address}/runs")).await.expect("opens");
    go(&browser, "Go on").await;
    let run = browser.current_url().await.expect("an address").to_string();

    // The list before power can be ticked only once the drive is off.
    stand_at(&browser, &run, "blade:1").await;
    for item in ["projection", "drive"] {
        let untick = format!("untick:{item}");
        if browser.find(By::Css(format!("[value=\"{untick}\"]"))).await.is_ok() {
            tap(&browser, &untick).await;
        }
    }
    see(&browser, "#typed[disabled]").await;
    let mut wrong = look(&browser, "blade, drive not off", AS_THE_DEVICE).await;
    stand_at(&browser, &run, "blade:1").await;
    tap(&browser, "tick:drive").await;
    // Not as deep as planned, so that the blade stands beside the plan.
    fill(&browser, "typed", "1.8").await;
    tap(&browser, "projection").await;
    see(&browser, ".used").await;
    tap(&browser, "untick:projection").await;
    wrong.extend(every_step(&browser, &run, AS_THE_DEVICE, "right hand").await);
    wrong.extend(every_step_open(&browser, &run).await);

    browser.goto(format!("{address}/help/choices")).await.expect("opens");
    pick(&browser, "scheme", "contrast").await;
    pick(&browser, "hand", "left").await;
    go(&browser, "Keep these choices").await;
    wrong.extend(every_step(&browser, &run, CHOSEN, "high contrast, left hand").await);

    for (words, heading) in [("Set aside", "Set aside"), ("Call it off", "Called off")] {
        resize(&browser, PHONE, Scheme::Light).await;
        browser.goto(format!("{run}/steps")).await.expect("opens");
        wrong.extend(look(&browser, "all steps", CHOSEN).await);
        resize(&browser, PHONE, Scheme::Light).await;
        fill(&browser, "why", "the kiln is wanted").await;
        press(&browser, words).await;
        until(&browser, "h1", heading).await;
        wrong.extend(look(&browser, heading, CHOSEN).await);
    }
    browser.quit().await.expect("closes");
    assert!(wrong.is_empty(), "{} findings:\n{}", wrong.len(), wrong.join("\n"));
}
