/**
 * Canonical JSON of a record: keys sorted, no blanks, every scalar a string in Unicode NFC.
 * With strings only and ASCII keys, Python and JavaScript write the same bytes.
 */
export function canonical(value) {
  if (typeof value === "string") return JSON.stringify(value.normalize("NFC"));
  if (Array.isArray(value)) return `[${value.map(canonical).join(",")}]`;
  if (value && typeof value === "object") {
    const keys = Object.keys(value).sort();
    return `{${keys.map((key) => `${JSON.stringify(key)}:${canonical(value[key])}`).join(",")}}`;
  }
  throw new TypeError(`a record holds strings only, not ${typeof value}`);
}
