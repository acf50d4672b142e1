// The service worker: the page's own files, the last answers, and the chosen pack when there is no signal.
// The service writes one line above this text: SHELL, the list of the page's files and a digest of them.

const SHELL_NAME = `gripledger-shell-${SHELL.digest}`;
const LAST = "gripledger-last";
const PACK = "gripledger-pack";
const MOST = 80;
const PATIENCE = 4000;

self.addEventListener("install", (event) => {
  const files = ["/counter", ...SHELL.files.map((name) => `/counter/${name}`)];
  event.waitUntil(caches.open(SHELL_NAME)
    .then((cache) => cache.addAll(files.map((file) => new Request(file, { cache: "no-cache" }))))
    .then(() => self.skipWaiting()));
});

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
  else if (request.method === "GET" && url.pathname.startsWith("/v1/")) event.respondWith(answer(event, url));
});

async function shell(path, request) {
  const cache = await caches.open(SHELL_NAME);
  return (await cache.match(path, { ignoreSearch: true, ignoreVary: true })) ?? fetch(request);
}

async function answer(event, url) {
  const { request } = event;
  const passing = url.pathname === "/v1/parts/complete";
  const stored = passing ? null : await kept(request.url);
  try {
    const response = await soon(fetch(request), stored ? PATIENCE : 0);
    if (response.status === 200 && !passing) event.waitUntil(keep(request.url, response.clone()));
    return response.status >= 502 && stored ? stored : response;
  } catch {
    return stored ?? noSignal();
  }
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
  const cache = await caches.open(LAST);
  const body = await response.blob();
  await cache.delete(address, { ignoreVary: true }); // so that the order of the keys is the order of use
  await cache.put(address, new Response(body, {
    headers: { "content-type": response.headers.get("content-type") ?? "", "x-stored-at": new Date().toISOString() },
  }));
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
