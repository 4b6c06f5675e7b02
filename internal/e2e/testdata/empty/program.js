importScripts("{{asset wasm_exec.js}}");

addEventListener("message", async ({ data: module }) => {
  const go = new Go();
  await go.run(await WebAssembly.instantiate(module, go.importObject));
  postMessage("ran");
});
