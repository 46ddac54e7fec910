// The marks on a photograph of a pattern, tapped in the order of their numbers. Without this, typed.
import { aimAt, shape } from "./picture_aim.js";

const form = document.getElementById("marks-form");
const rows = [...form.querySelectorAll("[data-mark]")];
const hint = form.querySelector("[data-hint]");
const field = (row, name) => form.elements[`${name}_${row.dataset.mark}`];
const tapped = (row) => field(row, "px").value !== "" && field(row, "py").value !== "";
const radio = (row) => row.querySelector("[data-placing]");
const current = () => rows.find((row) => radio(row).checked);

form.querySelector("[data-bar]").hidden = false;
rows.forEach((row) => { radio(row).hidden = false; });

const picture = aimAt(form.querySelector("[data-photo]"), {
  place(point) {
    const row = current();
    if (!row) return;
    field(row, "px").value = point.x.toFixed(1);
    field(row, "py").value = point.y.toFixed(1);
    choose(rows.find((other) => !tapped(other)) ?? row);
  },
  back() {
    const last = rows.filter(tapped).at(-1);
    if (!last) return;
    field(last, "px").value = field(last, "py").value = "";
    choose(last);
  },
  hover() {},
  redraw: () => draw(),
});

function choose(row) {
  radio(row).checked = true;
  draw();
}

function draw() {
  const filled = rows.filter(tapped).length;
  rows.forEach((row, n) => { row.hidden = n > Math.max(4, filled) && !tapped(row) && field(row, "x").value === ""; });
  const row = current();
  const corner = row.querySelector(".corner-word")?.textContent;
  const byBoard = form.elements.how.value === "board";
  hint.textContent = `Tap mark ${row.dataset.mark}${corner && byBoard ? `, ${corner}` : ""}. To mend one, choose its number.`;
  const size = picture.unit();
  picture.over.replaceChildren(...rows.filter(tapped).flatMap((each) => {
    const [x, y] = [Number(field(each, "px").value), Number(field(each, "py").value)];
    const arm = 11 * size;
    return [
      shape("path", { class: "halo", d: `M${x - arm} ${y}H${x + arm}M${x} ${y - arm}V${y + arm}` }),
      shape("path", { class: "ink", d: `M${x - arm} ${y}H${x + arm}M${x} ${y - arm}V${y + arm}` }),
      shape("text", { x: x + 8 * size, y: y - 8 * size, "font-size": 18 * size }, each.dataset.mark),
    ];
  }));
}

form.querySelector("[data-larger]").addEventListener("click", picture.larger);
form.querySelector("[data-smaller]").addEventListener("click", picture.smaller);
form.addEventListener("input", draw);
form.addEventListener("change", draw);
rows.forEach((row) => radio(row).addEventListener("change", draw));
choose(rows.find((row) => !tapped(row)) ?? rows[0]);
