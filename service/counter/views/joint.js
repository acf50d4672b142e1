// A joint: plates, bolt, washers and nut; drawn, judged, and its torque.

import { notServed, picture, post } from "../api.js";
import { drawing, h, labelled } from "../elements.js";
import { change, here } from "../route.js";
import { toPaper } from "../paper.js";
import { calibration, framed, toScale } from "../scale.js";
import { heading, MATERIALS, VERDICTS, words } from "../words.js";
import { conditions, stated, switches, wanted } from "../conditions.js";
import { finding } from "./mates.js";
import { cautions } from "./part.js";
import { torque } from "./torque.js";

/** A length as it may be while it is typed: .25, 1/4, 1 1/4. */
const LENGTH = /^(\d*\.\d+|\d+|(\d+[ -])?\d+\/\d+)$/;
const TYPING = 300;
/** What a route says of a joint besides conditions. */
const OWN = ["bolt", "head", "under", "nut", "pin", "height", "hole", "ply", "find", "drag", "wrench", "adapter", "angle", "basis"];

const several = (text) => (text ?? "").split(/[\s,;]+/).filter(Boolean);

/** What a route says of a joint. */
function asked(query) {
  const plies = query.getAll("ply").map((one) => { const [thickness, material = ""] = one.split("~"); return { thickness, material }; });
  return { bolt: query.get("bolt") ?? "", head: several(query.get("head")), under: several(query.get("under")), nut: query.get("nut") ?? "", pin: query.get("pin") ?? "", height: query.get("height") ?? "", hole: query.get("hole") ?? "", plies };
}

/** The view of #/joint. */
export async function show(route) {
  const set = asked(route.query);
  const title = h("h1", { tabindex: "-1" }, "Put a joint together");
  const figure = h("figure", { class: "drawn" }, h("p", { class: "hint" }, "Give a bolt and a plate to see the joint drawn."));
  const listed = conditions();
  const given = [...route.query.keys()].some((name) => !OWN.includes(name)) ? stated(route.query, await listed) : {};
  const [list, checked, sets] = await Promise.all([listed, set.bolt ? check(set, given) : null, route.query.get("find") ? select(set, route.query.get("find"), given) : null]);
  const node = h("article", {}, title,
    h("div", { class: "bench" }, hardware(set), plates(set, given, figure),
      h("section", { class: "picture" }, checked?.verdict, h("h2", {}, "Drawn to true scale"), figure, calibration(() => { const svg = figure.querySelector("svg"); if (svg) toScale(svg); })),
      switches(route.query, list, wanted(checked?.data?.findings ?? []))),
    h("div", { class: "halves" }, checked?.node ?? h("p", { class: "hint" }, "Without a bolt there is nothing to judge yet."),
      set.nut && checked?.thread ? following(torque(route.query, checked.thread, set.nut)) : null),
    finder(route.query, set), sets?.node ?? sets, cautions(checked?.data?.cautions),
    checked?.data ? h("div", { class: "doings" }, h("button", { type: "button", on: { click: toPaper } }, "Print")) : null);
  return { title: "Joint", said: checked?.said ?? "Put a joint together", node, focus: title, result: sets?.result, after: () => { if (set.bolt && set.plies.length) draw(set, given, figure); } };
}

/** A place that is filled when what belongs there has come; the verdict does not wait for it. */
function following(coming) {
  const place = h("section", { "aria-busy": "true" }, h("p", { class: "wait" }, "Reading …"));
  coming.then((node) => place.replaceWith(node ?? ""), (error) => place.replaceChildren(h("p", { class: "refusal" }, error.message)));
  return place;
}

function hardware(set) {
  const field = (name, caption, value, hint) => labelled(caption, h("input", { id: `joint-${name}`, type: "text", value, maxlength: "200", spellcheck: "false", autocomplete: "off", autocapitalize: "characters", class: "number",
    on: { change: (event) => change({ [name]: event.target.value.trim() }) } }), hint);
  const size = (name, caption, value, hint) => labelled(caption, h("input", { id: `joint-${name}`, type: "text", inputmode: "decimal", value, maxlength: "40", autocomplete: "off",
    on: { change: (event) => change({ [name]: event.target.value.trim() }) } }), hint);
  return h("section", { class: "measures hardware", "aria-label": "Hardware" }, field("bolt", "Bolt", set.bolt), field("nut", "Nut", set.nut), field("head", "Washers under head", set.head.join(" "), "head side first"),
    field("under", "Washers under nut", set.under.join(" "), "plate side first"), field("pin", "Cotter pin", set.pin),
    size("height", "Height of the nut, in", set.height, "measured, where no row gives it"), size("hole", "Hole, in", set.hole, "measured"));
}

/** The plates. A thickness is drawn while it is typed; the whole joint is judged again when it is done. */
function plates({ plies, ...set }, given, figure) {
  let later = null;
  const live = (at) => (event) => {
    const list = plies.map((one, index) => index === at ? { ...one, thickness: event.target.value.trim() } : one);
    if (at === plies.length) list.push({ thickness: event.target.value.trim(), material: "" });
    clearTimeout(later);
    if (set.bolt && list.every((one) => LENGTH.test(one.thickness))) later = setTimeout(() => draw({ ...set, plies: list }, given, figure), TYPING);
  };
  const write = (list) => change({ ply: list.map((one) => one.material ? `${one.thickness}~${one.material}` : one.thickness) });
  const line = (one, at) => {
    const thickness = h("input", { id: `ply-${at}`, type: "text", inputmode: "decimal", value: one.thickness, maxlength: "40" });
    const material = h("select", { id: `ply-material-${at}` }, h("option", { value: "" }, "not stated"), MATERIALS.map((name) => h("option", { value: name }, name)));
    material.value = one.material;
    const done = () => write(plies.map((other, index) => index === at ? { thickness: thickness.value.trim(), material: material.value } : other).filter((other) => other.thickness));
    thickness.addEventListener("change", done);
    thickness.addEventListener("input", live(at));
    material.addEventListener("change", done);
    return h("div", { class: "ply" }, labelled(`Plate ${at + 1}, in`, thickness), labelled("Material", material),
      h("button", { type: "button", "aria-label": `Take plate ${at + 1} away`, on: { click: () => write(plies.filter((_, index) => index !== at)) } }, "−"));
  };
  const more = h("input", { id: "ply-new", type: "text", inputmode: "decimal", maxlength: "40", on: { input: live(plies.length) } });
  const add = () => { if (more.value.trim()) write([...plies, { thickness: more.value.trim(), material: "" }]); };
  return h("section", { class: "plates", "aria-label": "Plates" }, h("h2", {}, "Plates, from the head on"), plies.map(line),
    h("form", { class: "ply", on: { submit: (event) => { event.preventDefault(); add(); } } }, labelled("Add a plate, in", more, ""), h("button", { type: "submit" }, "Add")));
}

function finder(query, set) {
  const thread = h("input", { id: "find", type: "text", value: query.get("find") ?? "", maxlength: "20", placeholder: "1/4-28" });
  return h("section", {}, h("h2", {}, "Hardware that closes these plates"), set.plies.length ? null : h("p", { class: "hint" }, "Add a plate first."),
    h("form", { class: "row low", on: { submit: (event) => { event.preventDefault(); change({ find: thread.value.trim() }, true); } } },
    labelled("Thread", thread), h("button", { type: "submit", disabled: !set.plies.length }, "Find sets")));
}

/** A joint as the service is asked about it, to judge it or to draw it. */
function question(set, given) {
  const body = { fastener: set.bolt, under_head: set.head, under_nut: set.under, stack: set.plies, conditions: given };
  if (set.nut) body.nut = set.nut;
  if (set.pin) body.cotter_pin = set.pin;
  if (set.height) body.nut_height = { value: set.height };
  if (set.hole) body.hole = { value: set.hole };
  return body;
}

async function check(set, given) {
  const answer = await post("joints/check", question(set, given));
  if (!answer.ok) return { said: answer.data.title, node: answer.status ? problem(answer.data) : unknown("this joint") };
  const { data } = answer;
  const [sign, word, tone] = VERDICTS[data.verdict];
  const of = (effect) => data.findings.filter((one) => one.effect === effect);
  const thread = data.torque?.recommended?.thread ?? data.torque?.maximum?.thread ?? null;
  const list = (name, found) => found.length ? h("section", {}, h("h3", {}, name), found.map(finding)) : null;
  const verdict = [h("h2", { class: "out-of-sight" }, "Verdict"), h("p", { class: `big-verdict ${tone}` }, h("span", { "aria-hidden": "true" }, `${sign} `), h("strong", {}, word))];
  const node = h("section", { class: "judged" }, h("h2", {}, "What decides it"),
    list("Faults", of("excludes")), list("Conditions", of("conditions")),
    data.not_judged.length ? [h("h3", {}, "Not judged"), h("ul", {}, data.not_judged.map((one) => h("li", {}, `${heading(one.what)}: ${one.why}`)))] : null,
    figures(data.figures),
    of("notes").length + of("fits").length ? h("details", {}, h("summary", {}, `Notes and what fits: ${of("notes").length + of("fits").length}`), h("div", { class: "deeper" }, list("Notes", of("notes")), list("Fits", of("fits")))) : null,
    data.torque?.why_not ? h("p", { class: "hint" }, data.torque.why_not) : null);
  return { said: `${word}. ${of("excludes").length} faults, ${of("conditions").length} conditions`, verdict, node, data, thread };
}

function figures(list) {
  if (!list.length) return null;
  return h("details", {}, h("summary", {}, `Figures at worst case: ${list.length}`), h("div", { class: "deeper wide", tabindex: "0", role: "group", "aria-label": "Figures" }, h("table", {},
    h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "Figure"), h("th", { scope: "col" }, "Least to greatest"))),
    h("tbody", {}, list.map((one) => h("tr", {}, h("th", { scope: "row" }, heading(one.name), h("br"), h("span", { class: "hint" }, one.meaning)), h("td", {}, one.display || `${one.low} to ${one.high}`)))))));
}

/** What is said when there is no signal and nothing stored. */
function unknown(what) {
  return h("div", { class: "refusal" }, h("p", {}, `No signal, and no answer about ${what} is stored on this device. A joint once judged here is stored; a changed one is a new question.`));
}

function problem(data) {
  return h("div", { class: "refusal" }, h("p", {}, h("strong", {}, data.title)), h("p", {}, data.detail), (data.faults ?? []).map((one) => h("p", {}, `${words(one.at)}: ${one.reason}`)));
}

async function select(set, thread, given) {
  if (!set.plies.length) return h("p", { class: "hint" }, "Add a plate first.");
  const answer = await post("joints/select", { stack: set.plies, thread, conditions: given, limit: 5 });
  if (notServed(answer)) return h("p", { class: "notice" }, "Finding sets is not served here.");
  if (!answer.ok) return answer.status ? problem(answer.data) : unknown("the sets that close these plates");
  const { data } = answer;
  const use = (one) => () => change({ bolt: one.fastener, head: one.under_head.join(" "), under: one.under_nut.join(" "), nut: one.nut, pin: one.cotter_pin ?? "" });
  const result = h("h2", { tabindex: "-1" }, `Sets that close: ${data.sets.length}`);
  const node = h("section", {}, result,
    data.nothing_closes ? h("p", {}, data.nothing_closes) : null,
    h("div", { class: "cards" }, data.sets.map((one) => h("section", { class: "relative" }, h("h3", { class: "number" }, one.fastener),
      h("p", {}, [one.under_head.length ? `under the head ${one.under_head.join(", ")}` : "", one.under_nut.length ? `under the nut ${one.under_nut.join(", ")}` : "", `nut ${one.nut}`, one.cotter_pin ? `cotter pin ${one.cotter_pin}` : ""].filter(Boolean).join("; ")),
      h("p", { class: "hint" }, `Grip to spare ${one.margins.grip} in; the nut stays ${one.margins.nut} in off the shank; ${one.margins.past_pack} in for nut and thread. ${heading(one.mass.display)}.`),
      one.behind_because ? h("p", { class: "hint" }, one.behind_because) : null,
      h("p", { class: VERDICTS[one.verdict][2] }, `${VERDICTS[one.verdict][0]} ${VERDICTS[one.verdict][1]}`),
      h("button", { type: "button", "aria-label": `Use the set with ${one.fastener}`, on: { click: use(one) } }, "Use this set")))),
    data.near_misses.length ? h("details", {}, h("summary", {}, `Came near: ${data.near_misses.length}`), h("ul", { class: "deeper" }, data.near_misses.map((one) => h("li", {}, h("a", { class: "number", href: here(["part", one.number], {}) }, one.number), ` ${words(one.constraint)} by ${one.by} in`)))) : null);
  return { node, result };
}

async function draw(set, given, figure) {
  const { text, why } = await picture("joints/drawing.svg", {}, question(set, given));
  const svg = text ? drawing(text) : null;
  if (!svg) { figure.replaceChildren(h("p", { class: "hint" }, why)); return; }
  figure.replaceChildren(...framed(svg));
}
