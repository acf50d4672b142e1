// The conditions of a joint as switches. The service lists which there are; the four that matter most stand open, the rest one tap deeper.

import { ask } from "./api.js";
import { choice, flag, h, labelled } from "./elements.js";
import { change } from "./route.js";
import { CONDITIONS, heading, LOADS, MATERIALS, words } from "./words.js";

/** Those that have a place of their own. */
const OPEN = ["temperature", "rotates", "load", "material"];
const COMMON = ["aluminium", "steel", "wood"];
const YES_NO = [["", "not stated"], ["true", "yes"], ["false", "no"]];
let known = null;

/** Every condition the service takes: [{condition, form, unit, meaning}]; those the page has words for when the service cannot say. */
export async function conditions() {
  if (known) return known;
  const answer = await ask("tables/conditions", { limit: "100", basis: "from-memory" });
  if (!answer.ok || !answer.data.items?.length) return [...OPEN, ...Object.keys(CONDITIONS)].map((condition) => ({ condition, form: "flag", meaning: "" }));
  known = answer.data.items;
  return known;
}

/** The conditions that a route states, as the service takes them. */
export function stated(query, list) {
  const found = {};
  for (const { condition } of list) if (query.get(condition)) found[condition] = query.get(condition);
  return found;
}

/** Names of conditions that an answer's rules wanted to know and were not told, the most wanted first. */
export function wanted(findings) {
  const counts = new Map();
  for (const one of findings) for (const name of one.unstated ?? []) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts.keys()].sort((one, other) => counts.get(other) - counts.get(one));
}

/** A condition in words. */
function worded(one) {
  const said = CONDITIONS[one.condition] ?? heading(one.meaning || one.condition);
  return one.unit === "[in_i]" ? `${said}, in` : said;
}

/** Switches for what is known of the joint. Nothing pressed is nothing assumed. `deciding`: names that would decide something in this answer. */
export function switches(query, list, deciding) {
  const value = (name) => query.get(name) ?? "";
  const heat = h("input", { id: "temperature", type: "text", inputmode: "decimal", value: value("temperature"), maxlength: "12",
    on: { change: (event) => change({ temperature: event.target.value.trim() }) } });
  const others = list.filter((one) => !OPEN.includes(one.condition));
  const asked = others.filter((one) => deciding.includes(one.condition)).sort((one, other) => deciding.indexOf(one.condition) - deciding.indexOf(other.condition));
  const rest = others.filter((one) => !asked.includes(one));
  const opened = others.filter((one) => value(one.condition));
  return h("section", { class: "switches", "aria-label": "What is known of the joint" },
    h("div", { class: "heat" }, labelled("Highest heat, °F", heat)),
    choice("rotates", "Bolt or nut turns in service", YES_NO, value("rotates"), (to) => change({ rotates: to })),
    choice("load", "Load on the bolt", LOADS, value("load"), (to) => change({ load: to })),
    material(value("material")),
    h("details", { open: opened.length > 0 }, h("summary", {}, "More conditions", opened.length ? `, ${opened.length} stated` : asked.length ? `, ${asked.length} would decide something here` : ""),
      asked.length ? [h("p", { class: "hint" }, "Would decide something here"), h("div", { class: "flags" }, asked.map((one) => condition(one, value(one.condition))))] : null,
      asked.length && rest.length ? h("p", { class: "hint" }, "All others") : null,
      h("div", { class: "flags" }, rest.map((one) => condition(one, value(one.condition))))),
    h("p", { class: "hint" }, "What is not stated is not assumed: a rule that depends on it leaves the verdict open."));
}

function condition(one, value) {
  const set = (to) => change({ [one.condition]: to });
  if (one.form === "flag") return flag(`flag-${one.condition}`, worded(one), value, set);
  if (one.values) return among(one, value, set);
  const input = h("input", { id: `flag-${one.condition}`, type: "text", inputmode: "decimal", value, maxlength: "12", on: { change: (event) => set(event.target.value.trim()) } });
  return h("div", { class: "state" }, h("label", { for: input.id }, worded(one)), input);
}

function among(one, value, set) {
  const select = h("select", { id: `flag-${one.condition}`, on: { change: (event) => set(event.target.value) } },
    h("option", { value: "" }, "not stated"), one.values.split(" ").map((word) => h("option", { value: word }, words(word))));
  select.value = value;
  return h("div", { class: "state" }, h("label", { for: select.id }, worded(one)), select);
}

function material(value) {
  const rare = MATERIALS.filter((name) => !COMMON.includes(name));
  const select = h("select", { id: "material-other", "aria-label": "Another material under head and nut", on: { change: (event) => change({ material: event.target.value }) } },
    h("option", { value: "" }, "another …"), rare.map((name) => h("option", { value: name }, name)));
  select.value = rare.includes(value) ? value : "";
  if (select.value) select.classList.add("chosen");
  const set = choice("material", "Under head and nut", [["", "not stated"], ...COMMON.map((name) => [name, name])], value, (to) => change({ material: to }));
  set.querySelector(".choices").append(select);
  return set;
}
