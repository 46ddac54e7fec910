// Sends what waits on the phone, one finding after the other, each until the register has it.
import { all, get, put, waiting } from "./queue.js";

const SENDING_MAY_TAKE_MS = 180_000;

export class Trouble extends Error {}

const SIGNED_OUT = "You have been signed out. Nothing is lost: sign in again and what waits here is sent.";
const NO_SIGNAL = "No signal. What you enter stays on this phone and is sent when there is one.";

const ask = async (address, options = {}) => {
  let answer;
  try {
    answer = await fetch(address, {
      redirect: "manual", cache: "no-store", signal: AbortSignal.timeout(SENDING_MAY_TAKE_MS), ...options,
    });
  } catch {
    throw new Trouble(NO_SIGNAL);
  }
  if (answer.type === "opaqueredirect") throw new Trouble(SIGNED_OUT);
  return answer;
};

const freshToken = async () => {
  const answer = await ask("/fresh-token/");
  if (!answer.ok) throw new Trouble("The register does not answer properly just now. Nothing is lost; try again later.");
  return answer.json();
};

const parcel = (entry) => {
  const body = new FormData();
  for (const [name, value] of entry.pairs) body.append(name, value);
  body.append("member", entry.member);
  body.append("units", entry.units);
  body.append("taken_at", entry.taken_at);
  body.append("entered_by", entry.by);
  for (const one of entry.photographs) {
    body.append("photographs", one.blob, one.name);
    body.append("caption", one.caption);
  }
  return body;
};

const sendOne = async (entry, token) => {
  await put({ ...entry, tried: true });
  const answer = await ask(`/surveys/${entry.survey}/findings/`, {
    method: "POST", headers: { "X-CSRFToken": token }, body: parcel(entry),
  });
  const said = answer.headers.get("content-type")?.startsWith("application/json") ? await answer.json() : null;
  const now = await get(entry.made_id);
  if (now.version === entry.version) await put(after(entry, answer.status, said));
  // Else it was changed on the phone meanwhile: that goes next, and the register's answer tells.
};

// What becomes of an entry with this answer. Only a plain yes lets anything go.
const after = (entry, status, said) => {
  if (status === 200 && said?.again && entry.changed) {
    return { ...entry, twice: true, state: "refused", sentences: [
      "The register had this finding already as it was first sent. What you changed since is not in it: keep it again to add it as another finding."] };
  }
  if (status === 200 && said) {
    const photographs = said.refused.map(({ place, why }) => ({ ...entry.photographs[place], why }));
    return { ...entry, state: "sent", sent: said, photographs, pairs: [], sentences: [] };
  }
  if (status === 422 && said) return { ...entry, tried: false, state: "refused", sentences: said.sentences };
  if (status === 404) return { ...entry, state: "refused", sentences: ["The register has no such survey any more."] };
  return { ...entry, tried: true, sentences: [`The register could not take it (${status}). It stays here and is tried again.`] };
};

const run = async () => {
  if (!(await waiting()).length) return;
  const { token, by } = await freshToken();
  for (const entry of await waiting()) {
    if (entry.by === by) await sendOne(entry, token);
  }
};

// One page at a time sends; the register would keep each once even so.
export const send = () =>
  navigator.locks ? navigator.locks.request("sending", { ifAvailable: true }, (lock) => lock && run()) : run();

export const howMany = async () => {
  const entries = await all();
  const count = (state) => entries.filter((entry) => entry.state === state).length;
  return { waiting: count("waiting"), refused: count("refused") };
};

export const waitingLine = ({ waiting, refused }) => {
  const said = [waiting ? `${waiting} waiting to be sent` : "Nothing is waiting to be sent"];
  if (refused) said.push(`${refused} refused, to be mended`);
  return `${said.join("; ")}.`;
};

// Tries when there is reason to: now, when the signal or the person comes back, and now and then.
export const keepSending = (tell) => {
  const go = () => send().then(() => tell(""), (error) => {
    if (!(error instanceof Trouble)) throw error;
    tell(error.message);
  });
  window.addEventListener("online", go);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) go(); });
  setInterval(() => { if (navigator.onLine) go(); }, 30_000);
  go();
  return go;
};
