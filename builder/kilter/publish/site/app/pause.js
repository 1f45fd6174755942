/** Leaving the machine, coming back to it, and somebody else taking over. */
import {el, button, labelled, W} from "./dom.js";
import {unlocked} from "./engine.js";
import {statement, tagWords} from "./strip.js";

/** What stands on the phone, and should stand on the tag, while nobody works. */
export function pausedScreen(plan, state, head, actions) {
  const open = unlocked(plan, state);
  const first = plan.sources.filter((source) => open.includes(source.name));
  return el("div", {class: "run-screen"},
    el("h2", {tabindex: -1}, W(`paused.${state.paused}`)),
    first.length ? el("div", {class: "run-first"}, el("b", {}, W("lock-first")),
      el("ul", {}, first.map((source) => el("li", {}, el("b", {}, source.name), `: ${source.isolate}`)))) : null,
    statement(plan, state),
    el("div", {class: "run-tag"}, el("b", {}, W("on-the-tag")), el("p", {}, tagWords(plan, state, head, state.worker))),
    el("p", {}, W("proofs-void")),
    el("div", {class: "run-pair"},
      button(W("close"), actions.close, {class: "run-plain"}),
      button(W("take-over"), actions.other, {class: "run-plain"}),
      button(W("i-am-back", {worker: state.worker}), actions.back, {class: "run-main"})));
}

/** Before going on: is every lock still where it was? */
export function backScreen(plan, state, actions) {
  const rows = state.held.map((name, n) => {
    const choice = (value, words) => el("label", {class: "run-tick"}, el("input", {type: "radio", name: `lock-${n}`, value, "data-lock": name}), el("span", {}, words));
    return el("fieldset", {}, el("legend", {}, name), choice("on", W("lock-is-on")), choice("off", W("lock-is-off")));
  });
  const trouble = el("p", {class: "run-trouble", role: "alert"});
  const go = (event) => {
    const said = [...event.target.closest(".run-screen").querySelectorAll("input:checked")];
    const open = state.held.find((name) => !said.some((input) => input.dataset.lock === name));
    if (open) return void (trouble.textContent = W("lock-not-said", {name: open}));
    return actions.go(said.filter((input) => input.value === "off").map((input) => input.dataset.lock));
  };
  return el("div", {class: "run-screen"}, el("h2", {tabindex: -1}, W("back-title")),
    el("p", {}, state.held.length ? W("look-at-locks") : W("no-locks")), rows,
    el("p", {}, state.again.length ? W("prove-again", {names: state.again.join(", ")}) : W("read-again-cautions")),
    trouble, el("div", {class: "run-pair"}, button(W("stay"), actions.stay, {class: "run-plain"}), button(W("go-on"), go, {class: "run-main"})));
}

/** Whose lock comes off and whose goes on, source by source. */
export function handoverScreen(plan, state, actions) {
  const code = el("input", {autocomplete: "off", maxlength: 8, autocapitalize: "characters"});
  const rows = state.held.map((name) => {
    const off = el("input", {type: "checkbox", value: name}), on = el("input", {type: "checkbox", value: name});
    off.dataset.lock = "off";
    on.dataset.lock = "on";
    return el("fieldset", {}, el("legend", {}, name),
      el("label", {class: "run-tick"}, on, el("span", {}, W("lock-goes-on"))),
      el("label", {class: "run-tick"}, off, el("span", {}, W("lock-comes-off", {worker: state.worker}))));
  });
  const trouble = el("p", {class: "run-trouble", role: "alert"});
  const take = (event) => {
    const screen = event.target.closest(".run-screen");
    const of = (kind) => [...screen.querySelectorAll(`input[data-lock="${kind}"]:checked`)].map((input) => input.value);
    const to = code.value.trim(), [on, off] = [of("on"), of("off")];
    if (!to || to.toLocaleLowerCase() === state.worker.toLocaleLowerCase()) return void (trouble.textContent = W("other-code"));
    const bare = off.filter((name) => !on.includes(name)).join(", ");
    if (bare && screen.dataset.told !== bare) {
      screen.dataset.told = bare;
      return void (trouble.textContent = W("bare-lock", {name: bare}));
    }
    return actions.take(to, off, on);
  };
  return el("div", {class: "run-screen"}, el("h2", {tabindex: -1}, W("handover-title")), labelled(W("new-worker"), code),
    rows.length ? [el("p", {}, W("locks-order")), rows] : el("p", {}, W("no-locks")),
    trouble, el("div", {class: "run-pair"}, button(W("cancel"), actions.stay, {class: "run-plain"}), button(W("take-over"), take, {class: "run-main"})));
}
