// Words of a finding as nodes: what stands in backticks is code, a mark with its name is code as a whole.
// The same rule as `told` in live/listing.py; what is copied out of the code is what has to be written.
import { el } from "./post.js";

const CODE = /`(\{[\w-]+\}`[^`]+`)`|(\{[\w-]+\}`[^`]+`)|`([^`]+)`/g;

export function told(words) {
  const nodes = [];
  let end = 0;
  for (const found of words.matchAll(CODE)) {
    nodes.push(words.slice(end, found.index), el("code", {}, found[1] ?? found[2] ?? found[3]));
    end = found.index + found[0].length;
  }
  return [...nodes, words.slice(end)].filter((part) => part !== "");
}
