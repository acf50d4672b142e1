// What this device keeps: the last answers (kept by the service worker) and a pack of chosen numbers (kept here).

import { remember, remembered, trust, WEAKEST } from "./route.js";
import { BASES } from "./words.js";

export const LAST = "gripledger-last";
export const PACK = "gripledger-pack";
const SIDES = ["mates", "equivalents", "drawing.svg"];
/** What every view of a number also asks: the documents' titles and the conditions of a joint. */
const SHARED = ["/v1/sources?limit=300", "/v1/tables/conditions?limit=100"];

/** Whether this browser may keep answers at all; it may not at an address without https. */
export function canKeep() {
  return "caches" in window;
}

/** The chosen numbers: [{number, release, at, bases}]. */
export function pack() {
  try {
    const read = JSON.parse(remembered("pack") ?? "[]");
    return Array.isArray(read) ? read.filter((one) => typeof one?.number === "string").map((one) => ({ ...one, bases: one.bases ?? [WEAKEST] })) : [];
  } catch {
    return [];
  }
}

/** Every number whose answer is stored, chosen ones first. */
export async function storedNumbers() {
  const found = new Set(pack().map((one) => one.number));
  if (!canKeep()) return [...found];
  for (const name of [PACK, LAST]) {
    if (!(await caches.has(name))) continue;
    for (const request of await (await caches.open(name)).keys()) {
      const { pathname, searchParams } = new URL(request.url);
      const match = searchParams.has("asked") ? null : pathname.match(/^\/v1\/parts\/([^/]+)$/);
      if (match) found.add(decodeURIComponent(match[1]));
    }
  }
  return [...found];
}

function stamped(body, type, release) {
  return new Response(body, { headers: { "content-type": type, "x-stored-at": new Date().toISOString(), "x-release": release } });
}

function at(path, basis) {
  return basis === WEAKEST ? path : `${path}?basis=${basis}`;
}

/** Keeps numbers with their mates, alternates and drawings, at each of `bases`. Returns {kept, refused, partly, why}. */
export async function keep(numbers, bases = [...new Set([WEAKEST, trust()])]) {
  const nothing = (why) => ({ kept: [], refused: numbers, partly: [], why });
  if (!canKeep()) return nothing("This browser keeps nothing at an address without https.");
  const cache = await caches.open(PACK);
  const done = new Map();
  const partly = new Set();
  let refused = [];
  for (const basis of bases) {
    const answer = await decoded(numbers, basis);
    if (!answer) return nothing("The service cannot be reached; nothing was changed.");
    refused = answer.results.filter((one) => !one.part).map((one) => one.asked);
    for (const { part } of answer.results) {
      if (!part) continue;
      const path = `/v1/parts/${encodeURIComponent(part.number)}`;
      const whole = { ...part, notice: answer.notice, release: answer.release };
      await cache.put(at(path, basis), stamped(JSON.stringify(whole), "application/json", answer.release));
      for (const side of SIDES) if (!(await fetched(cache, at(`${path}/${side}`, basis), answer.release))) partly.add(part.number);
      done.set(part.number, { number: part.number, release: answer.release, at: new Date().toISOString(), bases: [...(done.get(part.number)?.bases ?? []), basis] });
    }
  }
  for (const path of SHARED) await fetched(cache, path, "");
  const before = pack();
  const one = (number) => before.find((each) => each.number === number && each.release === done.get(number).release)?.bases ?? [];
  const kept = [...done.values()].map((each) => ({ ...each, bases: [...new Set([...one(each.number), ...each.bases])] }));
  remember("pack", JSON.stringify([...kept, ...before.filter((each) => !done.has(each.number))]));
  navigator.storage?.persist?.().catch(() => undefined);
  return { kept: [...done.keys()], refused, partly: [...partly], why: "" };
}

/** The numbers decoded at once, at one basis; null when the service does not answer. */
async function decoded(numbers, basis) {
  const init = { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ numbers }) };
  const response = await fetch(at("/v1/parts/decode", basis), init).catch(() => null);
  return response?.ok ? response.json() : null;
}

/** Whether an answer fresh from the service was put into the pack; a drawing that the tables cannot give counts as got. */
async function fetched(cache, path, release) {
  const response = await fetch(path).catch(() => null);
  if (!response || response.status >= 500 || response.headers.has("x-stored-at")) return false;
  if (response.ok) await cache.put(path, stamped(await response.text(), response.headers.get("content-type"), release));
  return true;
}

/** Stores the pack at a basis that the trust switch was just set to, where it is not stored so yet. Returns the numbers stored. */
export async function keepAt(basis) {
  const lacking = pack().filter((one) => !one.bases.includes(basis)).map((one) => one.number);
  return lacking.length && canKeep() ? (await keep(lacking, [basis])).kept : [];
}

/** The bases at which an answer about a number is stored, strongest first. `side`: empty, or one of the sides of a number. */
export async function storedAt(number, side = "") {
  if (!canKeep()) return [];
  const path = `/v1/parts/${encodeURIComponent(number)}${side ? `/${side}` : ""}`;
  const found = [];
  for (const [basis] of BASES) {
    for (const name of [LAST, PACK]) {
      if (await caches.has(name) && await (await caches.open(name)).match(at(path, basis), { ignoreVary: true })) { found.push(basis); break; }
    }
  }
  return found;
}

/** Lets a chosen number go. */
export async function drop(number) {
  remember("pack", JSON.stringify(pack().filter((one) => one.number !== number)));
  if (!canKeep()) return;
  const cache = await caches.open(PACK);
  const path = `/v1/parts/${encodeURIComponent(number)}`;
  for (const side of ["", ...SIDES.map((one) => `/${one}`)]) await cache.delete(path + side, { ignoreSearch: true });
}

let renewing = null;

/** After an answer straight from the service: when its release is not the one stored, what is stored is renewed. Says so in words, else "". */
export async function releaseSeen(release) {
  const before = remembered("release");
  if (before === release) return "";
  remember("release", release);
  if (before === null || renewing) return "";
  renewing = renew(release);
  const words = await renewing;
  renewing = null;
  return words;
}

async function renew(release) {
  if (!canKeep()) return "";
  const chosen = pack();
  const last = await caches.open(LAST);
  for (const request of await last.keys()) {
    const from = (await last.match(request, { ignoreVary: true }))?.headers.get("x-release") ?? "";
    if (!from || !release.startsWith(from.slice(0, 12))) await last.delete(request);
  }
  const bases = [...new Set([WEAKEST, ...chosen.flatMap((one) => one.bases)])];
  const { kept } = chosen.length ? await keep(chosen.map((one) => one.number), bases) : { kept: [] };
  const counted = chosen.length ? ` ${kept.length} of ${chosen.length} chosen numbers were stored again.` : "";
  return `The service has a new release, ${release.slice(0, 12)}. Older stored answers were let go.${counted}`;
}
