/**
 * A receipt of the workshop: which records it holds. A record leaves the phone only if the receipt names it as it is
 * now; one that has grown since is not covered. Codes are those of `records/receipt.py`.
 */
import {digestOf} from "./record.js";
import {sha256} from "./sha256.js";

const RECEIPT = "kilter-receipt-1";

/** Eight hex digits in two groups, which a person can type: `7F3A-91C2`. */
export function receiptCode(record) {
  const code = sha256(`${RECEIPT} ${record.id} ${record.digest}`).slice(0, 8).toUpperCase();
  return `${code.slice(0, 4)}-${code.slice(4)}`;
}

/**
 * What was read back: a receipt file, the text of its QR code, or codes as typed.
 * @returns {{held: Set<string>, codes: Set<string>} | null} null where it is no receipt, or a damaged one
 */
export function readReceipt(text) {
  const given = text.trim();
  if (given.startsWith("{")) return receiptFile(given);
  const codes = given.replace(/^KRR1:/i, "").toUpperCase().split(/[\s,;]+/).filter(Boolean);
  const whole = codes.map((code) => /^([0-9A-F]{4})-?([0-9A-F]{4})$/.exec(code));
  if (!codes.length || whole.includes(null)) return null;
  return {held: new Set(), codes: new Set(whole.map((found) => `${found[1]}-${found[2]}`))};
}

function receiptFile(text) {
  try {
    const receipt = JSON.parse(text);
    if (receipt.schema !== RECEIPT || digestOf(receipt) !== receipt.digest) return null;
    return {held: new Set(receipt.records.map((each) => `${each.id} ${each.digest}`)), codes: new Set()};
  } catch {
    return null;
  }
}

/** Whether the workshop holds this record exactly as it is on the phone. */
export function receiptCovers(receipt, record) {
  return receipt.held.has(`${record.id} ${record.digest}`) || receipt.codes.has(receiptCode(record));
}
