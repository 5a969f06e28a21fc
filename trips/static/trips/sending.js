/* Forms behind a private link: sent once, and only where there is signal, so that typing stays. */
(() => {
  "use strict";

  const WAIT_MS = 8000;
  const words = document.currentScript.dataset.noSignal;
  const probe = document.querySelector('link[rel="icon"]').href;
  let busy = false;
  let sent = false;

  // To the end: a look that is broken off by the form's own going would count as failed.
  const reached = () =>
    fetch(probe, { method: "HEAD", cache: "no-store", signal: AbortSignal.timeout(WAIT_MS) })
      .then((found) => found.text())
      .then(
        () => true,
        () => false,
      );

  function tell(button) {
    const line = document.getElementById("no-signal") ?? document.createElement("p");
    line.id = "no-signal";
    line.className = "caution";
    line.setAttribute("role", "alert");
    button.before(line);
    line.textContent = words;
  }

  document.addEventListener("submit", async (event) => {
    if (sent || event.target.method !== "post") return;
    event.preventDefault();
    if (busy) return;
    const { target: form, submitter } = event;
    busy = true;
    if (!(await reached())) {
      tell(submitter ?? form);
      busy = false;
      return;
    }
    sent = true;
    form.requestSubmit(submitter);
    sent = false;
    setTimeout(() => {
      busy = false;
    }, WAIT_MS);
  });

  addEventListener("pageshow", () => {
    busy = false;
  });
})();
