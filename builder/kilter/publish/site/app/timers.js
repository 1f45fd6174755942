/** Waits by the clock: the end is kept, not the seconds passed, so that they go on while the page is closed. */
import {el, button, W} from "./dom.js";

import {mayRing, ring} from "./awake.js";

const JUMP = 2500;

/** Whether the phone's clock was moved while this page has been open. */
export class Clock {
  constructor() {
    this.offset = Date.now() - performance.now();
  }

  /** @returns {number} milliseconds by which the clock jumped since the last look, 0 for none */
  jumped() {
    const offset = Date.now() - performance.now(), by = offset - this.offset;
    this.offset = offset;
    return Math.abs(by) > JUMP ? by : 0;
  }
}

export function spelt(seconds) {
  const left = Math.max(0, Math.ceil(seconds)), two = (number) => String(number).padStart(2, "0");
  const hours = Math.floor(left / 3600), minutes = Math.floor(left / 60) % 60;
  return hours ? `${hours}:${two(minutes)}:${two(left % 60)}` : `${minutes}:${two(left % 60)}`;
}

/** One wait of a step: begun by a touch, over by itself. `act` takes the entries. */
export function timerOf(wait, index, visit, act, clockTrouble) {
  const running = visit.waiting.find((each) => each.index === String(index));
  const over = visit.over.includes(String(index));
  const face = el("div", {class: "run-timer", role: "timer"});
  if (over) {
    face.append(el("p", {class: "over"}, W("wait-over", {time: wait.text})));
    return face;
  }
  if (!running) {
    const start = () => {
      mayRing();
      act("waiting", {index: String(index), wanted: String(wait.seconds)});
    };
    face.append(button(W("wait-start", {time: wait.text}), start, {class: "run-wait"}));
    return face;
  }
  const digits = el("output", {class: "digits", "aria-live": "off"});
  const spoken = el("span", {class: "run-quiet", "aria-live": "polite"});
  face.append(digits, spoken, el("p", {}, W("wait-open", {time: wait.text})));
  let said = -1;
  const tick = () => {
    if (!face.isConnected) return void clearInterval(beat);
    const passed = (Date.now() - running.from) / 1000, left = wait.seconds - passed;
    if (passed < -1) return clockTrouble(running);
    digits.textContent = spelt(left);
    const minutes = Math.ceil(left / 60);
    if (minutes !== said && left > 0) spoken.textContent = W("wait-minutes", {n: (said = minutes)});
    if (left <= 0) {
      clearInterval(beat);
      ring();
      act("wait", {index: String(index), wanted: String(wait.seconds), waited: String(Math.floor(passed))});
    }
    return undefined;
  };
  const beat = setInterval(tick, 250);
  requestAnimationFrame(tick);
  return face;
}


