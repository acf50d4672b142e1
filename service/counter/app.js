// Starts the page: the switch of trust, the ways between views, what is said about signal and release, and the view itself.

import { ask, begin, listen, releaseNow, watch } from "./api.js";
import { h, say } from "./elements.js";
import { change, here, parse, remember, sought, trust, WEAKEST } from "./route.js";
import { keepAt, releaseSeen } from "./stored.js";
import { moduleOf } from "./ways.js";
import { BASES, throughWord } from "./words.js";

const WAYS = [["", "Number"], ["joint", "Joint"], ["list", "List"], ["what", "Identify"], ["stored", "Stored"]];
const view = document.getElementById("view");
const signal = document.getElementById("signal");
const releaseLine = document.getElementById("release");
let shown = null;
let turn = 0;
let stale = false;

async function render(renewed = false) {
  const mine = ++turn;
  begin(renewed);
  stale = false;
  const route = parse(location.hash);
  const path = route.steps.join("/");
  const moved = path !== shown;
  drawTop(route);
  view.setAttribute("aria-busy", "true");
  let made;
  try {
    made = await (await moduleOf(route)).show(route);
  } catch (error) {
    made = { title: "This view could not be shown", node: h("article", {}, h("h1", { tabindex: "-1" }, "This view could not be shown"), h("p", { class: "refusal" }, error.message)) };
  }
  if (mine !== turn) return;
  const held = typing();
  const open = moved ? new Set() : opened();
  view.replaceChildren(made.node);
  for (const one of view.querySelectorAll("details:not([open])")) if (open.has(headOf(one))) one.open = true;
  view.removeAttribute("aria-busy");
  document.title = `${made.title} · Gripledger`;
  const result = sought() ? made.result : null;
  if (result) {
    result.focus({ preventScroll: true });
    result.scrollIntoView({ behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
  } else if (!moved && held) goOn(held);
  else if (shown !== null) {
    (made.focus ?? view).focus({ preventScroll: true });
    window.scrollTo(0, 0);
  }
  shown = path;
  say(made.said ?? made.title);
  made.after?.();
}

/** The field in the hand, and what is typed in it so far. */
function typing() {
  const { id, value, selectionStart } = document.activeElement ?? {};
  return id ? { id, value, at: selectionStart } : null;
}

/** Puts the reader back into the field, with what was typed while the answer was on its way. */
function goOn({ id, value, at }) {
  const field = document.getElementById(id);
  if (!field) return;
  field.focus({ preventScroll: true });
  if (field.type !== "text" || field.value === value) return;
  const before = field.value;
  field.value = value;
  field.setSelectionRange(at, at);
  field.addEventListener("blur", () => { if (field.value !== before) field.dispatchEvent(new Event("change")); }, { once: true });
}

/** What is unfolded now, by its words, so that a changed condition does not fold it up again. */
function opened() {
  return new Set([...view.querySelectorAll("details[open]")].map(headOf));
}

function headOf(details) {
  return details.querySelector("summary")?.textContent ?? "";
}

function drawTop(route) {
  const now = route.steps[0] === "part" ? "" : route.steps[0] ?? "";
  document.getElementById("ways").replaceChildren(...WAYS.map(([name, words]) =>
    h("li", {}, h("a", { href: here(name ? [name] : [], {}), "aria-current": name === now ? "page" : null }, words))));
  document.getElementById("trust").value = BASES.some(([name]) => name === trust()) ? trust() : WEAKEST;
}

function setTrust() {
  const select = document.getElementById("trust");
  select.replaceChildren(...BASES.map(([name]) => h("option", { value: name }, throughWord(name))).reverse());
  select.addEventListener("change", () => {
    remember("trust", select.value === WEAKEST ? null : select.value);
    change({ basis: select.value === WEAKEST ? null : select.value });
    keepAt(select.value); // so that the switch holds without a signal too
  });
}

function tell({ release, stored, at, why, lost }) {
  if (release) {
    releaseLine.replaceChildren("Release ", h("code", { title: release }, release.slice(0, 12)), h("span", { class: "whole" }, release.slice(12)));
    if (!stored) releaseSeen(release).then((words) => { if (words) { signal.hidden = false; signal.textContent = words; } });
  }
  if (stored) {
    stale = true; // and stays so for this view, whatever else is answered
    signal.hidden = false;
    const from = `was stored on this device ${when(at)}, from release ${release?.slice(0, 12) ?? "unknown"}.`;
    signal.textContent = why === "slow" ? `Slow signal. This answer ${from} The fresh one takes its place when it comes.` : `No signal. This answer ${from}`;
  } else if (stale) return;
  else if (lost) {
    signal.hidden = false;
    signal.textContent = "No signal. Only stored answers can be shown.";
  } else if (/^(No|Slow) signal/.test(signal.textContent)) signal.hidden = true;
}

function when(at) {
  const date = new Date(at);
  return Number.isNaN(date.getTime()) ? "at an unknown time" : `on ${date.toLocaleDateString()} at ${date.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}`;
}

async function keepShell() {
  if (!("serviceWorker" in navigator)) return;
  listen(() => render(true));
  const had = Boolean(navigator.serviceWorker.controller);
  try {
    await navigator.serviceWorker.register("/counter/sw.js", { scope: "/counter" });
  } catch {
    return; // not a secure address: the page works, it keeps nothing
  }
  if (had) {
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      signal.hidden = false;
      signal.replaceChildren("This page was renewed. ", h("button", { type: "button", on: { click: () => location.reload() } }, "Load it again"));
    });
  }
}

setTrust();
watch(tell);
window.addEventListener("hashchange", () => render());
document.querySelector(".skip").addEventListener("click", (event) => { event.preventDefault(); view.focus(); });
render().then(() => {
  if (releaseNow() === null) ask("release", { basis: "from-memory" }); // a view that asked nothing still says which release it stands on
  setTimeout(keepShell, 300);
  import("./paper.js"); // listens for a print from now on
});
