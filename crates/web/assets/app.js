// What pages do better with scripts than without; every page works without this file.
"use strict";

// Remembers what has the focus in a region about to be shown afresh, and gives back what focuses it
// again: the same thing by name, or what stands in its place. A tick is the same ticked or not.
const keepFocus = (region) => {
  const was = document.activeElement;
  if (!was || !region.contains(was)) return () => {};
  const all = () => [...region.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex]")]
    .filter((one) => !one.disabled && one.checkVisibility());
  const name = (one) => {
    const does = one.tagName === "BUTTON" ? one.value.replace(/^(un)?tick:/, "") : "";
    return [one.tagName, one.id, one.name ?? "", does, one.getAttribute("href") ?? "", one.getAttribute("aria-label") ?? ""].join("|");
  };
  const named = name(was);
  const at = all().indexOf(was);
  const nth = all().filter((one) => name(one) === named).indexOf(was);
  return () => {
    const now = all();
    const again = now.filter((one) => name(one) === named)[nth] ?? now[Math.min(at, now.length - 1)];
    again?.focus({ preventScroll: true });
  };
};

// Shows a region as it is now, what is open and what has the focus as before; where a new step of the
// bench has come, from its top and with the focus on its heading.
window.showAfresh = (region, fresh) => {
  const step = () => region.firstElementChild?.dataset.step;
  const before = step();
  const opened = [...region.querySelectorAll("details")].map((details) => details.open);
  const focusAgain = keepFocus(region);
  region.replaceChildren(...fresh.childNodes);
  if (step() !== before) {
    window.scrollTo(0, 0);
    document.getElementById("step")?.focus({ preventScroll: true });
    return;
  }
  region.querySelectorAll("details").forEach((details, at) => { details.open = opened[at] ?? details.open; });
  focusAgain();
};

// Live regions: `<section id="..." data-live>` is fetched again from the page's own address when
// another window has saved something. A region in which something is being typed or chosen, or which
// says what was wrong with it, is left alone until the next change after that; nothing typed is ever
// lost, and what has the focus keeps it.
(() => {
  const regions = () => [...document.querySelectorAll("[data-live][id]")];
  if (regions().length === 0) return;

  const isTouched = (control) => {
    if (control.type === "checkbox" || control.type === "radio") return control.checked !== control.defaultChecked;
    if (control.tagName === "SELECT") return [...control.options].some((option) => option.selected !== option.defaultSelected) && control.selectedIndex > 0;
    return control.type !== "hidden" && control.value !== control.defaultValue;
  };
  const isBusy = (region) =>
    region.matches(":focus-within:has(input:focus, select:focus, textarea:focus)") ||
    region.querySelector(".complaint") !== null ||
    [...region.querySelectorAll("input, select, textarea")].some(isTouched);

  // Every page shown carries tokens of its own; that alone is no change.
  const TOKENS = /name="token" value="[^"]*"/g;
  const content = (region) => region.innerHTML.replace(TOKENS, "");

  let fetching = false;
  let again = false;
  async function refresh() {
    if (fetching) { again = true; return; }
    fetching = true;
    try {
      const answer = await fetch(location.href, { headers: { "X-Live": "1" }, cache: "no-store" });
      if (answer.ok && new URL(answer.url).pathname === location.pathname) {
        swap(new DOMParser().parseFromString(await answer.text(), "text/html"));
      }
    } catch {
      // The program is stopping or starting again; the next event brings the page up to date.
    }
    fetching = false;
    if (again) { again = false; refresh(); }
  }

  function swap(page) {
    for (const region of regions()) {
      const fresh = page.getElementById(region.id);
      if (!fresh || isBusy(region) || content(fresh) === content(region)) continue;
      window.showAfresh(region, fresh);
      document.title = page.title;
    }
  }

  // One line at most, and only while the page is seen: browsers allow few lines to one program.
  // Whatever was saved while there was none shows once there is one again.
  let line = null;
  function open() {
    let wasDown = false;
    line = new EventSource("/live");
    line.addEventListener("saved", refresh);
    line.addEventListener("error", () => { wasDown = true; });
    line.addEventListener("open", () => { if (wasDown) { wasDown = false; refresh(); } });
  }
  function close() {
    line?.close();
    line = null;
  }
  function follow() {
    if (document.visibilityState === "hidden") { close(); return; }
    if (!line) { open(); refresh(); }
  }
  open();
  document.addEventListener("visibilitychange", follow);
  window.addEventListener("pagehide", close);
  window.addEventListener("pageshow", (shown) => { if (shown.persisted) follow(); });
})();

// A pattern that takes other ring sizes than a line of an order shows brings their fields with it. What
// was typed meanwhile wins: the button that asks for them stays, as it does without scripts.
document.addEventListener("change", async ({ target }) => {
  if (!target.matches("select.pattern") || !target.selectedOptions[0]?.matches(".asks")) return;
  const [form, line] = [target.form, target.closest(".line")];
  const typed = () => new URLSearchParams(new FormData(form));
  const sent = typed();
  const body = new URLSearchParams(sent);
  body.set("do", "show-sizes");
  const answer = await fetch(form.action, { method: "POST", body }).catch(() => null);
  if (!answer?.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById(line.id);
  if (fresh && typed().toString() === sent.toString()) window.showAfresh(line, fresh);
});

// Keeps the screen awake on pages that ask for it with `data-awake` on the body or a region.
(() => {
  if (!("wakeLock" in navigator)) return;
  const wanted = () => document.visibilityState === "visible" && document.querySelector("[data-awake]");
  const hold = () => { if (wanted()) navigator.wakeLock.request("screen").catch(() => {}); };
  document.addEventListener("visibilitychange", hold);
  hold();
})();
