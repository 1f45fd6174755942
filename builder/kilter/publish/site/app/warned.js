/** Warnings before an action: each counts as read only when its end has been on the screen. */
import {button, W} from "./dom.js";

const EDGE = 8, OVERLAP = 60; // pixels: room above a warning, and what of a long one is shown again on the next screen

/** The button that goes from warning to warning, and confirms them only when the last one was shown. */
export class Warned {
  constructor(key, panels, confirm) {
    Object.assign(this, {key, panels, left: [...panels]});
    this.button = button("", () => (this.left.length ? this.on() : confirm()), {class: "run-main"});
  }

  /** The part of the screen that no bar covers. */
  room() {
    const [top, foot] = [".run-top", ".run-foot"].map((name) => document.querySelector(name));
    const over = (bar, place) => getComputedStyle(bar).position === place;
    return [over(top, "sticky") ? top.getBoundingClientRect().bottom : 0, over(foot, "fixed") ? foot.getBoundingClientRect().top : innerHeight];
  }

  /** Looked at after every drawing and every scroll. */
  look() {
    const [top, bottom] = this.room();
    this.left = this.left.filter((panel) => {
      const end = panel.getBoundingClientRect().bottom;
      return end <= top || end > bottom + 1;
    });
    const of = this.panels.length, n = of - this.left.length + 1;
    const words = this.left.length ? W(of > 1 ? "caution-next" : "caution-end", {n, of}) : W(of > 1 ? "caution-read-all" : "caution-read", {n: of});
    if (this.button.textContent !== words) this.button.textContent = words;
  }

  /** To the next warning, or on in one that is longer than the screen; a reader of screens hears it. */
  on() {
    const [next] = this.left, [top, bottom] = this.room(), {top: start, bottom: end} = next.getBoundingClientRect();
    const begun = start <= top + EDGE && end > bottom, again = this.shown?.panel === next; // the button may lie far below it
    const from = begun ? scrollY + bottom - OVERLAP : again ? this.shown.to - OVERLAP : scrollY + start - EDGE;
    scrollTo(0, from - top);
    this.shown = {panel: next, to: scrollY + bottom};
    next.tabIndex = -1;
    next.focus({preventScroll: true});
    this.look();
  }
}
