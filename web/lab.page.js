// The page's side of the lab, a second program in a worker: brings the lab's
// parts of the page, its style and its texts, starts it, and carries messages.
//
// lab.html begins with what belongs to no part and goes to the end of the page. After
// it come the parts, each on lines of its own, that say with data-into where they
// belong. A part comes to the page when somebody opens it: a browser goes through all
// fields of a page again and again, to see whether it could fill them in. For the same
// reason what stands in its closed folds comes later still (lab.later.js).

const { page } = tremblant;
const root = document.documentElement;
const byId = (id) => document.getElementById(id);

const TEXTS = {{languages lab}}; // language → file

async function fetched(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url}: ${response.status}`);
  return response;
}

async function addTexts() {
  await tremblant.textsHere; // the lab's program gets them all, and the language follows from them
  Object.assign(tremblant.text, await (await fetched(TEXTS[tremblant.language])).json());
}

function addStyle() {
  const link = document.createElement("link");
  return new Promise((done, failed) => {
    link.rel = "stylesheet";
    link.href = "{{asset lab.css}}";
    link.addEventListener("load", done);
    link.addEventListener("error", () => failed(new Error(`${link.href} is missing`)));
    document.head.append(link);
  });
}

{{script lab.turns.js}}
{{script lab.later.js}}

{{script lab.share.js}}

function add(html, into) {
  const made = document.createElement("template");
  made.innerHTML = html;
  if (tremblant.language !== "en") tremblant.fill(made.content); // English is written into it
  keepBack(made.content);
  into.append(made.content);
}

// Whether the letters are so large that little stands side by side: the ruler is as wide
// as the page and, in letters, as high as a page then is wide.
const watchLetters = () => new ResizeObserver(([{ contentRect: { width, height } }]) => {
  root.toggleAttribute("data-large", width <= height);
}).observe(byId("lab-ruler"));

async function bring() {
  const [html] = await Promise.all([fetched("{{asset lab.html}}").then((r) => r.text()), addTexts(), addStyle()]);
  if (!unopened) {
    const [common, ...parts] = html.split(/^(?=<[^>]* data-into=)/m);
    add(common, document.body);
    watchLetters();
    unopened = new Map(parts.map((part) => [/ data-into="lab-([^"]*)"/.exec(part)[1], { html: part, ops: [] }]));
  }
  for (const part of [WITH_THE_PAN, ...openParts()]) {
    await new Promise((done) => setTimeout(done)); // each in a task of its own
    put(part);
  }
  await import("./{{asset lab.cook.js}}");
}

const WITH_THE_PAN = "evening"; // into this part the pan's program writes as well, opened or not
const openParts = () => [...document.querySelectorAll("details[data-lab][open]")].map(({ dataset }) => dataset.lab);

// What nobody has opened yet: part → its HTML, and the ops for it, which the lab says
// once. All names in a part begin with its own.
let unopened = null;

function put(part) {
  const waits = unopened?.get(part);
  if (!waits) return;
  unopened.delete(part);
  add(waits.html, byId(`lab-${part}`));
  page.carryOut(waits.ops, {}, waitsForPlace);
}

function waitsForPart(op, name, ...args) {
  const waits = unopened.get(/^lab-([a-z]+)-/.exec(name)?.[1]);
  if (!waits || page.stands(op, name)) return false;
  waits.ops.push([op, name, ...args]);
  return true;
}

// Brings all that the lab's program writes into; once, and again when it failed.
let brought = null;
export function furnish() {
  brought ??= bring();
  brought.catch((error) => {
    brought = null;
    page.labFailed(error.message);
  });
  return brought;
}

let worker = null;

// The lab answers a little later. What it has not heard of yet when it answers is
// not taken back by the answer.
let told = 0; // messages
let heard = 0; // of them
let failed = false; // nothing more will be heard
let typed = []; // what was typed and told, and is not answered yet: [number, name]
const overtaken = {
  value: (name) => typed.some(([, field]) => field === name),
  focus: () => typed.length > 0,
};

// A part's main answer, and what is wrong with a field, are read out when somebody who
// works in that part has changed them; the rest is there to be read.
const SPOKEN = "[data-spoken], .offers > :first-child > .pick, .say:not(.hint, .whole)";
const saidOf = (part) => [...part?.querySelectorAll(SPOKEN) ?? []]
  .filter((el) => el.checkVisibility())
  .map((el) => el.textContent.replace(/\s+/g, " ").trim());

const from = {
  patch(text, number) {
    typed = typed.filter(([n]) => n > number);
    const part = document.activeElement.closest("[data-lab]");
    const before = saidOf(part);
    page.carryOut(JSON.parse(text), overtaken, (...op) => waitsForPlace(...op) || waitsForPart(...op));
    const news = saidOf(part).filter((one) => !before.includes(one));
    if (root.dataset.lab && news.length > 0) page.speak(news.join(". "));
    root.dataset.lab = "1"; // not before: the first patch fills the inputs, and would take back what was typed
  },
  change: (text) => page.event("lab-change", text),
  ready: () => page.event("lab-on"), // the program answers with the working formula
  heard(number) { heard = number; },
  failed(why) {
    failed = true;
    page.labFailed(why);
  },
};

// Whether the lab owes an answer, or what it has said is still coming to sight.
export const waits = () => Boolean(worker) && ((!failed && heard < told) || unseen.length > 0);

export function tell(kind, ...args) {
  if (!worker) return;
  told += 1;
  if (kind === "input") typed.push([told, args[0]]);
  worker.postMessage([kind, ...args]);
}

function start() {
  byId("lab-failed").hidden = true;
  delete root.dataset.labFailed;
  const own = worker = new Worker("{{asset lab.js}}"); // at once, so that it loads beside the rest
  [told, heard, failed, typed] = [0, 0, false, []];
  own.addEventListener("message", ({ data: [kind, ...args] }) => from[kind](...args));
  own.addEventListener("error", (event) => from.failed(event.message));
  for (const part of openParts()) tell("open", part);
  furnish().then(() => own.postMessage(["start", JSON.stringify(tremblant.text)]), () => { failed = true; });
}

export function open(part) {
  put(part);
  if (worker) tell("open", part);
  else start();
}

// The lab may fail alone: the pan goes on, and the lab is begun anew on request.
export function again() {
  worker?.terminate();
  delete root.dataset.lab;
  start();
}
