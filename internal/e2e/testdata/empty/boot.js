// Starts an empty program the way the page starts its own: streamed, in a worker,
// and from the service worker's cache on the second visit. Usable means that it has run.
const root = document.documentElement;
const program = new Worker("{{asset program.js}}");
const ran = new Promise((done) => program.addEventListener("message", done));
program.postMessage(await WebAssembly.compileStreaming(fetch("{{asset app.wasm}}")));
await ran;
root.dataset.ready = "1";
await navigator.serviceWorker.register("sw.js");
await navigator.serviceWorker.ready;
root.dataset.offline = "1";
