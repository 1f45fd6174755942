/**
 * Judges a reading as `compute/decision.py` does: outside a limit it fails; it passes only if it stays inside with
 * all of the tool's uncertainty (ISO 14253-1); between the two it is too close to call, which is no pass.
 */
import {compare, decimal, magnitude, minus, plus, digitsOf, times} from "./decimal.js";

/** @returns {"pass"|"too close to call"|"fail"|"not judged"} */
export function verdict(value, uncertainty, low, high, lowItself = true, highItself = true) {
  if (!low && !high) return "not judged";
  const inside = (number) => {
    const above = low ? compare(number, decimal(low)) : 1;
    const below = high ? compare(number, decimal(high)) : -1;
    return (above > 0 || (above === 0 && lowItself)) && (below < 0 || (below === 0 && highItself));
  };
  const read = decimal(value), by = decimal(uncertainty || "0");
  if (!inside(read)) return "fail";
  return inside(minus(read, by)) && inside(plus(read, by)) ? "pass" : "too close to call";
}

/** How far off the tool may be at a reading, in its unit; "" where nothing is known of the tool. */
export function uncertaintyAt(value, share, off) {
  if (off) return off;
  return share ? digitsOf(magnitude(times(decimal(value), decimal(share)))) : "";
}
