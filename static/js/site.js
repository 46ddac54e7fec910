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

// A figure never breaks over a line: 1 5/8 in, 2 ft 3 in. (web/unbroken.py does so on paper.)
const insideAFigure = /(\d) (?=\d+\/\d|(?:mm|cm|m|m³|in|ft|bd ft|%|kg|kN|lb)(?![\w²]))|\b(ft) (?=\d)/g;

document.addEventListener("htmx:load", (event) => {
  const texts = document.createTreeWalker(event.detail.elt, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode;
    if (text.parentElement.closest("textarea, option, script, style, svg")) continue;
    const whole = text.data.replace(insideAFigure, "$1$2\u00a0");
    if (whole !== text.data) text.data = whole;
  }
});
