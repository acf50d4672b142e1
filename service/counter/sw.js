// The service worker: the page's own files, the last answers, and the chosen pack when there is no signal.
// The service writes one line above this text: SHELL, the list of the page's files and a digest of them.

const SHELL_NAME = `gripledger-shell-${SHELL.digest}`;
const LAST = "gripledger-last";
const PACK = "gripledger-pack";
const MOST = 160;
const PATIENCE = 4000;
/** Patience right after the line was found slow, and for how long. */
const LESS = 800;
const SLOW_FOR = 30_000;
let slowAt = 0;
/** Questions asked in a body whose answers are kept, each under a digest of what was asked. */
const BODIES = ["/v1/joints/check", "/v1/joints/select", "/v1/joints/drawing.svg", "/v1/torques/setting", "/v1/parts/identify", "/v1/text/parts"];
/** Files kept only once they were used. */
const LATER = /^\/counter\/scanner\//;
/** Answers that came after a stored one was shown in their place: the page's next question gets them without asking again. */
const arrived = new Map();
const JUST = 60_000;

self.addEventListener("install", (event) => { event.waitUntil(install()); });

async function install() {
  const files = new Set(["/counter", ...SHELL.files.map((name) => `/counter/${name}`)]);
  for (const name of await caches.keys()) {
    if (!name.startsWith("gripledger-shell-")) continue;
    for (const { url } of await (await caches.open(name)).keys()) if (LATER.test(new URL(url).pathname)) files.add(new URL(url).pathname);
  }
  const cache = await caches.open(SHELL_NAME);
  await cache.addAll([...files].map((file) => new Request(file, { cache: "no-cache" })));
  await self.skipWaiting();
}

self.addEventListener("activate", (event) => {
  const old = (name) => name.startsWith("gripledger-shell-") && name !== SHELL_NAME;
  event.waitUntil(caches.keys()
    .then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name))))
    .then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== self.location.origin) return;
  if (request.mode === "navigate" && /^\/counter\/?$/.test(url.pathname)) event.respondWith(shell("/counter", request));
  else if (url.pathname.startsWith("/counter/")) event.respondWith(shell(url.pathname, request));
  else if (url.pathname.startsWith("/v1/") && (request.method === "GET" || BODIES.includes(url.pathname))) event.respondWith(answer(event, url));
});

// What the page was answered before this worker stood behind it.
self.addEventListener("message", (event) => {
  event.waitUntil(Promise.all((event.data?.early ?? []).map(async (one) => {
    const key = await keyOf(one.url, one.accept, one.sent);
    if (key) await keep(key, new Response(one.text, { headers: { "content-type": one.type } }));
  })));
});

async function shell(path, request) {
  const cache = await caches.open(SHELL_NAME);
  const held = await cache.match(path, { ignoreSearch: true, ignoreVary: true });
  if (held) return held;
  const response = await fetch(request);
  if (response.status === 200 && LATER.test(path)) await cache.put(path, response.clone());
  return response;
}

/** Under which address an answer is kept: its own, or with a digest of the question where that stood in a body. Null: it is not kept. */
async function keyOf(address, accept, sent) {
  const url = new URL(address, self.location.origin);
  if (url.pathname === "/v1/parts/complete") return null;
  if (sent === null || sent === undefined) return url.href;
  const bytes = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(`${accept}\n${sent}`));
  url.searchParams.set("asked", [...new Uint8Array(bytes)].map((byte) => byte.toString(16).padStart(2, "0")).join(""));
  return url.href;
}

async function answer(event, url) {
  const { request } = event;
  const sent = request.method === "POST" ? await request.clone().text() : null;
  const key = await keyOf(url.href, request.headers.get("accept"), sent);
  const stored = key ? await kept(key) : null;
  if (stored && request.headers.has("x-arrived") && Date.now() - (arrived.get(key) ?? 0) < JUST) return shown(stored, key, "");
  let late = false;
  const live = fetch(request);
  if (key) event.waitUntil(live.then((response) => response.status === 200 ? keep(key, response.clone()).then(() => late && tell(event.clientId, key)) : null).catch(() => null));
  try {
    const patience = Date.now() - slowAt < SLOW_FOR ? LESS : PATIENCE;
    const response = await soon(live, stored ? patience : 0);
    if (response.status >= 502 && stored) return shown(stored, key, "none");
    return response;
  } catch (error) {
    late = error.message === "slow";
    if (late) slowAt = Date.now();
    return stored ? shown(stored, key, late ? "slow" : "none") : noSignal();
  }
}

/** A stored answer as the page gets it. `why`: `none` or `slow` signal; empty when it is as fresh as can be. */
function shown(stored, key, why) {
  const headers = new Headers(stored.headers);
  if (why) {
    headers.set("x-stored-why", why);
    headers.set("x-stored-key", key);
  } else headers.delete("x-stored-at");
  return new Response(stored.body, { headers });
}

async function tell(client, key) {
  arrived.set(key, Date.now());
  (await self.clients.get(client))?.postMessage({ arrived: key });
}

async function kept(address) {
  for (const name of [LAST, PACK]) {
    if (!(await caches.has(name))) continue;
    const found = await (await caches.open(name)).match(address, { ignoreVary: true });
    if (found) return found;
  }
  return null;
}

async function keep(address, response) {
  const type = response.headers.get("content-type") ?? "";
  const text = await response.text();
  const [, release = ""] = text.match(/"release": ?"([0-9a-f]{12,})"/) ?? text.match(/Release ([0-9a-f]{12,})/) ?? [];
  const cache = await caches.open(LAST);
  await cache.delete(address, { ignoreVary: true }); // so that the order of the keys is the order of use
  await cache.put(address, new Response(text, { headers: { "content-type": type, "x-stored-at": new Date().toISOString(), "x-release": release } }));
  const keys = await cache.keys();
  await Promise.all(keys.slice(0, Math.max(0, keys.length - MOST)).map((key) => cache.delete(key)));
}

function soon(promise, patience) {
  if (!patience) return promise;
  return Promise.race([promise, new Promise((_, reject) => { setTimeout(() => reject(new Error("slow")), patience); })]);
}

function noSignal() {
  const detail = "The service cannot be reached, and this answer is not stored on this device.";
  return new Response(JSON.stringify({ type: "no-signal", title: "No signal", detail }), {
    status: 503, headers: { "content-type": "application/problem+json" },
  });
}
