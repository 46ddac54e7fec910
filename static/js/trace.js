// Trace a pattern on the true picture. The drawing lives in the form's tables; the server judges them.
import { aimAt, shape } from "./picture_aim.js";
import { toEdge, toPoints, toSquare } from "./trace_snap.js";
import { readTables, writeTables } from "./trace_tables.js";

const form = document.getElementById("trace-form");
const board = form.querySelector("[data-tracing]");
const photo = board.querySelector("[data-photo]");
const says = board.querySelector("[data-says]");
const sheet = JSON.parse(photo.dataset.sheet);
const button = (name) => board.querySelector(`[data-do="${name}"]`);
const tool = () => board.querySelector('[name="tool"]:checked').value;
const snaps = (name) => board.querySelector(`[data-snap="${name}"]`).checked;
const toMm = (p) => [sheet.left + p.x * sheet.perPx, sheet.top - p.y * sheet.perPx];
const toPx = ([x, y]) => ({ x: (x - sheet.left) / sheet.perPx, y: (sheet.top - y) / sheet.perPx });

let drawing;
let readable = true;
let undone = [];
const done = [];
let open = null; // the line that is being drawn
let centre = null; // of a hole whose edge is not tapped yet
let held = null; // the point that is being moved, or was moved last
let aim = null;

board.hidden = false;
form.querySelector("[data-tables]").open = !!form.querySelector("[data-tables] .wrong");
take();

function take() {
  try {
    drawing = readTables(form, sheet.kinds);
    readable = true;
  } catch {
    drawing ??= { outline: [], closed: false, lines: [], holes: [], bevels: [] };
    readable = false;
  }
}

function change(act) {
  if (!readable) { say("A row of the tables cannot be read: mend it there first."); return; }
  done.push(JSON.stringify(drawing));
  undone = [];
  act();
  settle();
}

function settle() {
  writeTables(form, drawing, sheet.kinds);
  draw();
}

function step(from, to) {
  if (!from.length) return;
  to.push(JSON.stringify(drawing));
  drawing = JSON.parse(from.pop());
  open = centre = held = null;
  settle();
}

// Every point there is, with the list it lives in, for moving and snapping.
function handles() {
  const of = (list, kind) => list.map((point, index) => ({ list, index, kind, ...toPx(point) }));
  return [
    ...of(drawing.outline, "outline"),
    ...drawing.lines.flatMap((line) => of(line.points, "line")),
    ...of(drawing.holes, "hole"),
  ];
}

function before() {
  if (tool() === "outline") return drawing.closed ? null : drawing.outline.at(-1);
  if (tool() === "line") return open?.points.at(-1);
  if (tool() === "move" && held?.kind === "outline") return held.list[(held.index - 1 + held.list.length) % held.list.length];
  return null;
}

function snap(raw) {
  const unit = picture.unit();
  const others = handles().filter((h) => !(held && h.list === held.list && h.index === held.index));
  const known = sheet.marks.map(toPx);
  const from = before();
  return (snaps("points") && toPoints(raw, [...known, ...others], unit))
    || (snaps("edges") && toEdge(raw, picture.image, unit))
    || (snaps("square") && toSquare(raw, from && toPx(from)))
    || raw;
}

const tools = {
  outline(p) {
    const first = drawing.outline[0] && toPx(drawing.outline[0]);
    const again = first && Math.hypot(first.x - p.x, first.y - p.y) < 1e-6 + picture.unit();
    if (drawing.closed) { say("The outline is closed. Move its points, undo, or begin anew."); return; }
    if (again && drawing.outline.length > 2) change(() => { drawing.closed = true; });
    else if (!again) change(() => drawing.outline.push(toMm(p)));
  },
  line(p) {
    change(() => {
      if (!open) {
        open = { kind: board.querySelector("[data-kind]").value, points: [] };
        drawing.lines.push(open);
      }
      open = drawing.lines.at(-1);
      open.points.push(toMm(p));
    });
  },
  hole(p) {
    if (!centre) { centre = toMm(p); draw(); return; }
    const [x, y] = toMm(p);
    const through = 2 * Math.hypot(x - centre[0], y - centre[1]);
    if (through > 0.5) change(() => drawing.holes.push([...centre, through]));
    centre = null;
    draw();
  },
  bevel(p) {
    const degrees = Number(board.querySelector("[data-degrees]").value);
    if (Number.isFinite(degrees)) change(() => drawing.bevels.push([toMm(p)[0], degrees]));
  },
  move() {},
};

const picture = aimAt(photo, {
  looks: () => tool() === "look",
  snap,
  place: (p) => tools[tool()]?.(p),
  grab(raw) {
    if (tool() !== "move" || !readable) return false;
    const near = toPoints(raw, handles(), 2 * picture.unit());
    held = near && handles().find((h) => h.x === near.x && h.y === near.y);
    if (!held) held = between(raw);
    draw();
    if (!held) return false;
    if (!held.fresh) { done.push(JSON.stringify(drawing)); undone = []; }
    return true;
  },
  drag(p) {
    if (!held) return;
    const [x, y] = toMm(p);
    held.list[held.index] = [x, y, ...held.list[held.index].slice(2)];
    settle();
  },
  drop() { settle(); },
  leave() {
    drawing = JSON.parse(done.pop());
    held = null;
    settle();
  },
  hover(p) { aim = p; tell(); },
  back: () => step(done, undone),
  redraw: () => draw(),
});

// A new corner in the side of the outline that is taken hold of.
function between(raw) {
  const points = drawing.outline.map(toPx);
  for (let n = 0; n < points.length; n += 1) {
    const [a, b] = [points[n], points[(n + 1) % points.length]];
    const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
    const share = ((raw.x - a.x) * (b.x - a.x) + (raw.y - a.y) * (b.y - a.y)) / long ** 2;
    const off = Math.abs((raw.x - a.x) * (b.y - a.y) - (raw.y - a.y) * (b.x - a.x)) / long;
    if (share <= 0 || share >= 1 || off > 12 * picture.unit()) continue;
    done.push(JSON.stringify(drawing));
    undone = [];
    drawing.outline.splice(n + 1, 0, toMm(raw));
    return { list: drawing.outline, index: n + 1, kind: "outline", fresh: true };
  }
  return null;
}

function draw() {
  const unit = picture.unit();
  const path = (points, close) => (points.length ? `M${points.map((p) => { const q = toPx(p); return `${q.x} ${q.y}`; }).join("L")}${close ? "Z" : ""}` : "");
  const parts = [];
  const stroke = (d, extra = "") => parts.push(shape("path", { class: "halo", d }), shape("path", { class: `ink ${extra}`, d }));
  for (const mark of sheet.marks.map(toPx)) parts.push(shape("circle", { class: "known", cx: mark.x, cy: mark.y, r: 6 * unit }));
  if (drawing.outline.length) stroke(path(drawing.outline, drawing.closed), drawing.closed ? "closed" : "");
  for (const line of drawing.lines) stroke(path(line.points), "thin");
  for (const [x, y, through] of drawing.holes) {
    const at = toPx([x, y]);
    parts.push(shape("circle", { class: "ink", cx: at.x, cy: at.y, r: through / 2 / sheet.perPx }));
  }
  for (const [x, degrees] of drawing.bevels) {
    const at = toPx([x, 0]).x;
    stroke(`M${at} 0V${picture.tall}`, "thin");
    parts.push(shape("text", { x: at + 4 * unit, y: 20 * unit, "font-size": 15 * unit }, `${degrees}°`));
  }
  if (centre) { const at = toPx(centre); parts.push(shape("circle", { class: "known", cx: at.x, cy: at.y, r: 4 * unit })); }
  const size = tool() === "move" ? 6 : 4;
  for (const h of handles()) parts.push(shape("circle", { class: "point", cx: h.x, cy: h.y, r: size * unit }));
  picture.over.replaceChildren(...parts);
  photo.dataset.tool = tool();
  button("close").hidden = tool() !== "outline" || drawing.closed;
  button("end").hidden = tool() !== "line" || !open;
  button("undo").disabled = !done.length;
  button("redo").disabled = !undone.length;
  button("anew").disabled = !handles().length && !drawing.bevels.length;
  button("delete").hidden = tool() !== "move" || !held;
  board.querySelectorAll("[data-for]").forEach((label) => { label.hidden = label.dataset.for !== tool(); });
  tell();
}

function tell() {
  const words = {
    outline: drawing.closed ? "The outline is closed." : drawing.outline.length < 3 ? "Tap the corners in order round the pattern; two fingers move the picture and make it larger." : "Go on round, then tap the first corner again or close it.",
    line: open ? "Go on along the line, then end it." : "Choose which line, and tap along it.",
    hole: centre ? "Now tap the hole's edge." : "Tap the middle of the hole.",
    bevel: "Give the degrees, and tap the station.",
    move: "Take hold of a point and draw it, or of a side to put a corner there.",
    look: "Draw the picture about under your finger.",
  };
  const from = before();
  let measured = "";
  if (aim) {
    const [x, y] = toMm(aim);
    measured = `${x.toFixed(0)}, ${y.toFixed(0)} mm`;
    if (from) measured += `, ${Math.hypot(x - from[0], y - from[1]).toFixed(1)} mm from the last`;
    measured += ". "; // first: what is told on a small screen may not all be seen
  }
  say(measured + words[tool()]);
}
function say(words) { says.textContent = words; }

const acts = {
  close() { if (drawing.outline.length > 2) change(() => { drawing.closed = true; }); else say("An outline needs three corners or more."); },
  end() { open = null; draw(); },
  undo: () => step(done, undone),
  redo: () => step(undone, done),
  anew: () => change(() => {
    drawing = { outline: [], closed: false, lines: [], holes: [], bevels: [] };
    open = centre = held = null;
  }),
  larger: picture.larger,
  smaller: picture.smaller,
  delete() {
    if (held) change(() => held.list.splice(held.index, 1));
    drawing.lines = drawing.lines.filter((line) => line.points.length);
    held = null;
    settle();
  },
};
board.addEventListener("click", (event) => acts[event.target.closest("[data-do]")?.dataset.do]?.());
board.addEventListener("change", () => { open = centre = held = null; draw(); });
form.addEventListener("input", (event) => { if (event.target.matches("textarea") && event.target.name !== "note") { take(); draw(); } });
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.target.matches("input, textarea")) return;
  if (event.key === "z") { step(done, undone); event.preventDefault(); }
  if (event.key === "y") { step(undone, done); event.preventDefault(); }
});
draw();
