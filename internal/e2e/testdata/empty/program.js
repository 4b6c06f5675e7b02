const compiled = WebAssembly.compileStreaming(fetch("{{asset app.wasm}}"));

{{script wasm_exec.js}}

const go = new Go();
compiled
  .then((module) => WebAssembly.instantiate(module, go.importObject))
  .then((instance) => go.run(instance))
  .then(() => postMessage("ran"));
