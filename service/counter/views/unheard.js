// Without a signal and without the answer asked for: what is stored of the number instead, to be pressed.

import { h } from "../elements.js";
import { here, trust, write } from "../route.js";
import { storedAt, storedNumbers } from "../stored.js";
import { throughWord } from "../words.js";

/** What is said of a number whose answer cannot be had now. `side`: empty, "mates" or "alternates". `stated`: whether conditions of a joint were given. */
export async function unheard(number, side, stated = false) {
  const bases = await storedAt(number, side === "alternates" ? "equivalents" : side);
  const steps = side ? ["part", number, side] : ["part", number];
  const links = bases.filter((basis) => stated || basis !== trust())
    .map((basis) => h("li", {}, h("a", { class: "button", href: write(steps, { basis }) }, `${throughWord(basis)}${stated ? ", no conditions" : ""}`)));
  const plain = (text) => text.toUpperCase().replace(/[^A-Z0-9]/g, "");
  const alike = bases.length ? [] : (await storedNumbers()).filter((one) => one !== number && plain(one) === plain(number));
  for (const one of alike) links.push(h("li", {}, h("a", { class: "button number", href: here(side ? ["part", one, side] : ["part", one], {}) }, one)));
  return h("div", { class: "refusal" },
    h("p", { class: "asked-number number" }, number),
    h("p", {}, `No signal, and this answer is not stored on this device at “${throughWord(trust())}”${stated ? " under these conditions" : ""}.`),
    links.length ? [h("p", {}, "Stored instead:"), h("ul", { class: "numbers" }, links)] : h("p", {}, "Nothing of this number is stored. With a signal it can be stored under Stored."));
}
