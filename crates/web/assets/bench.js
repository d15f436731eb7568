// Taps at the bench without a page between them. Without this file every tap is a form that is sent
// and a page that comes back; with it taps are sent one after the other and only the screen changes.
"use strict";

(() => {
  const bench = document.getElementById("bench");
  const unsaved = document.getElementById("unsaved");
  if (!bench || !window.fetch) return;

  const waiting = [];
  let sending = false;
  const LONG_MS = 400;
  const AGAIN_MS = 1000;
  const pause = (ms) => new Promise((resolve) => { setTimeout(resolve, ms); });

  // Each tap has a name: sent again after a lost answer it counts once, tapped again it counts twice.
  function tapName() {
    const bytes = crypto.getRandomValues(new Uint8Array(12));
    return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  }

  function say() {
    unsaved.hidden = waiting.length === 0;
    unsaved.textContent = waiting.length === 1 ? "1 tap not saved yet" : `${waiting.length} taps not saved yet`;
  }

  function show(page) {
    const fresh = page.getElementById("bench");
    if (!fresh) return false;
    window.showAfresh(bench, fresh);
    document.title = page.title;
    return true;
  }

  async function send() {
    if (sending) return;
    sending = true;
    bench.ariaBusy = "true";
    while (waiting.length > 0) {
      const { address, body } = waiting[0];
      const late = setTimeout(say, LONG_MS);
      try {
        const answer = await fetch(address, { method: "POST", body, cache: "no-store" });
        const text = await answer.text();
        waiting.shift();
        const elsewhere = new URL(answer.url).pathname !== location.pathname && answer.redirected;
        if (waiting.length === 0 || answer.status >= 400) {
          if (elsewhere || !show(new DOMParser().parseFromString(text, "text/html"))) location.assign(elsewhere ? answer.url : location.pathname);
        }
      } catch {
        // The program is stopping or starting again: the same tap is sent until it is answered.
        say();
        await pause(AGAIN_MS);
      }
      clearTimeout(late);
    }
    say();
    sending = false;
    bench.ariaBusy = null;
  }

  bench.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("form.tap")) return;
    event.preventDefault();
    const body = new URLSearchParams(new FormData(form, event.submitter));
    if (body.has("tap")) body.set("tap", tapName());
    waiting.push({ address: form.action, body });
    send();
  });

  // The number pad writes into the field above it.
  bench.addEventListener("click", (event) => {
    const key = event.target.closest(".pad button");
    const field = document.getElementById("typed");
    if (!key || !field) return;
    event.preventDefault();
    if (key.value === "back") field.value = field.value.slice(0, -1);
    else if (key.value !== "." || !field.value.includes(".")) field.value += key.value;
  });

  window.addEventListener("beforeunload", (event) => { if (waiting.length > 0) event.preventDefault(); });
})();
