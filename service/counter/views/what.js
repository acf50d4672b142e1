// What is this: caliper readings and a head mark to candidates.

import { notServed, post } from "../api.js";
import { h, labelled } from "../elements.js";
import { change, here } from "../route.js";
import { heading, words } from "../words.js";

const READINGS = [
  ["diameter", "Shank or thread diameter, in"], ["length", "Length under the head, in"], ["grip", "Plain shank, in"], ["across_flats", "Across flats, in"],
  ["inside_diameter", "Washer inside, in"], ["outside_diameter", "Washer outside, in"], ["thickness", "Thickness, in"], ["threads_per_inch", "Threads per inch"],
];

/** The view of #/what. */
export async function show(route) {
  const title = h("h1", { tabindex: "-1" }, "What is this?");
  const given = READINGS.filter(([name]) => route.query.get(name));
  const mark = route.query.get("head_mark") ?? "";
  const text = (name, caption, hint) => labelled(caption, h("input", { id: `what-${name}`, type: "text", inputmode: name === "head_mark" ? "text" : "decimal", value: route.query.get(name) ?? "", maxlength: "40" }), hint);
  const form = h("form", {}, h("p", {}, "Give what was measured. A reading with its doubt is better: 0.249 ± 0.001."),
    h("div", { class: "grid" }, READINGS.map(([name, caption]) => text(name, caption)), text("head_mark", "Head mark in words", "cross, single dash, two dashes, triangle, plain")),
    h("div", { class: "row" }, h("button", { type: "submit", class: "main" }, "Find what fits")));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const pairs = {};
    for (const name of [...READINGS.map(([one]) => one), "head_mark"]) pairs[name] = form.querySelector(`#what-${name}`).value.trim();
    change(pairs);
  });
  const result = given.length || mark ? await candidates(given.map(([name]) => [name, route.query.get(name)]), mark) : null;
  return { title: "What is this?", said: result?.said ?? "What is this?", focus: title, node: h("article", {}, title,
    h("p", { class: "notice" }, "Measurements narrow a part down; they do not prove it. A head mark alone decides nothing. A part without traceable papers stays off the aircraft."), form, result?.node) };
}

function reading(given) {
  const [value, doubt] = given.split("±").map((one) => one.trim());
  return doubt ? { value, uncertainty: doubt } : { value };
}

async function candidates(given, mark) {
  const body = { readings: Object.fromEntries(given.map(([name, value]) => [name, reading(value)])) };
  if (mark) body.head_mark = mark;
  const answer = await post("parts/identify", body);
  if (notServed(answer)) return { said: "Not served here", node: h("p", { class: "notice" }, "Finding a part from measurements is not served here yet. Read its number if it has one.") };
  if (!answer.ok) return { said: answer.data.title, node: h("div", { class: "refusal" }, h("p", {}, answer.data.detail ?? answer.data.title), (answer.data.faults ?? []).map((one) => h("p", {}, `${words(one.at)}: ${one.reason}`))) };
  const list = answer.data.candidates ?? answer.data.items ?? [];
  return { said: `${list.length} candidates`, node: h("section", {}, h("h2", {}, `Candidates: ${list.length}`), list.map(candidate)) };
}

function candidate(one) {
  const lines = [...(one.for ?? []), ...(one.against ?? [])].map((each) => typeof each === "string" ? each : each.text ?? `${heading(each.reading)}: ${each.words ?? ""}`);
  return h("section", { class: "relative" }, h("h3", { class: "number" }, h("a", { href: here(["part", one.number], {}) }, one.number)), h("p", {}, one.description ?? ""), h("ul", {}, lines.map((line) => h("li", {}, line))));
}
