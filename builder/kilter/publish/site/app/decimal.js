/**
 * Exact decimal numbers as [digits, places]: 7.90 is [790n, 2]. A reading is compared as it was typed;
 * a binary fraction would move it across a limit.
 */
const FORM = /^-?\d{1,12}(\.\d{1,12})?$/;

const TYPED = /^([+\-\u2212]?)(?:0*(\d+)(?:[.,](\d*))?|[.,](\d+))$/;

/** What was typed, with one comma or point, as a record keeps it; "" where it is no number: a point alone is not 0. */
export function asNumber(typed) {
  const found = TYPED.exec(typed.trim());
  if (!found) return "";
  const [, sign, whole = "0", part, alone] = found, digits = part || alone;
  const number = digits ? `${whole}.${digits}` : whole;
  if (!FORM.test(number)) return "";
  return sign && sign !== "+" && /[1-9]/.test(number) ? `-${number}` : number;
}

export function decimal(text) {
  if (!FORM.test(text)) throw new RangeError(`no decimal number: ${text}`);
  const [whole, part = ""] = text.split(".");
  return [BigInt(whole + part), part.length];
}

function level(one, two) {
  const places = Math.max(one[1], two[1]);
  const scale = (number) => number[0] * 10n ** BigInt(places - number[1]);
  return [scale(one), scale(two), places];
}

export function plus(one, two) {
  const [a, b, places] = level(one, two);
  return [a + b, places];
}

export function minus(one, two) {
  return plus(one, [-two[0], two[1]]);
}

export function times(one, two) {
  return [one[0] * two[0], one[1] + two[1]];
}

/** @returns {number} below, at or above zero, as one is to two */
export function compare(one, two) {
  const [a, b] = level(one, two);
  return a < b ? -1 : a > b ? 1 : 0;
}

export function magnitude(one) {
  return one[0] < 0n ? [-one[0], one[1]] : one;
}

/** Plain digits, no trailing zeros. */
export function digitsOf(number) {
  const sign = number[0] < 0n ? "-" : "";
  const digits = String(magnitude(number)[0]).padStart(number[1] + 1, "0");
  const whole = digits.slice(0, digits.length - number[1]), part = digits.slice(digits.length - number[1]);
  const kept = part.replace(/0+$/, "");
  return (sign + whole + (kept ? `.${kept}` : "")).replace(/^-0$/, "0");
}
