// Where a value comes from: the citation under every value, and the documents' titles, asked for once when first wanted.

import { ask } from "./api.js";
import { h } from "./elements.js";
import { basisMeaning, basisWord } from "./words.js";

let titles = null;

async function titleOf(source) {
  titles ??= ask("sources", { limit: "300", basis: "from-memory" }).then((answer) =>
    new Map((answer.data.items ?? []).map((row) => [row.source_id ?? row.source ?? row.cells?.source_id, row])));
  return (await titles).get(source) ?? null;
}

/** The basis as a small mark in words; its edge differs too, so that it can be told without colour. */
export function basisMark(basis) {
  if (!basis) return null;
  return h("span", { class: `basis basis-${basis}`, title: basisMeaning(basis) }, basisWord(basis));
}

/** The citation as a list of terms. The document's title is filled in when it arrives. */
export function citation(cited) {
  if (!cited?.source && !cited?.row) return h("p", { class: "hint" }, "No row of the tables: plain from the question itself.");
  const name = h("span", {}, cited.source ?? "");
  const list = h("dl", { class: "cite" },
    pair("Source", name), pair("Where", cited.locator), pair("Basis", cited.basis ? `${basisWord(cited.basis)}: ${basisMeaning(cited.basis)}` : ""),
    pair("Note", cited.note), pair("Row", h("code", {}, cited.row ?? "")));
  list.fill = async () => {
    const row = cited.source ? await titleOf(cited.source) : null;
    const title = row?.title ?? row?.cells?.title;
    if (title) name.replaceChildren(`${title} (${cited.source})`);
  };
  return list;
}

function pair(term, text) {
  return text ? [h("dt", {}, term), h("dd", {}, text)] : null;
}

/** A statement with its source one tap deeper. `summary`: what is always seen. */
export function sourced(summary, cited, extra, className = "") {
  const cite = citation(cited);
  const node = h("details", { class: `sourced ${className}`, on: { toggle: (event) => { if (event.target.open) cite.fill?.(); } } },
    h("summary", {}, summary), h("div", { class: "deeper" }, extra, cite));
  node.unfold = () => cite.fill?.();
  return node;
}

/** The first `most` of a list; the rest folded, named by `words`, so that it can be opened. */
export function headed(nodes, most, words) {
  if (nodes.length <= most + 1) return nodes;
  return [...nodes.slice(0, most), h("details", { class: "more" }, h("summary", {}, `${nodes.length - most} more ${words}`), nodes.slice(most))];
}
