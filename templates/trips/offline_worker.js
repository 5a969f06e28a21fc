/* Keeps this link's pages on the phone: the network first, what was kept when there is none. */
const KEPT = "link-pages";
const FIRST = {{ kept|safe }};

self.addEventListener("install", (event) => {
  self.skipWaiting();
  event.waitUntil(caches.open(KEPT).then((cache) => cache.addAll(FIRST)));
});
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  if (event.request.method === "GET") event.respondWith(fresh(event.request));
});

async function fresh(request) {
  const cache = await caches.open(KEPT);
  try {
    const answer = await fetch(request);
    if (answer.ok) await cache.put(request, answer.clone());
    return answer;
  } catch (offline) {
    const kept = await cache.match(request, { ignoreVary: true, ignoreSearch: request.mode === "navigate" });
    if (kept) return kept;
    throw offline;
  }
}
