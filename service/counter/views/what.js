// What is this: caliper readings, a thread and a head mark to candidates, and what to measure next.

import { notServed, post } from "../api.js";
import { h, labelled } from "../elements.js";
import { change, here } from "../route.js";
import { basisMark, sourced } from "../sources.js";
import { heading, words } from "../words.js";

const READINGS = [
  ["nominal_diameter", "Diameter of shank or thread, in"], ["length", "Length under the head, in"], ["grip_length", "Plain part of the shank, in"], ["width_across_flats", "Across flats, in"],
  ["inside_diameter", "Inside diameter, in"], ["outside_diameter", "Outside diameter, in"], ["thickness", "Thickness, in"],
];
const SEEN = [["thread", "Thread, by a gauge", "1/4-28"], ["threads_per_inch", "Threads per inch", ""], ["head_mark", "Head mark, in words", "raised cross, two dashes, plain …"], ["colour", "Colour", ""]];
const KINDS = ["bolt", "screw", "nut", "plate_nut", "washer", "lock_washer", "cotter_pin", "clevis_pin", "rivet", "blind_rivet"];
const MOST = 12;
const NAMES = [...READINGS, ...SEEN].map(([name]) => name);
const VERDICT = { for: ["✓", "speaks for it", "good"], against: ["✕", "speaks against it", "bad"], "says nothing": ["–", "no row speaks of it", "plain"] };
const STANDING = { agrees: "agrees with what was seen", contradicted: "contradicted by what was seen", undecided: "undecided" };

/** The view of #/what. */
export async function show(route) {
  const { query } = route;
  const title = h("h1", { tabindex: "-1" }, "What is this?");
  const input = (name, caption, hint, numeric) => labelled(caption, h("input", { id: `what-${name}`, type: "text", inputmode: numeric ? "decimal" : "text", value: query.get(name) ?? "", maxlength: "40", autocomplete: "off" }), hint);
  const doubt = h("input", { id: "what-doubt", type: "text", inputmode: "decimal", value: query.get("doubt") ?? "", maxlength: "12" });
  const kind = h("select", { id: "what-kind" }, h("option", { value: "" }, "not known"), KINDS.map((name) => h("option", { value: name }, words(name))));
  const magnet = h("select", { id: "what-magnetic" }, [["", "not tried"], ["true", "a magnet sticks"], ["false", "a magnet does not stick"]].map(([value, text]) => h("option", { value }, text)));
  kind.value = query.get("kind") ?? "";
  magnet.value = query.get("magnetic") ?? "";
  const form = h("form", { class: "no-print" }, h("h2", {}, "Measured"),
    h("div", { class: "measures" }, labelled("Every reading may be off by, in", doubt, "either way; empty: exact"), READINGS.map(([name, caption]) => input(name, caption, "", true))),
    h("h2", {}, "Seen"), h("div", { class: "measures" }, labelled("Kind of part", kind), SEEN.map(([name, caption, hint]) => input(name, caption, hint, name === "threads_per_inch")), labelled("Magnet", magnet)),
    h("div", { class: "row" }, h("button", { type: "submit", class: "main" }, "Find what fits")));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const pairs = { doubt: doubt.value.trim(), kind: kind.value, magnetic: magnet.value };
    for (const name of NAMES) pairs[name] = form.querySelector(`#what-${name}`).value.trim();
    change(pairs, true);
  });
  const result = NAMES.some((name) => query.get(name)) ? await candidates(query) : null;
  return { title: "What is this?", said: result?.said ?? "What is this?", focus: title, result: result?.result, node: h("article", {}, title,
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
  if (!answer.status) return { said: answer.data.title, node: h("div", { class: "refusal" }, h("p", {}, "No signal, and no answer to these readings is stored on this device. Readings once asked here are stored; changed ones are a new question.")) };
  if (!answer.ok) return { said: answer.data.title, node: h("div", { class: "refusal" }, h("p", {}, answer.data.detail ?? answer.data.title), (answer.data.faults ?? []).map((one) => h("p", {}, `${words(one.at)}: ${one.reason}`))) };
  const { data } = answer;
  const said = data.candidates.length ? `${data.candidates.length}${data.more ? " and more" : ""} candidates` : "No candidate";
  const result = h("h2", { tabindex: "-1" }, said);
  return { said, result, node: h("section", {}, result, data.warnings.map((text) => h("p", { class: "notice" }, text)), data.next_measurement ? next(data.next_measurement) : null, h("div", { class: "cards" }, data.candidates.map(candidate))) };
}

function next(one) {
  const shown = one.separates.slice(0, MOST);
  return h("section", {}, h("h3", {}, `Measure next: ${words(one.quantity)}`), h("p", { class: "hint" }, `${heading(one.meaning)}.`),
    h("details", {}, h("summary", {}, `What it would leave: ${one.separates.length} sizes`), h("ul", { class: "deeper" },
      shown.map((each) => h("li", {}, `${each.display || each.value}: `, h("span", { class: "number" }, each.numbers.slice(0, 6).join(", ")))),
      one.separates.length > MOST ? h("li", {}, `and ${one.separates.length - MOST} sizes more`) : null)));
}

function candidate(one) {
  const said = one.evidence.map((each) => {
    const [sign, word, tone] = VERDICT[each.verdict] ?? ["?", words(each.verdict), "plain"];
    return sourced([h("span", { class: "what" }, h("span", { class: `verdict ${tone}` }, h("span", { "aria-hidden": "true" }, `${sign} `), `${heading(each.about)} ${word}`),
      each.display ? `: the tables give ${each.display}` : "", each.remark && each.verdict !== "says nothing" ? h("span", { class: "hint" }, ` ${each.remark}`) : null), basisMark(each.basis)], each);
  });
  return h("section", { class: "relative" }, h("h3", {}, h("span", { class: "number" }, one.number), ` ${one.title}`),
    h("p", { class: one.standing === "agrees" ? "good" : one.standing === "contradicted" ? "bad" : "care" }, heading(STANDING[one.standing] ?? one.standing)), said,
    h("p", {}, one.open.length ? `Still open: ${one.open.map(words).join(", ")}. ` : "", "One number of this group: ", h("a", { class: "button number", href: here(["part", one.example], {}) }, one.example)));
}
