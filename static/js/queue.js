// What is entered on this phone and not yet in the register: findings with their photographs.
//
// An entry is { made_id, place, state, survey, member, mark, by, by_name, taken_at, units,
// pairs: [[name, value]], photographs: [{ name, type, blob, caption }], sentences: [] }.
// state: "draft" while it is filled in, "waiting" to be sent, "refused" by the register with its
// sentences, "sent" once the register has it. Nothing leaves here before the register says so.

const opened = new Promise((resolve, reject) => {
  const asked = indexedDB.open("hull-and-log", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("entries", { keyPath: "made_id" });
  asked.onsuccess = () => resolve(asked.result);
  asked.onerror = () => reject(asked.error);
});

const kept = async (mode, work) => {
  const change = (await opened).transaction("entries", mode);
  const asked = work(change.objectStore("entries"));
  return new Promise((resolve, reject) => {
    change.oncomplete = () => resolve(asked.result);
    change.onerror = change.onabort = () => reject(change.error);
  });
};

const told = () => window.dispatchEvent(new Event("queue-changed"));

// In the order in which they were first put here.
export const all = async () => (await kept("readonly", (store) => store.getAll())).sort((a, b) => a.place - b.place);
export const get = (made_id) => kept("readonly", (store) => store.get(made_id));

export const put = async (entry) => {
  entry.place ??= Math.max(0, ...(await all()).map(({ place }) => place)) + 1;
  await kept("readwrite", (store) => store.put(entry));
  told();
};

export const remove = async (made_id) => {
  await kept("readwrite", (store) => store.delete(made_id));
  told();
};

// A mark for an entry, made here so that sending it twice still keeps it once.
export const newMark = () => {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
};

export const waiting = async () => (await all()).filter(({ state }) => state === "waiting");
