// The page's one way to the service. A client of /v1 like any other.

import { trust, WEAKEST } from "./route.js";

let release = null;
const watchers = new Set();

/** Calls `run(answer facts)` after each answer: {release, stored, at}. */
export function watch(run) {
  watchers.add(run);
}

/** The release that answered last, or null. */
export function releaseNow() {
  return release;
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
  try {
    const response = await fetch(address(path, query), init);
    if (response.ok) return { text: await response.text(), why: "" };
    const problem = await response.json().catch(() => ({}));
    return { text: null, why: problem.detail ?? "No drawing." };
  } catch {
    return { text: null, why: "No signal, and this drawing is not stored here." };
  }
}

async function send(url, init) {
  let response;
  try {
    response = await fetch(url, init);
  } catch (error) {
    if (error.name === "AbortError") throw error;
    return lost();
  }
  let data;
  try {
    data = await response.json();
  } catch {
    data = { type: "unreadable-answer", title: "The answer could not be read", detail: `The service answered ${response.status} with something that is not JSON.` };
    return { ok: false, status: response.status, data };
  }
  const at = response.headers.get("x-stored-at");
  if (response.status === 503 && data.type === "no-signal") return lost(data.detail);
  noted({ release: data.release ?? null, stored: Boolean(at), at });
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
