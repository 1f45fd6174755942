/** Before the first step: which machine, whose job, is the kit there. */
import {el, button, labelled, W} from "./dom.js";

const CODE = /^[\p{L}\p{N}.-]{1,8}$/u;

/** @returns {string} "in", "out" or "" where the digits can't be compared with any range */
export function serialFits(plan, serial) {
  const digits = serial.match(/\d+/g);
  if (!plan.serials.length || !digits) return "";
  const number = BigInt(digits[digits.length - 1]);
  const inside = ([first, last]) => (!first || number >= BigInt(first)) && (!last || number <= BigInt(last));
  return plan.serials.some(inside) ? "in" : "out";
}

export function beginForm(plan, known, start, leave) {
  const field = (key, more = {}) => el("input", {autocomplete: "off", autocapitalize: "characters", maxlength: 40, ...more, name: key});
  const asset = field("asset", {required: true}), serial = field("serial"), order = field("order");
  const worker = field("worker", {required: true, maxlength: 8, value: known.worker || ""});
  const applies = plan.appliesTo.map((text) => tick(text));
  const trouble = el("p", {class: "run-trouble", role: "alert"});
  const form = el("form", {class: "run-screen", novalidate: true},
    el("h2", {tabindex: -1}, W("begin-title")),
    el("p", {}, W("begin-privacy")),
    labelled(W("asset"), asset), labelled(W("serial"), serial), labelled(W("work-order"), order),
    labelled(W("worker"), worker, el("small", {}, W("worker-hint"))),
    applies.length ? el("fieldset", {}, el("legend", {}, W("applies")), applies) : null,
    el("p", {}, W("begin-kit")),
    trouble,
    el("div", {class: "run-pair"}, button(W("whole-page"), leave, {class: "run-plain"}), el("button", {type: "submit", class: "run-main"}, W("start"))));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const why = wrong(plan, asset.value, serial.value, worker.value, form);
    if (why) {
      trouble.textContent = why[0];
      why[1].closest("label").after(trouble); // where it is mended, not below the screen
      why[1].focus();
      return;
    }
    start({asset: asset.value.trim(), serial: serial.value.trim(), workOrder: order.value.trim(), worker: worker.value.trim()});
  });
  return form;
}

function tick(text) {
  return el("label", {class: "run-tick"}, el("input", {type: "checkbox"}), el("span", {}, W("it-is", {text})));
}

function wrong(plan, asset, serial, worker, form) {
  const of = (name) => form.elements.namedItem(name);
  if (!asset.trim()) return [W("need-asset"), of("asset")];
  if (!CODE.test(worker.trim())) return [W("need-worker"), of("worker")];
  if (plan.serials.length && !serial.trim()) return [W("need-serial"), of("serial")];
  if (serialFits(plan, serial) === "out") return [W("serial-out", {text: plan.appliesTo.join("; ")}), of("serial")];
  const open = form.querySelector(".run-tick input:not(:checked)");
  return open ? [W("need-applies"), open] : null;
}
