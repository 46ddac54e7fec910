// Plus and minus for the figure of a reading, so that it can be set with one thumb.

// One step and a long step of each kind of reading; lengths in inches go by sixteenths.
const STEPS = { moisture: [0.5, 5], ph: [0.1, 1] };
const LENGTHS = { mm: [1, 10], in: [1 / 16, 1 / 2] };

const parse = (text) => {
  const found = text.trim().match(/^(?:(\d+(?:[.,]\d+)?)(?![/\d]))?[ -]*(?:(\d+)\/(\d+))?\s*(mm|cm|in|"|%)?$/);
  if (!found || (text.trim() && found[1] === undefined && found[2] === undefined)) return null;
  const whole = Number((found[1] ?? "0").replace(",", "."));
  return { value: whole + (found[2] ? found[2] / found[3] : 0), unit: found[4] ?? "" };
};

const inSixteenths = (value) => {
  const sixteenths = Math.round(value * 16);
  const whole = Math.floor(sixteenths / 16);
  let [over, under] = [sixteenths % 16, 16];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  return over ? `${whole ? `${whole} ` : ""}${over}/${under}` : String(whole);
};

const stepped = (text, step, kind, units) => {
  const now = parse(text);
  if (!now) return text; // words, or a length written another way: not ours to change
  const unit = now.unit === '"' ? "in" : now.unit || units;
  const sizes = STEPS[kind] ?? LENGTHS[unit] ?? [1, 10];
  const value = Math.max(0, now.value + Math.sign(step) * sizes[Math.abs(step) > 1 ? 1 : 0]);
  const isInches = !STEPS[kind] && unit === "in";
  const figure = isInches ? inSixteenths(value) : String(Math.round(value * 100) / 100);
  return now.unit ? `${figure} ${now.unit}` : figure;
};

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-step]");
  if (!button) return;
  const row = button.closest(".row");
  const figure = row.querySelector("[name$='-reading']");
  const kind = row.querySelector("[name$='-kind']").value;
  if (kind === "sounding") return;
  figure.value = stepped(figure.value, Number(button.dataset.step), kind, button.parentElement.dataset.units);
  figure.dispatchEvent(new Event("change", { bubbles: true }));
});
