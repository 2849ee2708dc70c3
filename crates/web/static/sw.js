// Keeps the app on the device. Everything comes from one version's store; what is not in it is refused.
// A new version is fetched whole, each file checked against its hash, and waits until the reader takes it.
const version = "{version}";
const files = "{files}";
const store = "unmire-" + version;
const scope = new URL("./", self.location.href);

const path = (url) => url.pathname.slice(scope.pathname.length) || "index.html";
const ours = (url) => url.origin === scope.origin && url.pathname.startsWith(scope.pathname);

self.addEventListener("install", (event) => {
  const wanted = Object.entries(files).map(
    ([file, integrity]) => new Request(new URL(file, scope), { cache: "reload", integrity }),
  );
  event.waitUntil(caches.open(store).then((cache) => cache.addAll(wanted)));
});

self.addEventListener("activate", (event) => {
  const old = (name) => name.startsWith("unmire-") && name !== store;
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

self.addEventListener("message", (event) => {
  if (event.data === "take-over") self.skipWaiting();
});

self.addEventListener("fetch", (event) => event.respondWith(answer(event.request)));

async function answer(request) {
  const url = new URL(request.url);
  const file = ours(url) ? path(url) : "";
  if (request.method !== "GET" || !Object.hasOwn(files, file)) {
    return new Response("This is no part of the app.\n", { status: 404, headers: { "content-type": "text/plain" } });
  }
  const kept = await caches.match(new URL(file, scope), { cacheName: store });
  // A browser that is short of room may have thrown a file away; only then is the network asked.
  return kept ?? fetch(new Request(new URL(file, scope), { integrity: files[file] }));
}
