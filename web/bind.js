// The page's side of the bridge to the program.
//
// The program sends patches: lists of ops, each naming a place of the page and
// what it is to show. The page sends events: what was typed, pressed or left.
// Nothing is computed here, and no sentence stands here.
//
// places.js finds the places, ops.js carries out the ops, focus.js looks after the
// keyboard, draft.js keeps the draft.

const root = document.documentElement;

{{script places.js}}

{{script ops.js}}

{{script focus.js}}

// ---- what the program may ask of the browser

{{script draft.js}}

const SPEAK_DELAY_MS = 700; // long enough not to speak between two keystrokes

function later(delay, work) {
  let timer;
  return (...args) => {
    clearTimeout(timer);
    timer = setTimeout(() => work(...args), delay);
  };
}

// The program answers a little later. Meanwhile the page knows what it has sent:
// an answer to something older takes neither the text of a field that was typed
// in since nor the keyboard; and what no draft holds yet is kept when the page goes.
const begin = tremblant.begin ?? { draft: "", tail: [], asDrafted: false };
let draft = begin.draft;
let sent = 0; // number of the last event
let answered = 0;
let undrafted = []; // what was typed for a draft: [number, kind, name, text]

const typedSince = (number, matches) => undrafted.some(([n, , field]) => n > number && matches(field));
const overtakenSince = (number) => ({
  value: (name) => typedSince(number, (field) => field === name),
  focus: () => number < sent,
});

function keepTail() {
  if (undrafted.length > 0) keepDraft(draft, undrafted.map(([, ...event]) => event));
}

// The page is painted with the name of the example that a first visit begins with;
// the program takes an empty name for granted.
function emptyName() {
  if (!typedSince(0, (field) => field === "name")) setInput("name", "");
}
if (draft || location.hash.startsWith("#formula")) emptyName();
let opened = ""; // the patch that the page has opened with, before the program was there
let begun = false; // the program has sent its first patch

// An earlier visit has kept what the program will say first: the figures stand, and
// what is typed is kept for it.
function open() {
  if (begun || !begin.asDrafted) return;
  const patch = openingFor(draft);
  if (!patch) return;
  emptyName();
  opening(() => {
    carryOut(JSON.parse(patch), overtakenSince(0));
    opened = patch;
    root.dataset.open = "1";
  });
}

// One that is damaged does no harm: the program says all of it again.
function opening(work) {
  try {
    work();
  } catch (error) {
    opened = "";
    page.log(`opening: ${error}`);
  }
}

// The program's first patch is what the page has opened with, nearly always.
function firstPatch(patch) {
  begun = true;
  if (patch === opened) return "[]";
  emptyName();
  if (begin.asDrafted && draft) keepOpening(draft, patch);
  return patch;
}

function carryOut(list, overtaken = {}, waits = null) {
  searched = false;
  for (const [op, ...args] of list) {
    if (overtaken[op]?.(args[0]) || waits?.(op, ...args)) continue;
    if (document.readyState === "loading" && !stands(op, args[0])) postponed.push([op, ...args]);
    else ops[op](...args);
  }
}

// The page opens when the pan has been read. What else stands in the patch waits for
// the rest of the page.
const postponed = [];
const stands = (op, name) => Boolean((finds[op] ?? byId)(name));

function wholePage() {
  searched = false;
  opening(() => {
    for (const [op, ...args] of postponed.splice(0)) ops[op](...args);
  });
  tremblant.bound();
}

// The browser is asked to keep the book, and its second copy in that bucket, when
// space runs out. It may ask the person, or decide in silence.
async function askToKeep(bucket) {
  if (!navigator.storage?.persist) return;
  const promised = await navigator.storage.persist();
  page.event("kept", promised ? "1" : "");
  if (promised) await (await navigator.storageBuckets?.open(bucket))?.persist();
}

const page = {
  // Tells the program what has happened.
  event(kind, ...args) {
    sent += 1;
    if (!root.dataset.ready) byId("pan").dataset.early = "1"; // the figures are of what stood there before
    if (kind === "input") undrafted.push([sent, kind, ...args]);
    tremblant.program?.postMessage(["event", sent, kind, ...args]);
  },

  // Whether the program or the lab owes an answer.
  waits: () => answered < sent || Boolean(lab?.waits()),

  open,
  carryOut,
  stands,
  store,

  // What the program may ask for.
  apply(patch, number) {
    carryOut(JSON.parse(begun ? patch : firstPatch(patch)), overtakenSince(number));
    lost();
  },
  answered(number, drafts) {
    answered = Math.max(answered, number);
    if (answered === sent) {
      delete byId("pan").dataset.early;
      stand?.blur();
    }
    if (!drafts) undrafted = undrafted.filter(([n]) => n !== number);
    for (const [kind, text] of [...forLab]) page.passOn(number, kind, text);
  },
  writeDraft(text, patch, number) {
    draft = text;
    undrafted = undrafted.filter(([n]) => n > number);
    keepDraft(draft, []);
    keepOpening(draft, patch);
  },
  speak: later(SPEAK_DELAY_MS, (text) => { byId("live").textContent = text; }),
  visit(place) {
    if (place !== "kept") history.replaceState(null, "", `#${place}`);
    else if (!history.state) history.pushState(location.hash, "", "#book");
    at = location.hash;
    scrollTo(0, 0);
  },
  ready() {
    root.dataset.ready = root.dataset.open = "1";
    if (clocksRun()) withLab((module) => module.furnish());
  },
  bookOpen() { root.dataset.book = "1"; },
  askToKeep: (bucket) => askToKeep(bucket).catch((error) => page.log(String(error))),
  log: (text) => console.error(text),
};

// ---- the lab, which is loaded when one of its parts is opened

const IN_LAB = "lab-"; // begins the names of its inputs and buttons
let lab = null; // its side of the page, see lab.page.js

function labFailed(why) {
  page.log(`lab: ${why}`);
  byId("lab-failed").hidden = false;
  root.dataset.labFailed = "1";
}

// Does some work with the lab's module, when that has arrived.
let arriving = null;
function withLab(work) {
  arriving ??= import("./{{asset lab.page.js}}");
  arriving.then((module) => { lab = module; work(lab); }, (error) => {
    arriving = null; // to be asked for again
    labFailed(error.message);
  });
}

page.labFailed = labFailed;
page.toLab = (...message) => lab?.tell(...message);

// What the program tells the lab. What was typed in the lab since, the lab has heard
// from the page: something older would take it back, and waits.
const forLab = new Map(); // kind → text
page.passOn = (number, kind, text) => {
  if (typedSince(number, (field) => field.startsWith(IN_LAB))) {
    forLab.set(kind, text);
    return;
  }
  forLab.delete(kind);
  page.toLab(kind, text);
};

// Clocks that were set at the stove go on when the page is opened again.
function clocksRun() {
  try {
    const { clocks, stopped } = JSON.parse(localStorage.getItem("tremblant-cook") ?? "{}");
    return clocks.length > 0 || Boolean(stopped);
  } catch {
    return false; // none, or switched off
  }
}

// A part of the lab is a <details data-lab>. Toggle events do not bubble.
document.addEventListener("toggle", ({ target }) => {
  const part = target.dataset.lab;
  if (!part) return;
  if (target.open) withLab((module) => module.open(part));
  else page.toLab("closed", part);
}, true);

// ---- what a person does

const typed = ({ target }) => {
  if (!target.name || target.type === "file") return;
  if (target.matches(GROWS)) {
    if (/[\r\n]/.test(target.value)) target.value = target.value.replace(/\s*[\r\n]+\s*/g, " ");
    grow(target);
  }
  const value = target.type === "checkbox" ? (target.checked ? "1" : "") : target.value;
  if (target.name.startsWith(IN_LAB)) page.toLab("input", target.name, value);
  page.event("input", target.name, value);
};
document.addEventListener("input", typed);
document.addEventListener("submit", (event) => event.preventDefault());

// Buttons beside a count, one up and one down. The count is a field of text: one for
// numbers hides from the program what is no number, and a comma with it.
const MOST_BY_STEPS = 50;
document.addEventListener("click", ({ target }) => {
  const step = target.closest("[data-step]");
  if (!step) return;
  const count = step.parentElement.querySelector("input");
  const by = Number(step.dataset.step);
  const figure = Number(count.value.replace(",", "."));
  const there = Number.isFinite(figure) ? figure : 0;
  if (by > 0 && there >= MOST_BY_STEPS) return;
  count.value = String(Math.max((by > 0 ? Math.floor(there) : Math.ceil(there)) + by, 0));
  count.dispatchEvent(new Event("input", { bubbles: true }));
  page.speak(count.value); // it is not the count that has the keyboard
});

// A phone brings up its keyboard only for a field that gets it while the press lasts.
// The row that is to be typed in comes with the answer: a stand-in holds it until then.
let stand = null;
function holdKeyboard({ detail }, el) {
  if (detail === 0 || !root.dataset.ready || !el.matches('[data-do^="add-"], [data-do="rename"]')) return;
  stand = Object.assign(document.createElement("input"), { className: "unseen", tabIndex: -1 });
  (el.closest("details") ?? el).after(stand);
  stand.addEventListener("blur", ({ target }) => setTimeout(() => target.remove()));
  stand.focus({ preventScroll: true });
}

document.addEventListener("click", (event) => {
  const el = event.target.closest("[data-do]");
  if (!el) return;
  mayLose(event, el);
  if (el.dataset.do === "close-notice") {
    const notice = el.closest(".notice");
    notice.hidden = true;
    page.event("closed", notice.id);
    lost();
    return;
  }
  if (el.dataset.do === "lab-again") return withLab((module) => module.again());
  el.closest(".entry-more")?.removeAttribute("open"); // the row may be another one's next
  const row = el.closest("[data-row]")?.dataset.row ?? "0";
  if (row !== "0" && !root.dataset.ready) return; // what is typed next would go to another row than it seems
  holdKeyboard(event, el);
  if (el.dataset.do === "kept-close") leaveKept();
  if (el.dataset.do.startsWith(IN_LAB)) page.toLab("do", el.dataset.do, row);
  else page.event("do", el.dataset.do, row);
});

// Enter leaves a one-line field, which puts the keyboard of a phone away.
document.addEventListener("keydown", (event) => {
  const { key, target } = event;
  if (key !== "Enter" || !target.matches(`input, ${GROWS}`)) return;
  event.preventDefault();
  page.event("enter", target.name, target.value);
  target.blur();
});

// The versions and trials of a formula stand above the book's list: the browser's way
// back leads to where they were opened, which is kept as their state.
let at = location.hash;
function leaveKept() {
  if (history.state === "#book") history.back();
  else history.replaceState(null, "", "#book");
}
addEventListener("popstate", ({ state }) => {
  if (location.hash === at && !state && !byId("kept").hidden) {
    history.replaceState(null, "");
    page.event("do", "kept-close", "0");
  }
});

addEventListener("hashchange", () => {
  at = location.hash;
  page.event("go", location.hash);
  scrollTo(0, 0);
});
for (const [target, event] of [[document, "visibilitychange"], [window, "pagehide"]]) {
  target.addEventListener(event, keepTail);
}

tremblant.page = page;
if (begin.language === tremblant.language) open(); // else when its texts are there
document.addEventListener("DOMContentLoaded", wholePage, { once: true });
if (begin.first) requestAnimationFrame(() => setTimeout(() => tremblant.program.postMessage(["painted"])));
