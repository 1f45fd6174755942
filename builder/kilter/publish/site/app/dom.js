/** Elements without a framework: text is always text, never markup. */
export function el(tag, attributes = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (value === true) made.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) made.setAttribute(name, String(value));
  }
  made.append(...inside.flat(Infinity).filter((each) => each !== null && each !== undefined && each !== false));
  return made;
}

export function button(words, action, attributes = {}) {
  return el("button", {type: "button", onclick: action, ...attributes}, words);
}

/** A labelled field; the label's words are what a screen reader says. */
export function labelled(words, input, more = null) {
  return el("label", {class: "run-field"}, el("span", {}, words), input, more);
}

export const W = (key, values) => globalThis.kilterWord(`run.${key}`, values);

/** Time of day as the reader writes it. */
export function clockOf(instant) {
  return new Date(instant).toLocaleTimeString(document.documentElement.lang || [], {hour: "2-digit", minute: "2-digit", hourCycle: "h23"});
}

/** Author's words in a page of another language keep their own. */
export function theirs() {
  const own = document.querySelector("main");
  return own && own.dataset.theirs ? own.dataset.theirs : null;
}
