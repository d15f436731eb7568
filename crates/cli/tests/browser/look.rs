//! Looking at a page as a careful stranger would: does it fit, can it be read, can it be hit.

use thirtyfour::prelude::*;

use crate::axe::violations;
use crate::window::{Scheme, Size, overhang, resize};

/// Smallest side of anything that is tapped in bench mode, in CSS pixels.
const KNUCKLE_PX: f64 = 60.0;

/// Everything in bench mode that is tapped and is smaller than a knuckle. A tick or a choice is as
/// large as the words it stands with.
const SMALL: &str = "
    const least = arguments[0];
    const tapped = '#bench button, #bench a.button, #bench summary, #bench select, #bench label.pick, '
        + '#bench input:not([type=hidden], [type=radio], [type=checkbox])';
    return [...document.querySelectorAll(tapped)]
        .filter(one => one.checkVisibility())
        .map(one => [one, one.getBoundingClientRect()])
        .filter(([one, box]) => Math.min(box.width, box.height) < least - 0.5)
        .map(([one, box]) => one.tagName.toLowerCase() + ' \"' + (one.textContent.trim() || one.name)
            + '\" is ' + Math.round(box.width) + ' by ' + Math.round(box.height) + ' px');
";

/// What reaches out of the window to the side without a way to scroll there, and words that are cut
/// off without dots to say so.
const CUT_OFF: &str = "
    const wide = document.documentElement.clientWidth;
    const found = [];
    const scrolls = (one) => {
        for (let at = one; at && at !== document.body; at = at.parentElement) {
            if (['auto', 'scroll'].includes(getComputedStyle(at).overflowX)) return true;
        }
        return false;
    };
    for (const one of document.body.querySelectorAll('*')) {
        if (!one.checkVisibility() || one.closest('svg, .unseen, .skip')) continue;
        const box = one.getBoundingClientRect();
        if (box.width === 0 || box.height === 0) continue;
        const name = one.tagName.toLowerCase() + (one.className ? '.' + one.className : '')
            + ' \"' + one.textContent.trim().slice(0, 40) + '\"';
        if ((box.right > wide + 1 || box.left < -1) && !scrolls(one)) {
            found.push(name + ' reaches out of the window: ' + Math.round(box.left) + ' to ' + Math.round(box.right));
        }
        const style = getComputedStyle(one);
        // Words for screen readers only, and fields whose text scrolls by itself.
        if (style.clipPath !== 'none' || box.width <= 1 || one.matches('input, textarea, select')) continue;
        const pane = one.parentElement.closest('.hand, .scroll, .choose');
        if (pane && pane.scrollTop === 0 && ['auto', 'scroll'].includes(getComputedStyle(pane).overflowY)
            && box.top < pane.getBoundingClientRect().top - 1) found.push(name + ' cannot be scrolled to');
        const cut = ['hidden', 'clip'].includes(style.overflowX) && style.textOverflow !== 'ellipsis'
            && one.scrollWidth > one.clientWidth + 1;
        const short = ['hidden', 'clip'].includes(style.overflowY) && one.scrollHeight > one.clientHeight + 2;
        if ((cut || short) && !one.querySelector('svg')) found.push(name + ' is cut off');
    }
    return found;
";

async fn found(browser: &WebDriver, script: &str, with: Vec<serde_json::Value>) -> Vec<String> {
    let found = browser.execute(script, with).await.expect("looked");
    found.convert().expect("a list of sentences")
}

/// What is too small for a knuckle in bench mode, one sentence each.
pub async fn too_small(browser: &WebDriver) -> Vec<String> {
    found(browser, SMALL, vec![KNUCKLE_PX.into()]).await
}

/// What does not fit the window: a page to be scrolled sideways, and what is cut off.
pub async fn does_not_fit(browser: &WebDriver) -> Vec<String> {
    let mut wrong = found(browser, CUT_OFF, Vec::new()).await;
    let overhang = overhang(browser).await;
    if overhang > 0 {
        wrong.push(format!("{overhang} px wider than the window"));
    }
    wrong
}

/// Looks at the page that is open at some sizes and in some schemes, and says what is wrong.
pub async fn look(browser: &WebDriver, page: &str, at: &[(Size, Scheme)]) -> Vec<String> {
    let mut wrong = Vec::new();
    for (size, scheme) in at {
        resize(browser, *size, *scheme).await;
        let mut here = does_not_fit(browser).await;
        here.extend(too_small(browser).await);
        here.extend(violations(browser).await);
        let at = format!("{page} at {} px, {}", size.name, scheme.word());
        wrong.extend(here.into_iter().map(|found| format!("{at}: {found}")));
    }
    wrong
}

/// What does not fit the page that is open at some sizes.
pub async fn look_at_fit(browser: &WebDriver, page: &str, sizes: &[Size]) -> Vec<String> {
    let mut wrong = Vec::new();
    for size in sizes {
        resize(browser, *size, Scheme::Light).await;
        let here = does_not_fit(browser).await;
        wrong.extend(here.into_iter().map(|found| format!("{page} at {} px: {found}", size.name)));
    }
    wrong
}
