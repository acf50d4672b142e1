// Building the page: every node is made here by name, so no text is ever read as markup.

/** An element. `props`: attributes; `on` an object of listeners; true sets an empty attribute, false/null leaves it out. */
export function h(name, props, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(props ?? {})) {
    if (value === null || value === undefined || value === false) continue;
    if (key === "on") for (const [event, run] of Object.entries(value)) node.addEventListener(event, run);
    else if (key === "value") node.value = value;
    else if (key === "checked") node.checked = value;
    else node.setAttribute(key, value === true ? "" : String(value));
  }
  append(node, children);
  return node;
}

/** Children in order; arrays are opened, empty ones left out. */
export function append(node, children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false || child === "") continue;
    node.append(child instanceof Node ? child : String(child));
  }
  return node;
}

/** A picture drawn by the service, put into the page so that its ink follows the page's; null when it is no drawing. */
export function drawing(text) {
  const read = new DOMParser().parseFromString(text, "image/svg+xml");
  const root = read.documentElement;
  if (root.nodeName !== "svg" || read.querySelector("parsererror, script, foreignObject")) return null;
  return document.importNode(root, true);
}

let nextId = 0;
/** An id no other element has. */
export function freshId(stem) {
  nextId += 1;
  return `${stem}-${nextId}`;
}

/** A labelled input. The label is above, the hint below; both belong to the input for a screen reader. */
export function labelled(caption, input, hint) {
  const hintId = hint ? `${input.id}-hint` : null;
  if (hintId) input.setAttribute("aria-describedby", hintId);
  return h("div", { class: "asked" },
    h("label", { for: input.id }, caption), input,
    hint ? h("p", { id: hintId, class: "hint" }, hint) : null);
}

/** A plain switch of three: yes, no, or not stated, which is not the same as no. `state`: "true", "false" or "". */
export function flag(id, words, state, changed) {
  const select = h("select", { id, on: { change: (event) => changed(event.target.value) } },
    h("option", { value: "" }, "not stated"), h("option", { value: "true" }, "yes"), h("option", { value: "false" }, "no"));
  select.value = state;
  return h("div", { class: "state" }, h("label", { for: id }, words), select);
}

/** A choice among a few words, as a fieldset of radio buttons. `options`: [value, words] pairs. */
export function choice(name, legend, options, chosen, changed) {
  return h("fieldset", { class: "choice" }, h("legend", {}, legend),
    h("div", { class: "choices" }, options.map(([value, words]) => {
      const id = `${name}-${value || "open"}`;
      return h("label", { for: id },
        h("input", { type: "radio", name, id, value, checked: value === chosen, on: { change: () => changed(value) } }),
        h("span", {}, words));
    })));
}

/** Says something to whoever listens and does not look. */
export function say(words) {
  const node = document.getElementById("spoken");
  if (node) node.textContent = words;
}
