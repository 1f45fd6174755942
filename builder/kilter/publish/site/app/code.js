/** A short record as the text of a QR code: deflated canonical JSON in base 45 (RFC 9285), as `records/code.py` reads it. */
const SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
/** Version 25 of the code at level L (ISO/IEC 18004, table 7): a finer one is not read from a screen. */
export const MOST_SIGNS = 1852;

/** @param {Uint8Array} bytes */
export function base45(bytes) {
  let made = "";
  for (let n = 0; n < bytes.length; n += 2) {
    const pair = n + 1 < bytes.length;
    let value = pair ? bytes[n] * 256 + bytes[n + 1] : bytes[n];
    for (let digit = pair ? 3 : 2; digit; digit--) {
      made += SIGNS[value % 45];
      value = Math.floor(value / 45);
    }
  }
  return made;
}

/** @returns {Promise<string>} the text of the code; "" where the record is too long for one, or the browser can't pack */
export async function packedRecord(json) {
  if (typeof CompressionStream === "undefined") return "";
  const stream = new Blob([json]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  const text = `KR1:${base45(new Uint8Array(await new Response(stream).arrayBuffer()))}`;
  return text.length <= MOST_SIGNS ? text : "";
}
