//! A pattern of several ring sizes ordered on a phone: its fields come as soon as it is chosen.

use thirtyfour::prelude::*;

use crate::driver::Driver;
use crate::look::{look, look_at_fit};
use crate::program::Program;
use crate::window::{
    LAPTOP, NARROW, PHONE, Scheme, Size, ZOOMED, choose, fill, go, pick, resize, see, until, words,
};

const AT: &[(Size, Scheme)] = &[
    (PHONE, Scheme::Light),
    (PHONE, Scheme::Dark),
    (LAPTOP, Scheme::Light),
    (LAPTOP, Scheme::Dark),
];

async fn value(browser: &WebDriver, name: &str) -> String {
    let field = see(browser, &format!("[name=\"{name}\"]")).await;
    field.value().await.expect("asked").unwrap_or_default()
}

#[tokio::test(flavor = "multi_thread")]
async fn the_ring_sizes_of_a_pattern_are_asked_for_once_it_is_chosen_and_all_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let phone = driver.browser().await;
    resize(&phone, PHONE, Scheme::Light).await;
    phone.goto(&program.address).await.expect("opens");
    go(&phone, "Look around the sample").await;
    phone.goto(format!("{}/orders/new", program.address)).await.expect("opens");
    fill(&phone, "name", "Boathouse 9").await;
    pick(&phone, "line-1-kind", "chain").await;
    fill(&phone, "line-1-chain_length", "240 mm").await;
    choose(&phone, "line-1-clasp_is", "out").await;
    fill(&phone, "line-1-metal", "sterling").await;
    fill(&phone, "line-1-temper", "annealed").await;
    fill(&phone, "line-1-wire", "1.02 mm").await;
    pick(&phone, "line-1-by", "rod").await;
    fill(&phone, "line-1-rod", "5.0 mm").await;
    choose(&phone, "line-1-pattern", "graduated_cable").await;
    until(&phone, ".further:nth-of-type(3) > legend", "Ring size 4: smallest ring").await;
    choose(&phone, "line-1-pattern", "large_and_small").await;
    until(&phone, ".further > legend", "Ring size 2: small ring").await;
    assert_eq!(value(&phone, "line-1-chain_length").await, "240 mm");
    assert_eq!(value(&phone, "line-1-wire-2").await, "1.02 mm");
    fill(&phone, "line-1-rod-2", "thick").await;
    go(&phone, "Save the order").await;
    until(&phone, "#line-1-rod-2-about .complaint", "thick").await;
    let mut wrong = look(&phone, "an order of two ring sizes refused", AT).await;
    wrong.extend(look_at_fit(&phone, "an order of two ring sizes", &[NARROW, ZOOMED]).await);
    resize(&phone, PHONE, Scheme::Light).await;
    fill(&phone, "line-1-rod-2", "3.5 mm").await;
    go(&phone, "Save the order").await;
    let told = words(&phone).await;
    assert!(told.contains("ring size 2: 1.02 mm, on rod 3.5 mm"), "{told}");
    wrong.extend(look(&phone, "an order of two ring sizes", AT).await);
    phone.quit().await.expect("closes");
    assert!(wrong.is_empty(), "{} findings:\n{}", wrong.len(), wrong.join("\n"));
}
