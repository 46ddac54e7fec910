// The form of a finding, made quicker: all of it works without this, by sending the form.

// Another row of readings or causes, at once.
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-another]");
  if (!button) return;
  event.preventDefault();
  const rows = button.closest("[data-rows]");
  const total = rows.querySelector(`[name="${rows.dataset.rows}-TOTAL_FORMS"]`);
  const empty = rows.querySelector("template").innerHTML.replaceAll("__prefix__", total.value);
  button.insertAdjacentHTML("beforebegin", empty);
  total.value = Number(total.value) + 1;
  button.previousElementSibling.querySelector("input, select")?.focus();
});

// What the tables say of the cause just chosen, from the list lower on the page.
document.addEventListener("change", (event) => {
  const place = event.target.closest(".row.cause")?.querySelector("[data-guidance]");
  if (!place || event.target.tagName !== "SELECT" || !event.target.name.endsWith("-cause")) return;
  const told = document.querySelector(`[data-cause="${event.target.value}"]`);
  place.replaceChildren(...(told ? told.cloneNode(true).childNodes : []));
});

// When nothing comes back, or the sign-in page does, say so and leave what was typed alone.
const say = (sentence) => {
  const place = document.getElementById("trouble");
  place.textContent = sentence;
  place.hidden = !sentence;
  if (sentence) place.scrollIntoView({ block: "center" });
};
document.addEventListener("htmx:beforeRequest", () => say(""));
for (const name of ["htmx:sendError", "htmx:timeout"]) {
  document.addEventListener(name, () => say("Not kept: there is no connection. What you entered is still here; try again when there is one."));
}
document.addEventListener("htmx:responseError", (event) => {
  const why = event.detail.xhr.status === 413 ? "that was too much to send at once" : "the register could not take it";
  say(`Not kept: ${why}. What you entered is still here; try again.`);
});
document.addEventListener("htmx:beforeSwap", (event) => {
  if (!new URL(event.detail.xhr.responseURL).pathname.startsWith("/sign-in/")) return;
  event.detail.shouldSwap = false;
  say("Not kept: you have been signed out. What you entered is still here. Sign in again in another tab, then come back to this one.");
});

// A refused form shows what to mend: the first field that is marked, or else why it was refused.
document.addEventListener("htmx:afterSettle", (event) => {
  if (event.detail.target?.id !== "entry" || event.detail.xhr?.status !== 422) return;
  const marked = document.querySelector("#entry .wrong") ?? document.querySelector("#entry .refused");
  marked?.scrollIntoView({ block: "center" });
});

// A second tap that was meant for the member before is not taken for the next one.
let shownAt = 0;
document.addEventListener("htmx:afterSwap", () => { shownAt = Date.now(); });
document.addEventListener("click", (event) => {
  if (event.target.closest("[data-one-tap]") && Date.now() - shownAt < 300) event.preventDefault();
}, true);
