/* A brief in its instructor's hand: what was typed into a part is never lost, neither on its way
   to the server nor by leaving the page. */
(() => {
  "use strict";

  const words = document.currentScript.dataset.noSignal;
  let isSent = false;

  function tell(form) {
    const line = form.querySelector(".no-signal") ?? document.createElement("p");
    line.className = "no-signal warning";
    line.setAttribute("role", "alert");
    form.prepend(line);
    line.textContent = words;
  }

  const isThisPage = (xhr) => xhr.status === 200 && xhr.responseText.includes('class="hand"');

  // A sign-in or an error is no part of this page: the form goes as it goes without script.
  document.addEventListener("htmx:beforeSwap", (event) => {
    const { requestConfig, xhr } = event.detail;
    const form = requestConfig.elt;
    if (!form.matches("form") || isThisPage(xhr)) return;
    event.preventDefault();
    isSent = true;
    form.submit();
  });

  document.addEventListener("htmx:sendError", ({ detail }) => {
    if (detail.elt.matches("form")) tell(detail.elt);
  });

  addEventListener("beforeunload", (event) => {
    const fields = [...document.querySelectorAll(".handwrite textarea")];
    const isTyped = fields.some((one) => one.value !== one.defaultValue);
    if (isTyped && !isSent) event.preventDefault();
  });
})();
