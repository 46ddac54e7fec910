// A mark is put on by tapping the picture: its first point, then its second. Without this, by numbers.
const picture = document.querySelector("[data-marking]");
const form = document.getElementById("mark-form");
const hint = form.querySelector("[data-hint]");
const ONE = ["x1", "y1"];
const TWO = ["x2", "y2"];
const HINTS = {
  arrow: ["Tap where the arrow begins.", "Now tap what it points at.", "Put it on, or tap again to begin anew."],
  ring: ["Tap the middle of the ring.", "Now tap where its edge shall be.", "Put it on, or tap again to begin anew."],
  note: ["Tap the place, and write the words.", "Write the words and put it on, or tap elsewhere."],
  scale: ["Tap one end of the bar.", "Now tap its other end.", "Write the length it stands for and put it on."],
};

const kind = () => form.querySelector("[name=kind]:checked")?.value ?? "arrow";
const field = (name) => form.elements[name];
const given = (names) => names.every((name) => field(name).value !== "");
const needed = () => (kind() === "note" ? [ONE] : [ONE, TWO]);

function show() {
  picture.querySelectorAll(".tapped").forEach((dot) => dot.remove());
  const places = needed().filter(given);
  hint.textContent = HINTS[kind()][places.length];
  for (const [x, y] of places) {
    const dot = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    dot.setAttribute("class", "tapped");
    dot.setAttribute("viewBox", "0 0 24 24");
    dot.innerHTML = '<circle cx="12" cy="12" r="10"/>';
    dot.style.left = `${field(x).value}%`;
    dot.style.top = `${field(y).value}%`;
    picture.querySelector(".marked").append(dot);
  }
}

const numbers = form.querySelector("[data-numbers]");
numbers.open = "wrong" in numbers.dataset;
picture.dataset.tap = "yes";
picture.addEventListener("click", (event) => {
  const box = picture.querySelector("img").getBoundingClientRect();
  const across = ((event.clientX - box.left) / box.width) * 100;
  const down = ((event.clientY - box.top) / box.height) * 100;
  if (across < 0 || across > 100 || down < 0 || down > 100) return;
  let place = needed().find((names) => !given(names));
  if (!place) {
    for (const name of [...ONE, ...TWO]) field(name).value = "";
    place = ONE;
  }
  field(place[0]).value = across.toFixed(1);
  field(place[1]).value = down.toFixed(1);
  show();
});
form.addEventListener("change", show);
show();
