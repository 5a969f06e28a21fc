/* A brief in its instructor's hand: what was typed into a part is never lost by its way to the
   server. An answer that is not this page (a sign-in, an error) is opened as a form opens it. */
(() => {
  "use strict";

  const words = document.currentScript.dataset.noSignal;

  function tell(form) {
    const line = form.querySelector(".no-signal") ?? document.createElement("p");
    line.className = "no-signal warning";
    line.setAttribute("role", "alert");
    form.prepend(line);
    line.textContent = words;
  }

  const isOurs = (xhr) =>
    xhr.status === 200 && xhr.responseText.includes('class="hand"');

  document.addEventListener("htmx:beforeSwap", (event) => {
    const { requestConfig, xhr } = event.detail;
    const { elt } = requestConfig;
    if (!elt.matches("form") || isOurs(xhr)) return;
    event.preventDefault();
    elt.submit();
  });

  document.addEventListener("htmx:sendError", ({ detail }) => {
    if (detail.elt.matches("form")) tell(detail.elt);
  });
})();
