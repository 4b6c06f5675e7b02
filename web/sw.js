// Keeps one whole version of the page, so that it runs without a network.
//
// A version is installed whole or not at all, under a cache of its own; a page
// is answered from one version only; a new version waits until the person says
// so. English is kept from the start, other languages when they are used. What
// only the lab needs is kept in a second step, so that it delays nobody: in the
// same cache, and tried again at every visit until all of it is there.

const VERSION = "{{version}}";
const FILES = {{precache}};
const LAB = {{precache lab}};
const LANGUAGES = {{languages}};
const LAB_LANGUAGES = {{languages lab}};

// Other sites, and other copies of this one, may share the origin.
const PREFIX = `tremblant ${self.registration.scope} `;
const CACHE = PREFIX + VERSION;

// Asks the server whether a kept answer still holds: nothing stale gets in, and
// what the page has just loaded is not loaded twice.
const anew = (url) => new Request(url, { cache: "no-cache" });

const ownCaches = async () => (await caches.keys()).filter((name) => name.startsWith(PREFIX));

// The languages that older versions keep, in this version's files.
async function languagesInUse() {
  const kept = new Set();
  for (const name of await ownCaches()) {
    for (const { url } of await (await caches.open(name)).keys()) {
      const language = /\/text\.([\w-]+)\.\w+\.json$/.exec(url)?.[1] ?? "";
      if (!Object.hasOwn(LANGUAGES, language)) continue;
      kept.add(LANGUAGES[language]);
      kept.add(LAB_LANGUAGES[language]);
    }
  }
  return [...kept];
}

async function install() {
  const files = new Set([...FILES, ...(await languagesInUse())]);
  const cache = await caches.open(CACHE);
  await cache.addAll([...files].map(anew)); // all, or none and no install
  // Who has an older version may be used to the lab without a network.
  if (self.registration.active) await keep(LAB).catch(() => {});
}

async function activate() {
  const old = (await ownCaches()).filter((name) => name !== CACHE);
  await Promise.all(old.map((name) => caches.delete(name)));
}

async function keep(urls) {
  const cache = await caches.open(CACHE);
  for (const url of urls) {
    if (!(await cache.match(url))) await cache.add(anew(url));
  }
}

// What a language in use needs kept, named by the file of its texts.
function languageFiles(url) {
  const language = Object.keys(LANGUAGES).find((known) => LANGUAGES[known] === url);
  return language ? [url, LAB_LANGUAGES[language]] : [];
}

// The page answers to its folder and to index.html, whatever the query says.
function keyOf(request) {
  const { origin, pathname } = new URL(request.url);
  const home = new URL("./", self.location);
  const isPage = pathname === home.pathname || pathname === `${home.pathname}index.html`;
  return request.mode === "navigate" && origin === home.origin && isPage ? home.href : request;
}

async function answer(request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(keyOf(request))) ?? fetch(request);
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data === "take-over") event.waitUntil(self.skipWaiting());
  else if (event.data?.keep) {
    event.waitUntil(keep([...languageFiles(event.data.keep), ...LAB]).catch(() => {})); // no network: next time
  }
});
self.addEventListener("fetch", (event) => {
  const { method, url } = event.request;
  if (method === "GET" && new URL(url).origin === self.location.origin) event.respondWith(answer(event.request));
});
