const LANGUAGES = {"en":"text.en.d47b41f5f7.json"}; // language → file
const FALLBACK = "en";
const STORED = "tremblant-language";
const LOOK_AGAIN_MS = 60 * 60 * 1000; // a page left open asks for a new version this often
const root = document.documentElement;
const byId = (id) => document.getElementById(id);
function show(id, why) {
  const panel = byId(id);
  if (!panel) return;
  for (const message of panel.querySelectorAll("[data-why]")) {
    message.hidden = message.dataset.why !== why;
  }
  panel.hidden = false;
}
function stop(why) {
  delete root.dataset.ready;
  root.dataset.stopped = why;
  const app = byId("app");
  if (app) app.inert = true;
  show("boot-stop", why);
  console.error(`Tremblant cannot run: ${why}`);
}
function stored() {
  try {
    return localStorage.getItem(STORED);
  } catch {
    return null; // storage is switched off
  }
}
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
function fill(part) {
  const { text } = tremblant;
  const each = (name, set) => {
    for (const element of part.querySelectorAll(`[data-${name}]`)) {
      const sentence = text[element.dataset[name]];
      if (sentence !== undefined) set(element, sentence);
    }
  };
  each("text", (element, sentence) => { if (element.textContent !== sentence) element.textContent = sentence; });
  each("label", (element, sentence) => element.setAttribute("aria-label", sentence));
  each("hint", (element, sentence) => element.setAttribute("placeholder", sentence));
  for (const template of part.querySelectorAll("template")) fill(template.content);
}
function choose(lang) {
  try {
    localStorage.setItem(STORED, lang);
  } catch {
    return; // cannot be kept, so a reload would change nothing
  }
  location.reload();
}
async function instantiate(imports) {
  const url = "app.09dc17e814.wasm";
  try {
    return await WebAssembly.instantiateStreaming(fetched(url), imports);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return WebAssembly.instantiate(await (await fetched(url)).arrayBuffer(), imports);
  }
}
async function start() {
  if (typeof WebAssembly !== "object" || typeof Go !== "function") {
    stop(typeof WebAssembly === "object" ? "failed" : "unsupported");
    return;
  }
  const go = new Go();
  let program;
  try {
    const [{ lang, text }, { instance }] = await Promise.all([loadText(language()), instantiate(go.importObject)]);
    Object.assign(tremblant, { text, language: lang });
    root.lang = lang;
    fill(document);
    program = instance;
  } catch (error) {
    console.warn(error);
    stop(error instanceof WebAssembly.CompileError ? "unsupported" : "failed");
    return;
  }
  const ran = go.run(program); // runs until the program first waits
  workOffline();
  await ran.catch((error) => console.warn(error));
  stop("stopped"); // the program never ends by itself
}
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
  workers.addEventListener("controllerchange", () => {
    if (taken) reload();
    else if (controlled) show("boot-update", "elsewhere");
  });
  byId("boot-update-apply")?.addEventListener("click", () => {
    taken = true;
    const next = registration.waiting;
    if (!next) return reload(); // taken already, elsewhere
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
globalThis.tremblant = {
  text: {},
  language: FALLBACK,
  languages: Object.keys(LANGUAGES),
  version: document.querySelector("meta[name=version]")?.content ?? "",
  release: "0.1.0",
  fill,
  choose,
};
byId("boot-reload")?.addEventListener("click", () => location.reload());
start();
