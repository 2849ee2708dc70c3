// Starts the app. If that fails there is no app to say so, so this says it.
import init from "./app.js";

init({ module_or_path: new URL("./app_bg.wasm", import.meta.url) }).catch((fault) => {
  const place = document.getElementById("boot");
  if (place) {
    place.setAttribute("role", "alert");
    place.textContent =
      "unmire could not be started in this browser. Reload the page; if that does not help, use a newer browser. · " +
      "unmire ließ sich in diesem Browser nicht starten. Lade die Seite neu; hilft das nicht, nimm einen neueren Browser. · " +
      fault;
  }
  throw fault;
});
