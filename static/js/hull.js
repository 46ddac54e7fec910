// Pinch, or Ctrl and the wheel, looks closer into the drawing; without this the buttons do.
const lookCloser = () => {
  const box = document.querySelector(".hull-scroll");
  const sheet = box?.querySelector("svg.hull-sheet");
  if (!sheet || sheet.dataset.closer) return;
  sheet.dataset.closer = "yes";

  const widest = 8;
  const closer = (by, x, y) => {
    const before = sheet.getBoundingClientRect();
    const width = Math.min(Math.max(before.width * by, box.clientWidth), box.clientWidth * widest);
    const across = (x - before.left) / before.width;
    const down = (y - before.top) / before.height;
    sheet.style.width = `${width}px`;
    const after = sheet.getBoundingClientRect();
    box.scrollLeft += after.left + across * after.width - x;
    box.scrollTop += after.top + down * after.height - y;
  };

  box.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    closer(event.deltaY < 0 ? 1.15 : 1 / 1.15, event.clientX, event.clientY);
  }, { passive: false });

  let apart = 0;
  const distance = ([one, two]) => Math.hypot(one.clientX - two.clientX, one.clientY - two.clientY);
  box.addEventListener("touchstart", (event) => {
    if (event.touches.length === 2) apart = distance(event.touches);
  }, { passive: true });
  box.addEventListener("touchmove", (event) => {
    if (event.touches.length !== 2 || !apart) return;
    event.preventDefault();
    const now = distance(event.touches);
    const [one, two] = event.touches;
    closer(now / apart, (one.clientX + two.clientX) / 2, (one.clientY + two.clientY) / 2);
    apart = now;
  }, { passive: false });
  box.addEventListener("touchend", () => { apart = 0; });
};
lookCloser();
// Another drawing may have taken its place: a turn after a turn. After the last there is no way on,
// and whoever goes by the keyboard is left where the turns are.
document.addEventListener("htmx:afterSettle", () => {
  lookCloser();
  if (document.activeElement !== document.body) return;
  document.querySelector("nav.step [aria-current]")?.focus({ preventScroll: true });
});
