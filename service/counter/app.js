// Starts the page: the switch of trust, the ways between views, what is said about signal and release, and the view itself.

import { ask, releaseNow, watch } from "./api.js";
import { h, say } from "./elements.js";
import { change, here, parse, remember, trust, WEAKEST } from "./route.js";
import { releaseSeen } from "./stored.js";
import * as part from "./views/part.js";
import { BASES } from "./words.js";

const WAYS = [["", "Number"], ["joint", "Joint"], ["list", "List"], ["what", "Identify"], ["stored", "Stored"]];
const LATER = {
  joint: () => import("./views/joint.js"),
  list: () => import("./views/list.js"),
  what: () => import("./views/what.js"),
  stored: () => import("./views/kept.js"),
};
const view = document.getElementById("view");
const signal = document.getElementById("signal");
const releaseLine = document.getElementById("release");
let shown = null;
let turn = 0;

/** The module that shows a route, and what to do with it. */
async function found(route) {
  const [name, , side] = route.steps;
  if (name === "part" && side === "mates") return (await import("./views/mates.js")).show;
  if (name === "part" && side === "alternates") return (await import("./views/alternates.js")).show;
  if (LATER[name]) return (await LATER[name]()).show;
  return part.show;
}

async function render() {
  const mine = ++turn;
  const route = parse(location.hash);
  const path = route.steps.join("/");
  const moved = path !== shown;
  drawTop(route);
  view.setAttribute("aria-busy", "true");
  let made;
  try {
    made = await (await found(route))(route);
  } catch (error) {
    made = { title: "This view could not be shown", node: h("article", {}, h("h1", { tabindex: "-1" }, "This view could not be shown"), h("p", { class: "refusal" }, error.message)) };
  }
  if (mine !== turn) return;
  const held = document.activeElement?.id;
  view.replaceChildren(made.node);
  view.removeAttribute("aria-busy");
  document.title = `${made.title} · Gripledger`;
  if (!moved && held) document.getElementById(held)?.focus({ preventScroll: true });
  else if (shown !== null) {
    (made.focus ?? view).focus({ preventScroll: true });
    window.scrollTo(0, 0);
  }
  shown = path;
  say(made.said ?? made.title);
  made.after?.();
}

function drawTop(route) {
  const now = route.steps[0] === "part" ? "" : route.steps[0] ?? "";
  document.getElementById("ways").replaceChildren(...WAYS.map(([name, words]) =>
    h("li", {}, h("a", { href: here(name ? [name] : [], {}), "aria-current": name === now ? "page" : null }, words))));
  document.getElementById("trust").value = BASES.some(([name]) => name === trust()) ? trust() : WEAKEST;
}

function setTrust() {
  const select = document.getElementById("trust");
  const through = (at) => at === BASES.length - 1 ? "any basis" : at === 0 ? "published only" : `${BASES[at][1]} or better`;
  select.replaceChildren(...BASES.map(([name], at) => h("option", { value: name }, through(at))).reverse());
  select.addEventListener("change", () => {
    remember("trust", select.value === WEAKEST ? null : select.value);
    change({ basis: select.value === WEAKEST ? null : select.value });
  });
}

function tell({ release, stored, at, lost }) {
  if (release) {
    releaseLine.replaceChildren("Release ", h("code", { title: release }, release.slice(0, 12)), h("span", { class: "whole" }, release.slice(12)));
    if (!stored) releaseSeen(release).then((words) => { if (words) { signal.hidden = false; signal.textContent = words; } });
  }
  if (stored) {
    signal.hidden = false;
    signal.textContent = `No signal. This answer was stored on this device ${when(at)}, from release ${release?.slice(0, 12) ?? "unknown"}.`;
  } else if (lost) {
    signal.hidden = false;
    signal.textContent = "No signal. Only stored answers can be shown.";
  } else if (signal.textContent.startsWith("No signal")) signal.hidden = true;
}

function when(at) {
  const date = new Date(at);
  return Number.isNaN(date.getTime()) ? "at an unknown time" : `on ${date.toLocaleDateString()} at ${date.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}`;
}

async function keepShell() {
  if (!("serviceWorker" in navigator)) return;
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
window.addEventListener("hashchange", render);
document.querySelector(".skip").addEventListener("click", (event) => { event.preventDefault(); view.focus(); });
render().then(() => {
  if (releaseNow() === null) ask("release", { basis: "from-memory" }); // a view that asked nothing still says which release it stands on
  setTimeout(keepShell, 300);
});
