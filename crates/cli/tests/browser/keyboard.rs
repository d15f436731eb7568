//! From an order to a started run and into bench mode without a mouse or a finger: Tab, Enter, Space
//! and the letters. On the way every focus is seen, none is hidden, and none goes backwards.

use thirtyfour::prelude::*;
use tokio::time::Instant;

use crate::driver::Driver;
use crate::program::{PATIENCE, Program};
use crate::window::{LAPTOP, PHONE, Scheme, resize, settled, until};

/// More presses of Tab than any page has stops.
const STOPS_MOST: usize = 400;

/// What has the focus: its words, and what is wrong with how it shows.
const FOCUSED: &str = "
    const one = document.activeElement;
    if (!one || one === document.body) return ['', []];
    const before = window.focusedBefore;
    window.focusedBefore = one;
    const wrong = [];
    const style = getComputedStyle(one);
    // A field for a day has stops within itself, which the browser marks.
    if (before !== one && (style.outlineStyle === 'none' || parseFloat(style.outlineWidth) < 2)) wrong.push('shows no focus');
    const box = one.getBoundingClientRect();
    const points = [0.1, 0.5, 0.9].flatMap(x => [0.1, 0.5, 0.9].map(y => [box.left + x * box.width, box.top + y * box.height]));
    const seen = points.some(([x, y]) => {
        const top = document.elementFromPoint(x, y);
        return top && (one.contains(top) || top.contains(one));
    });
    if (!seen) wrong.push('is hidden at ' + [box.left, box.top, box.right, box.bottom].map(Math.round));
    if (one.tabIndex > 0) wrong.push('has an order of its own');
    if (before && before !== one && before.isConnected && !(before.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING)) {
        wrong.push('comes before ' + (before.textContent || before.name));
    }
    const named = [...(one.labels ?? [])].map(label => label.textContent).join(' ');
    const words = (one.getAttribute('aria-label') || named || one.textContent || '').replace(/\\s+/g, ' ').trim();
    return [words, wrong];
";

/// Somebody with a keyboard only.
struct Keys {
    browser: WebDriver,
}

impl Keys {
    async fn type_in(&self, keys: &str) {
        self.browser.action_chain().send_keys(keys).perform().await.expect("typed");
    }

    /// One press of Tab; what then has the focus must show it.
    async fn tab(&self) -> String {
        self.type_in("\u{e004}").await;
        let found = self.browser.execute(FOCUSED, Vec::new()).await.expect("asked");
        let (words, wrong): (String, Vec<String>) = found.convert().expect("what has the focus");
        let at = self.browser.current_url().await.expect("an address");
        assert!(wrong.is_empty(), "{at}: {words:?} {}", wrong.join(", "));
        words
    }

    /// Tab until what has the focus says these words or begins with them.
    async fn to(&self, words: &str) {
        let mut passed = Vec::new();
        for _ in 0..STOPS_MOST {
            let at = self.tab().await;
            if at == words || at.starts_with(&format!("{words} ")) {
                return;
            }
            passed.push(at);
        }
        panic!("Tab does not come to {words:?}; it passed {}", passed.join(" | "));
    }

    /// To these words and Enter, which leads to another page.
    async fn enter(&self, words: &str) {
        self.to(words).await;
        self.browser.execute("window.before = true", Vec::new()).await.expect("marked");
        self.type_in("\u{e007}").await;
        let arrived = "return window.before === undefined && document.readyState === 'complete'";
        let started = Instant::now();
        loop {
            // Between two pages there is no script to ask.
            let answer = self.browser.execute(arrived, Vec::new()).await;
            if answer.is_ok_and(|answer| answer.json() == &serde_json::Value::Bool(true)) {
                break;
            }
            assert!(started.elapsed() < PATIENCE, "Enter on {words:?} leads nowhere");
            tokio::time::sleep(std::time::Duration::from_millis(50)).await;
        }
    }

    /// To the field of this name, and what is typed there.
    async fn fill(&self, label: &str, text: &str) {
        self.to(label).await;
        self.type_in(text).await;
    }

    /// To these words and a key that changes this very screen; then nothing is being fetched.
    async fn tap(&self, words: &str, key: &str) {
        self.to(words).await;
        self.type_in(key).await;
        settled(&self.browser).await;
    }

    /// What has the focus, as the bench calls it.
    async fn does(&self) -> String {
        let script =
            "const one = document.activeElement; return one.value || one.id || one.tagName";
        let does = self.browser.execute(script, Vec::new()).await.expect("asked");
        does.convert().expect("words")
    }

    /// Tab goes on from here to the end of the page and comes to its top again: there is no trap.
    async fn goes_round(&self) {
        let at_top = "
            const one = document.activeElement;
            if (one && !one.matches('.skip') && one !== document.body) return false;
            window.focusedBefore = undefined;
            return true;
        ";
        for _ in 0..STOPS_MOST {
            self.type_in("\u{e004}").await;
            let top = self.browser.execute(at_top, Vec::new()).await.expect("asked");
            if top.json() == &serde_json::Value::Bool(true) {
                return;
            }
        }
        panic!("Tab never comes round");
    }
}

const ENTER: &str = "\u{e007}";
const SPACE: &str = " ";

#[tokio::test(flavor = "multi_thread")]
async fn an_order_becomes_a_run_and_comes_to_slitting_with_the_keyboard_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let program = Program::start(&folder.path().join("bench.linkwright"));
    let driver = Driver::start();
    let keys = Keys { browser: driver.browser().await };
    let browser = &keys.browser;
    resize(browser, LAPTOP, Scheme::Light).await;
    browser.goto(&program.address).await.expect("opens");
    keys.enter("Look around the sample").await;

    assert_eq!(keys.tab().await, "To the content", "the first stop");
    keys.type_in(ENTER).await;
    let main = browser.execute("return document.activeElement.id", Vec::new()).await;
    assert_eq!(main.expect("asked").json(), "main", "the first link leads past the list of pages");
    keys.goes_round().await;

    keys.enter("Orders").await;
    keys.enter("New order").await;
    keys.fill("Order", "By keys").await;
    keys.fill("Name of the line", "jump rings").await;
    keys.to("Rings").await;
    keys.type_in(SPACE).await;
    keys.fill("How many rings", "60").await;
    keys.fill("Metal", "sterling").await;
    keys.fill("Temper", "soft").await;
    keys.fill("Wire", "1.02 mm").await;
    keys.to("Its size").await;
    // The next choice of the same question.
    keys.type_in("\u{e015}").await;
    keys.fill("Rod", "4.00 mm").await;
    keys.goes_round().await;
    keys.enter("Save the order").await;
    keys.enter("Run sheet of jump rings").await;
    // A sum opens and closes by Enter and keeps the focus.
    keys.tap("worked out", ENTER).await;
    let open =
        browser.execute("return document.activeElement.parentElement.open", Vec::new()).await;
    assert_eq!(open.expect("asked").json(), true, "the sum opens");
    keys.goes_round().await;
    keys.enter("Start at the bench").await;

    keys.goes_round().await;
    keys.fill("Weighed in, g", "20.1").await;
    keys.tap("Wire taken", ENTER).await;
    until(browser, "h1", "Anneal").await;
    assert_eq!(keys.does().await, "step", "a new step is told by its heading");
    keys.tap("Passed over", ENTER).await;
    until(browser, "h1", "Wind").await;
    keys.tap("+10", SPACE).await;
    until(browser, ".counter b", "10").await;
    assert_eq!(keys.does().await, "turns:+10", "the counter keeps the focus");
    keys.type_in(SPACE).await;
    until(browser, ".counter b", "20").await;
    // The page hears of its own tap as of one in another window, and is shown afresh.
    tokio::time::sleep(std::time::Duration::from_millis(700)).await;
    assert_eq!(keys.does().await, "turns:+10", "being shown afresh takes no focus");
    keys.tap("All", ENTER).await;
    until(browser, "h1", "Coil off").await;
    keys.tap("Coil is off", ENTER).await;
    until(browser, "h1", "blade").await;
    for item in ["Handpiece", "Blade flat", "Teeth point", "Blade in line", "Screw"] {
        keys.tap(item, SPACE).await;
        assert!(
            keys.does().await.starts_with("untick:"),
            "{item} keeps the focus: {}",
            keys.does().await
        );
    }
    keys.fill("Projection measured, mm", "1.5").await;
    keys.type_in(ENTER).await;
    settled(browser).await;
    for item in ["Teeth lubricated", "Guard", "Eye"] {
        keys.tap(item, SPACE).await;
    }
    keys.tap("Blade is checked", ENTER).await;
    until(browser, "h1", "Clamp").await;
    keys.goes_round().await;

    // The list behind More, on a phone.
    resize(browser, PHONE, Scheme::Light).await;
    browser.goto(&program.address).await.expect("opens");
    keys.tap("More", ENTER).await;
    keys.enter("Faults").await;
    until(browser, "h1", "What went wrong?").await;
    keys.goes_round().await;
    keys.browser.clone().quit().await.expect("closes");
}
