// A row of a figure and its places: read from the text, written as text. Pixels of the whole upright picture.
const N = "(\\d+(?:\\.\\d+)?)";
const PAIR = `${N}\\s*,\\s*${N}`;
const FORMS = {
  item: new RegExp(`^${PAIR}\\s+(.*)$`),
  area: new RegExp(`^${PAIR}\\s*,\\s*${PAIR}(?:\\s+(.*?)\\s*,\\s*${N}\\s+times)?$`),
  motion: new RegExp(`^(turn|push|pull|slide)\\s+${PAIR}\\s+((?:upper |lower )?(?:left|right)|up|down)(?:\\s+(.*))?$`),
  scale: new RegExp(`^(.*?)\\s*=\\s*${PAIR}\\s+${PAIR}$`),
};

// What a row says, or null where it can't be read.
export function read(name, value) {
  const tool = /^\d+$/.test(name) ? "item" : name;
  const found = (FORMS[tool] || FORMS.area).exec(value.trim());
  if (!found) return null;
  const at = (n) => ({ x: Number(found[n]), y: Number(found[n + 1]) });
  if (tool === "item") return { tool, number: name, at: at(1), label: found[3] };
  if (tool === "motion") return { tool, kind: found[1], at: at(2), way: found[4], amount: found[5] || "" };
  if (tool === "scale") return { tool, length: found[1], first: at(2), at: at(4) };
  const first = at(1), size = at(3);
  return { tool, first, at: { x: first.x + size.x, y: first.y + size.y }, corner: found[5], times: found[6] };
}

const two = (p) => `${p.x},${p.y}`;

export function area({ first, at }) {
  return { x: Math.min(first.x, at.x), y: Math.min(first.y, at.y), width: Math.abs(at.x - first.x), height: Math.abs(at.y - first.y) };
}

// The row of what is shown, empty while something is missing.
export function written(now) {
  const words = (text) => text.trim().replace(/\s+/g, " ");
  if (!now.at) return "";
  if (now.tool === "item") return /^\d{1,3}$/.test(now.number) && words(now.label) ? `:${now.number}: ${two(now.at)} ${words(now.label)}` : "";
  if (now.tool === "motion") return `:motion: ${now.kind} ${two(now.at)} ${now.way} ${words(now.amount)}`.trim();
  if (!now.first) return "";
  if (now.tool === "scale") return words(now.length) && two(now.first) !== two(now.at) ? `:scale: ${words(now.length)} = ${two(now.first)} ${two(now.at)}` : "";
  const box = area(now);
  if (!box.width || !box.height) return "";
  const row = `:${now.tool}: ${box.x},${box.y},${box.width},${box.height}`;
  if (now.tool !== "detail") return row;
  return /^\d+([.,]\d+)?$/.test(now.times.trim()) ? `${row} ${now.corner}, ${now.times.trim().replace(",", ".")} times` : "";
}

export const needsTwo = (tool) => !["item", "motion"].includes(tool);
