// What stands in closed folds of the lab, in the cook's list and on the printed
// sheets is not in the page until it is opened: a browser goes through all fields
// of a page again and again, and styles what changes in it, seen or not.
//
// Such a place keeps its content in the page's store, whole. What the program says
// to it is written there in the order in which it was said, when the browser has
// nothing else to do, and at the latest when the place is opened.

const PLACES = "details:not([data-lab], [open]), [data-later]";
const AT_ONCE = 8; // ops
const AT_MOST_MS = 8; // of them in a row, so that no finger is held up

// By what an op names something; all others by id.
const NAMES = {
  figure: ["data-figure"],
  say: ["data-for"],
  rows: ["data-list"],
  value: ["name"],
  invalid: ["name"],
  choices: ["name", "id"],
  focus: ["name", "id"],
};
const BY_ID = ["id"];
const LOOKED_UP = new Set([...Object.values(NAMES).flat(), ...BY_ID]);

const holders = new Map(); // place that is kept back → what holds its content
const placeOf = new Map(); // attribute and value, of what stands in it → place

const key = (attribute, value) => `${attribute} ${value}`;

function keepBack(piece) {
  for (const place of piece.querySelectorAll(PLACES)) {
    if (place.parentElement?.closest(PLACES)) continue; // comes with the outer one
    const holder = document.createElement("div");
    holder.append(...[...place.childNodes].filter(({ tagName }) => tagName !== "SUMMARY"));
    page.store.append(holder);
    holders.set(place, holder);
    for (const el of holder.querySelectorAll("*")) {
      for (const { name, value } of el.attributes) {
        if (LOOKED_UP.has(name)) placeOf.set(key(name, value), place);
      }
    }
  }
}

// A row does not stand anywhere before an op has made it: "lab-x-2-text" is in one of
// the list "lab-x".
const listOf = (name) => /^(.*?)-\d+(?:-|$)/.exec(name)?.[1];

function placeFor(op, name) {
  const attribute = (NAMES[op] ?? BY_ID).find((one) => placeOf.has(key(one, name)));
  return attribute ? placeOf.get(key(attribute, name)) : placeOf.get(key("data-list", listOf(name)));
}

let queue = []; // { place, op: [op, name, …] }
let planned = false; // work on it

// A message, and what the keyboard goes to, are to be seen.
const seen = (op, text, kind) => op === "focus" || (op === "say" && text && kind !== "hint");

function waitsForPlace(op, name, ...args) {
  if (holders.size === 0) return false;
  const place = placeFor(op, name);
  if (!holders.has(place)) return false;
  if (seen(op, ...args)) {
    bringIn(place);
    return false;
  }
  if (op === "set" && LOOKED_UP.has(args[0])) placeOf.set(key(args[0], args[1]), place); // rows name their fields so
  queue.push({ place, op: [op, name, ...args] });
  plan();
  return true;
}

const sayNow = (waiting) => page.carryOut(waiting.map(({ op }) => op));

function plan() {
  if (planned || queue.length === 0) return;
  planned = true;
  const work = () => {
    planned = false;
    const end = performance.now() + AT_MOST_MS;
    do sayNow(queue.splice(0, AT_ONCE)); while (queue.length > 0 && performance.now() < end);
    plan();
  };
  if (globalThis.requestIdleCallback) requestIdleCallback(work, { timeout: 1000 });
  else setTimeout(work, 50);
}

// Brings in what is kept back of a place, or the place in which something stands.
function bringIn(...elements) {
  for (const el of elements) {
    const place = holders.has(el) ? el : [...holders].find(([, holder]) => holder.contains(el))?.[0];
    const holder = holders.get(place);
    if (!holder) continue;
    sayNow(queue.filter((one) => one.place === place));
    queue = queue.filter((one) => one.place !== place);
    holders.delete(place);
    place.append(...holder.childNodes);
    holder.remove();
  }
}
page.bringIn = bringIn;

// Before the fold opens, where a person opens it; toggle tells of the others.
document.addEventListener("click", ({ target }) => {
  const summary = target.closest("summary");
  if (summary) bringIn(summary.parentElement);
}, { capture: true });
document.addEventListener("toggle", ({ target }) => { if (target.open) bringIn(target); }, { capture: true });
addEventListener("beforeprint", () => bringIn(...document.querySelectorAll(".sheet")));
