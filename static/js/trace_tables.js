// The drawing of a pattern written as the form's tables, and read back from them. Millimetres.
const figure = (text) => Number(text.trim().replace("−", "-").replace(",", "."));
const cells = (row) => (row.includes(";") || row.includes("\t") ? row.split(/[;\t]/) : row.split(/,\s*|\s{2,}/)).map((cell) => cell.trim());
const short = (mm) => String(Math.round(mm * 10) / 10);

function figures(text, count) {
  return text.split("\n").filter((row) => row.trim()).map((row) => {
    const read = cells(row).map(figure);
    if (read.length !== count || read.some(Number.isNaN)) throw new RangeError(row);
    return read;
  });
}

export function readTables(form, kinds) {
  const lines = [];
  let open = false;
  for (const row of form.elements.lines.value.split("\n")) {
    if (!row.trim()) { open = false; continue; }
    const [name, x, y] = cells(row);
    const kind = name ? Object.keys(kinds).find((key) => kinds[key] === name || key === name) : lines.at(-1)?.kind;
    if (!kind || Number.isNaN(figure(x ?? "x") + figure(y ?? "y"))) throw new RangeError(row);
    if (!open || lines.at(-1)?.kind !== kind) lines.push({ kind, points: [] });
    lines.at(-1).points.push([figure(x), figure(y)]);
    open = true;
  }
  return {
    outline: figures(form.elements.outline.value, 2),
    closed: form.elements.outline.value.trim() !== "",
    lines,
    holes: figures(form.elements.holes.value, 3),
    bevels: figures(form.elements.bevels.value, 2),
  };
}

export function writeTables(form, drawing, kinds) {
  const rows = (list) => list.map((row) => row.map(short).join("; ")).join("\n");
  form.elements.outline.value = rows(drawing.outline);
  form.elements.lines.value = drawing.lines
    .map((line) => line.points.map(([x, y]) => `${kinds[line.kind]}; ${short(x)}; ${short(y)}`).join("\n"))
    .join("\n\n");
  form.elements.holes.value = rows(drawing.holes);
  form.elements.bevels.value = rows(drawing.bevels);
}
