// What a point that is set snaps to: what is there already, the level and the upright, a strong edge.
const REACH = 11;
const TURN = 4;

export function toPoints(at, points, unit) {
  let best = null;
  for (const point of points) {
    const far = Math.hypot(point.x - at.x, point.y - at.y);
    if (far < REACH * unit && (!best || far < best.far)) best = { x: point.x, y: point.y, far };
  }
  return best && { x: best.x, y: best.y };
}

export function toSquare(at, from) {
  if (!from) return null;
  const [dx, dy] = [at.x - from.x, at.y - from.y];
  const turn = (Math.atan2(dy, dx) * 180) / Math.PI;
  const square = Math.round(turn / 45) * 45;
  if (Math.abs(turn - square) > TURN) return null;
  const [ux, uy] = [Math.cos((square * Math.PI) / 180), Math.sin((square * Math.PI) / 180)];
  const along = dx * ux + dy * uy;
  return { x: from.x + along * ux, y: from.y + along * uy };
}

let sheet = null;
export function toEdge(at, image, unit) {
  if (!image.complete || !image.naturalWidth) return null;
  if (!sheet) {
    sheet = Object.assign(document.createElement("canvas"), { width: image.naturalWidth, height: image.naturalHeight }).getContext("2d", { willReadFrequently: true });
    sheet.drawImage(image, 0, 0);
  }
  const reach = Math.max(3, Math.round(8 * unit));
  const [left, top, side] = [Math.round(at.x) - reach - 1, Math.round(at.y) - reach - 1, 2 * reach + 3];
  const data = sheet.getImageData(left, top, side, side).data;
  const grey = (x, y) => { const n = 4 * (y * side + x); return 0.3 * data[n] + 0.59 * data[n + 1] + 0.11 * data[n + 2]; };
  let best = null;
  for (let y = 1; y < side - 1; y += 1) {
    for (let x = 1; x < side - 1; x += 1) {
      const far = Math.hypot(left + x + 0.5 - at.x, top + y + 0.5 - at.y);
      if (far > reach) continue;
      const gx = grey(x + 1, y - 1) + 2 * grey(x + 1, y) + grey(x + 1, y + 1) - grey(x - 1, y - 1) - 2 * grey(x - 1, y) - grey(x - 1, y + 1);
      const gy = grey(x - 1, y + 1) + 2 * grey(x, y + 1) + grey(x + 1, y + 1) - grey(x - 1, y - 1) - 2 * grey(x, y - 1) - grey(x + 1, y - 1);
      const strength = Math.hypot(gx, gy) * (1 - (0.6 * far) / reach);
      if (strength > 70 && (!best || strength > best.strength)) best = { strength, x: left + x + 0.5, y: top + y + 0.5 };
    }
  }
  return best && { x: best.x, y: best.y };
}
