// The page's one way to the service. A client of /v1 like any other.

import { trust, WEAKEST } from "./route.js";

const EARLY = 12;
let release = null;
const watchers = new Set();
/** Answers got before the service worker stood behind the page; it is handed them when it does. */
let early = [];
/** Stored answers shown while the fresh ones are still on their way, by the worker's key. */
const awaited = new Set();
let renewing = false;
let coming = null;
const TOGETHER = 150;

/** Calls `run(answer facts)` after each answer: {release, stored, at, why}. */
export function watch(run) {
  watchers.add(run);
}

/** The release that answered last, or null. */
export function releaseNow() {
  return release;
}

/** Listens to the service worker. `again()` runs when answers have come that stored ones stood in for. */
export function listen(again) {
  const worker = navigator.serviceWorker;
  const hand = () => { if (worker.controller && early.length) { worker.controller.postMessage({ early }); early = []; } };
  worker.addEventListener("controllerchange", hand);
  worker.addEventListener("message", ({ data }) => {
    if (!data?.arrived || !awaited.delete(data.arrived)) return;
    clearTimeout(coming);
    coming = setTimeout(again, TOGETHER); // what arrives together is shown together
  });
  hand();
}

/** Begins a view: nothing of the one before is awaited. `renewed`: answers that came late may be taken from the worker. */
export function begin(renewed) {
  awaited.clear();
  clearTimeout(coming);
  renewing = renewed;
}

function noted(facts) {
  if (facts.release) release = facts.release;
  for (const run of watchers) run(facts);
}

/** The address of an operation with the trust of this view. */
export function address(path, query) {
  const kept = new URLSearchParams();
  for (const [name, value] of Object.entries(query ?? {})) if (value !== null && value !== undefined && value !== "") kept.set(name, value);
  if (!kept.has("basis") && trust() !== WEAKEST) kept.set("basis", trust());
  if (kept.get("basis") === WEAKEST) kept.delete("basis");
  const search = kept.toString();
  return `/v1/${path}${search ? `?${search}` : ""}`;
}

/** {ok, status, data}: data is the answer or the problem document. Never throws but for an aborted request. */
export async function ask(path, query, options = {}) {
  return send(address(path, query), { headers: { accept: "application/json" }, signal: options.signal });
}

/** The same for a question in a body. `plain` when the operation does not take a trust. */
export async function post(path, body, options = {}) {
  const init = { method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json", accept: "application/json" } };
  return send(options.plain ? `/v1/${path}` : address(path), { ...init, signal: options.signal });
}

/** A drawing's text, or null with the reason in `why`. */
export async function picture(path, query, body) {
  const init = body
    ? { method: "POST", body: JSON.stringify(body), headers: { "content-type": "application/json", accept: "image/svg+xml" } }
    : { headers: { accept: "image/svg+xml" } };
  const none = { text: null, why: "No signal, and this drawing is not stored here." };
  try {
    const url = address(path, query);
    const response = await got(url, init);
    const text = await response.text();
    remembered(url, init, response, text);
    if (response.ok) return { text, why: "" };
    const problem = read(text) ?? {};
    return problem.type === "no-signal" ? none : { text: null, why: problem.detail ?? "No drawing." };
  } catch {
    return none;
  }
}

async function got(url, init) {
  const response = await fetch(url, renewing ? { ...init, headers: { ...init.headers, "x-arrived": "1" } } : init);
  if (response.headers.get("x-stored-why") === "slow") awaited.add(response.headers.get("x-stored-key"));
  return response;
}

function read(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

function remembered(url, init, response, text) {
  if (response.status !== 200 || navigator.serviceWorker?.controller || early.length >= EARLY) return;
  early.push({ url, accept: init.headers.accept, sent: init.body ?? null, type: response.headers.get("content-type") ?? "", text });
}

async function send(url, init) {
  let response;
  let text;
  try {
    response = await got(url, init);
    text = await response.text();
  } catch (error) {
    if (error.name === "AbortError") throw error;
    return lost();
  }
  const data = read(text);
  if (data === null) {
    const problem = { type: "unreadable-answer", title: "The answer could not be read", detail: `The service answered ${response.status} with something that is not JSON.` };
    return { ok: false, status: response.status, data: problem };
  }
  if (response.status === 503 && data.type === "no-signal") return lost(data.detail);
  remembered(url, init, response, text);
  const at = response.headers.get("x-stored-at");
  noted({ release: data.release ?? null, stored: Boolean(at), at, why: response.headers.get("x-stored-why") });
  return { ok: response.ok, status: response.status, data, stored: Boolean(at), at };
}

function lost(detail) {
  noted({ release: null, stored: false, at: null, lost: true });
  return { ok: false, status: 0, data: { type: "no-signal", title: "No signal", detail: detail ?? "The service cannot be reached, and this answer is not stored on this device." } };
}

/** Whether an answer says that the operation itself is not served here. */
export function notServed(answer) {
  return [404, 405, 501].includes(answer.status) && !answer.data.outcome;
}
