// True size on the glass: what a millimetre of this screen is, set once against the short edge of a bank card (ISO/IEC 7810, ID-1: 53.98 mm).

import { h } from "./elements.js";
import { remember, remembered } from "./route.js";

const EDGE = 53.98;
/** Sentences of a drawing that the page says in places of its own. */
const SAID_ELSEWHERE = /^(Release |Reference data|The aircraft's own|Dashed lines)/;

/** How many CSS millimetres make a real one on this screen; 1 until it was measured. */
export function factor() {
  const kept = Number(remembered("scale"));
  return kept > 0.4 && kept < 2.5 ? kept : 1;
}

/** Draws a picture at its true size, as far as this screen is known. `by`: what its millimetres are stretched by. */
export function toScale(svg, by = factor()) {
  for (const side of ["width", "height"]) {
    svg.dataset[side] ??= parseFloat(svg.getAttribute(side));
    svg.setAttribute(side, `${Number(svg.dataset[side]) * by}mm`);
  }
}

/** A drawing in its frame. Its small print is taken out of the picture and given below it, at the reader's own text size. */
export function framed(svg) {
  const print = [...svg.children].filter((node) => node.matches('text[x="0"][font-size="2.4"]'));
  const said = svg.querySelector("desc")?.textContent ?? "";
  const box = svg.getAttribute("viewBox")?.split(" ").map(Number);
  const wide = parseFloat(svg.getAttribute("width"));
  if (print.length && said && box?.length === 4) {
    const foot = Number(print[0].getAttribute("y")) - 3.5;
    print.forEach((node) => node.remove());
    const ratio = wide / box[2];
    box[3] = foot - box[1];
    svg.setAttribute("viewBox", box.join(" "));
    svg.setAttribute("height", `${box[3] * ratio}mm`);
  }
  toScale(svg);
  const sentences = said.split(/(?<=\.) (?=[A-Z\u2300a-z])/).filter((one) => !SAID_ELSEWHERE.test(one));
  const glass = h("div", { class: "glass", tabindex: "0", role: "group", "aria-label": "Drawing, can be moved sideways" }, svg);
  const wider = h("p", { class: "hint no-print", hidden: true }, "Wider than this screen: move it sideways.");
  new ResizeObserver(() => { wider.hidden = glass.scrollWidth <= glass.clientWidth + 16; }).observe(glass);
  return [glass, wider,
    said.includes("Dashed lines") ? h("p", { class: "hint" }, "Dashed lines are proportion, not data: do not measure them.") : "",
    h("details", {}, h("summary", {}, "Sizes drawn, and their basis"), h("ul", { class: "deeper" }, sentences.map((one) => h("li", {}, one))))];
}

/** The card's edge to lay a card on, with a slider that stretches it. `changed` runs after each move. */
export function calibration(changed) {
  const bar = h("div", { class: "card-edge", role: "img", "aria-label": "Short edge of a bank card" });
  const said = h("output", { for: "scale" });
  const draw = () => {
    bar.style.inlineSize = `${EDGE * factor()}mm`;
    said.textContent = remembered("scale") ? `set to ${Math.round(factor() * 100)} %` : "not set for this screen";
  };
  const slider = h("input", { id: "scale", type: "range", min: "0.6", max: "1.6", step: "0.005", value: String(factor()) });
  const set = (value) => {
    remember("scale", String(value));
    slider.value = String(value);
    draw();
    changed();
  };
  slider.addEventListener("input", () => set(Number(slider.value)));
  draw();
  return h("details", { class: "calibrate" },
    h("summary", {}, "True size on this screen"),
    h("div", { class: "deeper" },
      h("p", {}, "Lay the short edge of a bank card on the bar and stretch the bar until both are alike. Then the part can be laid on the drawing. A screen is no gauge: measure with a caliper."),
      bar,
      h("div", { class: "scale-row" },
        h("button", { type: "button", "aria-label": "Shorter", on: { click: () => set(Math.max(0.6, factor() - 0.005)) } }, "−"),
        h("label", { for: "scale", class: "out-of-sight" }, "Length of the bar"), slider,
        h("button", { type: "button", "aria-label": "Longer", on: { click: () => set(Math.min(1.6, factor() + 0.005)) } }, "+")),
      h("p", { class: "hint" }, said, ". The bar is 53.98 mm (ISO/IEC 7810, ID-1).")));
}
