/* One less, one more: counted on the spot, and saved with the rest of the form. */
document.addEventListener("click", (event) => {
  const button = event.target.closest(".stepper button");
  const field = button?.closest(".stepper").querySelector("input");
  if (!field || !/^\d*$/.test(field.value)) return;
  event.preventDefault();
  const step = button.value === "more" ? 1 : -1;
  field.value = Math.min(Math.max(Number(field.value) + step, 0), Number(field.dataset.most));
});
