// A piece dragged on the drawing of its board. The finger only proposes: the piece's own form is
// sent, and the server says whether it may lie there and draws what holds.
const NEAR_MM = 0.3; // less of a drag than this is a touch
let held = null;

function place(svg, event) {
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
}

document.addEventListener("pointerdown", (event) => {
  const piece = event.target.closest(".may-move .laid");
  if (!piece || event.button) return;
  const svg = piece.ownerSVGElement;
  const label = svg.querySelector(`[data-label="${piece.dataset.piece}"]`);
  held = { piece, parts: [piece, label], svg, start: place(svg, event), dx: 0, dy: 0 };
  piece.classList.add("held");
  svg.setPointerCapture(event.pointerId);
  event.preventDefault();
});

document.addEventListener("pointermove", (event) => {
  if (!held) return;
  const now = place(held.svg, event);
  held.dx = now.x - held.start.x;
  held.dy = now.y - held.start.y;
  for (const part of held.parts) part.setAttribute("transform", `translate(${held.dx} ${held.dy})`);
});

function letGo(event) {
  if (!held) return;
  const { piece, parts, svg, dx, dy } = held;
  held = null;
  piece.classList.remove("held");
  const row = document.getElementById(`piece-${piece.dataset.piece}`);
  const form = row?.querySelector("form");
  if (event.type === "pointercancel" || !form || Math.hypot(dx, dy) < NEAR_MM) {
    for (const part of parts) part.removeAttribute("transform");
    if (event.type !== "pointercancel" && row) open(row);
    return;
  }
  const scale = Number(svg.dataset.scale);
  form.elements.x_mm.value = `${(Number(piece.dataset.x) + dx * scale).toFixed(2)} mm`;
  form.elements.y_mm.value = `${(Number(piece.dataset.y) - dy * scale).toFixed(2)} mm`;
  form.requestSubmit();
}

function open(row) {
  row.querySelector("details").open = true;
  row.scrollIntoView({ block: "nearest" });
}

document.addEventListener("pointerup", letGo);
document.addEventListener("pointercancel", letGo);

// On a narrow screen the drawing is wider than its frame: it opens on the first piece from the
// butt, and stays where it was looked at when a move is answered.
const BESIDE_PX = 16;
let along = 0;

function frame() {
  return document.querySelector(".layout-figure .scroll");
}

function showFirstPiece() {
  const all = [...document.querySelectorAll(".layout-drawing .laid")];
  const lefts = all.map((piece) => piece.getBoundingClientRect().left);
  if (!lefts.length) return;
  const within = frame();
  within.scrollLeft += Math.min(...lefts) - within.getBoundingClientRect().left - BESIDE_PX;
}

document.addEventListener("htmx:beforeSwap", () => (along = frame()?.scrollLeft ?? 0));
document.addEventListener("htmx:afterSwap", () => {
  if (frame()) frame().scrollLeft = along;
});
showFirstPiece();
