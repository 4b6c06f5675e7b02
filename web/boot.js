// Starts the page: its text, the program in its worker, the service worker.
//
// It talks to the page only through these elements; every sentence stands in
// the page's HTML and in the text catalogue, none in here:
//
//   [data-text="key"]     gets the sentence of that key as its text
//   [data-label="key"]    gets it as its aria-label
//   [data-hint="key"]     gets it as its placeholder
//   #boot-stop            shown when the program cannot run, with one of its
//                         [data-why]: unsupported, failed, stopped
//   #boot-reload          in it, reloads the page
//   #boot-slow            shows itself, by CSS, when the page does not get ready
//   #boot-update          shown when a new version waits, with one of its
//                         [data-why]: waiting, or elsewhere when another
//                         window has taken the new version
//   #boot-update-apply    in it, takes the new version
//   #boot-offline         shown when the page begins to work without a network
//   #app                  what becomes inert when the program has stopped
//   #language             the select of the languages that are shipped
//
// For the program it leaves globalThis.tremblant:
//
//   text        the catalogue: {key: sentence}
//   textsHere   a promise: it has come
//   language    its language
//   version     of the build; release: its name for people
//   fill(root, texts)  fills in the texts of a piece of page that was made
//               later, or came later
//   choose(language)  keeps another language and reloads
//   bound()     to be called when all of the page is there for the program
//
// It finds there what ahead.js has left.
//
// bind.js sets document.documentElement.dataset.open = "1" when the figures stand on
// the page and its fields can be typed in, and dataset.ready = "1" when the program
// answers. This script sets dataset.offline = "1" there when the page works
// without a network, and removes dataset.ready when the program has stopped.

const WRITTEN = "en"; // the language of the page as it comes
const LOOK_AGAIN_MS = 60 * 60 * 1000; // a page left open asks for a new version this often

const root = document.documentElement;
const byId = (id) => document.getElementById(id);

// Shows one of the page's hidden panels, with the one message that applies.
function show(id, why) {
  const panel = byId(id);
  if (!panel) return;
  for (const message of panel.querySelectorAll("[data-why]")) {
    message.hidden = message.dataset.why !== why;
  }
  panel.hidden = false;
}

// The program cannot run, or has ended. Figures on the page would no longer
// follow what is typed, so the page is made inert.
function stop(why) {
  delete root.dataset.ready;
  root.dataset.stopped = why;
  const app = byId("app");
  if (app) app.inert = true;
  show("boot-stop", why);
  console.error(`Tremblant cannot run: ${why}`);
}

// ---- text

function fill(part, text = tremblant.text) {
  const each = (name, set) => {
    for (const element of part.querySelectorAll(`[data-${name}]`)) {
      const sentence = text[element.dataset[name]];
      if (sentence !== undefined) set(element, sentence);
    }
  };
  each("text", (element, sentence) => { if (element.textContent !== sentence) element.textContent = sentence; });
  each("label", (element, sentence) => element.setAttribute("aria-label", sentence));
  each("hint", (element, sentence) => element.setAttribute("placeholder", sentence));
  for (const template of part.querySelectorAll("template")) fill(template.content, text);
}

function choose(lang) {
  try {
    localStorage.setItem("tremblant-language", lang);
  } catch {
    return; // cannot be kept, so a reload would change nothing
  }
  location.reload();
}

// The page has each language under the name that it has in itself.
function offerLanguages() {
  const select = byId("language");
  if (!select) return;
  select.value = tremblant.language;
  select.addEventListener("input", (event) => {
    event.stopPropagation(); // no input of the formula
    choose(select.value);
  });
}

// The page takes the language that the program has found texts in.
function takeTexts(language, text) {
  tremblant.language = language;
  texts = text;
  if (parsed) Object.assign(parsed, JSON.parse(text)); // somebody has asked before they came
  textsCome();
  offerLanguages();
  if (language === WRITTEN) return;
  root.lang = language; // were it set to what it is, all of the page would be styled again
  fill(document);
  tremblant.page.open();
}

// ---- program

function whenReady(work) {
  new MutationObserver((_, observer) => {
    if (!root.dataset.ready) return;
    observer.disconnect();
    work();
  }).observe(root, { attributes: true, attributeFilter: ["data-ready"] });
}

async function start() {
  if (typeof WebAssembly !== "object" || typeof Worker !== "function") {
    stop("unsupported");
    return;
  }
  try {
    if (!tremblant.program) throw new Error("ahead.js has not run");
    await bound;
    whenReady(() => setTimeout(workOffline)); // what is kept for later must not delay the start
    listen(tremblant.program);
  } catch (error) {
    console.warn(error);
    stop("failed");
  }
}

// Passes on to the page what the program says, and hears when it ends, which it
// never does by itself.
function listen(program) {
  const ended = (kind, why) => {
    console.warn(why);
    if (!root.dataset.stopped) stop(root.dataset.ready ? "stopped" : kind);
  };
  tremblant.broken.then((event) => ended("failed", event.message ?? "the program's worker cannot be loaded"));
  const here = { stopped: ended, texts: takeTexts };
  const hear = (messages) => {
    for (const [name, ...args] of messages) (here[name] ?? tremblant.page[name])?.(...args);
  };
  program.onmessage = ({ data }) => hear(data);
  tremblant.heard.splice(0).forEach(hear);
}

// ---- service worker

async function workOffline() {
  if (!("serviceWorker" in navigator)) return;
  const workers = navigator.serviceWorker;
  const controlled = Boolean(workers.controller);
  let taken = false; // the person asked for the new version
  let reloading = false;
  const reload = () => {
    if (reloading) return;
    reloading = true;
    location.reload();
  };
  let registration;
  try {
    registration = await workers.register("sw.js", { updateViaCache: "none" });
  } catch (error) {
    console.warn(error); // private window, or storage switched off: works while online
    return;
  }

  // Another window may have taken the new version; this page is reloaded only
  // when its own person says so.
  workers.addEventListener("controllerchange", () => {
    if (taken) reload();
    else if (controlled) show("boot-update", "elsewhere");
  });

  byId("boot-update-apply")?.addEventListener("click", () => {
    taken = true;
    const next = registration.waiting;
    if (!next) return reload(); // taken already, elsewhere
    // A page opened before there was a worker sees no controllerchange.
    next.addEventListener("statechange", () => { if (next.state === "activated") reload(); });
    next.postMessage("take-over");
  });

  const watch = (worker) => {
    const look = () => {
      if (worker.state === "installed" && registration.active) show("boot-update", "waiting");
      if (worker.state === "activated") offline(worker, true);
    };
    worker?.addEventListener("statechange", look);
    if (worker) look();
  };
  watch(registration.waiting);
  watch(registration.installing);
  registration.addEventListener("updatefound", () => watch(registration.installing));
  if (registration.active?.state === "activated") offline(registration.active, false);
  else watch(registration.active);
  lookAgain(registration);
}

// The worker keeps English by itself; the language in use is asked for.
// On later visits it is no news that the page works without a network.
function offline(worker, news) {
  worker.postMessage({ keep: tremblant.languages[tremblant.language] });
  if (news && !root.dataset.offline) show("boot-offline");
  root.dataset.offline = "1";
}

function lookAgain(registration) {
  let last = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || Date.now() - last < LOOK_AGAIN_MS) return;
    last = Date.now();
    registration.update().catch(() => {}); // no network: later
  });
}

// ----

let bind;
const bound = new Promise((done) => { bind = done; });
let texts = "{}"; // as they came: most pages need none themselves
let parsed = null;
let textsCome;
const textsHere = new Promise((done) => { textsCome = done; });

globalThis.tremblant = Object.assign(globalThis.tremblant ?? {}, {
  language: WRITTEN,
  version: document.querySelector("meta[name=version]")?.content ?? "",
  release: "{{release}}",
  fill,
  choose,
  textsHere,
  bound: bind,
});
Object.defineProperty(tremblant, "text", { get: () => (parsed ??= JSON.parse(texts)) });
byId("boot-reload")?.addEventListener("click", () => location.reload());
start();
