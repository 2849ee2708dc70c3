// The planner's own thread: the same program, which sees by itself that it has no page.
import init from "./app.js";

init({ module_or_path: new URL("./app_bg.wasm", import.meta.url) }).catch((fault) => postMessage({ kind: "no-start", what: String(fault) }));
