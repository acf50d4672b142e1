// A number taken apart: its pieces, its attributes, its drawing, what it is misread as.

import { ask, picture } from "../api.js";
import { append, drawing, h, say } from "../elements.js";
import { numberField } from "../field.js";
import { here } from "../route.js";
import { calibration, framed, toScale } from "../scale.js";
import { basisMark, headed, sourced } from "../sources.js";
import { canKeep, keep, pack, storedNumbers } from "../stored.js";
import { BASES, heading, OUTCOMES, tolerance, words } from "../words.js";

/** Misreadings and cautions seen at once; the rest are a tap away. */
const SEEN = 4;

/** The view of #/ and #/part/{number}. */
export async function show(route) {
  const number = route.steps[0] === "part" ? route.steps[1] : undefined;
  return number ? read(number, route.query) : home();
}

async function home() {
  const stored = (await storedNumbers()).slice(0, 12);
  const node = h("div", { class: "home beside" }, h("div", {},
    h("h1", {}, "Read a part number"), numberField(),
    h("p", {}, "Type, paste or scan a number as it stands on a bag, a drawing or a part. It is taken apart piece by piece, each with its source. What cannot be read is refused, never guessed."),
    stored.length ? [h("h2", {}, "Stored on this device"), numberLinks(stored)] : null),
  h("section", {}, h("h2", {}, "How far an answer can be trusted"),
    h("p", {}, "Every value says where it comes from. The switch above leaves out what is weaker."),
    h("dl", { class: "cite terms" }, BASES.map(([, word, meaning]) => [h("dt", {}, word), h("dd", {}, meaning)]))));
  return { title: "Read a part number", node, after: () => { if (matchMedia("(pointer: fine)").matches) document.getElementById("number").focus(); } };
}

async function read(number, query) {
  const path = `parts/${encodeURIComponent(number)}`;
  const drawn = picture(`${path}/drawing.svg`); // asked together with the number, so that it is there a turn earlier
  const answer = await ask(path);
  return answer.ok ? part(answer.data, query, drawn) : refusal(number, answer.data, answer.status ? null : await (await import("./unheard.js")).unheard(number, ""));
}

/** Links to numbers, to be pressed. */
export function numberLinks(numbers) {
  return h("ul", { class: "numbers" }, numbers.map((one) => h("li", {}, h("a", { class: "button number", href: here(["part", one], {}) }, one))));
}

/** Head of every view of one part: the field, the number, and the three ways to look at it. */
export function partHead(data, side) {
  const way = (name, text) => h("a", { href: here(name ? ["part", data.number, name] : ["part", data.number], {}), "aria-current": side === name ? "page" : null }, text);
  const title = h("h1", { tabindex: "-1", class: "number" }, data.number);
  return { title, node: [numberField(data.number), title, h("p", { class: "description" }, data.description),
    h("nav", { class: "sides", "aria-label": "This part" }, way("", "Taken apart"), way("mates", "What mates"), way("alternates", "Alternates"))] };
}

function part(data, query, drawn) {
  const top = partHead(data, "");
  top.title.classList.add("apart");
  top.title.replaceChildren(h("span", { class: "out-of-sight" }, data.number), pieces(data));
  const figure = h("figure", { class: "drawn" }, h("p", { class: "hint" }, "Drawing …"));
  const node = h("article", { class: "part" }, top.node, fromLabel(query), notices(data),
    h("div", { class: "beside" },
      h("section", { class: "pieces" }, h("h2", {}, "Piece by piece"), h("ol", {}, numbered(data.segments).map(piece))),
      h("section", { class: "picture" }, h("h2", {}, "True scale"), figure, calibration(() => redraw(figure)))),
    attributes(data.attributes), misread(data.misreadings), cautions(data.cautions), doings(data));
  return { title: data.number, said: `${data.number}: ${data.description}`, node, focus: top.title, after: () => draw(drawn, figure) };
}

function fromLabel(query) {
  const said = [["lot", "lot"], ["quantity", "quantity"]].filter(([name]) => query.get(name)).map(([name, word]) => `${word} ${query.get(name)}`);
  return said.length ? h("p", { class: "notice label-read" }, `From the label: ${said.join(", ")}.`) : null;
}

function notices(data) {
  const lines = [
    data.corrections.map((one) => h("p", { class: "notice" }, `Read as ${data.number}. `, correction(one))),
    data.corrections.length === 0 && data.spelling !== "exact" ? h("p", { class: "notice" }, `${data.asked} was read as ${data.number}: ${words(data.spelling)} spelling.`) : null,
    data.status !== "active" ? h("p", { class: "notice" }, `This family is ${words(data.status)}.${data.superseded_by ? ` In its place: ${data.superseded_by}.` : ""}`) : null,
  ];
  return h("div", {}, lines);
}

function correction(one) {
  if (typeof one === "string") return one;
  return [one.words, one.text, one.reason, one.detail, one.explanation].find((text) => typeof text === "string" && text)
    ?? Object.entries(one).filter(([, value]) => typeof value === "string" && value).map(([name, value]) => `${words(name)}: ${value}`).join("; ");
}

function numbered(segments) {
  let at = 0;
  return segments.map((segment) => ({ ...segment, index: segment.text ? ++at : 0 }));
}

function pieces(data) {
  const shown = h("span", { class: "split", "aria-hidden": "true" });
  let at = 0;
  for (const segment of numbered(data.segments).filter((one) => one.text)) {
    const found = data.number.indexOf(segment.text, at);
    if (found < 0) continue;
    if (found > at) shown.append(h("span", { class: "between" }, data.number.slice(at, found)));
    shown.append(h("span", { class: "piece" }, segment.text, h("small", {}, segment.index)));
    at = found + segment.text.length;
  }
  if (at < data.number.length) shown.append(h("span", { class: "between" }, data.number.slice(at)));
  return shown;
}

function piece(segment) {
  const summary = [
    h("span", { class: "mark number" }, segment.text || "–"),
    h("span", { class: "told" }, h("span", { class: "what" }, segment.meaning ?? "left out by the trust switch", segment.reason ? h("span", { class: "hint" }, ` ${segment.reason}`) : null),
      basisMark(segment.basis)),
  ];
  return h("li", { class: segment.text ? "" : "unmarked" }, segment.text ? h("span", { class: "index", "aria-hidden": "true" }, segment.index) : null,
    sourced(summary, segment, h("p", {}, heading(segment.caption))));
}

function misread(list) {
  if (!list.length) return null;
  const line = (one) => sourced([h("span", { class: "what" }, h("span", { class: "wrong" }, h("span", { class: "out-of-sight" }, "Wrong: "), "✕ ", one.wrong), h("span", { class: "right" }, h("span", { class: "out-of-sight" }, "Right: "), "✓ ", one.right)), basisMark(one.basis)], one);
  return h("section", { class: "misread" }, h("h2", {}, "Often misread"), headed(list.map(line), SEEN, "misreadings"));
}

function attributes(all) {
  const known = Object.entries(all).filter(([, value]) => value.value !== null);
  const missing = Object.entries(all).filter(([, value]) => value.value === null);
  return h("section", { class: "facts" }, h("h2", {}, "What the tables say of it"),
    h("div", { class: "fact-list" }, known.map(([name, value]) => sourced([
      h("span", { class: "name" }, heading(name)),
      h("span", { class: "value" }, value.display, tolerance(value)), basisMark(value.basis)], value, others(value)))),
    missing.length ? h("details", { class: "missing" }, h("summary", {}, `Not in the tables: ${missing.length}`),
      h("dl", { class: "deeper cite" }, missing.map(([name, value]) => [h("dt", {}, heading(name)), h("dd", {}, value.reason)]))) : null);
}

function others(value) {
  if (!value.others?.length) return null;
  return [h("p", {}, "Other sources say:"), h("ul", {}, value.others.map((one) => h("li", {}, `${one.display}${tolerance(one)} `, basisMark(one.basis), ` ${one.source ?? ""} ${one.locator ?? ""}`)))];
}

/** Cautions, each with its source. */
export function cautions(list) {
  if (!list?.length) return null;
  return h("section", { class: "cautions" }, h("h2", {}, "Cautions"),
    headed(list.map((one) => sourced([h("span", { class: "what" }, one.text), basisMark(one.basis)], one)), SEEN, "cautions"));
}

function doings(data) {
  const chosen = pack().some((one) => one.number === data.number);
  const button = h("button", { type: "button", disabled: !canKeep() }, chosen ? "Store again" : "Keep for no signal");
  const said = h("p", { class: "hint", role: "status" }, canKeep() ? (chosen ? "This number is stored with its mates." : "") : "This browser keeps nothing at an address without https.");
  button.addEventListener("click", async () => {
    said.textContent = "Storing …";
    const { kept, why } = await keep([data.number]);
    said.textContent = kept.length ? "Stored on this device with its mates, alternates and drawing." : why;
  });
  const role = { bolt: "bolt", screw: "bolt", nut: "nut" }[data.kind];
  return h("section", { class: "doings" }, h("h2", { class: "out-of-sight" }, "With this part"),
    button, role ? h("a", { class: "button", href: here(["joint"], { [role]: data.number }) }, "Use it in a joint") : null,
    h("button", { type: "button", on: { click: async () => (await import("../paper.js")).toPaper() } }, "Print"), said);
}

async function draw(drawn, figure) {
  const { text, why } = await drawn;
  const svg = text ? drawing(text) : null;
  if (!svg) {
    figure.replaceChildren(h("p", { class: "hint" }, why || "No drawing."));
    return;
  }
  figure.replaceChildren(...framed(svg));
}

function redraw(figure) {
  const svg = figure.querySelector("svg");
  if (svg) toScale(svg);
}

/** What could not be read, with the wrong piece shown and the neighbours to press. */
export function refusalNode(number, problem) {
  const { piece: wrong, neighbours = [], candidates = [] } = problem;
  const asked = problem.asked ?? number;
  const shown = h("p", { class: "asked-number number" });
  if (wrong?.text && asked.slice(wrong.start, wrong.start + wrong.text.length).toUpperCase() === wrong.text.toUpperCase()) {
    append(shown, [asked.slice(0, wrong.start), h("mark", {}, asked.slice(wrong.start, wrong.start + wrong.text.length)), asked.slice(wrong.start + wrong.text.length)]);
  } else shown.append(asked);
  return h("div", { class: "refusal" }, shown,
    wrong ? h("p", {}, h("strong", {}, `This piece is wrong: ${wrong.text || "missing"}`), wrong.caption ? ` (${wrong.caption})` : "", wrong.expected ? `. Expected: ${wrong.expected}` : "") : null,
    wrong?.expected ? null : h("p", {}, problem.detail ?? problem.title),
    neighbours.length ? [h("h2", {}, "Near it, and made"), numberLinks(neighbours)] : null,
    candidates.length ? [h("h2", {}, "It may mean"), numberLinks(candidates.map((one) => one.number ?? one))] : null,
    problem.source ? h("p", { class: "hint" }, `By ${problem.source}${problem.row ? `, row ${problem.row}` : ""}. `, basisMark(problem.basis)) : null);
}

function refusal(number, problem, instead) {
  const word = OUTCOMES[problem.outcome] ? heading(OUTCOMES[problem.outcome]) : problem.title;
  const title = h("h1", { tabindex: "-1" }, word);
  const node = h("article", {}, numberField(number), title, instead ?? refusalNode(number, problem));
  say(word);
  return { title: `${number}: ${word}`, said: `${word}. ${problem.detail ?? ""}`, node, focus: title };
}
