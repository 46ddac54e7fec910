// The section bench by hand: drag the section over the log's end, or size it by its grip.
// The fields are written as one would type them; all of it works without this, by sending the form.

const bench = document.getElementById("bench");
const form = document.getElementById("bench-form");
const step = Number(bench.dataset.stepMm);
const parts = Number(bench.dataset.parts);

// So many marks on the rule, as it is written: 37 sixteenths as "2 5/16 in".
const written = (mm) => {
  const marks = Math.round(mm / step);
  let [whole, top, bottom] = [Math.floor(Math.abs(marks) / parts), Math.abs(marks) % parts, parts];
  while (top && top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  const number = top ? `${whole ? `${whole} ` : ""}${top}/${bottom}` : `${whole}`;
  return `${marks < 0 ? "−" : ""}${number} ${bench.dataset.unit}`;
};
const onMark = (mm) => Math.round(mm / step) * step;

const laid = () => document.querySelector("#bench-end .section");
const state = (group) => Object.fromEntries(["across", "up", "width", "thickness", "turn"].map((name) => [name, Number(group.dataset[name])]));

// Where the pointer is, in mm from the centre of the log: right and up.
const place = (svg, event) => {
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  const { scale, middle } = svg.dataset;
  return { x: (at.x - middle) / scale, y: (middle - at.y) / scale };
};
const turned = ({ x, y }, degrees) => {
  const angle = (degrees * Math.PI) / 180;
  return { x: x * Math.cos(angle) - y * Math.sin(angle), y: x * Math.sin(angle) + y * Math.cos(angle) };
};

const show = (group, now) => {
  const { scale, middle, grip } = group.ownerSVGElement.dataset;
  const [wide, high] = [now.width * scale, now.thickness * scale];
  Object.assign(group.dataset, now);
  group.setAttribute("transform", `translate(${Number(middle) + now.across * scale} ${middle - now.up * scale}) rotate(${-now.turn})`);
  const body = group.querySelector("rect");
  for (const [name, value] of [["x", -wide / 2], ["y", -high / 2], ["width", wide], ["height", high]]) body.setAttribute(name, value);
  group.querySelector(".grip").setAttribute("transform", `translate(${wide / 2 + Number(grip)} ${-high / 2 - grip})`);
};

const moved = (began, now) => ({
  ...began.state,
  across: onMark(began.state.across + now.x - began.at.x),
  up: onMark(began.state.up + now.y - began.at.y),
});
// The far corner stays where it is; the section never becomes thinner than one mark.
const sized = (began, now) => {
  const was = began.state;
  const pulled = turned({ x: now.x - began.at.x, y: now.y - began.at.y }, -was.turn);
  const width = Math.max(step, onMark(was.width + pulled.x));
  const thickness = Math.max(step, onMark(was.thickness + pulled.y));
  const shift = turned({ x: (width - was.width) / 2, y: (thickness - was.thickness) / 2 }, was.turn);
  return { ...was, width, thickness, across: was.across + shift.x, up: was.up + shift.y };
};

let began = null;
document.addEventListener("pointerdown", (event) => {
  const held = event.target.closest("#bench-end [data-drag]");
  if (!held || event.button) return;
  event.preventDefault();
  const group = laid();
  began = { how: held.dataset.drag, group, at: place(group.ownerSVGElement, event), state: state(group) };
  held.setPointerCapture(event.pointerId);
});
document.addEventListener("pointermove", (event) => {
  if (!began) return;
  const now = place(began.group.ownerSVGElement, event);
  const next = (began.how === "move" ? moved : sized)(began, now);
  show(began.group, next);
  for (const name of began.how === "move" ? ["across", "up"] : ["width", "thickness", "across", "up"]) form.elements[name].value = written(next[name]);
  ask("#bench-figures");
});
for (const name of ["pointerup", "pointercancel"]) {
  document.addEventListener(name, () => {
    if (!began) return;
    began = null;
    ask("#bench-shown");
  });
}

// One question at a time; what changed meanwhile is asked when the answer is there.
let asking = false;
let next = null;
const ask = async (target) => {
  if (asking) { next = target; return; }
  asking = true;
  const address = `${bench.dataset.address}?${new URLSearchParams(new FormData(form))}`;
  history.replaceState(history.state, "", address);
  try {
    await htmx.ajax("GET", address, { source: bench, target, select: target, swap: "outerHTML" });
  } finally {
    asking = false;
    // While it is still held, the drawing in the hand is left alone.
    const waiting = next;
    next = null;
    if (waiting) ask(began ? "#bench-figures" : waiting);
  }
};

// What was unfolded stays unfolded when the figures change.
let unfolded = false;
document.addEventListener("htmx:beforeSwap", () => {
  unfolded = Boolean(document.querySelector("#bench-figures details[open]"));
});

const ready = () => {
  for (const details of document.querySelectorAll("#bench-figures details")) details.open = unfolded;
  bench.classList.add("by-hand");
  for (const hint of document.querySelectorAll("span.by-hand")) hint.hidden = false;
};
document.addEventListener("htmx:afterSwap", ready);
ready();
