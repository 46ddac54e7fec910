// Tap the heart and the edge of the wood on the photograph of a log's end. The page reckons.
const form = document.querySelector("[data-taps]");
if (form) {
  const picture = form.querySelector(".tap-picture");
  const marks = {};
  form.querySelector(".tap-which").hidden = false;
  form.querySelector(".tap-go").hidden = false;
  const names = [...form.elements.which].map((radio) => radio.value);

  const draw = (name) => {
    const [x, y] = form.elements[name].value.split(",").map(Number);
    if (!form.elements[name].value || Number.isNaN(x + y)) return;
    marks[name] ??= picture.appendChild(Object.assign(document.createElement("span"), {
      className: name === "heart" ? "tapped heart" : "tapped",
      textContent: name === "heart" ? "+" : name.replace("at_", ""),
    }));
    marks[name].style.left = `${100 * x}%`;
    marks[name].style.top = `${100 * y}%`;
  };
  names.forEach(draw);

  picture.addEventListener("click", (event) => {
    const box = picture.getBoundingClientRect();
    const share = (at, from, size) => Math.min(1, Math.max(0, (at - from) / size)).toFixed(4);
    const name = form.elements.which.value;
    form.elements[name].value = `${share(event.clientX, box.left, box.width)},${share(event.clientY, box.top, box.height)}`;
    draw(name);
    const next = names.find((other) => !form.elements[other].value);
    if (next) form.elements.which.value = next;
  });
}
