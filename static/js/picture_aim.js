// Aim at a place in a picture: with a finger under a magnifier, with the mouse, or with the arrow keys.
// Two fingers draw the picture about and make it larger or smaller; then neither of them aims.
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
  const fingers = new Map(); // where each finger is that lies on the picture
  let pinch = null;
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
    if (on.looks?.() || event.button) return;
    fingers.set(event.pointerId, event);
    if (fingers.size > 1) { stop(); pinch = pinched(); return; }
    over.setPointerCapture(event.pointerId);
    const raw = place(event);
    aiming = { held: on.grab?.(raw) ?? false };
    show(event, raw);
  });
  over.addEventListener("pointermove", (event) => {
    if (on.looks?.()) return;
    if (fingers.has(event.pointerId)) fingers.set(event.pointerId, event);
    if (pinch) { follow(); return; }
    const raw = place(event);
    if (!aiming && event.pointerType !== "mouse") return;
    show(event, raw);
    if (aiming?.held) on.drag(at);
  });
  over.addEventListener("pointerup", (event) => {
    if (lifted(event) || !aiming) return;
    const held = aiming.held;
    show(event, place(event));
    aiming = null;
    if (event.pointerType !== "mouse") rest();
    if (held) on.drop?.(at); else on.place(at);
  });
  over.addEventListener("pointercancel", (event) => { if (!lifted(event)) stop(); });
  over.addEventListener("pointerleave", () => { if (!aiming) rest(); });

  // Whether it was one of two fingers: the other aims at nothing either until it is lifted too.
  function lifted(event) {
    fingers.delete(event.pointerId);
    const was = pinch;
    if (!fingers.size) pinch = null;
    return !!was;
  }
  function pinched() {
    const [one, two] = [...fingers.values()];
    const middle = { x: (one.clientX + two.clientX) / 2, y: (one.clientY + two.clientY) / 2 };
    const box = over.getBoundingClientRect();
    return {
      middle,
      apart: Math.max(1, Math.hypot(one.clientX - two.clientX, one.clientY - two.clientY)),
      large,
      share: { x: (middle.x - box.left) / box.width, y: (middle.y - box.top) / box.height },
    };
  }
  function follow() {
    if (fingers.size < 2) return;
    const now = pinched();
    sized((pinch.large * now.apart) / pinch.apart, pinch.share, now.middle);
  }

  function stop() { // nothing was meant: what was taken hold of goes back
    if (aiming?.held) on.leave?.();
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

  // So large, with this share of the picture (0 to 1 each way) at that place of the window.
  function sized(next, share, where) {
    large = Math.max(1, Math.min(LARGEST, next));
    photo.style.width = `${large * 100}%`;
    const [box, drawn] = [scroll.getBoundingClientRect(), over.getBoundingClientRect()];
    scroll.scrollLeft = share.x * drawn.width - (where.x - box.left - scroll.clientLeft);
    scroll.scrollTop = share.y * drawn.height - (where.y - box.top - scroll.clientTop);
    on.redraw();
  }
  function resize(by) {
    const [box, drawn] = [scroll.getBoundingClientRect(), over.getBoundingClientRect()];
    const where = { x: box.left + box.width / 2, y: box.top + box.height / 2 };
    sized(large * by, { x: (where.x - drawn.left) / drawn.width, y: (where.y - drawn.top) / drawn.height }, where);
  }
  window.addEventListener("resize", () => on.redraw());
  return { over, image, unit, larger: () => resize(1.6), smaller: () => resize(1 / 1.6), wide, tall };
}
