// The findings beside the text: a press leads to the place, a button mends it.
import { el } from "./post.js";
import { told } from "./told.js";

export function showFindings(box, title, findings, act) {
  const errors = findings.filter((f) => f.severity === "error").length;
  const rest = findings.length - errors;
  title.textContent = findings.length === 0 ? "No findings" : `${errors} ${errors === 1 ? "error" : "errors"}${rest ? `, ${rest} ${rest === 1 ? "other" : "others"}` : ""}`;
  box.replaceChildren(...findings.map((f) => one(f, act)));
}

function one(finding, act) {
  const jump = el("button", { type: "button", className: "jump", on: { click: () => act.jump(finding.place) } },
    el("b", {}, `line ${finding.place.line}`), ` ${finding.severity}: `, ...told(finding.message));
  const item = el("li", { className: finding.severity }, jump);
  if (finding.help) item.append(el("p", { className: "advice" }, ...told(finding.help)));
  if (finding.why) item.append(el("p", { className: "advice" }, "Why: ", ...told(finding.why)));
  if (finding.way.length) item.append(way(finding.way));
  for (const label of finding.related)
    item.append(el("button", { type: "button", className: "jump small", on: { click: () => act.jump(label.place) } }, `line ${label.place.line}: `, ...told(label.text)));
  for (const fix of finding.fixes) item.append(button(fix, act));
  return item;
}

function way(hops) {
  const words = hops.map((hop) => (hop.answer ? `${hop.step} (${hop.answer})` : hop.step)).join(" → ");
  return el("details", {}, el("summary", {}, "The way there"), el("p", { className: "advice" }, words));
}

function button(fix, act) {
  return el("button", { type: "button", className: "fix", on: { click: () => act.fix(fix) } }, ...told(fix.title), fix.blank ? " (leaves a blank to fill in)" : "");
}

export function showCandidates(box, title, candidates, act) {
  box.hidden = candidates.length === 0;
  title.textContent = `Words that may want a mark: ${candidates.length}`;
  box.querySelector("ol").replaceChildren(...candidates.map((c) => el("li", { className: "hint" },
    el("button", { type: "button", className: "jump", on: { click: () => act.jump(c.place) } }, el("b", {}, `line ${c.place.line}`), " ", ...told(c.message)),
    button(c.fix, act))));
}
