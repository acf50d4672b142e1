// What is this: caliper readings, a thread and a head mark to candidates, and what to measure next.

import { notServed, post } from "../api.js";
import { h, labelled } from "../elements.js";
import { change, here } from "../route.js";
import { basisMark, sourced } from "../sources.js";
import { heading, words } from "../words.js";

const READINGS = [
  ["shank_diameter", "Shank diameter, in"], ["length", "Length under the head, in"], ["grip_length", "Plain part of the shank, in"], ["width_across_flats", "Across flats, in"],
  ["inside_diameter", "Inside diameter, in"], ["outside_diameter", "Outside diameter, in"], ["thickness", "Thickness, in"],
];
const SEEN = [["thread", "Thread, by a gauge", "1/4-28"], ["threads_per_inch", "Threads per inch", ""], ["head_mark", "Head mark, in words", "raised cross, two dashes, plain …"], ["colour", "Colour", ""]];
const KINDS = ["bolt", "screw", "nut", "washer", "pin", "cotter_pin", "rivet"];
const NAMES = [...READINGS, ...SEEN].map(([name]) => name);
const VERDICT = { for: ["✓", "speaks for it", "good"], allowed: ["✓", "is allowed", "good"], doubtful: ["!", "is doubtful", "care"], against: ["✕", "speaks against it", "bad"], silent: ["–", "says nothing", "plain"] };

/** The view of #/what. */
export async function show(route) {
  const { query } = route;
  const title = h("h1", { tabindex: "-1" }, "What is this?");
  const input = (name, caption, hint, numeric) => labelled(caption, h("input", { id: `what-${name}`, type: "text", inputmode: numeric ? "decimal" : "text", value: query.get(name) ?? "", maxlength: "40", autocomplete: "off" }), hint);
  const doubt = h("input", { id: "what-doubt", type: "text", inputmode: "decimal", value: query.get("doubt") ?? ".001", maxlength: "12" });
  const kind = h("select", { id: "what-kind" }, h("option", { value: "" }, "not known"), KINDS.map((name) => h("option", { value: name }, words(name))));
  const magnet = h("select", { id: "what-magnetic" }, [["", "not tried"], ["true", "a magnet sticks"], ["false", "a magnet does not stick"]].map(([value, text]) => h("option", { value }, text)));
  kind.value = query.get("kind") ?? "";
  magnet.value = query.get("magnetic") ?? "";
  const form = h("form", { class: "no-print" }, h("h2", {}, "Measured"),
    h("div", { class: "grid" }, labelled("Every reading may be off by, in", doubt), READINGS.map(([name, caption]) => input(name, caption, "", true))),
    h("h2", {}, "Seen"), h("div", { class: "grid" }, labelled("Kind of part", kind), SEEN.map(([name, caption, hint]) => input(name, caption, hint, name === "threads_per_inch")), labelled("Magnet", magnet)),
    h("div", { class: "row" }, h("button", { type: "submit", class: "main" }, "Find what fits")));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const pairs = { doubt: doubt.value.trim(), kind: kind.value, magnetic: magnet.value };
    for (const name of NAMES) pairs[name] = form.querySelector(`#what-${name}`).value.trim();
    change(pairs);
  });
  const result = NAMES.some((name) => query.get(name)) ? await candidates(query) : null;
  return { title: "What is this?", said: result?.said ?? "What is this?", focus: title, node: h("article", {}, title,
    h("p", { class: "notice" }, "Measurements narrow a part down; they do not prove it, and a head mark alone decides nothing. A part without traceable papers stays off the aircraft."), form, result?.node) };
}

function question(query) {
  const body = { readings: READINGS.filter(([name]) => query.get(name)).map(([name]) => ({ quantity: name, value: query.get(name), uncertainty: query.get("doubt") || "0" })) };
  for (const name of ["thread", "head_mark", "colour", "kind"]) if (query.get(name)) body[name] = query.get(name);
  if (query.get("threads_per_inch")) body.threads_per_inch = Number(query.get("threads_per_inch"));
  if (query.get("magnetic")) body.magnetic = query.get("magnetic") === "true";
  return body;
}

async function candidates(query) {
  const answer = await post("parts/identify", question(query));
  if (notServed(answer)) return { said: "Not served here", node: h("p", { class: "notice" }, "Finding a part from measurements is not served here yet. If the part has a number, read that.") };
  if (!answer.ok) return { said: answer.data.title, node: h("div", { class: "refusal" }, h("p", {}, answer.data.detail ?? answer.data.title), (answer.data.faults ?? []).map((one) => h("p", {}, `${words(one.at)}: ${one.reason}`))) };
  const { data } = answer;
  const said = `${data.candidates.length} of ${data.total} candidates`;
  return { said: `${said}. ${data.statement}`, node: h("section", {}, h("h2", {}, said), h("p", {}, data.statement), data.next_measurement ? next(data.next_measurement) : null, data.candidates.map(candidate)) };
}

function next(one) {
  return h("div", { class: "notice" }, h("p", {}, h("strong", {}, `Measure next: ${heading(one.attribute)}. `), one.how),
    h("ul", {}, one.shows.map((shown) => h("li", {}, `${shown.value}: ${shown.numbers.slice(0, 6).join(", ")}${shown.numbers.length > 6 ? " …" : ""}`))));
}

function candidate(one) {
  const said = one.evidence.map((each) => {
    const [sign, word, tone] = VERDICT[each.verdict] ?? ["?", words(each.verdict), "plain"];
    return sourced([h("span", { class: "what" }, h("span", { class: `verdict ${tone}` }, h("span", { "aria-hidden": "true" }, `${sign} `), `${heading(each.clue)} ${word}: `), each.text), basisMark(each.basis)], each);
  });
  return h("section", { class: "relative" }, h("h3", {}, `${one.rank}. `, h("span", { class: "number" }, one.basic), ` ${one.title}`),
    h("p", {}, one.numbers > 1 ? `${one.numbers} numbers, such as ` : "", h("a", { class: "button number", href: here(["part", one.example], {}) }, one.example)),
    one.open.length ? h("p", { class: "hint" }, `Still open: ${one.open.map((each) => `${each.caption} (${each.possible} possible)`).join("; ")}.`) : null, said);
}
