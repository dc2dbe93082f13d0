// Reads a tag with the camera or from a photograph; typing always goes.

import { decode } from "./gauging-qr.js";

/** Whether this browser shows a page what the camera sees. */
export const canScan = () => !!navigator.mediaDevices?.getUserMedia;

/** The last part of an address on a tag, or the code itself. */
export function named(text) {
  try {
    const path = new URL(text).pathname.split("/").filter(Boolean);
    return decodeURIComponent(path[path.length - 1] ?? "");
  } catch {
    return text.trim();
  }
}

/** The browser's own reader of codes where it has one; ours elsewhere. */
async function reader() {
  if ("BarcodeDetector" in self) {
    const known = await BarcodeDetector.getSupportedFormats().catch(() => []);
    if (known.includes("qr_code")) {
      const detector = new BarcodeDetector({ formats: ["qr_code"] });
      return async (picture) => (await detector.detect(picture))[0]?.rawValue ?? null;
    }
  }
  const canvas = document.createElement("canvas");
  const context = canvas.getContext("2d", { willReadFrequently: true });
  return async (picture, longest = 640) => {
    const [w, h] = [picture.videoWidth ?? picture.width, picture.videoHeight ?? picture.height];
    if (!w || !h) return null;
    const scale = Math.min(1, longest / Math.max(w, h));
    canvas.width = Math.round(w * scale);
    canvas.height = Math.round(h * scale);
    context.drawImage(picture, 0, 0, canvas.width, canvas.height);
    return decode(context.getImageData(0, 0, canvas.width, canvas.height));
  };
}

/** What a photograph of a tag names, or null. */
export async function fromPhotograph(file) {
  const picture = await createImageBitmap(file);
  try {
    const read = await reader();
    // A code may fill the picture or be small in it.
    for (const longest of [640, 1200, 2000, 320]) {
      const text = await read(picture, longest);
      if (text) return named(text);
    }
    return null;
  } finally {
    picture.close();
  }
}

/** Shows the camera in `place` until a code is read or it is given up; the name, or null. */
export async function scan(place) {
  const read = await reader();
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  const video = document.createElement("video");
  video.playsInline = true;
  video.muted = true;
  video.srcObject = stream;
  const stop = document.createElement("button");
  stop.type = "button";
  stop.textContent = "Stop the camera";
  let given = false;
  stop.addEventListener("click", () => { given = true; });
  place.replaceChildren(video, stop);
  try {
    await video.play();
    while (!given) {
      const text = await read(video);
      if (text) return named(text);
      await new Promise((yes) => setTimeout(yes, 150));
    }
    return null;
  } finally {
    stream.getTracks().forEach((t) => t.stop());
    place.replaceChildren();
  }
}
