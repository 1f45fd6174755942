/** A QR code on the screen, drawn by a library that is fetched only when one is asked for. */
const LIBRARY = "assets/vendor/qrcode.js";

function qrLibrary() {
  if (globalThis.qrcode) return Promise.resolve(globalThis.qrcode);
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = new URL(LIBRARY, document.baseURI).href;
    script.onload = () => resolve(globalThis.qrcode);
    script.onerror = reject;
    document.head.append(script);
  });
}

/** @returns {Promise<HTMLCanvasElement>} black on white with its quiet zone, whatever the colours of the page */
export async function qrCanvas(text, label) {
  const code = (await qrLibrary())(0, "L");
  code.addData(text, "Alphanumeric");
  code.make();
  const quiet = 4, count = code.getModuleCount() + 2 * quiet, scale = Math.max(2, Math.floor(1200 / count));
  const canvas = Object.assign(document.createElement("canvas"), {width: count * scale, height: count * scale, className: "run-code"});
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", label);
  const ink = canvas.getContext("2d");
  ink.fillStyle = "#fff";
  ink.fillRect(0, 0, canvas.width, canvas.height);
  ink.fillStyle = "#000";
  for (let row = 0; row < count - 2 * quiet; row++) {
    for (let column = 0; column < count - 2 * quiet; column++) {
      if (code.isDark(row, column)) ink.fillRect((column + quiet) * scale, (row + quiet) * scale, scale, scale);
    }
  }
  return canvas;
}
