/** SHA-256 (FIPS 180-4) in plain JavaScript: crypto.subtle is not there over plain http. */
const PRIMES = (() => {
  const found = [];
  for (let n = 2; found.length < 64; n++) if (found.every((prime) => n % prime)) found.push(n);
  return found;
})();
const fraction = (root) => ((root - Math.floor(root)) * 2 ** 32) >>> 0;
const START = PRIMES.slice(0, 8).map((prime) => fraction(Math.sqrt(prime)));
const ROUND = PRIMES.map((prime) => fraction(Math.cbrt(prime)));
const turn = (word, by) => (word >>> by) | (word << (32 - by));

/** @param {string} text is taken as UTF-8  @returns {string} 64 hex digits */
export function sha256(text) {
  const bytes = new TextEncoder().encode(text);
  const blocks = new Uint8Array(((bytes.length + 8) >> 6) * 64 + 64);
  blocks.set(bytes);
  blocks[bytes.length] = 0x80;
  const view = new DataView(blocks.buffer);
  view.setUint32(blocks.length - 8, Math.floor(bytes.length / 2 ** 29));
  view.setUint32(blocks.length - 4, (bytes.length << 3) >>> 0);
  const hash = [...START], w = new Uint32Array(64);
  for (let at = 0; at < blocks.length; at += 64) mix(hash, w, view, at);
  return hash.map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
}

function mix(hash, w, view, at) {
  for (let n = 0; n < 16; n++) w[n] = view.getUint32(at + 4 * n);
  for (let n = 16; n < 64; n++) {
    const a = w[n - 15], b = w[n - 2];
    const low = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3), high = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
    w[n] = w[n - 16] + low + w[n - 7] + high;
  }
  let [a, b, c, d, e, f, g, h] = hash;
  for (let n = 0; n < 64; n++) {
    const one = h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + ROUND[n] + w[n];
    const two = (turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) | 0, c, b, a, (one + two) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, n) => { hash[n] = (hash[n] + word) | 0; });
}
