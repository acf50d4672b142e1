// Scanning with what the browser itself has. Without it, or without a camera, the page says so and goes on.

import { post } from "./api.js";
import { h } from "./elements.js";
import { go, here } from "./route.js";

const WANTED = ["data_matrix", "qr_code", "code_128", "code_39", "pdf417"];

/** Opens the camera in a dialog. `told(words)` hears why it could not, or what was read. */
export async function openScanner(told) {
  if (!("BarcodeDetector" in window)) { told("This browser reads no bar codes itself. Type the number, or use a scanner that types."); return; }
  if (!navigator.mediaDevices?.getUserMedia) { told("No camera can be asked for at an address without https. Type the number."); return; }
  const formats = (await BarcodeDetector.getSupportedFormats()).filter((name) => WANTED.includes(name));
  if (!formats.length) { told("This browser reads none of the bar codes found on parts labels. Type the number."); return; }
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
  } catch (error) {
    told(error.name === "NotFoundError" ? "No camera found. Type the number." : "The camera was refused. Type the number; everything else works without it.");
    return;
  }
  look(stream, new BarcodeDetector({ formats }), told);
}

function look(stream, detector, told) {
  const video = h("video", { playsinline: true, muted: true, autoplay: true, "aria-label": "Camera" });
  const close = h("button", { type: "button" }, "Close the camera");
  const dialog = h("dialog", { "aria-label": "Scan a label" }, h("p", {}, "Hold the label still, a hand's breadth away."), video, h("div", { class: "row" }, close));
  const back = document.activeElement;
  video.srcObject = stream;
  let over = false;
  dialog.addEventListener("close", () => {
    over = true;
    stream.getTracks().forEach((track) => track.stop());
    dialog.remove();
    back?.focus();
  });
  close.addEventListener("click", () => dialog.close());
  document.body.append(dialog);
  dialog.showModal();
  const step = async () => {
    if (over) return;
    const found = await detector.detect(video).catch(() => []);
    if (found.length) { dialog.close(); taken(found[0].rawValue, told); } else setTimeout(step, 150);
  };
  step();
}

/** What to do with a label's payload: the service takes it apart; a payload in the envelope of ISO/IEC 15434 is split here when it does not. */
export async function taken(payload, told) {
  const answer = await post("text/parts", { text: payload });
  const label = (answer.data.payloads ?? []).find((one) => one.part);
  const found = (answer.data.parts ?? []).find((one) => one.number);
  const split = label ?? (found ? { part: found.number, lot: found.lot, quantity: found.quantity } : enveloped(payload));
  const extra = [split.lot ? `lot ${split.lot}` : "", split.quantity ? `quantity ${split.quantity}` : ""].filter(Boolean).join(", ");
  told(`Scanned ${split.part}${extra ? `, ${extra}` : ""}.`);
  go(here(["part", split.part], { lot: split.lot ?? "", quantity: split.quantity ?? "" }));
}

/** {part, lot, quantity} of a payload. Outside the envelope the payload is the part number as it stands. Identifiers: ANSI MH10.8.2 (from-memory). */
export function enveloped(payload) {
  const fields = payload.startsWith("[)>") ? payload.split(/[\x1d\x1e\x04]/).slice(1) : [];
  const of = (...names) => {
    for (const name of names) {
      const field = fields.find((one) => new RegExp(`^${name}[^\\d]?`).test(one) && one.startsWith(name));
      if (field) return field.slice(name.length);
    }
    return undefined;
  };
  return { part: of("1P", "P") ?? payload.trim(), lot: of("1T", "T"), quantity: of("Q") };
}
