/* Keeps a person's pages on the phone, says so, and says when their link is over. */
(() => {
  const page = document.querySelector("[data-worker]");
  if (!page || !("serviceWorker" in navigator)) return;
  const scope = page.dataset.worker.replace(/[^/]+$/, "");
  const said = document.querySelector("[data-kept]");

  async function told() {
    await navigator.serviceWorker.register(page.dataset.worker, { scope });
    await navigator.serviceWorker.ready;
    const kept = await caches.match(location.pathname, { ignoreVary: true });
    if (kept && said) said.textContent = said.dataset.saved;
  }

  /* Back with signal: a link that is over says so, and so does a night that was taken off; a newer
     version is offered. */
  async function look() {
    let answer;
    try {
      answer = await fetch(location.pathname, { cache: "no-cache" });
    } catch {
      return;
    }
    if (answer.status === 404) return location.reload();
    if (!answer.ok) return;
    const text = await answer.text();
    if (text.includes("data-stored")) return;
    const there = Number(text.match(/data-version="(\d+)"/)?.[1]);
    if (page.dataset.version && !there) return location.reload();
    const newer = document.querySelector("p.newer");
    if (newer) newer.hidden = !(there > page.dataset.version);
  }

  told().catch(() => {});
  addEventListener("online", look);
  document.addEventListener("visibilitychange", () => document.hidden || look());
  if ("stored" in document.documentElement.dataset) look();
})();
