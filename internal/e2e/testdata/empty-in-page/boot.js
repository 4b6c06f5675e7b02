// Starts an empty program on the page's own thread, streamed, and from the service
// worker's cache on the second visit. Usable means that it has run.
const root = document.documentElement;
const go = new Go();
const { instance } = await WebAssembly.instantiateStreaming(fetch("{{asset app.wasm}}"), go.importObject);
await go.run(instance);
root.dataset.ready = "1";
await navigator.serviceWorker.register("sw.js");
await navigator.serviceWorker.ready;
root.dataset.offline = "1";
