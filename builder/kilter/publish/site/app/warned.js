/** Warnings before an action: each counts as read only when all of it, to its end, has been on the screen. */
import {button, W} from "./dom.js";

const EDGE = 8, OVERLAP = 60; // pixels: room above a warning, and what of a long one is shown again on the next screen

/** The button that goes from warning to warning, and confirms them only when the last one was shown. */
export class Warned {
  constructor(key, panels, confirm) {
    Object.assign(this, {key, panels, left: [...panels], seen: new Map(panels.map((panel) => [panel, 0]))});
    this.button = button("", () => (this.left.length ? this.on() : confirm()), {class: "run-main"});
  }

  /** The part of the screen that no bar covers; all of it where bars leave next to nothing. */
  room() {
    const [top, foot] = [".run-top", ".run-foot"].map((name) => document.querySelector(name));
    const over = (bar, place) => getComputedStyle(bar).position === place;
    const from = over(top, "sticky") ? top.getBoundingClientRect().bottom : 0, to = over(foot, "fixed") ? foot.getBoundingClientRect().top : innerHeight;
    return to - from > 2 * OVERLAP ? [from, to] : [0, innerHeight];
  }

  /** Looked at after every drawing and every scroll: how far down each was shown without a gap. */
  look() {
    const [top, bottom] = this.room();
    for (const panel of this.left) {
      const {top: start, bottom: end} = panel.getBoundingClientRect(), seen = this.seen.get(panel);
      const from = Math.max(start, top) - start, to = Math.min(end, bottom) - start;
      if (to > from && from <= seen + 1) this.seen.set(panel, Math.max(seen, to));
    }
    this.left = this.left.filter((panel) => this.seen.get(panel) < panel.getBoundingClientRect().height - 1);
    const of = this.panels.length, n = of - this.left.length + 1;
    const words = this.left.length ? W(of > 1 ? "caution-next" : "caution-end", {n, of}) : W(of > 1 ? "caution-read-all" : "caution-read", {n: of});
    if (this.button.textContent !== words) this.button.textContent = words;
  }

  /** To the next warning, or on in one that is longer than the screen; a reader of screens hears it. */
  on() {
    const [next] = this.left, [top] = this.room(), seen = this.seen.get(next);
    scrollTo(0, scrollY + next.getBoundingClientRect().top + Math.max(0, seen - OVERLAP) - EDGE - top);
    next.tabIndex = -1;
    next.focus({preventScroll: true});
    this.look();
    if (this.seen.get(next) > seen || !this.left.includes(next)) return;
    this.seen.set(next, Infinity); // nothing more of it can be brought up: nobody is held here for ever
    this.look();
  }
}
