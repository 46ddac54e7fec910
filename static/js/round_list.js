// The round as a list: how far it has come, what is next, and what waits on the phone.
import { el, mark } from "./build.js";
import { refused } from "./photographs.js";

const WORDS = { 0: "no symptoms", 1: "minor", 2: "moderate", 3: "major", NE: "not examined" };

const classMark = (grade) =>
  el("span", { className: `class-mark class-${grade}` }, el("b", {}, el("i", {}, grade)), " ", el("span", {}, WORDS[grade]));

export const gradeOf = (entry) => entry.sent?.condition ?? entry.pairs.find(([name]) => name === "condition")?.[1] ?? "";

const stop = (id, member, grade, here) => el("li", { className: grade ? "stop" : "stop left" },
  el("a", { className: "stop-go", href: `#member-${id}` }, mark(member.mark), el("span", {}, member.one), el("span", { className: "soft small" }, member.place)),
  el("span", { className: grade ? "stop-class" : "stop-class soft" }, grade ? classMark(grade) : "not yet", here ? el("span", { className: "small soft" }, here) : null),
  member.earlier ? el("span", { className: "stop-earlier small soft" }, member.earlier) : null);

const HERE = { waiting: "waiting", refused: "to be mended", draft: "begun" };

// walk: { data, order, members in order, graded: Map of member to class, entries: Map }
export const list = ({ data, order, ids, graded, entries }, chooseOrder) => {
  const left = ids.filter((id) => !graded.get(id));
  const orders = el("nav", { className: "orders", ariaLabel: "The order of the round" }, el("span", { className: "soft small" }, "Go round"),
    ...data.orders.map(({ code, name }) => {
      const link = el("a", { href: "#" }, name);
      if (code === order.code) link.setAttribute("aria-current", "true");
      link.addEventListener("click", (event) => { event.preventDefault(); chooseOrder(code); });
      return link;
    }));
  const next = left.length
    ? el("a", { className: "act main", href: `#member-${left[0]}` }, "Next not yet examined: ", mark(data.members[left[0]].mark))
    : el("p", {}, "Every member has a finding in this survey.");
  const head = el("section", { className: "sheet round-head" }, el("h2", {}, "The round"),
    el("p", { className: "tally" }, el("strong", {}, `${ids.length - left.length} of ${ids.length}`), " done. ", el("strong", {}, String(left.length)), " left."),
    el("progress", { className: "how-far", max: ids.length || 1, value: ids.length - left.length }), orders,
    el("div", { className: "actions" }, next));
  const parts = order.parts.flatMap((part) => [el("h2", { className: "part" }, part.name),
    el("ul", { className: "stops" }, ...part.members.map((id) => stop(id, data.members[id], graded.get(id), HERE[entries.get(id)?.state])))]);
  return [head, ...parts];
};

const STATES = { waiting: "waiting to be sent", refused: "refused by the register", sent: "sent" };

// Everything on the phone that a person should see: not drafts, nor what went in without a remark.
export const toShow = (entry) => entry.state === "waiting" || entry.state === "refused" || (entry.state === "sent" && (entry.photographs.length || entry.sent.apart));

const photographs = ({ state, photographs: { length } }) =>
  state !== "sent" && length ? `, ${length} photograph${length > 1 ? "s" : ""}` : "";

export const waitingItem = (entry, who, letGo) => {
  const opens = entry.state === "sent" ? entry.sent.finding : `#entry-${entry.made_id}`;
  const grade = gradeOf(entry);
  const said = [...(entry.sentences ?? [])];
  if (entry.by !== who) said.push(`Entered by ${entry.by_name}: sent when they are signed in on this phone.`);
  if (entry.sent?.apart) said.push(`${entry.sent.apart.by} had entered a finding of ${entry.mark} meanwhile; both are kept and marked.`);
  return el("li", {}, el("p", {}, el("a", { href: opens }, mark(entry.mark), " open"), " ", grade ? classMark(grade) : null, el("span", {}, `${STATES[entry.state]}${photographs(entry)}`)),
  ...said.map((sentence) => el("p", { className: entry.state === "refused" ? "error" : "" }, sentence)),
  ...(entry.state === "sent" ? entry.photographs.map((one) => refused(one, () => letGo(entry, one))) : []));
};
