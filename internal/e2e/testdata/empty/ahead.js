// Starts an empty program the way the page starts its own: before the page is read,
// in a worker, streamed, and from the service worker's cache on the second visit.
const program = new Worker("{{asset program.js}}");
globalThis.ran = new Promise((done) => program.addEventListener("message", done));
