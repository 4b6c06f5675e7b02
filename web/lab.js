// Runs the lab; see wasm/lab.
postMessage(["failed", ""]);
