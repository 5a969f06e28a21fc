/* Keeps this link's pages on the phone: the network first, what was kept when there is none.
   {{ versions }} */
const KEPT = "kept " + self.registration.scope;
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
  let answer;
  try {
    answer = await fetch(request);
  } catch (offline) {
    const kept = await found(request);
    if (kept) return kept;
    throw offline;
  }
  if (answer.ok) await (await caches.open(KEPT)).put(request, answer.clone());
  else if (answer.status === 404) await forgetIfOver();
  return answer;
}

/* A page from here says so in its first line. */
async function found(request) {
  const cache = await caches.open(KEPT);
  const isPage = request.mode === "navigate";
  const kept = await cache.match(request, { ignoreVary: true, ignoreSearch: isPage });
  if (!kept || !isPage) return kept;
  const text = await kept.text();
  return new Response(text.replace("<html", "<html data-stored"), { headers: kept.headers });
}

/* A link that opens nothing any more leaves nothing behind. */
async function forgetIfOver() {
  const answer = await fetch(self.registration.scope);
  if (answer.status !== 404) return;
  await caches.delete(KEPT);
  await self.registration.unregister();
}
