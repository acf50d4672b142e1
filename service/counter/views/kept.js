// What this device keeps, and how to choose more of it.

import { h } from "../elements.js";
import { here } from "../route.js";
import { canKeep, drop, keep, pack, storedNumbers } from "../stored.js";
import { numberLinks } from "./part.js";

/** The view of #/stored. */
export async function show() {
  const chosen = h("div", {});
  const said = h("p", { role: "status", class: "hint" });
  const drawChosen = () => chosen.replaceChildren(pack().length ? h("ul", { class: "kept" }, pack().map((one) => h("li", { class: "row" },
    h("a", { class: "button number", href: here(["part", one.number], {}) }, one.number),
    h("span", { class: "hint" }, `${new Date(one.at).toLocaleDateString()}, release ${String(one.release).slice(0, 12)}`),
    h("button", { type: "button", "aria-label": `Let ${one.number} go`, on: { click: async () => { await drop(one.number); drawChosen(); said.textContent = `${one.number} is no longer stored.`; } } }, "Let go"))))
    : h("p", {}, "No numbers chosen yet."));
  drawChosen();
  const text = h("textarea", { id: "chosen", rows: "4", spellcheck: "false", autocapitalize: "characters" });
  const form = h("form", {}, h("label", { for: "chosen" }, "Numbers to store, one a line"), text,
    h("div", { class: "row" }, h("button", { type: "submit", class: "main", disabled: !canKeep() }, "Store them"),
      h("button", { type: "button", disabled: !pack().length || !canKeep(), on: { click: () => store(pack().map((one) => one.number)) } }, "Store all again")), said);
  const store = async (numbers) => {
    if (!numbers.length) { said.textContent = "No numbers given."; return; }
    said.textContent = "Storing …";
    const { kept, refused, why } = await keep(numbers);
    said.textContent = why || `${kept.length} stored.${refused.length ? ` Not readable: ${refused.join(", ")}.` : ""}`;
    drawChosen();
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    store(text.value.split("\n").map((line) => line.trim()).filter(Boolean));
  });
  const names = new Set(pack().map((one) => one.number));
  const others = (await storedNumbers()).filter((number) => !names.has(number));
  const title = h("h1", { tabindex: "-1" }, "Stored on this device");
  const node = h("article", {}, title,
    h("p", {}, "Without a signal the page still opens, and shows what is stored here: the last answers, and the numbers chosen below with their mates, alternates and drawings. A stored answer says so, with its release. When the service has a new release, stored answers are renewed."),
    canKeep() ? null : h("p", { class: "notice" }, "This browser keeps nothing at an address without https."),
    h("h2", {}, "Chosen numbers"), chosen, form,
    others.length ? [h("h2", {}, "Among the last answers"), numberLinks(others.slice(0, 30))] : null);
  return { title: "Stored on this device", node, focus: title };
}
