// Reads a tag with the camera, where the browser can; typing always goes.

/** Whether this browser reads codes. */
export const canScan = () => "BarcodeDetector" in self && !!navigator.mediaDevices?.getUserMedia;

/** The last part of an address on a tag, or the code itself. */
export function named(text) {
  try {
    const path = new URL(text).pathname.split("/").filter(Boolean);
    return decodeURIComponent(path[path.length - 1] ?? "");
  } catch {
    return text.trim();
  }
}

/** Shows the camera in `place` until a code is read or it is given up; the name, or null. */
export async function scan(place) {
  const detector = new BarcodeDetector({ formats: ["qr_code"] });
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
      const [code] = await detector.detect(video);
      if (code) return named(code.rawValue);
      await new Promise((yes) => setTimeout(yes, 150));
    }
    return null;
  } finally {
    stream.getTracks().forEach((t) => t.stop());
    place.replaceChildren();
  }
}
