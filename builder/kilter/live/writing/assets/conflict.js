// Two versions of one document: both are shown with what differs, and the writer chooses.
import { el } from "./post.js";

const SIGNS = { same: " ", mine: "+", theirs: "−", gap: "…" };
const SAID = { same: "", mine: "mine: ", theirs: "on the disk: ", gap: "" };

export function conflict(data, mine, act) {
  const own = (title, text) => el("label", {}, title, el("textarea", { readOnly: true, value: text, rows: 10, className: "version" }));
  const rows = data.difference.map((row) => el("div", { className: `row ${row.kind}` }, el("span", { "aria-hidden": "true" }, SIGNS[row.kind]), el("span", { className: "unseen" }, SAID[row.kind]), row.text));
  return el("section", { className: "conflict", id: "write-conflict", "aria-label": "Two versions" },
    el("h2", {}, "The file has changed meanwhile. Nothing is written yet."),
    el("p", {}, "Somebody else, or another window, has saved this document since it was opened here."),
    el("div", { className: "versions" }, own("My text", mine), own("The text on the disk", data.theirs)),
    el("h3", {}, "What differs (− on the disk, + mine)"),
    el("div", { className: "difference", tabIndex: 0 }, ...rows),
    el("div", { className: "choices" },
      el("button", { type: "button", id: "take-mine", on: { click: act.mine } }, "Save mine over it"),
      el("button", { type: "button", id: "take-theirs", on: { click: act.theirs } }, "Take the one on the disk"),
      el("button", { type: "button", id: "go-on", on: { click: act.goOn } }, "Go on writing")));
}

export function gone(act) {
  return el("section", { className: "conflict", id: "write-conflict" },
    el("h2", {}, "The file is gone. Nothing is written yet."),
    el("p", {}, "Somebody has deleted or moved it since it was opened here."),
    el("div", { className: "choices" },
      el("button", { type: "button", id: "write-anew", on: { click: act.anew } }, "Write it anew"),
      el("button", { type: "button", id: "go-on", on: { click: act.goOn } }, "Go on writing")));
}
