/* A button beside a link that copies it; where that is forbidden, the link stands marked instead. */
(() => {
  "use strict";

  for (const button of document.querySelectorAll("[data-copies]")) {
    const link = document.getElementById(button.dataset.copies);
    const said = button.parentElement.querySelector("[data-done]");
    button.parentElement.hidden = false;
    button.addEventListener("click", async () => {
      link.select();
      try {
        await navigator.clipboard.writeText(link.value);
        said.textContent = said.dataset.done;
      } catch {
        link.focus();
      }
    });
  }
})();
