// What could be written at the cursor, in a list under it. Arrow keys choose, Enter or Tab take, Escape closes.
import { el, later, post } from "./post.js";
import { caret, offsetOf, placeOf, put } from "./text.js";

const WORTH_ASKING = /(\{[\w-]*|\}`[^`]*|\]\([^()\s]*|^ {0,3}:[\w-]*|^ {0,3}:[\w-]+:[ \t]+[^\n]*|^ {0,3}:::[^\n]*)$/;
const MOST = 12;

export function offers(area, box, path) {
  let all = [];
  let shown = [];
  let chosen = 0;
  let asked = 0;
  let own = false;

  const close = () => {
    box.hidden = true;
    shown = [];
    area.removeAttribute("aria-activedescendant");
  };

  const start = (offer) => offsetOf(area.value, offer.place.line, offer.place.column);

  async function ask(wanted) {
    const at = area.selectionStart;
    const text = area.value;
    if (at !== area.selectionEnd) return close();
    const row = text.slice(text.lastIndexOf("\n", at - 1) + 1, at);
    if (!wanted && !WORTH_ASKING.test(row)) return close();
    asked += 1;
    const mine = asked;
    const { status, data } = await post("/write/complete", { path, text, ...placeOf(text, at) });
    if (mine !== asked || area.value !== text || area.selectionStart !== at) return undefined;
    all = status === 200 ? data.offers : [];
    return narrow(wanted);
  }

  function narrow(wanted) {
    const at = area.selectionStart;
    shown = all.filter((offer) => {
      const typed = area.value.slice(start(offer), at).toLowerCase();
      const whole = offer.insert.toLowerCase();
      return (whole.includes(typed) || offer.label.toLowerCase().includes(typed)) && (whole !== typed || all.length > 1) && whole !== typed;
    });
    const typed = (offer) => area.value.slice(start(offer), at).toLowerCase();
    shown.sort((a, b) => b.label.toLowerCase().startsWith(typed(b)) - a.label.toLowerCase().startsWith(typed(a)));
    shown = shown.slice(0, MOST);
    if (shown.length === 0) {
      close();
      if (wanted) nothing();
      return;
    }
    chosen = 0;
    draw();
  }

  function nothing() {
    box.replaceChildren(el("p", { className: "none" }, "Nothing particular is expected here."));
    placed();
    setTimeout(() => { if (shown.length === 0) close(); }, 1500);
  }

  function draw() {
    box.replaceChildren(...shown.map((offer, n) => el("div", {
      id: `offer-${n}`, role: "option", className: n === chosen ? "option chosen" : "option", "aria-selected": String(n === chosen),
      on: { pointerdown: (event) => event.preventDefault(), click: () => take(n) },
    }, el("b", {}, offer.label), offer.detail ? el("small", {}, offer.detail) : "")));
    area.setAttribute("aria-activedescendant", `offer-${chosen}`);
    placed();
    box.children[chosen].scrollIntoView({ block: "nearest" });
  }

  function placed() {
    box.hidden = false;
    const spot = caret(area, area.selectionStart);
    const below = spot.top + spot.height + 4;
    const room = area.clientHeight - below;
    box.style.left = `${Math.max(0, Math.min(spot.left, area.clientWidth - box.offsetWidth))}px`;
    box.style.top = room < box.offsetHeight && spot.top > box.offsetHeight ? `${spot.top - box.offsetHeight - 4}px` : `${below}px`;
  }

  function take(n) {
    const offer = shown[n];
    const from = start(offer);
    const to = Math.max(area.selectionStart, offsetOf(area.value, offer.place.endLine, offer.place.endColumn));
    close();
    own = true;
    put(area, from, to, offer.insert + closing(from, to, offer.insert));
    own = false;
    const gap = offer.insert.indexOf("[fill in");
    if (gap >= 0) area.setSelectionRange(from + gap, from + offer.insert.indexOf("]", gap) + 1);
    else if (/[`{]$/.test(offer.insert)) ask(false);
  }

  // A mark that nobody has closed yet is closed with its first name.
  function closing(from, to, words) {
    const begin = area.value.lastIndexOf("\n", from - 1) + 1;
    const open = /\{[\w-]+\}`[^`]*$/.test(area.value.slice(begin, from) + words);
    const rest = area.value.slice(to).split("\n", 1)[0];
    return open && !words.endsWith("`") && !rest.includes("`") ? "`" : "";
  }

  const soon = later(() => ask(false), 120);
  area.addEventListener("input", () => {
    if (own) return;
    if (!box.hidden && all.length) close();
    soon();
  });
  area.addEventListener("keydown", (event) => {
    if (event.key === " " && event.ctrlKey) {
      event.preventDefault();
      ask(true);
    } else if (!box.hidden && shown.length) {
      keys(event);
    }
  });

  function keys(event) {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step) chosen = (chosen + step + shown.length) % shown.length;
    else if (event.key === "Escape") close();
    else if ((event.key === "Enter" || event.key === "Tab") && !event.shiftKey && !event.isComposing) take(chosen);
    else {
      if (["ArrowLeft", "ArrowRight", "Home", "End", "PageUp", "PageDown"].includes(event.key)) close();
      return;
    }
    event.preventDefault();
    if (step) draw();
  }

  area.addEventListener("blur", () => setTimeout(() => { if (document.activeElement !== area) close(); }, 200));
  area.addEventListener("scroll", () => { if (!box.hidden && shown.length) placed(); });
  area.addEventListener("pointerdown", close);
  return { ask: () => { area.focus(); ask(true); }, close };
}
