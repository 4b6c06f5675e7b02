// Runs the program beside the page, so that neither its start nor an answer holds
// up a finger.
//
// What it begins with is its name: {language, draft, tail, asDrafted, first, hash, link}
// as JSON.
// Messages are arrays whose first item is their kind.
//
//   from the page   event number kind args…
//                   painted              the page has been shown
//   to the page     lists of messages, each the name of a function of the page
//                   and its arguments
//                   texts language text  the catalogue, which the page may need too
//                   apply patch number   the answer to that event, or to all
//                                        before the next one
//                   answered number drafts   that event is dealt with, and whether
//                                        a draft will follow
//                   writeDraft text opening number   all up to that event is in this
//                                        draft, with which the next program would
//                                        open with this patch
//                   passOn number kind text  to the lab, as of that event
//                   stopped kind why     nothing more will come: unsupported, failed
//                                        or, when the program had begun, stopped

const begin = JSON.parse(self.name);

// To compile takes all processors of an old phone. A first visit has its figures on the
// page without the program, so that the page is painted first. One that is not to be
// seen yet, in a tab behind others, does not hold the program up.
const SHOWN_SOON_MS = 2000;
let painted;
const shown = new Promise((done) => {
  painted = done;
  setTimeout(done, SHOWN_SOON_MS);
});

// At once: by far the most of what is loaded.
const compiled = compile();
const TEXTS = {{languages}}; // language → file
const LAB_TEXTS = {{languages lab}};
const texts = loadText(begin.language);

// In here, since a worker waits for each script that it asks for.
{{script wasm_exec.js}}
{{script dates.js}}

async function fetched(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url}: ${response.status}`);
  return response;
}

async function compile() {
  const url = "{{asset app.wasm}}";
  try {
    const coming = fetched(url);
    if (begin.first) await shown;
    return await WebAssembly.compileStreaming(coming);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    // A host that sends the wrong type, or a browser that cannot stream.
    return WebAssembly.compile(await (await fetched(url)).arrayBuffer());
  }
}

async function loadText(language) {
  try {
    return { language, text: await (await fetched(TEXTS[language])).text() };
  } catch (error) {
    if (language === "en") throw error;
    return loadText("en"); // offline, with a language that was never used
  }
}

// The labels of what was typed in the lab are among its texts.
async function addLabTexts(language) {
  try {
    Object.assign(globalThis.tremblant.text, await (await fetched(LAB_TEXTS[language])).json());
  } catch {
    return; // no network: it goes without
  }
  handle("lab-texts");
}

// What is said in one go is sent in one: the page does it before it paints.
const saying = [];
function tell(...message) {
  if (saying.push(message) === 1) queueMicrotask(() => postMessage(saying.splice(0)));
}

const waiting = []; // came before the program was ready
let handle = null; // set by the program
let current = 0; // number of the event that was answered last
let answering = ""; // the kind of the one being answered
let taken = null; // the bytes that came with an event

// A draft while somebody types waits for a pause; what else is done is drafted at once.
const DRAFT_DELAY_MS = 300;
let changed = false; // the draft is to be written
let soon = 0;

function newId() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const hex = [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// What the program finds as its page: a little is answered here, the rest is
// passed on.
function pageOf(language, { draft, hash, link }) {
  let date = null; // made when there is one to write: it takes the browser a while
  const own = {
    draft: () => draft,
    hash: () => hash,
    link: () => link,
    date: (ms) => (date ??= datesIn(language))(ms),
    day: (ms) => new Date(ms - new Date(ms).getTimezoneOffset() * 60_000).toISOString().slice(0, 10),
    newId,
    keepDraft,
    takeFile: () => taken,
    apply: (patch) => tell("apply", patch, current),
    writeDraft: (text, opening) => tell("writeDraft", text, opening, current),
    toLab: (kind, text) => tell("passOn", current, kind, text),
    labTexts: () => addLabTexts(language),
    set event(set) { handle = set; },
  };
  for (const name of ["ready", "bookOpen", "log", "speak", "visit", "offerFile", "askToKeep"]) {
    own[name] = (...args) => tell(name, ...args);
  }
  return own;
}

function answer(number, kind, ...args) {
  current = number;
  answering = kind;
  taken = args.find((arg) => arg instanceof Uint8Array) ?? null;
  handle(kind, ...args);
  taken = null;
  answering = "";
  tell("answered", number, changed);
}

// The program asks for it while it answers, or when the book has answered it.
function keepDraft() {
  changed = true;
  clearTimeout(soon);
  soon = setTimeout(draft, answering === "input" ? DRAFT_DELAY_MS : 0);
}

function draft() {
  changed = false;
  handle("draft");
}

// What was typed before the page came again. Its fields hold what the draft says.
function again([kind, name, text]) {
  tell("apply", JSON.stringify([["value", name, text]]), 0);
  answer(0, kind, name, text);
}

async function start({ tail, ...given }) {
  const { language, text } = await texts;
  tell("texts", language, text);
  globalThis.tremblant = { text: JSON.parse(text), language, page: pageOf(language, given) };
  const go = new Go();
  go.env = { GOGC: "400" }; // a start makes little garbage: look for it first when there are 16 MB
  const instance = await WebAssembly.instantiate(await compiled, go.importObject);
  const ran = go.run(instance); // runs until the program first waits
  for (const event of tail) again(event);
  for (const event of waiting.splice(0)) answer(...event);
  ran.catch(() => {}).then(() => tell("stopped", "stopped", "the program has ended"));
}

addEventListener("message", ({ data: [kind, ...args] }) => {
  if (kind === "painted") painted();
  if (kind !== "event") return;
  if (handle) answer(...args);
  else waiting.push(args);
});

start(begin).catch((error) => {
  tell("stopped", error instanceof WebAssembly.CompileError ? "unsupported" : "failed", String(error));
});
