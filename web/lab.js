// Runs the lab beside the page, so that long answers never hold up a keystroke.
//
// Messages are arrays whose first item is their kind.
//
//   from the page   start text     the text catalogue, as JSON; once, and first
//                   working json   the working formula
//                   evening json   the evening with its formulas
//                   input name value
//                   do what row    a button
//                   open part, closed part
//   to the page     ready
//                   patch ops n    what the page is to show, as JSON, as of the
//                                  message of that number, "start" not counted
//                   heard n        all that it has to say of it is said
//                   change json    fields that the pan should take
//                   failed why     nothing more will come
//
// What comes before the lab is ready waits. A burst of messages is answered
// once, with the newest working formula only. All is told in the order in which
// it came: a formula that was sent before a key was pressed must not seem to
// take the key back.

{{script wasm_exec.js}}

const waiting = [];
let heard = 0; // messages
let handle = null; // set by the program
let soon = 0;

const tell = (...message) => postMessage(message);

function answer() {
  soon = 0;
  for (const message of waiting.splice(0)) handle(...message);
  handle("show");
  tell("heard", heard);
}

function later() {
  if (handle && !soon) soon = setTimeout(answer);
}

async function instantiate(imports) {
  const url = "{{asset lab.wasm}}";
  const fetched = async () => {
    const response = await fetch(url);
    if (!response.ok) throw new Error(`${url}: ${response.status}`);
    return response;
  };
  try {
    return await WebAssembly.instantiateStreaming(fetched(), imports);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    // A host that sends the wrong type, or a browser that cannot stream.
    return WebAssembly.instantiate(await (await fetched()).arrayBuffer(), imports);
  }
}

async function start(text) {
  const page = {
    set event(set) { handle = set; },
    apply: (patch) => tell("patch", patch, heard),
    change: (json) => tell("change", json),
    failed: (why) => tell("failed", why),
  };
  globalThis.tremblant = { text: JSON.parse(text), page };
  const go = new Go();
  go.env = { GOGC: "400" };
  const { instance } = await instantiate(go.importObject);
  const ran = go.run(instance); // runs until the program first waits
  tell("ready");
  later();
  await ran;
  throw new Error("the program has ended");
}

addEventListener("message", ({ data: message }) => {
  const [kind, ...args] = message;
  if (kind === "start") {
    start(...args).catch((error) => tell("failed", String(error)));
    return;
  }
  if (kind === "working") {
    const older = waiting.findIndex(([waits]) => waits === "working");
    if (older >= 0) waiting.splice(older, 1);
  }
  heard += 1;
  waiting.push(message);
  later();
});
