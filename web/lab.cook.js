// The stove's side of the page: what must go on while nobody computes. Ticks in
// the cook's list, clocks that outlive a locked phone, the screen that stays
// awake, the paper's date. No sentence stands here.
//
// The list is written by the program (#lab-method-cook, a dialog). Its rows have
// a data-key, which changes with what is to be done there; a tick belongs to
// that key, in the batch that the dialog's data-batch names, and so does a clock: two
// dishes may well chill alike. A clock is the moment at which it ends. Both are kept
// in local storage.

import "./{{asset dates.js}}";

const root = document.documentElement;
const byId = (id) => document.getElementById(id);
const cook = byId("lab-method-cook");
const list = byId("cook-rows");

const STORED = "tremblant-cook";
const BATCHES = 8; // whose ticks are kept
const OLD_MS = 36 * 60 * 60 * 1000; // a clock that ended longer ago is no news

function read() {
  try {
    const kept = JSON.parse(localStorage.getItem(STORED) ?? "{}");
    return { done: Array.isArray(kept.done) ? kept.done : [], clocks: Array.isArray(kept.clocks) ? kept.clocks : [], stopped: kept.stopped?.ends ? kept.stopped : null };
  } catch {
    return { done: [], clocks: [], stopped: null }; // switched off, or not ours
  }
}

const state = read();

function keep() {
  try {
    localStorage.setItem(STORED, JSON.stringify(state));
  } catch {
    // switched off or full: it holds until the page is closed
  }
}

// ---- ticks

const batch = () => cook.dataset.batch ?? "";
const rows = () => [...list.querySelectorAll("li")];
const tickOf = (row) => row.querySelector("input");

function ticks() {
  let own = state.done.find((one) => one.batch === batch());
  if (!own) {
    own = { batch: batch(), keys: [] };
    state.done.unshift(own);
    state.done.length = Math.min(state.done.length, BATCHES);
  }
  return own;
}

// Shows what is ticked, and which row is next.
function mark() {
  const { keys } = ticks();
  let next = null;
  let done = 0;
  for (const row of rows()) {
    const ticked = keys.includes(row.dataset.key);
    tickOf(row).checked = ticked;
    done += ticked;
    if (!ticked) next ??= row;
    row.dataset.state = ticked ? "done" : row === next ? "now" : "";
    if (row === next) row.setAttribute("aria-current", "step");
    else row.removeAttribute("aria-current");
  }
  byId("cook-count").textContent = `${done} / ${rows().length}`;
  byId("cook-done").hidden = next !== null || !rows().length;
  byId("cook-again").hidden = done === 0;
  byId("cook-unagain").hidden = !ticks().before;
  return next;
}

// The rows, those at the next one first.
function around(next) {
  const all = rows();
  const at = Math.max(all.indexOf(next), 0);
  return all.map((row, i) => ({ row, away: Math.abs(i - at) })).sort((a, b) => a.away - b.away).map(({ row }) => row);
}

function bring(row) {
  row?.scrollIntoView({ block: "center", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
}

list.addEventListener("change", ({ target }) => {
  const own = ticks();
  const { key } = target.closest("li").dataset;
  own.keys = own.keys.filter((one) => one !== key);
  if (target.checked) own.keys.push(key);
  delete own.before;
  keep();
  const next = mark();
  if (target.checked) bring(next);
});

// The program writes rows anew: what belongs to them is looked up again.
new MutationObserver(mark).observe(list, { childList: true, subtree: true, attributes: true, attributeFilter: ["data-key"] });
new MutationObserver(mark).observe(cook, { attributes: true, attributeFilter: ["data-batch"] });

// ---- clocks

const timers = byId("cook-timers");
const timerList = byId("cook-timer-list");
let voice = null; // made by a press, since browsers ask for one

const text = (ms) => {
  const seconds = Math.round(Math.abs(ms) / 1000);
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  if (!parts[0]) parts.shift();
  return parts.map((part, i) => (i ? String(part).padStart(2, "0") : part)).join(":");
};

// Below the clocks that run stands the last one that was stopped before its time: its ×
// is next to what gives a minute more, and a slip must not cost the time that has run.
function showClocks() {
  const shown = state.stopped ? [...state.clocks, state.stopped] : state.clocks;
  while (timerList.childElementCount > shown.length) timerList.lastElementChild.remove();
  while (timerList.childElementCount < shown.length) timerList.append(byId("t-cook-timer").content.firstElementChild.cloneNode(true));
  shown.forEach((clock, i) => {
    const row = timerList.children[i];
    const left = clock.ends - Date.now();
    const stopped = clock === state.stopped;
    const over = left <= 0 && !stopped;
    const put = (selector, value) => {
      const el = row.querySelector(selector);
      if (el.textContent !== value) el.textContent = value;
    };
    row.dataset.state = stopped ? "stopped" : over ? "over" : "";
    row.querySelector(".timer-over").hidden = !over;
    row.querySelector(".timer-stopped").hidden = row.querySelector("[data-cook=resume]").hidden = !stopped;
    row.querySelector("[data-cook=longer]").hidden = stopped;
    put(".timer-left", (over ? "+" : "") + (stopped ? "" : text(left)));
    put(".timer-step", clock.name);
    put(".timer-dish", clock.dish ?? "");
    if (over && !clock.told) {
      clock.told = true;
      keep();
      call(row, clock);
    }
  });
  timers.hidden = !shown.length;
  // The dialog lies above everything: the clocks go in with it.
  const home = cook.open ? cook : document.body;
  if (timers.parentElement !== home) {
    home.append(timers);
    giveWay(); // as large as before, it tells no observer
  }
  for (const row of rows()) {
    const button = row.querySelector("[data-cook=timer]");
    const running = isRunning(clockFor(row));
    button.dataset.state = running ? "runs" : "";
    button.ariaDisabled = running ? "true" : null;
  }
}

// Notices stand above the clocks, however many run: one that covers a clock, or the
// button that stops it, is in the way when it counts. And what lies beneath the clocks,
// on the page or in the list, can be scrolled free of them; where the keyboard goes it is.
// Told to these alone, as a browser styles the whole page anew for what its root hands on.
const notices = document.querySelector(".notices");
function giveWay() {
  const over = { [cook.open]: timers.offsetHeight };
  const clear = (least, high) => (high ? `calc(${least}rem + ${high}px)` : "");
  notices.style.setProperty("--clocks", `${over.false ?? 0}px`);
  document.body.style.paddingBottom = clear(5, over.false);
  root.style.scrollPaddingBottom = clear(6, over.false);
  cook.style.paddingBottom = clear(2, over.true);
  cook.style.scrollPaddingBottom = clear(1, over.true);
}
new ResizeObserver(giveWay).observe(timers);

// Says that time is up, by all means that the person has allowed.
function call(row, clock) {
  if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.([400, 200, 400, 200, 400]);
  beep();
  if (globalThis.Notification?.permission !== "granted" || !wantsTelling()) return;
  const body = clock.dish ? `${clock.name} · ${clock.dish}` : clock.name;
  const said = [row.querySelector(".timer-over").textContent, { body, tag: `${STORED}-${clock.batch}-${clock.key}` }];
  navigator.serviceWorker?.ready.then((worker) => worker.showNotification(...said)).catch(() => {});
}

function beep() {
  if (voice?.state !== "running") return;
  for (const at of [0, 0.4, 0.8]) {
    const tone = voice.createOscillator();
    const loud = voice.createGain();
    tone.frequency.value = 880;
    loud.gain.value = 0.2;
    tone.connect(loud).connect(voice.destination);
    tone.start(voice.currentTime + at);
    tone.stop(voice.currentTime + at + 0.2);
  }
}

// The clock of a row in this batch; one from before clocks had a batch is any batch's.
const clockFor = ({ dataset: { key } }) => state.clocks.find((clock) => clock.key === key && (clock.batch ?? batch()) === batch());
const isRunning = (clock) => clock !== undefined && clock.ends > Date.now();

// One that runs is not begun anew by a second press, which may well be a slip: it is
// stopped first.
function start(button) {
  const row = button.closest("li");
  const before = clockFor(row);
  if (isRunning(before)) return;
  state.clocks = state.clocks.filter((clock) => clock !== before);
  if (state.stopped && state.stopped.key === row.dataset.key && state.stopped.batch === batch()) state.stopped = null;
  state.clocks.push({
    key: row.dataset.key,
    batch: batch(),
    name: row.querySelector("[data-cook-name]").textContent,
    dish: byId("lab-method-cook-title").textContent,
    ends: Date.now() + Number(button.dataset.seconds) * 1000,
  });
  state.clocks.sort((a, b) => a.ends - b.ends);
  keep();
  try {
    voice ??= new AudioContext();
    voice.resume();
  } catch {
    // no sound on this device
  }
  showClocks();
}

const clockOf = (button) => state.clocks[[...timerList.children].indexOf(button.closest("li"))];

function stop(button) {
  const clock = clockOf(button);
  state.clocks = state.clocks.filter((one) => one !== clock);
  state.stopped = isRunning(clock) ? clock : clock ? state.stopped : null; // the × of the stopped one takes its offer away
  keep();
  showClocks();
  if (isRunning(clock)) timerList.lastElementChild.querySelector("[data-cook=resume]").focus();
}

// Time has gone on meanwhile, for the pot as well: it ends when it would have ended.
function resume() {
  state.clocks = [...state.clocks, state.stopped].sort((a, b) => a.ends - b.ends);
  state.stopped = null;
  keep();
  showClocks();
}

function longer(button) {
  const clock = clockOf(button);
  clock.ends = Math.max(clock.ends, Date.now()) + 60_000;
  clock.told = false;
  state.clocks.sort((a, b) => a.ends - b.ends);
  keep();
  showClocks();
}

state.clocks = state.clocks.filter((clock) => Date.now() - clock.ends < OLD_MS);
if (state.stopped && Date.now() - state.stopped.ends >= OLD_MS) state.stopped = null;
setInterval(() => { if (state.clocks.length && !document.hidden) showClocks(); }, 500);
// While the page is hidden, one timeout for the next end; the phone may hold it
// back, and then waking shows what is over.
setInterval(() => { if (document.hidden && state.clocks.some((clock) => clock.ends <= Date.now() && !clock.told)) showClocks(); }, 1000);

// Another window of the page has ticked or started something.
addEventListener("storage", ({ key }) => {
  if (key !== STORED) return;
  Object.assign(state, read());
  mark();
  showClocks();
});

// ---- telling

const TELL = "tremblant-cook-tell";
const tell = byId("cook-tell");

function wantsTelling() {
  try {
    return localStorage.getItem(TELL) === "1";
  } catch {
    return false;
  }
}

async function switchTelling() {
  const on = !wantsTelling() && (await Notification.requestPermission()) === "granted";
  try {
    localStorage.setItem(TELL, on ? "1" : "");
  } catch {
    // cannot be kept
  }
  showTelling();
}

function showTelling() {
  tell.hidden = !("Notification" in globalThis) || Notification.permission === "denied";
  tell.setAttribute("aria-pressed", String(wantsTelling() && globalThis.Notification?.permission === "granted"));
}

// ---- the screen

const awake = byId("cook-awake");
let wanted = false;
let lock = null;

awake.hidden = !("wakeLock" in navigator);

async function hold() {
  if (!wanted || lock || document.hidden || !("wakeLock" in navigator)) return;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => { lock = null; }, { once: true }); // as when the page is hidden
    if (!wanted) release();
  } catch {
    lock = null; // the battery is low, or the browser says no
    wanted = false;
  }
  awake.setAttribute("aria-pressed", String(wanted));
}

function release() {
  wanted = false;
  lock?.release();
  lock = null;
  awake.setAttribute("aria-pressed", "false");
}

// ---- what a person does

// Work that would hold up a finger if it were done at once.
function inTurn(work, ...later) {
  work();
  if (later.length > 0) setTimeout(() => inTurn(...later));
}

const presses = {
  // One thing after the other, so that none holds up a finger.
  open() {
    tremblant.page.bringIn(list);
    showTelling();
    showClocks();
    let next = null;
    inTurn(
      () => { next = mark(); },
      () => {
        cover();
        tremblant.page.showByTurns(around(next));
        if (!cook.open) cook.show();
        showClocks(); // above the list
      },
      () => bring(next),
    );
  },
  close: () => inTurn(uncover, () => cook.close()),
  print() {
    tremblant.page.bringIn(...document.querySelectorAll(".sheet")); // some browsers tell too late
    print();
  },
  timer: start,
  stop,
  longer,
  resume,
  tell: () => switchTelling(),
  again() {
    const own = ticks();
    [own.before, own.keys] = [own.keys, []];
    keep();
    mark();
    cook.scrollTop = 0;
    byId("cook-unagain").focus({ preventScroll: true });
  },
  unagain() {
    const own = ticks();
    own.keys = own.before ?? own.keys;
    delete own.before;
    keep();
    bring(mark());
    byId("cook-again").focus({ preventScroll: true });
  },
  awake() {
    if (wanted) return release();
    wanted = true;
    return hold();
  },
};

document.addEventListener("click", ({ target }) => {
  const button = target.closest("[data-cook]");
  if (button) presses[button.dataset.cook](button);
});

// The list covers the page and stands alone: nothing beneath it can be reached or read
// out. A modal dialog would do that as well, but the browser then styles the whole page
// anew, when it comes and when it goes. So the page is left out of what is shown.

const app = byId("app");
const CAN_SKIP = CSS.supports("content-visibility", "hidden");

function cover() {
  if (!CAN_SKIP) return void (app.style.visibility = "hidden");
  app.style.containIntrinsicBlockSize = `${app.getBoundingClientRect().height}px`; // it stays at its place
  app.style.contentVisibility = "hidden";
}

function uncover() {
  for (const one of ["visibility", "contentVisibility", "containIntrinsicBlockSize"]) app.style[one] = "";
}

// A key or a gesture that asks to close it, where the browser does not do so itself.
document.addEventListener("keydown", ({ key }) => { if (key === "Escape" && cook.open) presses.close(); });
// Before the browser takes the keyboard back to where it was.
cook.addEventListener("beforetoggle", ({ newState }) => { if (newState === "closed") uncover(); });
cook.addEventListener("close", () => {
  uncover();
  release();
  showClocks();
});

// ---- the clock on the wall, and the date on the paper

const parts = [byId("lab-method"), byId("lab-evening")]; // those that plan by the clock

let told = -1; // the minute that the lab knows
let date = null;

function tellTime() {
  const now = new Date();
  for (const el of document.querySelectorAll("[data-today]")) {
    date ??= datesIn(tremblant.language);
    if (el.textContent !== date(now)) el.textContent = date(now);
  }
  // The lab has no clock: it is told the minute of the day, counted from 1.
  const minute = now.getHours() * 60 + now.getMinutes();
  if (minute === told || !parts.some((part) => part.open)) return;
  told = minute;
  for (const part of parts) {
    if (part.open) globalThis.tremblant?.page?.toLab("do", `${part.id}-clock`, String(minute + 1));
  }
}

for (const part of parts) {
  part.addEventListener("toggle", () => {
    told = -1;
    setTimeout(tellTime); // once the lab is being loaded
  });
}
setInterval(tellTime, 15_000);
addEventListener("beforeprint", tellTime);
document.addEventListener("visibilitychange", () => {
  if (document.hidden) return;
  hold();
  showClocks();
  tellTime();
});

showClocks();
setTimeout(tellTime); // this comes to the page when the first part is open already
