// A parts list, pasted or from a file: read line by line, exported, printed.

import { notServed, post } from "../api.js";
import { append, h, labelled } from "../elements.js";
import { change, here } from "../route.js";
import { fromCsv, toCsv } from "../csv.js";
import { toPaper } from "../paper.js";
import { OUTCOMES, words } from "../words.js";

const LONGEST_URL = 6000;
const MOST = 1000;
let held = null;

/** The view of #/list?text=...; a list too long for a URL is held in the page and says so. */
export async function show(route) {
  const text = route.query.get("text") ?? held?.text ?? "";
  const title = h("h1", { tabindex: "-1" }, "Read a parts list");
  const said = h("p", { role: "status", class: "hint" });
  const area = h("textarea", { id: "list-text", rows: "7", spellcheck: "false", value: text });
  const column = h("div", {});
  const file = h("input", { id: "list-file", type: "file", accept: ".csv,.txt,text/csv,text/plain" });
  const read = (words) => {
    held = { text: words };
    if (words.length <= LONGEST_URL) change({ text: words }, true);
    else change({ text: "" }, true);
  };
  file.addEventListener("change", async () => {
    const chosen = file.files[0];
    if (!chosen) return;
    if (chosen.size > 2_000_000) { said.textContent = "That file is over 2 MB; no parts list is."; return; }
    opened(chosen.name, await chosen.text(), { area, column, said });
  });
  const form = h("form", { class: "no-print" },
    h("p", {}, "Paste a list or open a CSV file. Every number is read or refused by itself; nothing is dropped."),
    h("div", { class: "beside" }, labelled("Lines", area),
      h("div", {}, labelled("CSV or text file", file), column, h("div", { class: "row" }, h("button", { type: "submit", class: "main" }, "Read the list")), said)));
  form.addEventListener("submit", (event) => { event.preventDefault(); read(area.value.trim()); });
  const result = text.trim() ? await results(text) : null;
  return { title: "Read a parts list", said: result?.said ?? "Read a parts list", focus: title, result: result?.result, node: h("article", {}, title, form, result?.node,
    text.length > LONGEST_URL ? h("p", { class: "hint" }, "This list is too long for an address: it cannot be shared by URL.") : null) };
}

function opened(name, body, { area, column, said }) {
  const rows = fromCsv(body);
  const wide = Math.max(0, ...rows.map((row) => row.length));
  if (wide < 2) {
    area.value = rows.map((row) => row[0]).join("\n");
    said.textContent = `${rows.length} lines from ${name}.`;
    return;
  }
  const guess = rows[0].findIndex((cell) => /\b(part|number|p\/?n|item)\b/i.test(cell));
  const pick = h("select", { id: "list-column" }, Array.from({ length: wide }, (_, at) => h("option", { value: String(at) }, `${at + 1}: ${rows[0][at] ?? ""}`)));
  pick.value = String(Math.max(0, guess));
  const take = () => {
    const at = Number(pick.value);
    const body = guess >= 0 ? rows.slice(1) : rows;
    area.value = body.map((row) => (row[at] ?? "").trim()).filter(Boolean).join("\n");
    said.textContent = `Column ${at + 1} of ${name}: ${area.value.split("\n").length} lines.`;
  };
  pick.addEventListener("change", take);
  column.replaceChildren(h("div", { class: "asked" }, h("label", { for: "list-column" }, "Column with the part numbers"), pick));
  take();
}

async function results(text) {
  const lines = text.split("\n").map((line) => line.trim()).filter(Boolean);
  if (lines.length > MOST) return { said: "Too many lines", node: h("p", { class: "refusal" }, `${lines.length} lines; at most ${MOST} at once.`) };
  const free = await post("text/parts", { text });
  if (free.ok && Array.isArray(free.data.parts)) return fromText(free.data, text);
  if (!free.status) return { said: free.data.title, node: h("div", { class: "refusal" }, h("p", {}, "No signal, and the reading of this list is not stored on this device. A list once read here is stored; a changed one is a new question.")) };
  const answer = await post("parts/decode", { numbers: lines });
  if (!answer.ok) return { said: answer.data.title, node: h("p", { class: "refusal" }, answer.data.detail ?? answer.data.title) };
  const rows = answer.data.results.map((one, at) => row(at + 1, one.asked, one.part, one.problem, one.outcome));
  return table(rows, answer.data.release, notServed(free) ? "Each line is taken as one part number: reading free text is not served here." : "");
}

/** The text as the service read it: one row a number, and a row of its own for every line in which it found none. */
function fromText(data, text) {
  const rows = [];
  let begin = 0;
  text.split("\n").forEach((line, at) => {
    const end = begin + [...line].length; // the service counts characters, not halves of them
    const found = data.parts.filter((one) => one.start >= begin && one.start <= end);
    for (const one of found) {
      rows.push(row(at + 1, found.length > 1 ? one.as_written : line.trim(), one.number ? { number: one.number, description: one.description ?? "" } : null,
        one.problem ?? { detail: "", neighbours: one.candidates }, one.outcome, one.quantity, one.lot));
    }
    const puzzles = data.unread.filter((one) => one.start >= begin && one.start <= end);
    for (const one of puzzles) rows.push(row(at + 1, one.as_written, null, { detail: one.reason }, "none"));
    if (line.trim() && !found.length && !puzzles.length) rows.push(row(at + 1, line.trim(), null, { detail: "No part number found in this line." }, "none"));
    begin = end + 1;
  });
  return table(rows, data.release, "");
}

function row(line, asked, part, problem, outcome, quantity, lot) {
  return { line, asked, quantity: quantity ?? "", lot: lot ?? "", outcome, number: part?.number ?? "", description: part?.description ?? "", detail: problem?.detail ?? "", neighbours: problem?.neighbours ?? [] };
}

function table(rows, release, note) {
  const read = rows.filter((one) => one.number).length;
  const said = `${read} of ${rows.length} read`;
  const withQuantity = rows.some((one) => one.quantity !== "");
  const names = ["line", "asked", ...(withQuantity ? ["quantity"] : []), "outcome", "number", "description"];
  const body = rows.map((one) => h("tr", { role: "row" },
    h("th", { scope: "row", role: "rowheader" }, one.line), h("td", { class: "number written" }, one.asked), withQuantity ? h("td", { class: "quantity" }, String(one.quantity)) : null,
    h("td", { class: "reading" }, h("span", { class: one.number ? "good" : "bad" }, one.number ? "✓ " : "✕ ", OUTCOMES[one.outcome] ?? words(one.outcome))),
    h("td", { class: "number number-read" }, one.number ? h("a", { href: here(["part", one.number], {}) }, one.number) : one.neighbours.slice(0, 4).map((near) => h("a", { class: "button number", href: here(["part", near], {}) }, near))),
    h("td", { class: "described" }, one.description || one.detail)));
  const result = h("h2", { tabindex: "-1" }, said);
  const node = h("section", {}, result, note ? h("p", { class: "hint" }, note) : null,
    h("div", { class: "wide", tabindex: "0", role: "group", "aria-label": "The list as read" }, h("table", { class: "list", role: "table" },
      h("thead", {}, h("tr", {}, names.map((name) => h("th", { scope: "col" }, { asked: "as written", outcome: "reading" }[name] ?? name)))), append(h("tbody"), body))),
    h("div", { class: "row no-print" }, h("button", { type: "button", on: { click: () => exported(rows, release) } }, "Export CSV"),
      h("button", { type: "button", on: { click: toPaper } }, "Print")));
  return { said, node, result };
}

function exported(rows, release) {
  const names = ["line", "asked", "quantity", "lot", "outcome", "number", "description", "detail", "neighbours", "release"];
  const text = toCsv([names, ...rows.map((one) => names.map((name) => name === "release" ? release ?? "" : name === "neighbours" ? one.neighbours.join(" ") : one[name]))]);
  const url = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
  h("a", { href: url, download: "parts-list-read.csv" }).click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
