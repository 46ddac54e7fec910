// A report read on screen: the chapter that is led to opens; all of it goes to paper.
const unfold = (element) => {
  for (let at = element?.closest("details"); at; at = at.parentElement.closest("details")) at.open = true;
};

const led = () => {
  const place = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!place?.closest(".report-reading")) return;
  unfold(place);
  place.scrollIntoView();
};

window.addEventListener("hashchange", led);
window.addEventListener("beforeprint", () => {
  for (const folded of document.querySelectorAll(".report-reading details")) folded.open = true;
});
// The same place led to a second time changes no address.
document.addEventListener("click", (event) => {
  const link = event.target.closest(".report-reading a");
  if (link && link.getAttribute("href") === location.hash) led();
});
led();
