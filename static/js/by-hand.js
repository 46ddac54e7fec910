// Laying timbers out under the finger. The fields hold the truth; the finger changes them, and the
// server judges and draws what they say. One question is asked at a time, the newest next.
const form = document.getElementById("hand");
const field = (name) => form.elements.namedItem(name);
let asking = false;
let again = false;
let held = null;
let last = null; // the timber last in hand, by its key

async function judge() {
  if (asking) { again = true; return; }
  asking = true;
  try {
    const answer = await fetch(form.dataset.judge, { method: "POST", body: new FormData(form) });
    if (answer.ok) show(await answer.text());
  } catch { /* away from the network the fields still hold what was done */ }
  asking = false;
  if (again) { again = false; judge(); }
}

function show(html) {
  const piece = document.createElement("template");
  piece.innerHTML = html;
  for (const part of [...piece.content.children]) {
    const here = document.getElementById(part.id);
    if (!here) continue;
    if (part.id === "hand-drawing") {
      here.replaceChildren(...part.childNodes);
      here.dataset.bolt = part.dataset.bolt;
      if (document.activeElement !== slide) slide.value = part.dataset.station;
    } else here.replaceWith(part);
  }
  mark();
}

// The timber in hand stands out, and its figures are said beside the drawing.
function mark() {
  if (!last) return;
  if (held) form.querySelector(`.timber[data-timber="${last}"]`)?.classList.add("held");
  const said = document.getElementById("held-said");
  const figures = document.getElementById(`figures-${last}`);
  said.hidden = !figures;
  said.className = figures?.className ? "held-said error" : "held-said";
  said.innerText = figures ? `${field(`id-${last}`).value}: ${figures.innerText}` : "";
}

// Millimetres on the section: across to the right, up, from the middle of the log.
function place(event) {
  const frame = form.querySelector("#hand-drawing svg > g");
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(frame.getScreenCTM().inverse());
  return { x: at.x, y: -at.y };
}

const drawing = document.getElementById("hand-drawing");
if (!drawing.classList.contains("fixed")) {
  drawing.addEventListener("pointerdown", (event) => {
    if (!drawing.querySelector("svg")) return;
    const key = event.target.closest(".timber")?.dataset.timber;
    const start = place(event);
    if (key) {
      last = key;
      held = { key, start, x: Number(field(`x_mm-${key}`).value), y: Number(field(`y_mm-${key}`).value) };
    } else {
      const roll = field(`roll-${drawing.dataset.bolt}`);
      if (!roll || roll.readOnly) return;
      held = { roll, from: Number(roll.value), angle: Math.atan2(start.y, start.x) };
    }
    drawing.setPointerCapture(event.pointerId);
    mark();
    event.preventDefault();
  });
  drawing.addEventListener("pointermove", (event) => {
    if (!held) return;
    const now = place(event);
    if (held.key) {
      field(`x_mm-${held.key}`).value = (held.x + now.x - held.start.x).toFixed(3);
      field(`y_mm-${held.key}`).value = (held.y + now.y - held.start.y).toFixed(3);
    } else {
      const turned = ((Math.atan2(now.y, now.x) - held.angle) * 180) / Math.PI;
      held.roll.value = ((((held.from + turned) % 360) + 360) % 360).toFixed(1);
    }
    judge();
  });
  for (const end of ["pointerup", "pointercancel"]) {
    drawing.addEventListener(end, () => { if (held) { held = null; judge(); } });
  }
}

const slide = document.getElementById("station-slide");
slide.hidden = false;
slide.addEventListener("input", () => { field("station").value = `${slide.value} mm`; judge(); });
form.addEventListener("change", (event) => {
  if (["add", "why", "left_out"].includes(event.target.name)) return;
  judge();
});
