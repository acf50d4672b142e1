// Looks for bar codes in pictures, beside the page: {formats} once, then {id, image} as often as wanted, {id, codes} back.

import { t as BarcodeDetector } from "./barcode-detector.js";

let detector = null;

self.addEventListener("message", async ({ data }) => {
  if (data.formats) { detector = new BarcodeDetector({ formats: data.formats }); return; }
  let codes = [];
  let failed = "";
  try {
    codes = (await detector.detect(data.image)).map((one) => one.rawValue);
  } catch (error) {
    failed = String(error.message ?? error);
  }
  data.image.close();
  self.postMessage({ id: data.id, codes, failed });
});
