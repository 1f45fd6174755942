// Places in a text field. The server counts lines and columns from 1, columns in whole characters.
export function offsetOf(text, line, column) {
  let at = 0;
  for (let n = 1; n < line; n += 1) {
    const end = text.indexOf("\n", at);
    if (end < 0) return text.length;
    at = end + 1;
  }
  let end = text.indexOf("\n", at);
  if (end < 0) end = text.length;
  for (let n = 1; n < column && at < end; n += 1) at += text.codePointAt(at) > 0xffff ? 2 : 1;
  return at;
}

export function placeOf(text, offset) {
  const before = text.slice(0, offset);
  const begin = before.lastIndexOf("\n") + 1;
  return { line: before.split("\n").length, column: Array.from(before.slice(begin)).length + 1 };
}

// Puts words in place of a stretch so that the browser's own undo takes them back.
export function put(area, start, end, words) {
  area.focus();
  area.setSelectionRange(start, end);
  const done = words === "" ? start === end || document.execCommand("delete") : document.execCommand("insertText", false, words);
  if (!done || area.value.slice(start, start + words.length) !== words) {
    area.setRangeText(words, start, end, "end");
    area.dispatchEvent(new InputEvent("input", { bubbles: true }));
  }
}

export function fixed(text, edits) {
  const places = edits
    .map((e) => ({ start: offsetOf(text, e.line, e.column), end: offsetOf(text, e.endLine, e.endColumn), words: e.text }))
    .sort((a, b) => a.start - b.start || a.end - b.end);
  const start = places[0].start;
  const end = places[places.length - 1].end;
  let words = "";
  let at = start;
  for (const place of places) {
    words += text.slice(at, place.start) + place.words;
    at = place.end;
  }
  return { start, end, words };
}

// The row of a place is brought into view, a third of the way down.
export function show(area, start, end) {
  area.focus();
  area.setSelectionRange(start, end);
  const spot = caret(area, start);
  area.scrollTop = Math.max(0, spot.top + area.scrollTop - area.clientHeight / 3);
  area.scrollIntoView({ block: "nearest" });
}

const COPIED = ["fontFamily", "fontSize", "fontWeight", "letterSpacing", "lineHeight", "tabSize", "paddingTop", "paddingRight", "paddingBottom", "paddingLeft", "borderTopWidth", "borderLeftWidth", "boxSizing", "overflowWrap"];

// Where a place stands inside the field, in pixels from its corner.
export function caret(area, offset) {
  const style = getComputedStyle(area);
  const mirror = document.createElement("div");
  for (const name of COPIED) mirror.style[name] = style[name];
  mirror.style.whiteSpace = "pre-wrap";
  mirror.style.position = "absolute";
  mirror.style.visibility = "hidden";
  mirror.style.borderStyle = "solid";
  mirror.style.borderRightWidth = "0";
  mirror.style.width = `${area.clientWidth + parseFloat(style.borderLeftWidth)}px`;
  const mark = document.createElement("span");
  mark.textContent = "\u200b";
  mirror.append(area.value.slice(0, offset), mark, area.value.slice(offset, offset + 200) || " ");
  area.parentElement.append(mirror);
  const found = { top: mark.offsetTop - area.scrollTop, left: mark.offsetLeft, height: mark.offsetHeight };
  mirror.remove();
  return found;
}
