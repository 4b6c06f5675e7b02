// Starts the program's worker before the page has been read, so that it loads and
// compiles beside the rest: see program.js. What it says before boot.js listens is
// kept in .broken.
const program = new Worker("{{asset program.js}}");
const broken = new Promise((done) => program.addEventListener("error", done, { once: true }));
globalThis.tremblant = Object.assign(globalThis.tremblant ?? {}, { program, broken });
