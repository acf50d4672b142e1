// What to set on the wrench: the table's row, running drag added, the adapter reckoned in.

import { post } from "../api.js";
import { h, labelled } from "../elements.js";
import { change } from "../route.js";
import { sourced, basisMark } from "../sources.js";

const ASKED = [["drag", "Running drag, in-lb", "felt before it seats"], ["wrench", "Wrench length, in", "grip to drive"], ["adapter", "Adapter, in", "drive to bolt"], ["angle", "Adapter angle, °", "0 straight, 90 square"]];

/** The torque section of a joint. */
export async function torque(query, thread, nut) {
  const inputs = ASKED.map(([name, caption, hint]) => labelled(caption, h("input", { id: `torque-${name}`, type: "text", inputmode: "decimal", value: query.get(name) ?? "", maxlength: "20",
    on: { change: (event) => change({ [name]: event.target.value.trim() }) } }), hint));
  const body = { thread, nut };
  for (const [name, member] of [["drag", "drag"], ["wrench", "wrench_length"], ["adapter", "adapter_length"], ["angle", "adapter_degrees"]]) if (query.get(name)) body[member] = query.get(name);
  const answer = await post("torques/setting", body);
  return h("section", { class: "torque" }, h("h2", {}, "Torque"), h("div", { class: "measures" }, inputs), answer.ok ? setting(answer.data) : h("p", { class: "refusal" }, answer.data.detail ?? answer.data.title));
}

function setting(data) {
  const steps = [["From the table", data.torque.display], ["With running drag", data.with_drag.display], ["On the wrench", data.set_to.display]];
  const cautions = data.notes.filter((note) => note.topic === "caution");
  return h("div", {}, h("p", {}, "Set the wrench to ", h("span", { class: "setting" }, data.set_to.display)),
    h("dl", { class: "cite" }, steps.map(([term, text]) => [h("dt", {}, term), h("dd", {}, text)])),
    data.adapter_effect === "none" ? null : h("p", { class: "hint" }, `The adapter ${data.adapter_effect} the wrench to ${data.effective_length} in.`),
    data.basis_row ? sourced([h("span", { class: "what" }, `${data.basis_row.thread}, ${data.basis_row.nut_load} nut: ${data.torque.display}`), basisMark(data.basis_row.basis)], data.basis_row) : null,
    data.maximum_row ? sourced([h("span", { class: "what" }, `Never above ${data.maximum_row.high} in-lb`), basisMark(data.maximum_row.basis)], data.maximum_row) : null,
    cautions.map((note) => sourced([h("span", { class: "what" }, note.text), basisMark(note.basis)], note)));
}
