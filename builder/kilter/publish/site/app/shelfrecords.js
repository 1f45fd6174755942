/** Records on this phone: how many wait, handing each over, and leaving only against a receipt. */
import {el, button, W} from "./dom.js";
import {fold} from "./engine.js";
import {canonical} from "./canonical.js";
import {fileName, finishedRecord, markHanded, recordTable, save, waysOut} from "./handing.js";
import {owedRecords} from "./owed.js";
import {readReceipt, receiptCovers} from "./receipt.js";
import {localTime} from "./clock.js";

/** By the instant, not the text: the hour after summer time comes twice. */
const byStart = (a, b) => Date.parse(a.started) - Date.parse(b.started);

/** One file with all records, by the share sheet where there is one. */
async function handAllOver(store, redraw) {
  const all = [];
  for (const head of (await store.runs()).sort(byStart)) all.push([head, await finishedRecord(store, head)]);
  const name = all.length === 1 ? fileName(all[0][0], "json") : `records-${localTime().slice(0, 10)}-${all.length}.json`;
  const text = all.length === 1 ? canonical(all[0][1]) : `[${all.map(([, record]) => canonical(record)).join(",")}]`;
  const file = new File([text], name, {type: "application/json"});
  try {
    if (navigator.canShare && navigator.canShare({files: [file]})) await navigator.share({files: [file], title: name});
    else save(name, "application/json", text);
  } catch {
    return; // closed without choosing: nothing was handed over
  }
  for (const [head, record] of all) await markHanded(store, head, record);
  await redraw(W("shelf.given-out"));
}

/**
 * The section, and how it is drawn anew. The fold for receipts is made once: what somebody types into it outlasts
 * whatever is redrawn beside it. Words about what was done are shown together with the list they speak of.
 */
export function recordsSection(store) {
  const told = el("p", {role: "status"}), list = el("div", {});
  const section = el("section", {class: "shelf-records"}, el("h2", {}, W("shelf.records")), told, list);
  let asked = 0, said = "";
  const draw = async (words = "") => {
    said = words || said;
    const mine = ++asked, heads = (await store.runs()).sort((a, b) => byStart(b, a));
    const rows = await recordRows(store, heads, draw);
    if (mine !== asked) return; // asked for again meanwhile: the later list is the true one
    told.textContent = said;
    said = "";
    list.replaceChildren(...rows);
    if (!heads.length) receipts.remove();
    else if (!receipts.isConnected) section.append(receipts);
  };
  const receipts = receiptBox(store, draw);
  return {section, draw};
}

async function recordRows(store, heads, redraw) {
  const owed = new Set((await owedRecords(store)).map((head) => head.id));
  const rows = store.lasting ? [] : [el("p", {class: "run-danger"}, W("trouble.memory"))];
  rows.push(el("p", {}, heads.length ? W("shelf.waiting", {n: owed.size, all: heads.length}) : W("shelf.no-records")));
  for (const head of heads) rows.push(await recordRow(store, head, owed.has(head.id), redraw));
  if (heads.length) rows.push(button(W("shelf.all-over"), () => handAllOver(store, redraw), {class: "run-main"}));
  return rows;
}

async function recordRow(store, head, owed, redraw) {
  const entries = await store.entries(head.id), place = el("div", {});
  const state = head.plan && head.kind === "run" ? fold(head.plan, entries, Date.now()) : null;
  const what = head.kind === "remark" ? W("shelf.remark", {step: entries[0] ? entries[0].number : ""})
    : state && state.exit ? W(`exit.${state.exit.replace(/[^a-z]+/g, "-")}`) : W("shelf.unfinished");
  const row = el("details", {}, el("summary", {}, el("span", {}, el("b", {}, `${head.document} ${head.revision} · ${head.asset}`),
    ` ${head.started.slice(0, 16).replace("T", " ")} · ${what}${head.handed ? ` · ${W(owed ? "shelf.grown" : "shelf.handed")}` : ""}`)), place);
  row.addEventListener("toggle", async () => {
    if (!row.open || place.childElementCount) return;
    const record = await finishedRecord(store, head);
    const after = async () => markHanded(store, head, record).then(() => redraw());
    place.append(waysOut(record, head, after), recordTable(record));
  });
  return row;
}

/** Only what the workshop says it has received may go, and only as it is now. */
function receiptBox(store, redraw) {
  const text = el("textarea", {rows: 3}), file = el("input", {type: "file", accept: ".json,application/json,text/plain"});
  const said = el("p", {role: "alert"});
  const take = async () => {
    const receipt = readReceipt(file.files.length ? await file.files[0].text() : text.value);
    if (!receipt) return void (said.textContent = W("shelf.no-receipt"));
    let gone = 0;
    for (const head of await store.runs()) {
      const record = await finishedRecord(store, head);
      if (!receiptCovers(receipt, record) || (head.kind === "run" && !record.finished)) continue;
      await store.forget(head.id);
      gone += 1;
    }
    const left = (await store.runs()).length;
    said.textContent = text.value = file.value = "";
    box.open = false;
    await redraw(W("shelf.received", {gone, left}));
    return undefined;
  };
  const box = el("details", {class: "shelf-receipt"}, el("summary", {}, W("shelf.delete")), el("p", {}, W("shelf.receipt-why")),
    el("label", {class: "run-field"}, el("span", {}, W("shelf.receipt")), text),
    el("label", {class: "run-field"}, el("span", {}, W("shelf.receipt-file")), file),
    button(W("shelf.take-receipt"), take, {class: "run-plain"}), said);
  return box;
}
