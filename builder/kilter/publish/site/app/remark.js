/** "This step is wrong": a note to the writer, kept and handed over like a record. */
import {el, button, labelled, W} from "./dom.js";

const MOST = 500;

export function remarkScreen(step, actions) {
  const text = el("textarea", {rows: 5, maxlength: MOST});
  const trouble = el("p", {class: "run-trouble", role: "alert"});
  const send = () => {
    if (!text.value.trim()) return void (trouble.textContent = W("remark-empty"));
    return actions.take(text.value.trim());
  };
  return el("div", {class: "run-screen"}, el("h2", {tabindex: -1}, W("remark-title", {step: step.number})),
    el("p", {}, W("remark-privacy")), labelled(W("remark-words"), text), trouble,
    el("div", {class: "run-pair"}, button(W("cancel"), actions.stay, {class: "run-plain"}), button(W("keep-remark"), send, {class: "run-main"})));
}
