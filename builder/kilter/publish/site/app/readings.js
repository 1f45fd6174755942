/** Entering a reading with gloves: own keys, the unit fixed, the limit in view, the verdict at once. */
import {el, button, labelled, W} from "./dom.js";
import {asNumber} from "./decimal.js";
import {uncertaintyAt, verdict} from "./verdict.js";

const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "±", "0", "."];

export function verdictWords(kind) {
  return W(`verdict.${kind.replaceAll(" ", "-")}`);
}

/** A reading of a step: what was read, or the keys to enter it. */
export function readingOf(reading, taken, tools, act, edit, again) {
  const title = [reading.phase && W(`phase.${reading.phase.replace(" ", "-")}`), reading.name].filter(Boolean).join(": ");
  const head = el("p", {class: "run-limit"}, el("b", {}, title || W("reading")), " ", el("span", {class: "value"}, reading.limits));
  const box = el("section", {class: "run-reading", "data-reading": reading.id}, head);
  if (edit === reading.id) box.append(keypad(reading, taken, tools, act, again));
  else if (!taken) box.append(button(W("enter-reading"), () => again(reading.id), {class: "run-enter"}));
  else box.append(told(reading, taken), button(W("read-again"), () => again(reading.id), {class: "run-plain"}));
  return box;
}

function told(reading, taken) {
  const kind = taken.verdict.replaceAll(" ", "-");
  const more = taken.verdict === "too close to call" ? el("p", {}, W("too-close", {by: taken.uncertainty, unit: taken.unit}))
    : taken.verdict === "fail" ? el("p", {}, W("outside")) : null;
  return el("div", {class: `run-verdict ${kind}`}, el("p", {}, el("b", {class: "digits"}, `${taken.value} ${taken.unit}`), " ",
    el("span", {}, verdictWords(taken.verdict))), more);
}

function keypad(reading, taken, tools, act, again) {
  const known = tools[reading.tool] || {};
  const shown = el("input", {inputmode: "none", autocomplete: "off", "aria-label": W("value-in", {unit: reading.unit || "1"}),
    class: "digits", maxlength: 14, "data-of": reading.id});
  const number = el("input", {autocomplete: "off", maxlength: 40, value: known.toolId || ""});
  const due = el("input", {type: "date", value: known.calibrationDue || ""});
  const trouble = el("p", {class: "run-trouble", role: "alert"});
  const press = (key) => {
    if (key === "±") shown.value = shown.value.startsWith("-") ? shown.value.slice(1) : `-${shown.value}`;
    else if (shown.value.length < 14) shown.value += key;
    trouble.textContent = "";
  };
  const keys = KEYS.map((key) => button(key === "." ? W("decimal-point") : key, () => press(key),
    {"aria-label": key === "±" ? W("sign") : key === "." ? W("decimal") : key}));
  const erase = button("⌫", () => { shown.value = shown.value.slice(0, -1); }, {"aria-label": W("erase")});
  const take = () => {
    const value = asNumber(shown.value);
    if (!value) return void (trouble.textContent = W("no-number"));
    const today = new Date().toISOString().slice(0, 10);
    if (due.value && due.value < today && trouble.dataset.told !== due.value) {
      trouble.dataset.told = due.value;
      return void (trouble.textContent = W("calibration-over", {date: due.value}));
    }
    const uncertainty = uncertaintyAt(value, reading.share, reading.off);
    return act("reading", {
      id: reading.id, name: reading.name, phase: reading.phase, value, unit: reading.unit, limits: reading.limits,
      low: reading.low, high: reading.high, uncertainty,
      verdict: verdict(value, uncertainty, reading.low, reading.high, reading.lowItself, reading.highItself),
      tool: reading.tool, toolId: number.value.trim(), calibrationDue: due.value,
    });
  };
  shown.addEventListener("keydown", (event) => { if (event.key === "Enter") take(); });
  const off = reading.share || reading.off;
  return el("div", {class: "run-keypad"},
    el("div", {class: "run-entry"}, shown, el("span", {class: "unit"}, reading.unit), erase),
    el("div", {class: "keys"}, keys),
    reading.tool ? el("details", {class: "run-tool", open: !known.toolId}, el("summary", {}, W("measured-with", {tool: reading.tool, number: known.toolId || "?"})),
      labelled(W("tool-number"), number), labelled(W("calibration-due"), due),
      el("p", {}, off ? W("tool-off") : W("tool-unknown"))) : el("p", {}, W("tool-none")),
    trouble,
    el("div", {class: "run-pair"}, button(W("cancel"), () => again(""), {class: "run-plain"}), button(W("take-reading"), take, {class: "run-main"})));
}
