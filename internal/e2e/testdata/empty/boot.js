// Usable means that the program has run.
const root = document.documentElement;
await ran;
root.dataset.ready = "1";
await navigator.serviceWorker.register("sw.js");
await navigator.serviceWorker.ready;
root.dataset.offline = "1";
