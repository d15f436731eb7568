// The Chain page with scripts: a slider under which numbers and picture move, and the picture turns.
// Without this file the form is sent and the picture stands still.

const chain = document.getElementById("chain");
const form = document.getElementById("ask");

// The same curve through the table as the program's own: monotone cubic, slopes weighted harmonic
// means of the two chords, zero where these differ in sign, the chord itself at both ends.
export function monotone(points, x) {
  const after = points.findIndex((point) => point[0] >= x);
  if (after === 0) return points[0][1];
  if (after < 0) return points[points.length - 1][1];
  const chord = (i) => (points[i + 1][1] - points[i][1]) / (points[i + 1][0] - points[i][0]);
  const slope = (i) => {
    if (i === 0) return chord(0);
    if (i + 1 === points.length) return chord(i - 1);
    const [left, right] = [chord(i - 1), chord(i)];
    if (left * right <= 0) return 0;
    const [before, behind] = [points[i][0] - points[i - 1][0], points[i + 1][0] - points[i][0]];
    const [w1, w2] = [2 * behind + before, behind + 2 * before];
    return (w1 + w2) / (w1 / left + w2 / right);
  };
  const i = after - 1;
  const h = points[after][0] - points[i][0];
  const t = (x - points[i][0]) / h;
  const [t2, t3] = [t * t, t * t * t];
  return (2 * t3 - 3 * t2 + 1) * points[i][1] + (t3 - 2 * t2 + t) * h * slope(i)
    + (3 * t2 - 2 * t3) * points[after][1] + (t3 - t2) * h * slope(after);
}

// As many digits as the program gives, never with an exponent.
function significant(number, digits) {
  if (number === 0 || !Number.isFinite(number)) return number.toFixed(0);
  const exponent = Number(number.toExponential(digits - 1).split("e")[1]);
  return number.toFixed(Math.min(12, Math.max(0, digits - 1 - exponent)));
}

const inches = (mm) => mm / 25.4;
const reduced = window.matchMedia("(prefers-reduced-motion: reduce)");

// ---- numbers that follow the slider ----

let table = null;

// What the table says of an inside diameter, lengths in millimetres.
function read(insideMm) {
  const wire = Number(chain.dataset.wire);
  const ratio = insideMm / wire;
  const last = table.rows[table.rows.length - 1].ratio;
  if (ratio < table.least || ratio > last) return null;
  const at = Math.max(ratio, table.rows[0].ratio);
  // Nothing is read across from one state of the pattern to the next.
  const { state } = table.rows.findLast((row) => row.ratio <= at);
  const rows = table.rows.filter((row) => row.state === state);
  const of = (key) => wire * monotone(rows.map((row) => [row.ratio, row[key]]), at);
  // What pieces of this pattern measured, against what was worked out for them.
  const measured = Number(chain.dataset.ratio);
  return { advance: measured * of("advance"), across: measured * of("across"), width: of("width"), thickness: of("thickness") };
}

// Mass of the rings of a cell: tori.
function cellMass(insideMm) {
  const wire = Number(chain.dataset.wire);
  const density = Number(chain.dataset.density) / 1000;
  const radius = (insideMm + wire) / 2;
  return table.sizes.reduce((sum, [share, wireShare], size) => {
    const d = wire * wireShare;
    return sum + table.per_cell[size] * density * (Math.PI / 4) * d * d * 2 * Math.PI * radius * share;
  }, 0);
}

function say(key, value, other) {
  const place = document.querySelector(`#answer [data-n="${key}"]`);
  if (!place) return;
  const shown = place.querySelector(".value") ?? place;
  if (shown.textContent !== value) shown.textContent = value;
  const second = place.querySelector(".other");
  if (second && other !== undefined) second.textContent = other;
}

function follow(insideMm) {
  const wire = Number(chain.dataset.wire);
  document.getElementById("slid").textContent = `${insideMm.toFixed(2)} mm`;
  const spare = insideMm - table.least * wire;
  const verdict = spare >= -1e-9
    ? `yes, with ${Math.abs(spare).toFixed(2)} mm (${inches(Math.abs(spare)).toFixed(3)} in) of inside diameter to spare`
    : `no: ${(-spare).toFixed(2)} mm (${inches(-spare).toFixed(3)} in) of inside diameter is missing`;
  say("verdict", verdict);
  say("ratio", (insideMm / wire).toFixed(2), `possible from ${table.least.toFixed(2)} on`);
  const taut = read(insideMm);
  if (!taut) return;
  const rings = table.per_cell.reduce((sum, count) => sum + count, 0);
  const mass = cellMass(insideMm);
  if (table.kind === "chain") {
    const perCm = (rings * 10) / taut.advance;
    say("per-length", `${significant(perCm, 4)} per cm`, `${significant(perCm * 2.54, 4)} per inch`);
    const gPerCm = (mass * 10) / taut.advance;
    say("mass", `${significant(gPerCm, 4)} g per cm`, `${significant(gPerCm * 2.54, 4)} g per inch`);
    say("width", `about ${taut.width.toFixed(2)} mm`, `${inches(taut.width).toFixed(3)} in`);
  } else {
    const perCm2 = (rings * 100) / (taut.advance * taut.across);
    say("per-area", `${significant(perCm2, 4)} per cm\u00b2`, `${significant(perCm2 * 6.4516, 4)} per square inch`);
    const gPerCm2 = (mass * 100) / (taut.advance * taut.across);
    say("mass-area", `${significant(gPerCm2, 4)} g per cm\u00b2`, `${significant(gPerCm2 * 6.4516, 4)} g per square inch`);
  }
  say("thickness", `about ${taut.thickness.toFixed(2)} mm`, `${inches(taut.thickness).toFixed(3)} in`);
}

// The arrow of the bar under the slider.
function point(insideMm) {
  const bar = document.querySelector("svg.range");
  const [low, high] = [Number(bar?.dataset.low), Number(bar?.dataset.high)];
  if (!bar || !(high > low)) return;
  const x = 10 + 340 * Math.min(1, Math.max(0, (insideMm - low) / (high - low)));
  bar.querySelector(".chosen").setAttribute("d", `M${x.toFixed(1)} 66l-7 13h14z`);
  const size = bar.querySelector(".chosen-size");
  size.setAttribute("x", Math.min(328, Math.max(32, x)).toFixed(1));
  size.textContent = `${insideMm.toFixed(2)} mm`;
}

// ---- the picture ----

let view = null;
let isLost = false;
let sceneAsked = 0;

// The rings of the row of the table just below: they fit at this ring too, in wire a little thinner.
function showRow(insideMm, anew) {
  const wire = Number(chain.dataset.wire);
  const row = table?.rows.findLast((one) => one.ratio <= insideMm / wire + 1e-9);
  if (!view || !row) return;
  const radius = (insideMm + wire) / 2;
  const rings = row.rings.map(([size, x, y, z, ...normal]) => [size, x * radius, y * radius, z * radius, ...normal]);
  const sizes = table.sizes.map(([share, wireShare]) => [share * radius, wireShare * wire]);
  view.show({ sizes, rings, spots: [] }, anew);
}

// The same while the slider moves: where drawing takes long, as without a graphics card, only so often
// that the numbers keep following at every frame.
let picturedAt = 0;
let pictureCosts = 0;
const FRAMES_MS = 34;
function showRowInTime(insideMm) {
  const now = performance.now();
  if (now - picturedAt < 3 * pictureCosts) return;
  picturedAt = now;
  showRow(insideMm, false);
  requestAnimationFrame(() => requestAnimationFrame(() => {
    pictureCosts = Math.max(0, performance.now() - now - FRAMES_MS);
  }));
}

// The rings as solved for just this question, with what they carry.
async function showSolved(anew) {
  if (!view) return;
  sceneAsked += 1;
  const mine = sceneAsked;
  const answer = await fetch(chain.dataset.scene).then((got) => got.ok ? got.json() : null).catch(() => null);
  if (mine !== sceneAsked || !answer) return;
  view.show(answer, anew);
  chain.dataset.solved = String(mine);
}

function colour() {
  if (!view) return;
  const of = (name) => getComputedStyle(chain).getPropertyValue(name).trim();
  view.colours([of("--metal-dark"), of("--metal"), of("--metal-light")], of("--accent"));
}

// A ruler along the lower edge, by how many pixels a millimetre takes.
function ruler(place, perMm) {
  const wide = place.clientWidth;
  const svg = place.querySelector(".ruler-3d")
    ?? place.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "svg"));
  svg.setAttribute("class", "ruler-3d");
  svg.setAttribute("aria-hidden", "true");
  const fine = [0.1, 1, 10, 100].find((step) => step * perMm >= 5) ?? 100;
  const left = 14;
  const count = Math.max(1, Math.floor((wide - 2 * left - 40) / (fine * perMm)));
  let path = `M${left} 2H${left + count * fine * perMm}`;
  let words = "";
  const bold = 10 * fine * perMm >= 60 ? 10 : 50;
  const every = 5 * fine * perMm >= 45 && fine >= 1 ? 5 : bold;
  for (let tick = 0; tick <= count; tick += 1) {
    const x = left + tick * fine * perMm;
    path += `M${x.toFixed(1)} 2v${tick % 10 === 0 ? 10 : tick % 5 === 0 ? 8 : 5}`;
    if (tick % every === 0) words += `<text x="${x.toFixed(1)}" y="28" text-anchor="middle">${+(tick * fine).toFixed(1)}</text>`;
  }
  const end = left + count * fine * perMm + 6;
  svg.innerHTML = `<path d="${path}"></path>${words}<text x="${end.toFixed(1)}" y="14">mm</text>`;
}

const TURN = Math.PI / 18;
const NEARER = 1.2;
const TURNS = {
  left: () => view.turn(-TURN, 0),
  right: () => view.turn(TURN, 0),
  up: () => view.turn(0, -TURN),
  down: () => view.turn(0, TURN),
  nearer: () => view.nearer(NEARER),
  further: () => view.nearer(1 / NEARER),
  home: () => { view.home(); byItself(false); },
};
const KEYS = {
  ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down",
  "+": "nearer", "=": "nearer", "-": "further", Home: "home",
};

function byItself(wanted) {
  const button = document.querySelector('[data-turn="by-itself"]');
  button.setAttribute("aria-pressed", String(wanted));
  view.turnByItself(wanted);
}

// The turning picture, or the still one: where there is no WebGL, and where rings do not go together.
function turns(wanted) {
  const place = document.getElementById("turntable");
  place.classList.toggle("turns", wanted);
  document.getElementById("turning").hidden = !wanted;
  document.getElementById("turn-help").hidden = !wanted;
  if (!wanted) { place.removeAttribute("tabindex"); return; }
  place.tabIndex = 0;
  place.setAttribute("role", "group");
  place.setAttribute("aria-label", "The chain, to be turned");
  place.setAttribute("aria-describedby", "turn-help");
}

async function picture() {
  const place = document.getElementById("turntable");
  // Where there is no WebGL the library is not even fetched, and the still picture stands.
  const can = document.createElement("canvas").getContext("webgl2") !== null;
  if (!can || !place.querySelector("svg.linked")) return;
  const { chainView } = await import("/assets/chain-view.min.js");
  const turning = document.getElementById("turning");
  view = chainView(place, { still: reduced, told: (perMm) => ruler(place, perMm), lost: () => { isLost = true; turns(false); } });
  if (!view) return;
  colour();
  if (table) showRow(Number(chain.dataset.inside), true);
  await showSolved(!table);
  turns(true);
  place.addEventListener("keydown", (event) => {
    const turn = TURNS[KEYS[event.key]];
    if (!turn || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    byItself(false);
    turn();
  });
  place.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    view.nearer(event.deltaY < 0 ? 1.1 : 1 / 1.1);
  }, { passive: false });
  turning.addEventListener("click", (event) => {
    const does = event.target.closest("[data-turn]")?.dataset.turn;
    if (does === "by-itself") byItself(event.target.getAttribute("aria-pressed") !== "true");
    else if (does) { byItself(false); TURNS[does](); }
  });
  const moves = () => { document.querySelector('[data-turn="by-itself"]').hidden = reduced.matches; };
  moves();
  reduced.addEventListener("change", moves);
  const contacts = document.getElementById("contacts");
  contacts.addEventListener("change", () => {
    view.showContacts(contacts.checked);
    document.getElementById("contacts-told").hidden = !contacts.checked;
  });
  const schemes = window.matchMedia("(prefers-color-scheme: dark)");
  schemes.addEventListener("change", colour);
}

// ---- asking the program ----

let asking = null;

// Asks for the page as the form stands now and takes its answer in, fields untouched.
async function ask() {
  asking?.abort();
  asking = new AbortController();
  const answer = document.getElementById("answer");
  answer.setAttribute("aria-busy", "true");
  const address = `/chain/pattern?${new URLSearchParams([...new FormData(form)].filter(([, text]) => text !== ""))}`;
  try {
    const got = await fetch(address, { signal: asking.signal });
    const page = new DOMParser().parseFromString(await got.text(), "text/html");
    const fresh = page.getElementById("chain");
    // What cannot be answered is told by the page itself, beside its field.
    if (!got.ok || !fresh || fresh.dataset.rows !== chain.dataset.rows) { location.assign(address); return; }
    history.replaceState(null, "", address);
    window.showAfresh(answer, page.getElementById("answer"));
    window.showAfresh(document.getElementById("rings"), page.getElementById("rings"));
    document.getElementById("still").replaceChildren(...page.getElementById("still").childNodes);
    document.getElementById("turntable").classList.toggle("bare", page.querySelector("#turntable.bare") !== null);
    document.getElementById("scale").textContent = page.getElementById("scale").textContent;
    const about = page.getElementById("wire-about");
    if (about) document.getElementById("wire-about")?.replaceChildren(...about.childNodes);
    const anew = fresh.dataset.wire !== chain.dataset.wire;
    Object.assign(chain.dataset, { ...fresh.dataset });
    chain.className = fresh.className;
    const slide = document.getElementById("slide");
    const asked = page.getElementById("slide");
    for (const end of ["min", "max"]) slide.setAttribute(end, asked.getAttribute(end));
    if (document.activeElement !== slide) slide.value = fresh.dataset.inside;
    document.getElementById("slid").textContent = `${Number(fresh.dataset.inside).toFixed(2)} mm`;
    slider();
    colour();
    handling();
    // Rings that do not go together have nothing to turn; once they do, the picture turns again.
    if (isLost || document.querySelector("#still svg.linked") === null) turns(false);
    else if (view) { await showSolved(anew); turns(true); }
    else await picture();
  } catch (error) {
    if (error.name === "AbortError") return;
    // The program is stopping or starting again; the form still asks.
  }
  answer.removeAttribute("aria-busy");
}

// How the chain handles takes a second or two: it is asked for once nothing has changed for a while.
let handlingSoon = 0;
function handling() {
  clearTimeout(handlingSoon);
  handlingSoon = setTimeout(async () => {
    const place = document.getElementById("handling");
    if (!place || !place.querySelector("a[href]")) return;
    const address = place.dataset.handling;
    const got = await fetch(address).then((answer) => answer.ok ? answer.text() : null).catch(() => null);
    const now = document.getElementById("handling");
    if (got === null || now?.dataset.handling !== address) return;
    const fresh = new DOMParser().parseFromString(got, "text/html").getElementById("handling");
    if (fresh) window.showAfresh(now, fresh);
  }, 1200);
}

const slider = () => {
  document.getElementById("slider").hidden = !(table && chain.dataset.slides === "true");
};

async function start() {
  const got = await fetch(chain.dataset.rows).then((answer) => answer.json()).catch(() => null);
  if (got?.rows?.length > 1) table = got;
  const slide = document.getElementById("slide");
  slider();
  document.getElementById("slid").textContent = `${Number(chain.dataset.inside).toFixed(2)} mm`;
  let soon = 0;
  let due = 0;
  const rest = () => { clearTimeout(soon); soon = setTimeout(ask, 250); };
  slide.addEventListener("input", () => {
    due ||= requestAnimationFrame(() => {
      due = 0;
      const insideMm = Number(slide.value);
      form.elements.inside.value = `${insideMm.toFixed(2)} mm`;
      form.elements.state.value = "closed";
      document.getElementById("answer").setAttribute("aria-busy", "true");
      follow(insideMm);
      point(insideMm);
      showRowInTime(insideMm);
      sceneAsked += 1;
      rest();
    });
  });
  form.addEventListener("change", (event) => { if (event.target !== slide) rest(); });
  handling();
  await picture();
}

if (chain && form) start();
