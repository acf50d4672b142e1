// What mates with a part: the conditions as switches, what fits, what is ruled out and why.

import { ask } from "../api.js";
import { conditions, stated, switches, wanted } from "../conditions.js";
import { h } from "../elements.js";
import { here } from "../route.js";
import { basisMark, headed, sourced } from "../sources.js";
import { several, shortly, VERDICTS, words } from "../words.js";
import { cautions, partHead, refusalNode } from "./part.js";
import { unheard } from "./unheard.js";

/** Candidates of a role seen at once, and candidates ruled out; the rest are a tap away. */
const SEEN = 4;
const SEEN_OUT = 6;

/** The view of #/part/{number}/mates. */
export async function show(route) {
  const number = route.steps[1];
  const listed = conditions();
  const given = [...route.query.keys()].some((name) => name !== "basis") ? stated(route.query, await listed) : {};
  const [answer, list] = await Promise.all([ask(`parts/${encodeURIComponent(number)}/mates`, given), listed]);
  if (!answer.ok) {
    const title = h("h1", { tabindex: "-1", class: "number" }, number);
    const why = answer.status ? refusalNode(number, answer.data) : await unheard(number, "mates", Object.keys(given).length > 0);
    return { title: `${number}: what mates`, node: h("article", {}, title, switches(route.query, list, []), why, h("p", {}, h("a", { class: "button", href: here(["part", number], {}) }, "The number itself"))), focus: title, said: answer.data.detail };
  }
  const { data } = answer;
  const top = partHead(data, "mates");
  const { fits = 0, conditional = 0, excluded = 0 } = data.counts;
  const counted = `${fits} fit, ${conditional} on conditions, ${excluded} ruled out`;
  const out = data.candidates.filter((one) => one.verdict === "excluded");
  const node = h("article", {}, top.node, switches(route.query, list, wanted(data.candidates.flatMap((one) => one.findings))),
    h("p", { class: "counted" }, h("strong", {}, counted)),
    h("div", { class: "roles" }, roles(data.candidates).map((role) => group(role, data.candidates.filter((one) => one.role === role && one.verdict !== "excluded")))),
    out.length ? h("section", { class: "out" }, h("h2", {}, "Ruled out, and why", h("span", { class: "count" }, ` ${out.length}`)), headed(out.map((one) => candidate(one, [])), SEEN_OUT, "ruled out")) : null,
    data.candidates.length ? null : h("p", {}, "The tables offer no mate for this part."),
    cautions(data.cautions));
  return { title: `${data.number}: what mates`, said: counted, node, focus: top.title };
}

/** The roles of an answer: plain ones (nut, washer) before the special ones (check nut, star washer). */
function roles(candidates) {
  const found = [...new Set(candidates.map((one) => one.role))];
  return [...found.filter((role) => !role.includes("_")), ...found.filter((role) => role.includes("_"))];
}

function group(role, list) {
  if (!list.length) return null;
  // what is a condition on every one of them is said once, above them
  const shared = list.length > 1 ? deciding(list[0]).filter((text) => list.every((one) => deciding(one).includes(text))) : [];
  return h("section", {}, h("h2", {}, several(role), h("span", { class: "count" }, ` ${list.length}`)), shared.length ? h("p", { class: "common" }, "For all of these: ", shared.join(" ")) : null,
    headed(list.map((one) => candidate(one, shared)), SEEN, several(role).toLowerCase()));
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
  node.unfold = () => { if (!inside.firstChild) fill(inside, one); };
  node.addEventListener("toggle", () => { if (node.open) node.unfold(); });
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
  const open = [...(one.unstated ?? []).map((name) => `not stated: ${shortly(name)}`), ...(one.unknown ?? []).map((name) => `not known: ${words(name)}`)];
  return sourced([h("span", { class: "what" }, h("span", { class: `verdict ${tone}` }, h("span", { "aria-hidden": "true" }, `${sign} `), `${word}: `), one.text, open.length ? h("span", { class: "hint" }, ` ${open.join("; ")}`) : null, one.parts?.length ? h("span", { class: "hint number" }, ` ${one.parts.join(", ")}`) : null),
    basisMark(one.basis)], one, null, "finding");
}
