// The fields of the profile form, made from the questions that the server sends.
import { el } from "./post.js";

let count = 0;

// `value` is read and changed through `of[field.key]`; `change` is called after each change.
export function field(spec, of, at, ctx) {
  const id = `f${(count += 1)}`;
  const wrong = el("p", { className: "wrong", id: `${id}-wrong`, role: "alert" });
  const help = spec.help ? el("p", { className: "help", id: `${id}-help` }, spec.help) : "";
  const box = el("div", { className: "field", data: { at: `${at}${spec.key}`, key: spec.key } });
  const label = { id, describe: `${help ? `${id}-help ` : ""}${id}-wrong` };
  if (spec.type === "choice" || spec.type === "sources") {
    const make = spec.type === "choice" ? choices : sources;
    box.append(el("fieldset", { "aria-describedby": label.describe }, el("legend", {}, spec.question), help, make(spec, of, id, ctx)), wrong);
  } else {
    box.append(el("label", { htmlFor: id }, spec.question), help, control(spec, of, label, ctx), wrong);
  }
  return box;
}

function control(spec, of, label, ctx) {
  const many = spec.type === "lines" || spec.type === "area";
  const value = spec.type === "lines" ? (of[spec.key] || []).join("\n") : of[spec.key] || "";
  const input = el(many ? "textarea" : "input", { id: label.id, value, autocomplete: "off", "aria-describedby": label.describe, maxLength: spec.limit || (many ? 4000 : 600) });
  if (many) input.rows = spec.type === "lines" ? Math.max(2, (of[spec.key] || []).length + 1) : 3;
  input.addEventListener("input", () => {
    const before = of[spec.key];
    of[spec.key] = spec.type === "lines" ? input.value.split("\n").map((row) => row.trim()).filter(Boolean) : input.value;
    ctx.change(spec, before, of);
  });
  return input;
}

function choices(spec, of, id, ctx) {
  const boxes = spec.options.map((option) => el("label", { className: "choice" },
    el("input", { type: "radio", name: id, value: option.value, checked: (of[spec.key] || "") === option.value, on: { change: () => {
      of[spec.key] = option.value;
      ctx.change(spec, undefined, of);
    } } }), ` ${option.words}`));
  return el("div", { className: "choices" }, ...boxes);
}

// One box for each other source; drawn again whenever a source comes, goes or is renamed.
function sources(spec, of, id, ctx) {
  const box = el("div", { className: "choices wide" });
  const draw = () => {
    const names = ctx.names().filter((name) => name !== of.name || spec.key === "reach");
    of[spec.key] = (of[spec.key] || []).filter((name) => names.includes(name));
    box.replaceChildren(...names.map((name) => el("label", { className: "choice" },
      el("input", { type: "checkbox", checked: of[spec.key].includes(name), on: { change: (event) => {
        of[spec.key] = event.target.checked ? [...of[spec.key], name] : of[spec.key].filter((n) => n !== name);
        ctx.change(spec, undefined, of);
      } } }), ` ${name}`)));
    if (names.length === 0) box.append(el("p", { className: "help" }, "There is no other source yet."));
  };
  draw();
  ctx.drawers.add({ box, draw });
  return box;
}

// Shows the questions that make sense after the answers so far.
export function fits(spec, of) {
  return Object.entries(spec.when || {}).every(([key, values]) => values.includes(of[key] || ""));
}

export function hideUnfit(container, specs, of) {
  for (const box of container.querySelectorAll(":scope > .field")) {
    const spec = specs.find((each) => each.key === box.dataset.key);
    if (spec) box.hidden = !fits(spec, of);
  }
}

// The answers without those to questions that are not shown.
export function shownOnly(specs, of, kind) {
  const kept = { ...of };
  for (const spec of specs) {
    const asked = fits(spec, of) && (!spec.kinds || spec.kinds.includes(kind));
    if (!asked) delete kept[spec.key];
  }
  return kept;
}
