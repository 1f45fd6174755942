// The editor page: text, findings beside it, saving that never overwrites somebody else's change.
import { el, later, post } from "./post.js";
import { conflict, gone } from "./conflict.js";
import { drop, forget, keep, kept } from "./drafts.js";
import { showCandidates, showFindings } from "./findings.js";
import { offers } from "./offers.js";
import { fixed, offsetOf, put, show } from "./text.js";

const page = document.getElementById("write");
const area = document.getElementById("write-text");
const state = document.getElementById("write-state");
const messages = document.getElementById("write-messages");
const path = page.dataset.path;
let base = page.dataset.hash;
let saved = area.value;
let checked = null;
let round = 0;
let saving = false;

const helper = offers(area, document.getElementById("write-offers"), path);

const act = {
  jump: (place) => show(area, offsetOf(area.value, place.line, place.column), offsetOf(area.value, place.endLine, place.endColumn)),
  fix: (fix) => {
    if (area.value !== checked) return checkSoon.now();
    const { start, end, words } = fixed(area.value, fix.edits);
    put(area, start, end, words);
    const blank = words.indexOf("[fill in");
    const at = start + blank;
    if (blank >= 0) show(area, at, area.value.indexOf("]", at) + 1);
    else show(area, start, start + words.length);
    return checkSoon.now();
  },
};

async function check() {
  round += 1;
  const mine = round;
  const text = area.value;
  const opened = base;
  const { status, data } = await post("/write/check", { path, text });
  if (mine !== round) return;
  if (status !== 200) return tell(data.error, "wrong");
  checked = text;
  if (!saving && opened === base) document.getElementById("write-stale").hidden = data.disk === base;
  showFindings(document.getElementById("write-findings"), document.getElementById("write-count"), data.findings, act);
  showCandidates(document.getElementById("write-maybe-box"), document.getElementById("write-maybe-count"), data.candidates, act);
  page.dataset.checked = String(mine);
}
const checkSoon = later(check, 300);

function tell(words, kind = "") {
  messages.replaceChildren(words ? el("p", { className: kind }, words) : "");
}

function written() {
  const clean = area.value === saved;
  state.textContent = clean ? "As on the disk" : "Not saved";
  document.title = `${clean ? "" : "• "}Write ${path}`;
  if (clean) drop(path, base);
  else keep(path, base, area.value);
}

area.addEventListener("input", () => { written(); checkSoon(); });

async function save() {
  if (saving) return;
  saving = true;
  helper.close();
  const text = area.value;
  state.textContent = "Saving";
  const { status, data } = await post("/write/save", { path, text, base });
  saving = false;
  written();
  if (status === 200) {
    drop(path, base);
    base = data.hash;
    saved = text;
    document.getElementById("write-stale").hidden = true;
    tell("");
    if (area.value === text && data.text !== text) {
      saved = data.text;
      const at = area.selectionStart;
      area.value = data.text;
      area.setSelectionRange(at, at);
    }
    written();
    if (area.value === saved) state.textContent = "Saved";
    return;
  }
  if (status === 409) return data.gone ? deleted() : changed(data, text);
  tell(data.error, "wrong");
}

function changed(data, mine) {
  const end = () => { messages.replaceChildren(); area.focus(); };
  messages.replaceChildren(conflict(data, mine, {
    mine: () => { rebase(data.hash, data.theirs); end(); save(); },
    theirs: () => { rebase(data.hash, data.theirs); end(); put(area, 0, area.value.length, data.theirs); written(); checkSoon.now(); },
    goOn: end,
  }));
  messages.scrollIntoView({ block: "start" });
}

function rebase(hash, text) {
  drop(path, base);
  base = hash;
  saved = text;
}

function deleted() {
  const end = () => { messages.replaceChildren(); area.focus(); };
  messages.replaceChildren(gone({ anew: () => { rebase("", ""); end(); save(); }, goOn: end }));
  messages.scrollIntoView({ block: "start" });
}

document.getElementById("write-save").addEventListener("click", save);
document.getElementById("write-offer").addEventListener("click", () => helper.ask());
document.getElementById("write-blank").addEventListener("click", () => {
  let at = area.value.indexOf("[fill in", area.selectionEnd);
  if (at < 0) at = area.value.indexOf("[fill in");
  if (at < 0) tell("No blank is left.");
  else show(area, at, area.value.indexOf("]", at) + 1 || area.value.length);
});
document.addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") {
    event.preventDefault();
    save();
  }
});

for (const button of document.querySelectorAll("[data-snippet]")) {
  button.addEventListener("click", () => {
    const words = button.dataset.snippet;
    const at = area.selectionStart;
    const line = area.value.lastIndexOf("\n", at - 1) + 1;
    const own = words.endsWith("\n") && at !== line ? `\n${words}` : words;
    put(area, at, area.selectionEnd, own);
    const blank = area.value.indexOf("[fill in", at);
    if (blank >= 0) show(area, blank, area.value.indexOf("]", blank) + 1);
  });
}

// another file, or this one, changed on the disk: what the check says may differ
document.addEventListener("kilter:changed", () => checkSoon());

function offerDrafts() {
  for (const draft of kept(path)) {
    if (draft.text === area.value) { forget(draft); continue; }
    const when = new Date(draft.at).toLocaleString([], { dateStyle: "medium", timeStyle: "short" });
    const other = draft.hash === base ? "" : " The file has been saved by somebody since then.";
    const box = el("div", { className: "kept-text" }, el("p", {}, `Unsaved text of ${when} is kept in this browser.${other}`),
      el("button", { type: "button", className: "take-draft", on: { click: () => takeDraft(draft, box) } }, "Take it back"),
      el("button", { type: "button", className: "drop-draft", on: { click: () => { forget(draft); box.remove(); } } }, "Throw it away"));
    messages.append(box);
  }
}

function takeDraft(draft, box) {
  if (draft.hash !== base) { base = draft.hash; saved = null; }
  put(area, 0, area.value.length, draft.text);
  forget(draft);
  box.remove();
  written();
  checkSoon.now();
}

offerDrafts();
check();
