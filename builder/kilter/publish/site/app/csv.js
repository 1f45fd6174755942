/** One row a reading, for the maintenance system: UTF-8 with a mark, CRLF, and no cell that a spreadsheet would run. */
export const COLUMNS = ["document", "revision", "asset", "serial", "work order", "worker", "step", "reading", "phase",
  "value", "unit", "limits", "uncertainty", "verdict", "tool", "tool number", "calibration due", "time", "record"];
const NUMBERS = new Set(["value", "uncertainty"]);

export function csvOf(records) {
  const rows = [COLUMNS, ...records.flatMap(rowsOf)];
  return "\ufeff" + rows.map((row) => row.map((cell, n) => written(cell, NUMBERS.has(COLUMNS[n]))).join(",") + "\r\n").join("");
}

function rowsOf(record) {
  return record.entries.filter((entry) => entry.kind === "reading").map((entry) => [
    record.document, record.revision, record.asset, record.serial, record.workOrder, record.worker, entry.number,
    entry.name, entry.phase, entry.value, entry.unit, entry.limits, entry.uncertainty, entry.verdict, entry.tool,
    entry.toolId, entry.calibrationDue, entry.at, record.id,
  ]);
}

/** Text that begins like a formula gets an apostrophe (OWASP ASVS 5.0, 1.2.10); a number stays one. */
function written(cell, number) {
  const text = !number && /^[=+\-@\t\r\0]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
