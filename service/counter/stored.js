// What this device keeps: the last answers (kept by the service worker) and a pack of chosen numbers (kept here).

import { remember, remembered } from "./route.js";

export const LAST = "gripledger-last";
export const PACK = "gripledger-pack";

/** Whether this browser may keep answers at all; it may not at an address without https. */
export function canKeep() {
  return "caches" in window;
}

/** The chosen numbers: [{number, release, at}]. */
export function pack() {
  try {
    const read = JSON.parse(remembered("pack") ?? "[]");
    return Array.isArray(read) ? read.filter((one) => typeof one?.number === "string") : [];
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
      const match = new URL(request.url).pathname.match(/^\/v1\/parts\/([^/]+)$/);
      if (match) found.add(decodeURIComponent(match[1]));
    }
  }
  return [...found];
}

function stamped(body, type) {
  return new Response(body, { headers: { "content-type": type, "x-stored-at": new Date().toISOString() } });
}

/** Keeps numbers with their mates, alternates and drawings. Returns {kept, refused, why}. */
export async function keep(numbers) {
  if (!canKeep()) return { kept: [], refused: numbers, why: "This browser keeps nothing at an address without https." };
  let answer;
  try {
    const response = await fetch("/v1/parts/decode", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ numbers }) });
    if (!response.ok) throw new Error(String(response.status));
    answer = await response.json();
  } catch {
    return { kept: [], refused: numbers, why: "The service cannot be reached; nothing was changed." };
  }
  const cache = await caches.open(PACK);
  const kept = [];
  for (const result of answer.results) {
    if (!result.part) continue;
    const { number } = result.part;
    const whole = { ...result.part, notice: answer.notice, release: answer.release };
    const path = `/v1/parts/${encodeURIComponent(number)}`;
    await cache.put(path, stamped(JSON.stringify(whole), "application/json"));
    for (const side of ["mates", "equivalents", "drawing.svg"]) {
      const more = await fetch(`${path}/${side}`).catch(() => null);
      if (more?.ok && !more.headers.get("x-stored-at")) await cache.put(`${path}/${side}`, stamped(await more.text(), more.headers.get("content-type")));
    }
    kept.push({ number, release: answer.release, at: new Date().toISOString() });
  }
  const names = new Set(kept.map((one) => one.number));
  remember("pack", JSON.stringify([...kept, ...pack().filter((one) => !names.has(one.number))]));
  navigator.storage?.persist?.().catch(() => undefined);
  return { kept: kept.map((one) => one.number), refused: answer.results.filter((one) => !one.part).map((one) => one.asked), why: "" };
}

/** Lets a chosen number go. */
export async function drop(number) {
  remember("pack", JSON.stringify(pack().filter((one) => one.number !== number)));
  if (!canKeep()) return;
  const cache = await caches.open(PACK);
  const path = `/v1/parts/${encodeURIComponent(number)}`;
  for (const side of ["", "/mates", "/equivalents", "/drawing.svg"]) await cache.delete(path + side);
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
  const numbers = pack().map((one) => one.number);
  await caches.delete(LAST);
  const { kept } = numbers.length ? await keep(numbers) : { kept: [] };
  const counted = numbers.length ? ` ${kept.length} of ${numbers.length} chosen numbers were stored again.` : "";
  return `The service has a new release, ${release.slice(0, 12)}. Older stored answers were let go.${counted}`;
}
