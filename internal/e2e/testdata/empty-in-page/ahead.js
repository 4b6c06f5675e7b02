{{script wasm_exec.js}}
