// The photographs of one entry, as they are taken: shown, captioned, and taken off again.
import { el } from "./build.js";

const picture = (blob) => {
  const image = el("img", { alt: "", src: URL.createObjectURL(blob) });
  image.addEventListener("load", () => URL.revokeObjectURL(image.src));
  image.addEventListener("error", () => { image.hidden = true; });
  return image;
};

const shown = (one, photographs, changed) => {
  const caption = el("input", { maxLength: 200, value: one.caption });
  caption.addEventListener("input", () => { one.caption = caption.value; changed(); });
  const off = el("button", { type: "button", className: "link" }, "Take it off");
  off.addEventListener("click", () => {
    photographs.splice(photographs.indexOf(one), 1);
    off.closest("li").remove();
    changed();
  });
  const words = el("figcaption", {}, el("span", {}, one.name), el("label", {}, "Caption ", caption), off);
  return el("li", {}, el("figure", {}, picture(one.blob), words));
};

// Fills the form's list and its two inputs; `photographs` is the entry's own array.
export const tray = (form, photographs, changed) => {
  const list = form.querySelector("[data-photographs]");
  const show = (one) => list.append(shown(one, photographs, changed));
  photographs.forEach(show);
  for (const input of form.querySelectorAll(".cameras input")) {
    input.addEventListener("change", () => {
      for (const file of input.files) {
        const one = { name: file.name, type: file.type, blob: file, caption: "" };
        photographs.push(one);
        show(one);
      }
      input.value = "";
      changed();
    });
  }
};

// A photograph the register refused, with its sentence.
export const refused = (one, letGo) => {
  const off = el("button", { type: "button", className: "link" }, "Take it off the phone");
  off.addEventListener("click", letGo);
  return el("div", {}, el("p", {}, `Photograph “${one.name}” refused: ${one.why}`), picture(one.blob), off);
};
