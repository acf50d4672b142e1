// What mates with a part: the conditions as switches, what fits, what is ruled out and why.

import { ask } from "../api.js";
import { choice, flag, h, labelled } from "../elements.js";
import { change, here } from "../route.js";
import { basisMark, sourced } from "../sources.js";
import { FLAGS, LOADS, MATERIALS, several, VERDICTS, words } from "../words.js";
import { cautions, partHead, refusalNode } from "./part.js";

const PLAIN = ["temperature", "load", "material"];

/** The conditions that a route states, as the service takes them. */
export function stated(query) {
  const found = {};
  for (const name of PLAIN) if (query.get(name)) found[name] = query.get(name);
  for (const [name] of FLAGS) if (query.get(name)) found[name] = query.get(name);
  return found;
}

/** Switches for what is known of the joint. Nothing pressed is nothing assumed. */
export function switches(query) {
  const heat = h("input", { id: "temperature", type: "text", inputmode: "decimal", value: query.get("temperature") ?? "", maxlength: "12",
    on: { change: (event) => change({ temperature: event.target.value.trim() }) } });
  const material = h("select", { id: "material", on: { change: (event) => change({ material: event.target.value }) } },
    h("option", { value: "" }, "not stated"), MATERIALS.map((name) => h("option", { value: name }, name)));
  material.value = query.get("material") ?? "";
  const known = (name) => ["true", "false"].includes(query.get(name));
  const one = ([name, text]) => flag(`flag-${name}`, text, query.get(name) ?? "", (value) => change({ [name]: value }));
  return h("section", { class: "switches", "aria-label": "What is known of the joint" },
    h("div", { class: "pair" }, labelled("Highest heat, °F", heat), labelled("Under head and nut", material)),
    choice("load", "Load on the bolt", LOADS, query.get("load") ?? "", (value) => change({ load: value })),
    h("div", { class: "flags" }, FLAGS.slice(0, 2).map(one)),
    h("details", { open: FLAGS.slice(2).some(([name]) => known(name)) }, h("summary", {}, "More conditions"), h("div", { class: "flags" }, FLAGS.slice(2).map(one))),
    h("p", { class: "hint" }, "What is not stated is not assumed: a rule that depends on it makes a candidate conditional."));
}

/** The view of #/part/{number}/mates. */
export async function show(route) {
  const number = route.steps[1];
  const answer = await ask(`parts/${encodeURIComponent(number)}/mates`, stated(route.query));
  if (!answer.ok) {
    const title = h("h1", { tabindex: "-1", class: "number" }, number);
    return { title: `${number}: what mates`, node: h("article", {}, title, switches(route.query), refusalNode(number, answer.data), h("p", {}, h("a", { class: "button", href: here(["part", number], {}) }, "The number itself"))), focus: title, said: answer.data.detail };
  }
  const { data } = answer;
  const top = partHead(data, "mates");
  const { fits = 0, conditional = 0, excluded = 0 } = data.counts;
  const counted = `${fits} fit, ${conditional} on conditions, ${excluded} ruled out`;
  const roles = [...new Set(data.candidates.map((one) => one.role))];
  const out = data.candidates.filter((one) => one.verdict === "excluded");
  const node = h("article", {}, top.node, switches(route.query),
    h("p", { class: "counted" }, h("strong", {}, counted)),
    roles.map((role) => group(role, data.candidates.filter((one) => one.role === role && one.verdict !== "excluded"))),
    out.length ? h("section", { class: "out" }, h("h2", {}, "Ruled out, and why"), out.map((one) => candidate(one, []))) : null,
    data.candidates.length ? null : h("p", {}, "The tables offer no mate for this part."),
    cautions(data.cautions));
  return { title: `${data.number}: what mates`, said: counted, node, focus: top.title };
}

function group(role, list) {
  if (!list.length) return null;
  // what is a condition on every one of them is said once, above them
  const shared = list.length > 1 ? deciding(list[0]).filter((text) => list.every((one) => deciding(one).includes(text))) : [];
  return h("section", {}, h("h2", {}, several(role), h("span", { class: "count" }, ` ${list.length}`)), shared.length ? h("p", { class: "common" }, "For all of these: ", shared.join(" ")) : null,
    list.map((one) => candidate(one, shared)));
}

function deciding(one) {
  const effect = { excluded: "excludes", conditional: "conditions" }[one.verdict];
  return one.findings.filter((each) => each.effect === effect).map((each) => each.text);
}

/** A verdict as sign and word. */
export function verdictMark(verdict) {
  const [sign, word, tone] = VERDICTS[verdict] ?? ["?", words(verdict), "care"];
  return h("span", { class: `verdict ${tone}` }, h("span", { "aria-hidden": "true" }, `${sign} `), word);
}

function candidate(one, shared) {
  const why = deciding(one).filter((text) => !shared.includes(text));
  const summary = h("span", { class: "what" }, h("span", { class: "line" }, h("span", { class: "number" }, one.number), verdictMark(one.verdict)),
    h("span", { class: "short" }, one.description.split(";")[0]), why.map((text) => h("span", { class: "why" }, text)));
  const inside = h("div", { class: "deeper" });
  const node = h("details", { class: "sourced candidate" }, h("summary", {}, summary), inside);
  node.addEventListener("toggle", () => { if (node.open && !inside.firstChild) fill(inside, one); });
  return node;
}

function fill(inside, one) {
  inside.append(h("p", {}, one.description),
    one.variants.length ? h("p", {}, `The same holds for ${one.variants.join(", ")}.`) : "",
    ...one.findings.map(finding),
    h("p", { class: "hint" }, "Offered by ", one.mate.source ?? "", one.mate.locator ? `, ${one.mate.locator}. ` : ". ", basisMark(one.mate.basis) ?? ""));
  if (!one.any_of) inside.append(h("p", {}, h("a", { class: "button", href: here(["part", one.number], {}) }, `Read ${one.number}`)));
}

const EFFECTS = { excludes: ["✕", "rules it out", "bad"], conditions: ["!", "condition", "care"], notes: ["i", "note", "plain"], fits: ["✓", "fits", "good"] };

/** One rule's word on a set or a candidate. */
export function finding(one) {
  const [sign, word, tone] = EFFECTS[one.effect] ?? ["i", words(one.effect), "plain"];
  const open = [...(one.unstated ?? []).map((name) => `not stated: ${words(name)}`), ...(one.unknown ?? []).map((name) => `not known: ${words(name)}`)];
  return sourced([h("span", { class: "what" }, h("span", { class: `verdict ${tone}` }, h("span", { "aria-hidden": "true" }, `${sign} `), `${word}: `), one.text, open.length ? h("span", { class: "hint" }, ` ${open.join("; ")}`) : null, one.parts?.length ? h("span", { class: "hint number" }, ` ${one.parts.join(", ")}`) : null),
    basisMark(one.basis)], one, null, "finding");
}
