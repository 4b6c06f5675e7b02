// Starts the page: its text, the program, the service worker.
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
//   language    its language; languages: all that are shipped
//   version     of the build; release: its name for people
//   fill(root, texts)  fills in the texts of a piece of page that was made
//               later, or came later
//   choose(language)  keeps another language and reloads
//   program     its worker, see program.js
//   bound()     to be called when the page listens to the program
//
// The program sets document.documentElement.dataset.ready = "1" when the page
// can be used. This script sets dataset.offline = "1" there when the page works
// without a network, and removes dataset.ready when the program has stopped.

const LANGUAGES = {{languages}}; // language → file
const FALLBACK = "en";
const STORED = "tremblant-language";
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

function stored() {
  try {
    return localStorage.getItem(STORED);
  } catch {
    return null; // storage is switched off
  }
}

// The first language that is shipped: the one chosen before, those the browser
// asks for, or a wider form of them (fr for fr-CH).
function language() {
  for (const wanted of [stored(), ...navigator.languages]) {
    for (let tag = wanted ?? ""; tag; tag = tag.replace(/-?[^-]*$/, "")) {
      const found = Object.keys(LANGUAGES).find((l) => l.toLowerCase() === tag.toLowerCase());
      if (found) return found;
    }
  }
  return FALLBACK;
}

async function fetched(url) {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url}: ${response.status}`);
  return response;
}

async function loadText(lang) {
  try {
    return { lang, text: await (await fetched(LANGUAGES[lang])).json() };
  } catch (error) {
    if (lang === FALLBACK) throw error;
    return loadText(FALLBACK); // offline, with a language that was never used
  }
}

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
    localStorage.setItem(STORED, lang);
  } catch {
    return; // cannot be kept, so a reload would change nothing
  }
  location.reload();
}

// Each language is offered under the name that it has in itself.
function offerLanguages() {
  const select = byId("language");
  if (!select) return;
  const options = tremblant.languages.map((lang) => {
    const name = new Intl.DisplayNames([lang], { type: "language" }).of(lang);
    const option = new Option(name[0].toLocaleUpperCase(lang) + name.slice(1), lang);
    option.lang = lang;
    return option;
  });
  select.replaceChildren(...options);
  select.value = tremblant.language;
  select.addEventListener("input", (event) => {
    event.stopPropagation(); // no input of the formula
    choose(select.value);
  });
}

// ---- program

// The program is compiled here, where it was asked for with the page itself.
async function compile() {
  const url = "{{asset app.wasm}}";
  try {
    return await WebAssembly.compileStreaming(fetched(url));
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    // A host that sends the wrong type, or a browser that cannot stream.
    return WebAssembly.compile(await (await fetched(url)).arrayBuffer());
  }
}

// Lets the browser answer a finger between two steps of the start.
const breathe = () => new Promise((done) => setTimeout(done));

function whenReady(work) {
  new MutationObserver((_, observer) => {
    if (!root.dataset.ready) return;
    observer.disconnect();
    work();
  }).observe(root, { attributes: true, attributeFilter: ["data-ready"] });
}

async function start() {
  if (typeof WebAssembly !== "object") {
    stop("unsupported");
    return;
  }
  try {
    const [{ lang, text }, module] = await Promise.all([loadText(language()), compile(), bound]);
    Object.assign(tremblant, { text, language: lang });
    root.lang = lang;
    await breathe();
    if (lang !== FALLBACK) fill(document); // English is written into the page
    whenReady(workOffline); // what is kept for later must not delay the start
    tremblant.program.postMessage(["start", { module, text, language: lang, ...tremblant.page.begin() }]);
    offerLanguages();
  } catch (error) {
    console.warn(error);
    stop(error instanceof WebAssembly.CompileError ? "unsupported" : "failed");
  }
}

// At once, so that it loads beside the rest.
function beside() {
  const program = new Worker("{{asset program.js}}");
  program.addEventListener("error", (event) => {
    console.warn(event.message ?? "the program's worker cannot be loaded");
    stop(root.dataset.ready ? "stopped" : "failed");
  });
  program.addEventListener("message", ({ data: [kind, why] }) => {
    if (kind !== "stopped") return;
    console.warn(why);
    stop(root.dataset.ready ? "stopped" : "failed"); // the program never ends by itself
  });
  return program;
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
  worker.postMessage({ keep: LANGUAGES[tremblant.language] });
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

globalThis.tremblant = {
  text: {},
  language: FALLBACK,
  languages: Object.keys(LANGUAGES),
  version: document.querySelector("meta[name=version]")?.content ?? "",
  release: "{{release}}",
  fill,
  choose,
  program: beside(),
  bound: bind,
};
byId("boot-reload")?.addEventListener("click", () => location.reload());
start();
