// Starts an empty program the way the page starts its own: in a worker, streamed,
// and from the service worker's cache on the second visit. Usable means that it has run.
const root = document.documentElement;
const program = new Worker("{{asset program.js}}");
await new Promise((done) => program.addEventListener("message", done));
root.dataset.ready = "1";
await navigator.serviceWorker.register("sw.js");
await navigator.serviceWorker.ready;
root.dataset.offline = "1";
