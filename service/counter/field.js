// The one field: a number typed, pasted or scanned, with completions from the service.

import { ask, notServed } from "./api.js";
import { h, say } from "./elements.js";
import { go, here } from "./route.js";
import { storedNumbers } from "./stored.js";

const WAIT = 120;
let asking = null;
let timer = null;
let served = true;

/** The form with the field, filled with `text`. `chosen(number)` instead of going to the number's view. */
export function numberField(text = "") {
  const list = h("ul", { id: "completions", role: "listbox", "aria-label": "Completions", hidden: true });
  const input = h("input", {
    id: "number", type: "text", value: text, role: "combobox", "aria-autocomplete": "list", "aria-expanded": "false", "aria-controls": "completions",
    autocomplete: "off", autocapitalize: "characters", autocorrect: "off", spellcheck: "false", enterkeyhint: "go", maxlength: "200",
  });
  const note = h("div", { class: "hint", id: "number-note", hidden: true });
  const form = h("form", { class: "field", role: "search", "aria-label": "Part number" },
    h("label", { for: "number" }, "Part number"),
    h("div", { class: "field-row" }, input,
      h("button", { type: "button", class: "quiet", on: { click: () => scan(note) } }, "Scan"),
      h("button", { type: "submit", class: "main" }, "Read")),
    list, note);
  const completing = new Completing(input, list, note);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    completing.close();
    const asked = input.value.trim();
    if (asked) go(here(["part", asked], {}));
    else { say("Nothing to read yet"); input.focus(); }
  });
  return form;
}

async function scan(note) {
  const { openScanner } = await import("./scan.js");
  await openScanner(note);
}

/** The list under the field: arrow keys, Enter, Escape, touch. */
class Completing {
  constructor(input, list, note) {
    Object.assign(this, { input, list, note, items: [], at: -1 });
    input.addEventListener("input", () => this.later());
    input.addEventListener("keydown", (event) => this.key(event));
    input.addEventListener("blur", () => setTimeout(() => this.close(), 200));
  }

  later() {
    clearTimeout(timer);
    timer = setTimeout(() => this.look(), WAIT);
  }

  async look() {
    const prefix = this.input.value.trim();
    asking?.abort();
    if (!prefix) return this.close();
    asking = new AbortController();
    let items = null;
    try {
      if (served) {
        const answer = await ask("parts/complete", { prefix, limit: "8" }, { signal: asking.signal });
        if (answer.ok && Array.isArray(answer.data.items)) items = answer.data.items;
        else if (notServed(answer) || answer.data.asked === "complete") served = false;
      }
    } catch {
      return undefined; // typed on meanwhile
    }
    if (items === null) {
      const plain = (text) => text.toUpperCase().replace(/[^A-Z0-9]/g, "");
      items = (await storedNumbers()).filter((number) => plain(number).startsWith(plain(prefix))).slice(0, 8)
        .map((number) => ({ text: number, number, complete: true, title: "stored on this device" }));
    }
    this.note.hidden = served;
    if (!served) this.note.textContent = "Completions are not served here; numbers stored on this device are offered instead.";
    if (document.activeElement === this.input) this.open(items);
    return undefined;
  }

  open(items) {
    this.items = items;
    this.at = -1;
    this.list.replaceChildren(...items.map((item, index) => h("li", {
      role: "option", id: `completion-${index}`, "aria-selected": "false",
      on: { pointerdown: (event) => event.preventDefault(), click: () => this.take(index) },
    }, h("span", { class: "number" }, item.text), h("span", { class: "meaning" }, words(item)))));
    this.list.hidden = items.length === 0;
    this.input.setAttribute("aria-expanded", String(items.length > 0));
    this.input.removeAttribute("aria-activedescendant");
    say(items.length ? `${items.length} completions` : "No completions");
  }

  close() {
    this.list.hidden = true;
    this.input.setAttribute("aria-expanded", "false");
    this.input.removeAttribute("aria-activedescendant");
  }

  key(event) {
    if (event.key === "Escape" && !this.list.hidden) { this.close(); event.preventDefault(); return; }
    if (this.list.hidden || !this.items.length) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      clearTimeout(timer); // the list stays as it is while it is being walked
      asking?.abort();
      const step = event.key === "ArrowDown" ? 1 : -1;
      this.at = (this.at + step + this.items.length + (this.at < 0 && step < 0 ? 1 : 0)) % this.items.length;
      [...this.list.children].forEach((node, index) => node.setAttribute("aria-selected", String(index === this.at)));
      this.input.setAttribute("aria-activedescendant", `completion-${this.at}`);
      this.list.children[this.at].scrollIntoView({ block: "nearest" });
    } else if (event.key === "Enter" && this.at >= 0) {
      event.preventDefault();
      this.take(this.at);
    }
  }

  take(index) {
    const item = this.items[index];
    this.input.value = item.number ?? item.text;
    this.input.focus();
    if (item.complete && item.number) {
      this.close();
      go(here(["part", item.number], {}));
    } else this.look();
  }
}

function words(item) {
  const piece = item.piece?.meaning ?? "";
  const title = item.title && !piece.startsWith(item.title) ? item.title : "";
  return [piece, title].filter(Boolean).join(" · ") + (item.complete ? "" : " …");
}
