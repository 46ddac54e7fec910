// The form of one finding on the phone: the register's own form, filled in and read back here.
import { el, mark } from "./build.js";
import { tray } from "./photographs.js";

const CHIPS_AT_ONCE = 8;

// The causes most usual for this kind of member come first.
const orderCauses = (form, codes) => {
  const [atOnce, others] = form.querySelectorAll(".suspected .chips");
  const place = (label) => codes.indexOf(label.querySelector("input").value);
  const labels = [...form.querySelectorAll(".suspected .chips label")].sort((a, b) => place(a) - place(b));
  atOnce.append(...labels.slice(0, CHIPS_AT_ONCE));
  others.append(...labels.slice(CHIPS_AT_ONCE));
};

const addRow = (rows) => {
  const total = rows.querySelector(`[name="${rows.dataset.rows}-TOTAL_FORMS"]`);
  const html = rows.querySelector("template").innerHTML.replaceAll("__prefix__", total.value);
  rows.querySelector("[data-another]").insertAdjacentHTML("beforebegin", html);
  total.value = Number(total.value) + 1;
};

const fill = (form, pairs) => {
  for (const rows of form.querySelectorAll("[data-rows]")) {
    const wanted = Number(pairs.find(([name]) => name === `${rows.dataset.rows}-TOTAL_FORMS`)?.[1] ?? 1);
    for (let n = 1; n < wanted; n += 1) addRow(rows);
  }
  for (const [name, value] of pairs) {
    const fields = [...form.querySelectorAll(`[name="${name}"]`)];
    const tick = fields.find((field) => ["radio", "checkbox"].includes(field.type) && field.value === value);
    if (tick) tick.checked = true;
    else if (fields[0] && !["radio", "checkbox"].includes(fields[0].type)) fields[0].value = value;
  }
};

const tell = (form, member) => {
  form.querySelector("h1").append(mark(member.mark), ` ${member.one}`);
  const before = member.earlier ? `; ${member.earlier}` : "";
  form.querySelector("[data-place]").textContent = `${member.place}${before}`;
  form.querySelector("[data-size]").textContent = `${member.size}, ${member.wood}`;
  form.querySelector("[data-earlier]").textContent = member.earlier ? `Before: ${member.earlier}.` : "No earlier finding.";
  form.querySelector("[data-note]").textContent = member.note;
};

export const build = (member, codes, entry, changed) => {
  const form = document.getElementById("blank-form").content.cloneNode(true).querySelector("form");
  tell(form, member);
  orderCauses(form, codes);
  fill(form, entry.pairs);
  form.elements.made_id.value = entry.made_id;
  tray(form, entry.photographs, changed);
  refuse(form, entry.state === "refused" ? entry.sentences : []);
  form.addEventListener("input", changed);
  form.addEventListener("change", changed);
  return form;
};

export const read = (form) => [...new FormData(form)].filter(([, value]) => typeof value === "string");

export const refuse = (form, sentences) => {
  const place = form.querySelector(".refused");
  place.replaceChildren(...sentences.map((sentence) => el("p", {}, sentence)));
  place.hidden = !sentences.length;
  if (sentences.length) place.scrollIntoView?.({ block: "center" });
};

const choose = (form, name, value) => {
  if (!new FormData(form).get(name)) form.querySelector(`[name="${name}"][value="${value}"]`).checked = true;
};

// What one tap says, said class by class; what was chosen before is not overruled.
export const oneTap = (form, button) => {
  if (button?.name === "sound") for (const name of ["condition", "urgency", "measure"]) choose(form, name, "0");
  if (button?.name === "not_examined") {
    choose(form, "condition", "NE");
    form.elements.not_examined_reason.value = button.value;
  }
};

// The few things that can be told without the register, which judges the rest when it is sent.
export const wrong = (form, button) => {
  const said = new FormData(form);
  const classes = ["condition", "urgency", "measure"].map((name) => said.get(name));
  const notExamined = classes[0] === "NE";
  const reason = said.get("not_examined_reason").trim();
  const sentences = [];
  if (!classes[0]) sentences.push("Set the condition class, or not examined.");
  if (!notExamined && classes[0] && !classes[1]) sentences.push("Set the urgency too: it is a class of its own.");
  if (!notExamined && classes[0] && !classes[2]) sentences.push("Set the recommended measure too: it is a class of its own.");
  if (notExamined && !reason) sentences.push("Say why the member was not examined.");
  if (!notExamined && reason) sentences.push("Only a member that was not examined has a reason why. Clear this, or choose not examined.");
  if (button?.name === "sound" && classes.some((grade) => grade !== "0")) sentences.push("You chose a class other than 0 and then pressed nothing found. Choose 0, 0 and 0, or keep the classes you chose with the button below.");
  return sentences;
};
