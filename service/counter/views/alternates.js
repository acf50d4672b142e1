// What may stand in a part's place, side by side with it. Nothing here approves a substitution.

import { ask } from "../api.js";
import { h } from "../elements.js";
import { here } from "../route.js";
import { basisMark, citation } from "../sources.js";
import { heading } from "../words.js";
import { partHead, refusalNode } from "./part.js";
import { unheard } from "./unheard.js";

/** The view of #/part/{number}/alternates. */
export async function show(route) {
  const number = route.steps[1];
  const answer = await ask(`parts/${encodeURIComponent(number)}/equivalents`);
  if (!answer.ok) {
    const title = h("h1", { tabindex: "-1", class: "number" }, number);
    return { title: `${number}: alternates`, node: h("article", {}, title, answer.status ? refusalNode(number, answer.data) : await unheard(number, "alternates")), focus: title, said: answer.data.detail };
  }
  const { data } = answer;
  const top = partHead(data, "alternates");
  const node = h("article", {}, top.node,
    h("p", { class: "notice" }, "A likeness in the tables is not an approval. The aircraft's approved data decide whether a part may stand in another's place."),
    data.relatives.length ? h("div", { class: "cards" }, data.relatives.map((one) => relative(one, data.number))) : h("p", {}, "The tables name no alternate for this part."));
  return { title: `${data.number}: alternates`, said: `${data.relatives.length} alternates`, node, focus: top.title };
}

function relative(one, number) {
  const differing = one.comparison.filter((row) => row.sameness === "different");
  const open = one.comparison.filter((row) => row.sameness === "unknown");
  const same = one.comparison.filter((row) => row.sameness === "same");
  return h("section", { class: "relative" },
    h("h2", {}, h("a", { class: "number", href: here(["part", one.number], {}) }, one.number), " ", h("span", { class: "relation" }, one.relation)),
    h("p", {}, one.description), h("p", {}, one.statement, " ", basisMark(one.basis)),
    differing.length ? table(number, one.number, differing, "What differs") : h("p", {}, open.length ? "Nothing known of both differs; see what is not known." : "Nothing that the tables hold differs."),
    open.length ? h("details", {}, h("summary", {}, `Not known of one or both: ${open.length}`), h("div", { class: "deeper" }, table(number, one.number, open, "Not known of one or both"))) : null,
    same.length ? h("details", {}, h("summary", {}, `The same in both: ${same.length}`), h("div", { class: "deeper" }, table(number, one.number, same, "The same in both"))) : null,
    h("details", {}, h("summary", {}, one.hops.length > 1 ? `By what chain: ${one.hops.length} steps` : "By what row"),
      h("div", { class: "deeper" }, one.hops.map((hop) => [h("p", {}, `${hop.from_number} → ${hop.to_number}: ${hop.relation}. ${hop.conditions ?? ""}`), citation(hop)]))));
}

/** How much the second is more (+) or less (−), empty when it is no number. */
function signed(difference) {
  if (!difference || difference === "0") return "";
  return difference.startsWith("-") ? `, −${difference.slice(1)}` : `, +${difference}`;
}

const SAMENESS = { same: "same", different: "differs", unknown: "not known" };

function table(first, second, rows, caption) {
  return h("div", { class: "wide", tabindex: "0", role: "group", "aria-label": caption }, h("table", { class: "side" }, h("caption", {}, caption),
    h("thead", {}, h("tr", {}, ["", first, second, ""].map((text, at) => text ? h("th", { scope: "col", class: "number" }, text) : h("th", { scope: "col" }, at ? h("span", { class: "out-of-sight" }, "Verdict") : h("span", { class: "out-of-sight" }, "Attribute"))))),
    h("tbody", {}, rows.map((row) => h("tr", {}, h("th", { scope: "row" }, heading(row.attribute)),
      h("td", {}, row.first_display || "–"), h("td", {}, row.second_display || "–"),
      h("td", {}, SAMENESS[row.sameness] ?? row.sameness, signed(row.difference)))))));
}
