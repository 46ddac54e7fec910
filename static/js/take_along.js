// Takes a survey's round along: with this page open once, it can be walked without a signal.
import { howMany, keepSending, waitingLine } from "./send.js";

const place = document.getElementById("take-along");
const line = place.querySelector("[data-line]");

const takeAlong = async () => {
  if (!("serviceWorker" in navigator)) throw new Error("this browser cannot, or the address is not a secure one (https)");
  await navigator.serviceWorker.register("/service-worker.js");
  await navigator.serviceWorker.ready;
  const address = place.dataset.offline;
  const answer = await fetch(address, { cache: "no-store" });
  if (!answer.ok || answer.redirected) throw new Error("the register did not give it out");
  await (await caches.open("rounds")).put(address, answer);
  navigator.storage?.persist?.();
};

const showWaiting = async () => {
  const count = await howMany();
  const told = place.querySelector("[data-waiting]");
  told.textContent = count.waiting || count.refused ? waitingLine(count) : "";
};

window.addEventListener("queue-changed", showWaiting);
await showWaiting();
keepSending((trouble) => { place.querySelector("[data-trouble]").textContent = trouble; });
try {
  await takeAlong();
  const now = new Date().toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
  line.textContent = `This round is on the phone as it was at ${now}. It goes on without a signal.`;
  place.dataset.taken = "yes";
} catch (error) {
  line.textContent = `The round could not be taken along: ${error.message}.`;
}
