// What this device keeps, and how to choose more of it.

import { h, labelled } from "../elements.js";
import { here } from "../route.js";
import { canKeep, drop, keep, pack, storedNumbers } from "../stored.js";
import { throughWord } from "../words.js";
import { numberLinks } from "./part.js";

/** Numbers offered from the last answers. */
const LAST = 30;

/** The view of #/stored. */
export async function show() {
  const chosen = h("div", {});
  const others = h("section", {});
  const said = h("p", { role: "status", class: "hint" });
  const again = h("button", { type: "button", on: { click: () => store(pack().map((one) => one.number)) } }, "Store all again");
  const letGo = (number) => async () => { await drop(number); await drawChosen(); said.textContent = `${number} is no longer stored.`; text.focus(); };
  const drawChosen = async () => {
    const kept = pack();
    const names = new Set(kept.map((one) => one.number));
    const last = (await storedNumbers()).filter((number) => !names.has(number)).slice(0, LAST);
    again.disabled = !kept.length || !canKeep();
    chosen.replaceChildren(kept.length ? h("ul", { class: "kept" }, kept.map((one) => h("li", {},
      h("a", { class: "button number", href: here(["part", one.number], {}) }, one.number),
      h("button", { type: "button", "aria-label": `Let ${one.number} go`, on: { click: letGo(one.number) } }, "Let go"),
      h("span", { class: "hint" }, `${one.bases.map(throughWord).join(", ")}; ${new Date(one.at).toLocaleDateString()}, release ${String(one.release).slice(0, 12)}`))))
      : h("p", {}, "No numbers chosen yet."));
    others.replaceChildren(...(last.length ? [h("h2", {}, "Among the last answers"), numberLinks(last)] : []));
  };
  await drawChosen();
  const text = h("textarea", { id: "chosen", rows: "4", spellcheck: "false", autocapitalize: "characters" });
  const form = h("form", { class: "held" }, labelled("Numbers to store, one a line", text),
    h("div", { class: "row" }, h("button", { type: "submit", class: "main", disabled: !canKeep() }, "Store them"), again), said);
  const store = async (numbers) => {
    if (!numbers.length) { said.textContent = "No numbers given."; return; }
    said.textContent = "Storing …";
    const { kept, refused, partly, why } = await keep(numbers);
    said.textContent = why || `${kept.length} stored.${refused.length ? ` Not readable: ${refused.join(", ")}.` : ""}${partly.length ? ` Not whole, the signal broke off: ${partly.join(", ")}.` : ""}`;
    await drawChosen();
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    store(text.value.split("\n").map((line) => line.trim()).filter(Boolean));
  });
  const title = h("h1", { tabindex: "-1" }, "Stored on this device");
  const node = h("article", {}, title,
    h("p", {}, "Without a signal the page still opens, and shows what is stored here: the last answers, and the numbers chosen below with their mates, alternates and drawings, at any basis and as the trust switch stands. A stored answer says so, with its release. When the service has a new release, stored answers are renewed."),
    canKeep() ? null : h("p", { class: "notice" }, "This browser keeps nothing at an address without https."),
    h("h2", {}, "Chosen numbers"), chosen, form, others);
  return { title: "Stored on this device", node, focus: title };
}
