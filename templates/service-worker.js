{% load static %}// Keeps the rounds taken along, and what their page needs, at hand without a signal.
// Everything else goes to the network as ever, and nothing else is ever kept.
const ASSETS = new Set([{% for asset in assets %}"{{ asset|escapejs }}",{% endfor %}]);
const KEPT_ASSETS = "assets-{{ version }}";
const ROUNDS = "rounds";
const PATIENCE_MS = 4000; // a signal that comes and goes is worse than none

self.addEventListener("install", (event) => {
  const fresh = [...ASSETS].map((path) => new Request(path, { cache: "reload" }));
  event.waitUntil(caches.open(KEPT_ASSETS).then((kept) => kept.addAll(fresh)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  const tidy = async () => {
    const names = await caches.keys();
    const old = names.filter((name) => name.startsWith("assets-") && name !== KEPT_ASSETS);
    await Promise.all(old.map((name) => caches.delete(name)));
    await self.clients.claim();
  };
  event.waitUntil(tidy());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (origin !== self.location.origin) return;
  // Whoever signs out leaves no pages behind; what waits to be sent stays, and is theirs to send.
  if (request.method === "POST" && pathname === "/sign-out/") event.waitUntil(caches.delete(ROUNDS));
  if (request.method !== "GET") return;
  if (ASSETS.has(pathname)) event.respondWith(asset(request, pathname));
  else if (/^\/surveys\/\d+\/offline\/$/.test(pathname)) event.respondWith(round(request, pathname));
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(() => instead(pathname)));
});

const soon = (request) =>
  Promise.race([fetch(request), new Promise((_, late) => setTimeout(late, PATIENCE_MS, new Error("late")))]);

async function asset(request, pathname) {
  const kept = await (await caches.open(KEPT_ASSETS)).match(pathname);
  return soon(request).catch(() => kept ?? fetch(request));
}

async function round(request, pathname) {
  const rounds = await caches.open(ROUNDS);
  try {
    const answer = await soon(request);
    if (answer.ok && !answer.redirected) await rounds.put(pathname, answer.clone());
    if (answer.status < 500) return answer;
  } catch { /* no signal: what was taken along serves */ }
  return (await rounds.match(pathname)) ?? instead(pathname);
}

// Without a signal, the pages of a survey lead to its round, and any other to the rounds at hand.
async function instead(pathname) {
  const rounds = await caches.open(ROUNDS);
  const [, survey, member] = pathname.match(/^\/surveys\/(\d+)\/(?:members\/(\d+)\/)?/) ?? [];
  const offline = `/surveys/${survey}/offline/`;
  if (survey && pathname !== offline && (await rounds.match(offline))) {
    return Response.redirect(member ? `${offline}#member-${member}` : offline);
  }
  const links = (await rounds.keys()).map(({ url }) => {
    const path = new URL(url).pathname;
    return `<li><a href="${path}">The round of survey ${path.match(/\d+/)[0]}</a></li>`;
  });
  const page = `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>No signal</title><link rel="stylesheet" href="{% static 'css/tokens.css' %}"><link rel="stylesheet" href="{% static 'css/base.css' %}">
<main><h1>No signal</h1><p>This page needs a signal.${links.length ? " These rounds are on the phone and go on without one:" : " No round was taken along on this phone: open a survey once while there is a signal."}</p><ul>${links.join("")}</ul></main></html>`;
  return new Response(page, { status: 503, headers: { "Content-Type": "text/html; charset=utf-8" } });
}
