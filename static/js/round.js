// The round on the phone: walked with a signal or without, from what was taken along.
import { all, get, newMark, put, remove } from "./queue.js";
import { howMany, keepSending, waitingLine } from "./send.js";
import { mark } from "./build.js";
import { build, oneTap, read, refuse, wrong } from "./round_form.js";
import { gradeOf, list, toShow, waitingItem } from "./round_list.js";

const data = JSON.parse(document.getElementById("round-data").textContent);
const walk = document.getElementById("walk");
const SECOND_TAP_MS = 300; // a second tap that was meant for the member before
const ORDER = `round order of survey ${data.survey}`;
const remembered = data.orders.find(({ code }) => code === localStorage.getItem(ORDER));
let orderCode = remembered?.code ?? data.order;
let justKept = null;
let sending = () => {};
let trouble = "";

const order = () => data.orders.find(({ code }) => code === orderCode);
const ids = () => order().parts.flatMap(({ members }) => members);

// Each member's class: as the register had it, or as it was entered on this phone since.
const standing = async () => {
  const graded = new Map(ids().map((id) => [id, data.members[id].found]));
  const entries = new Map();
  for (const entry of (await all()).filter(({ survey }) => survey === data.survey)) {
    entries.set(entry.member, entry);
    if (entry.state !== "draft") graded.set(entry.member, gradeOf(entry));
  }
  return { data, order: order(), ids: ids(), graded, entries };
};

const nextAfter = async (member) => {
  const { graded } = await standing();
  const round = ids();
  const place = round.indexOf(member);
  return [...round.slice(place + 1), ...round.slice(0, place)].find((id) => !graded.get(id));
};

const blank = (member) => ({
  made_id: newMark(), state: "draft", survey: data.survey, member, mark: data.members[member].mark,
  by: data.by, by_name: data.by_name, taken_at: data.taken_at, units: data.units, pairs: [], photographs: [], sentences: [],
});

const startedOf = async (member) =>
  (await all()).find((entry) => entry.state === "draft" && entry.survey === data.survey && entry.member === member && entry.by === data.by);

// ---- one member ----

const showForm = (entry) => {
  const shownAt = Date.now();
  let saving;
  const save = (state) => put(Object.assign(entry, { pairs: read(form), state }));
  const changed = () => {
    clearTimeout(saving);
    if (entry.state === "draft") saving = setTimeout(() => save("draft").catch(noRoom), 300);
  };
  const form = build(data.members[entry.member], data.usual_causes[data.members[entry.member].kind], entry, changed);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (event.submitter?.hasAttribute("data-one-tap") && Date.now() - shownAt < SECOND_TAP_MS) return;
    if (form.dataset.keeping) return;
    oneTap(form, event.submitter);
    const sentences = wrong(form, event.submitter);
    refuse(form, sentences);
    if (sentences.length) return;
    form.dataset.keeping = "yes";
    clearTimeout(saving);
    try { await keep(entry, read(form)); } catch (error) { delete form.dataset.keeping; noRoom(error); }
  });
  walk.replaceChildren(form);
  if (justKept) {
    const line = form.querySelector(".just-kept");
    line.append(mark(justKept.mark), ` kept on the phone: ${gradeOf(justKept) === "NE" ? "not examined" : `class ${gradeOf(justKept)}`}.`);
    line.hidden = false;
    justKept = null;
  }
  document.getElementById("waiting").hidden = true;
  window.scrollTo(0, 0);
  form.querySelector("h1").focus({ preventScroll: true });
};

const noRoom = (error) => {
  const place = document.getElementById("trouble");
  place.textContent = `This phone would not store anything (${error?.name ?? "no reason given"}): it is full, or this is a private window. What you entered is not kept yet and is still here; make room and keep it again.`;
  place.hidden = false;
};

const keep = async (entry, pairs) => {
  document.getElementById("trouble").hidden = true;
  const once = entry.twice ? newMark() : entry.made_id;
  const old = entry.made_id;
  const stored = await get(old);
  const tried = Boolean(stored?.tried || stored?.state === "sent");
  const kept = pairs.map(([name, value]) => [name, name === "made_id" ? once : value]);
  await put({ ...entry, made_id: once, pairs: kept, state: "waiting", sentences: [], version: (entry.version ?? 0) + 1, tried: tried && !entry.twice, changed: tried && !entry.twice, twice: false });
  if (once !== old) await remove(old);
  justKept = { ...entry, pairs: kept };
  const next = await nextAfter(entry.member);
  location.hash = next ? `#member-${next}` : "#";
  sending();
};

// ---- the list ----

const letGo = async (entry, photograph) => {
  const photographs = entry.photographs.filter((one) => one !== photograph);
  if (photographs.length || entry.sent.apart) await put({ ...entry, photographs });
  else await put({ ...entry, photographs: [] });
};

const showWaiting = async () => {
  const shown = (await all()).filter(toShow);
  const section = document.getElementById("waiting");
  section.querySelector("summary").textContent = `On this phone: ${shown.length} to see`;
  section.querySelector("ul").replaceChildren(...shown.map((entry) => waitingItem(entry, data.by, letGo)));
  section.hidden = !shown.length || location.hash.length > 1;
};

const showList = async () => {
  justKept = null;
  walk.replaceChildren(...list(await standing(), (code) => { orderCode = code; localStorage.setItem(ORDER, code); showList(); }));
  await showWaiting();
};

const showSignal = async () => {
  const count = await howMany();
  document.getElementById("signal-line").textContent = [waitingLine(count), trouble].filter(Boolean).join(" ");
  document.getElementById("send-now").hidden = !count.waiting;
};

const showPlace = async () => {
  const [, what, which] = location.hash.match(/^#(member|entry)-(.+)$/) ?? [];
  const entry = what === "entry" ? await get(which) : null;
  const member = Number(which);
  if (entry && entry.survey !== data.survey) location.assign(`/surveys/${entry.survey}/offline/#entry-${which}`);
  else if (entry && data.members[entry.member]) showForm(entry);
  else if (what === "member" && data.members[member]) showForm((await startedOf(member)) ?? blank(member));
  else await showList();
};

// What is in the register, and was there when this page was taken along, need not be here too.
const tidy = async () => {
  for (const entry of await all()) {
    const known = entry.state === "sent" && entry.survey === data.survey && entry.sent.kept_at < data.taken_at;
    if (known && !toShow(entry)) await remove(entry.made_id);
  }
};

window.addEventListener("hashchange", showPlace);
window.addEventListener("queue-changed", () => { showSignal(); if (location.hash.length < 2) showList(); });
try {
  await tidy();
  await showPlace();
  await showSignal();
} catch (error) {
  noRoom(error);
  throw error;
}
navigator.serviceWorker?.register("/service-worker.js");
navigator.storage?.persist?.();
sending = keepSending((said) => { trouble = said; showSignal(); });
document.getElementById("send-now").addEventListener("click", () => sending());
