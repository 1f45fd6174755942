/** What this run did to each source, in words: never more than was recorded. */
import {el, W, clockOf} from "./dom.js";
import {safeAgain, startFor, stepsOf} from "./engine.js";
import {CHARGED, DEAD, PROVED} from "./energy.js";

/** @returns {string} the state of one source as this run left it */
export function stateWords(plan, state, name) {
  const one = state.sources[name], source = plan.sources.find((each) => each.name === name);
  const time = one.at ? clockOf(one.at) : "", where = one.number;
  if (one.lost === "failed") return W("state.failed", {time, where});
  if (one.lost === "unlocked") return W("state.unlocked", {time});
  if (one.lost === "again") return W("state.again", {time});
  if (one.level === PROVED) return W("state.proved", {time, where});
  if (one.level === DEAD && one.lost) return W("state.void", {time});
  if (one.level === DEAD) {
    if (!one.at) return W("state.never-cut");
    return W(source.landing === "charged" ? "state.released" : "state.isolated", {time, where});
  }
  if (one.level === CHARGED && one.at && source.entry === "charged") return W("state.loaded", {time, where});
  if (one.level === CHARGED) return one.at ? W("state.charged", {time, where}) : W("state.charged-at-start");
  return one.at ? W("state.back", {time, where}) : W("state.untouched");
}

export function stripOf(plan, state, lacking) {
  const step = stepsOf(plan).get(state.step);
  const groups = new Map();
  for (const [name] of step.must) {
    const missing = lacking.includes(name), start = missing ? stepsOf(plan).get(safeAgain(plan, state, [name])[0] || startFor(plan, name)) : null;
    const words = stateWords(plan, state, name);
    const said = missing && start ? W("state.start", {words, step: start.number}) : words;
    const lost = ["failed", "unlocked"].includes(state.sources[name].lost);
    if (!groups.has(said)) groups.set(said, {names: [], missing, lost});
    groups.get(said).names.push(name);
  }
  const worst = [...groups].sort(([, a], [, b]) => Number(b.missing || b.lost) - Number(a.missing || a.lost));
  const rows = worst.map(([said, {names, missing, lost}]) => el("li", {class: missing || lost ? "lacking" : null},
    names.flatMap((name, n) => [n ? ", " : "", el("b", {}, name)]), ` ${said}`));
  return rows.length ? el("div", {class: "run-strip"}, el("span", {}, W("strip")), el("ul", {}, rows)) : null;
}

/** Every source, lock and guard: what somebody else has to know who comes to the machine now. */
export function statement(plan, state) {
  const sources = plan.sources.map((source) => {
    const lock = state.sources[source.name].held ? W("lock-on") : source.lockable ? W("lock-off") : "";
    return el("tr", {}, el("th", {scope: "row"}, source.name),
      el("td", {}, stateWords(plan, state, source.name), lock ? el("small", {}, ` ${lock}`) : null));
  });
  const guards = state.guardsOff.length ? W("guards-off", {names: state.guardsOff.join(", ")}) : W("guards-on");
  return el("div", {class: "run-state"}, el("table", {}, el("caption", {}, W("state-of-machine")), el("tbody", {}, sources)),
    el("p", {}, guards));
}

/** Words for the tag, to be copied by hand. */
export function tagWords(plan, state, head, worker) {
  const held = state.held.join(", ") || W("nothing");
  return W("tag-words", {document: plan.document, step: stepsOf(plan).get(state.step)?.number || "", held, worker,
    guards: state.guardsOff.join(", ") || W("nothing"), contact: plan.contact || "", asset: head.asset});
}
