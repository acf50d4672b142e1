// Scanning a label: with the camera or from a picture, with what the browser itself has or with the reader in scanner/, which is fetched only here.

import { post } from "./api.js";
import { h, say } from "./elements.js";
import { go, here } from "./route.js";

const WANTED = ["data_matrix", "qr_code", "code_128", "code_39", "pdf417"];
const PAUSE = 150;
/** How many more looks a label gets once one code on it was read: lot and quantity often have codes of their own. */
const COMPANIONS = 3;
let looking = null;

/** A function from a picture (an ImageBitmap, which it closes) to the codes in it. Made once; rejects where nothing can read. */
function reader() {
  looking ??= (async () => {
    if ("BarcodeDetector" in window) {
      const formats = (await BarcodeDetector.getSupportedFormats()).filter((name) => WANTED.includes(name));
      if (formats.length) return inBrowser(new BarcodeDetector({ formats }));
    }
    return "OffscreenCanvas" in window ? beside() : inBrowser(new (await import("./scanner/barcode-detector.js")).t({ formats: WANTED }));
  })();
  looking.catch(() => { looking = null; });
  return looking;
}

function inBrowser(detector) {
  return async (image) => {
    const found = await detector.detect(image);
    image.close?.();
    return found.map((one) => one.rawValue);
  };
}

function beside() {
  const worker = new Worker(new URL("./scanner/worker.js", import.meta.url), { type: "module" });
  const open = new Map();
  let next = 0;
  worker.addEventListener("message", ({ data }) => {
    const { done, failed } = open.get(data.id);
    open.delete(data.id);
    if (data.failed) failed(new Error(data.failed));
    else done(data.codes);
  });
  worker.addEventListener("error", () => {
    for (const { failed } of open.values()) failed(new Error("the reader could not be started"));
    open.clear();
    looking = null;
  });
  worker.postMessage({ formats: WANTED });
  return (image) => new Promise((done, failed) => {
    next += 1;
    open.set(next, { done, failed });
    worker.postMessage({ id: next, image }, [image]);
  });
}

/** Opens the camera in a dialog. Where there is none, `note` says why and offers a picture instead. */
export async function openScanner(note) {
  without(note, "The browser asks whether the camera may be used.");
  if (!navigator.mediaDevices?.getUserMedia) { without(note, "No camera can be asked for at an address without https."); return; }
  let stream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } }, audio: false });
  } catch (error) {
    without(note, error.name === "NotFoundError" ? "No camera found." : "The camera was refused; everything else works without it.");
    return;
  }
  note.hidden = true;
  look(stream, note);
}

function without(note, why) {
  note.hidden = false;
  const words = `${why} Type the number, use a scanner that types, or open a picture of the label.`;
  note.replaceChildren(h("p", {}, words), ...fromPicture(note));
  say(words);
}

/** A button that opens a picture and reads the label in it. */
function fromPicture(note, before = () => undefined) {
  const input = h("input", { id: "label-picture", type: "file", accept: "image/*", hidden: true, "aria-label": "Picture of a label" });
  input.addEventListener("change", async () => {
    const [chosen] = input.files;
    if (!chosen) return;
    before();
    note.hidden = false;
    tell(note, "Reading the picture …");
    let codes;
    try {
      const read = await reader();
      codes = await read(await createImageBitmap(chosen));
    } catch (error) {
      tell(note, error.name === "InvalidStateError" ? "That file is no picture that this browser opens." : "The bar code reader could not be fetched. It is kept on this device after its first use.");
      return;
    }
    if (codes.length) await taken(codes, note);
    else tell(note, "No bar code was found in that picture. Take it straight on, near, and in good light.");
  });
  return [h("button", { type: "button", on: { click: () => input.click() } }, "Open a picture"), input];
}

function tell(note, words) {
  note.hidden = false;
  note.replaceChildren(words);
  say(words);
}

function look(stream, note) {
  const sight = h("video", { playsinline: true, muted: true, autoplay: true, "aria-label": "Camera" });
  const said = h("p", { role: "status" }, "Getting the bar code reader ready …");
  const close = h("button", { type: "button" }, "Close the camera");
  const dialog = h("dialog", { class: "scanning", "aria-label": "Scan a label" }, said, sight, h("div", { class: "row" }, close, fromPicture(note, () => dialog.close())));
  const back = document.activeElement;
  sight.muted = true;
  sight.srcObject = stream;
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
  watchFor(sight, said, () => over, (codes) => { dialog.close(); return taken(codes, note); });
}

/** Looks again and again until a code was found and its companions had their chance. */
async function watchFor(sight, said, over, found) {
  const codes = new Set();
  let left = COMPANIONS;
  let read;
  try {
    read = await reader();
  } catch {
    said.textContent = "The bar code reader could not be fetched. Type the number; the reader is kept on this device after its first use.";
    return;
  }
  const step = async () => {
    if (over()) return;
    try {
      const image = sight.videoWidth ? await createImageBitmap(sight) : null;
      for (const code of image ? await read(image) : []) codes.add(code);
      if (image) said.textContent = "Hold the label still, a hand's breadth away.";
    } catch {
      said.textContent = "The bar code reader could not be started. Type the number.";
      return;
    }
    const whole = [...codes].some((code) => code.startsWith("[)>"));
    if (codes.size && (whole || left-- === 0)) { if (!over()) await found([...codes]); } else setTimeout(step, PAUSE);
  };
  step();
}

/** Several codes of one label as one message in the envelope of ISO/IEC 15434, so that the service reads each by its identifier. */
function gathered(codes) {
  return `[)>\x1e06\x1d${codes.join("\x1d")}\x1e\x04`;
}

/** What to do with a label's codes: the service takes them apart; without a signal the identifiers are split off here. */
export async function taken(codes, note) {
  const whole = codes.find((code) => code.startsWith("[)>"));
  const plain = whole ?? (codes.length === 1 ? codes[0] : null);
  const label = (plain ? await asLabel(plain) : null) ?? (whole ? null : await asLabel(gathered(codes))) ?? enveloped(whole ?? codes[0]);
  const extra = [label.lot ? `lot ${label.lot}` : "", label.quantity ? `quantity ${label.quantity}` : ""].filter(Boolean).join(", ");
  if (!label.part) { tell(note, `Scanned ${extra || "a label"}, but no part number. Scan the bar code of the part number.`); return; }
  tell(note, `Scanned ${label.part}${extra ? `, ${extra}` : ""}.`);
  go(here(["part", label.part], { lot: label.lot ?? "", quantity: label.quantity ?? "" }));
}

/** {part, lot, quantity} as the service reads a payload, or null when it finds no part in it. */
async function asLabel(payload) {
  const answer = await post("text/parts", { text: payload });
  const label = (answer.data.payloads ?? []).find((one) => one.part);
  if (label) return label;
  const found = (answer.data.parts ?? []).find((one) => one.number);
  return found ? { part: found.number, lot: found.lot, quantity: found.quantity } : null;
}

/** {part, lot, quantity} of a payload. Outside the envelope the payload is the part number as it stands. Identifiers: ANSI MH10.8.2 (from-memory). */
export function enveloped(payload) {
  if (!payload.startsWith("[)>")) return { part: payload.replace(/[^\x20-\x7e]+/g, " ").trim() };
  const fields = new Map(payload.split(/[\x1d\x1e\x04]/).map((field) => field.match(/^(\d{0,3}[A-Z])(.+)$/s)).filter(Boolean).map(([, name, value]) => [name, value]));
  return { part: fields.get("1P") ?? fields.get("P"), lot: fields.get("1T") ?? fields.get("T"), quantity: fields.get("Q") };
}
