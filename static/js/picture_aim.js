// Aim at a place in a picture: with a finger under a magnifier, with the mouse, or with the arrow keys.
const SVG = "http://www.w3.org/2000/svg";
const MAGNIFIED = 3;
const LARGEST = 8;

export function shape(name, attributes, text) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  if (text !== undefined) element.textContent = text;
  return element;
}

export function aimAt(photo, on) {
  const image = photo.querySelector("img");
  const scroll = photo.parentElement;
  const [wide, tall] = [Number(photo.dataset.wide), Number(photo.dataset.tall)];
  const over = shape("svg", { class: "over", viewBox: `0 0 ${wide} ${tall}`, preserveAspectRatio: "none" });
  const loupe = Object.assign(document.createElement("canvas"), { className: "loupe", width: 288, height: 288, hidden: true });
  photo.append(over);
  document.body.append(loupe);
  let large = 1;
  let aiming = null;
  let fingers = 0;
  let at = { x: wide / 2, y: tall / 2 };

  const unit = () => wide / Math.max(1, over.getBoundingClientRect().width);
  const inside = (value, most) => Math.min(most, Math.max(0, value));
  const place = (event) => {
    const box = over.getBoundingClientRect();
    return { x: inside(((event.clientX - box.left) / box.width) * wide, wide), y: inside(((event.clientY - box.top) / box.height) * tall, tall) };
  };

  function magnify(raw, point, clientX, clientY, touch) {
    const pen = loupe.getContext("2d");
    const reach = (loupe.width / 2 / MAGNIFIED) * unit() * (image.naturalWidth / wide) / 2;
    const scale = image.naturalWidth / wide;
    pen.fillStyle = "#ddd";
    pen.fillRect(0, 0, loupe.width, loupe.height);
    pen.drawImage(image, point.x * scale - reach, point.y * scale - reach, 2 * reach, 2 * reach, 0, 0, loupe.width, loupe.height);
    pen.strokeStyle = "#93391a";
    pen.lineWidth = 2;
    pen.beginPath();
    const middle = loupe.width / 2;
    pen.moveTo(0, middle); pen.lineTo(middle - 12, middle); pen.moveTo(middle + 12, middle); pen.lineTo(loupe.width, middle);
    pen.moveTo(middle, 0); pen.lineTo(middle, middle - 12); pen.moveTo(middle, middle + 12); pen.lineTo(middle, loupe.height);
    pen.stroke();
    const away = touch ? 110 : 100;
    const top = clientY - away - 72 < 0 ? clientY + away - 72 : clientY - away - 72;
    loupe.style.left = `${inside(clientX - 72, window.innerWidth - 150)}px`;
    loupe.style.top = `${top}px`;
    loupe.hidden = false;
  }
  const rest = () => { loupe.hidden = true; };

  over.addEventListener("pointerdown", (event) => {
    if (on.looks?.()) return;
    fingers += 1;
    if (fingers > 1) { stop(); return; } // two fingers pinch
    if (event.button) return;
    over.setPointerCapture(event.pointerId);
    const raw = place(event);
    aiming = { held: on.grab?.(raw) ?? false };
    show(event, raw);
  });
  over.addEventListener("pointermove", (event) => {
    if (on.looks?.()) return;
    const raw = place(event);
    if (!aiming && event.pointerType !== "mouse") return;
    show(event, raw);
    if (aiming?.held) on.drag(at);
  });
  over.addEventListener("pointerup", (event) => {
    fingers = Math.max(0, fingers - 1);
    if (!aiming) return;
    const held = aiming.held;
    show(event, place(event));
    aiming = null;
    if (event.pointerType !== "mouse") rest();
    if (held) on.drop?.(at); else on.place(at);
  });
  over.addEventListener("pointercancel", () => { fingers = 0; stop(); });
  over.addEventListener("pointerleave", () => { if (!aiming) rest(); });

  function stop() {
    if (aiming?.held) on.drop?.(at);
    aiming = null;
    rest();
  }
  function show(event, raw) {
    at = on.snap ? on.snap(raw) : raw;
    magnify(raw, at, event.clientX, event.clientY, event.pointerType !== "mouse");
    on.hover?.(at);
  }

  scroll.addEventListener("keydown", (event) => {
    const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    if (event.key in ways) {
      const step = unit() * (event.shiftKey ? 20 : 1);
      at = { x: inside(at.x + ways[event.key][0] * step, wide), y: inside(at.y + ways[event.key][1] * step, tall) };
      const box = over.getBoundingClientRect();
      magnify(at, at, box.left + at.x / unit(), box.top + at.y / unit(), false);
      on.hover?.(at);
    } else if (event.key === "Enter") on.place(on.snap ? on.snap(at) : at);
    else if (event.key === "Backspace") on.back?.();
    else return;
    event.preventDefault();
  });
  scroll.addEventListener("blur", rest);

  function resize(by) {
    const box = scroll.getBoundingClientRect();
    const middle = { x: (scroll.scrollLeft + box.width / 2) / large, y: (scroll.scrollTop + box.height / 2) / large };
    large = Math.min(LARGEST, Math.max(1, large * by));
    photo.style.width = `${large * 100}%`;
    scroll.scrollLeft = middle.x * large - box.width / 2;
    scroll.scrollTop = middle.y * large - box.height / 2;
    on.redraw();
  }
  window.addEventListener("resize", () => on.redraw());
  return { over, image, unit, larger: () => resize(1.6), smaller: () => resize(1 / 1.6), wide, tall };
}
