// On paper nothing can be tapped: what is folded is unfolded for the print and folded again after it. Long tails of lists stay folded and say so.

import { toScale } from "./scale.js";

let unfolded = [];

function unfold() {
  for (const svg of document.querySelectorAll(".glass svg")) toScale(svg, 1); // paper knows a millimetre
  const waiting = [];
  for (let left = true; left;) { // what is unfolded may hold more that is folded
    const shut = [...document.querySelectorAll("main details:not([open]):not(.more):not(.calibrate)")].filter((one) => !one.closest(".switches, details.more:not([open])"));
    left = shut.length > 0;
    for (const one of shut) {
      waiting.push(one.unfold?.());
      one.open = true;
      unfolded.push(one);
    }
  }
  return Promise.all(waiting);
}

function fold() {
  for (const svg of document.querySelectorAll(".glass svg")) toScale(svg);
  for (const one of unfolded) one.open = false;
  unfolded = [];
}

window.addEventListener("beforeprint", unfold);
window.addEventListener("afterprint", fold);

/** Prints the view, with the titles of its sources where they can be had. */
export async function toPaper() {
  await unfold();
  window.print();
  fold();
}
