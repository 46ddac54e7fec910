// After a piece of a page is put in, go to its first refused field, so that nobody must search.
document.addEventListener("htmx:afterSwap", (event) => {
  const wrong = event.target.querySelector?.(".field.wrong input, .field.wrong select, .field.wrong textarea");
  if (wrong) wrong.focus();
});

// What the last page said is no longer news once this page has changed.
document.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.requestConfig?.verb === "get") return;
  document.getElementById("messages")?.replaceChildren();
});

// A form sent twice by an impatient thumb goes once.
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.hasAttribute("hx-post")) return;
  if (form.dataset.sent) { event.preventDefault(); return; }
  form.dataset.sent = "yes";
  window.addEventListener("pageshow", () => delete form.dataset.sent, { once: true });
});
