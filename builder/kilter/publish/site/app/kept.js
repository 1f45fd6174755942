/** All records that are on this phone: how many are not handed over, handing over, and leaving against a receipt. */
import {el, button, labelled} from "./dom.js";
import {canonical} from "./canonical.js";
import {localTime} from "./clock.js";
import {fileName, finishedRecord, recordTable, save, waysOut} from "./handing.js";
import {readReceipt, receiptCovers} from "./receipt.js";

const K = (key, values) => globalThis.kilterWord(`kept.${key}`, values);
const counted = (key, n) => globalThis.kilterCount(`kept.${key}`, n);
/** What the last receipt came to: told once, in the list that is drawn after it. */
let outcome = "";

/** Every record as it would be handed over now, the oldest first. */
async function keptRecords(store) {
  const heads = (await store.runs()).sort((a, b) => Date.parse(a.started) - Date.parse(b.started));
  const found = [];
  for (const head of heads) found.push({head, record: await finishedRecord(store, head)});
  return found;
}

/** Whether it has not been given to anybody since it last grew. */
function owed({head, record}) {
  return !head.handed || (head.handedDigest !== undefined && head.handedDigest !== record.digest);
}

/** What is on this phone; null where there is nothing. `redraw` is called when something was handed over or has left. */
export async function keptSection(store, redraw) {
  const kept = await keptRecords(store);
  const said = outcome ? el("p", {role: "status", class: "kept-said"}, outcome) : null;
  outcome = "";
  if (!kept.length) return said;
  const open = kept.filter(owed).length;
  const handed = async (some) => {
    const heads = new Map((await store.runs()).map((head) => [head.id, head]));
    for (const {head, record} of some) await store.change({...(heads.get(head.id) || head), handed: localTime(), handedDigest: record.digest});
    redraw();
  };
  return el("details", {class: "kept"},
    el("summary", {}, K("title"), " ", el("b", {}, open ? counted("owed", open) : K("none-owed"))),
    said,
    el("p", {}, K("notebook")),
    el("ul", {}, kept.map((each) => el("li", {"data-record": each.record.id}, keptRow(each, () => handed([each]))))),
    button(K("all-over"), () => handOver(kept, handed), {class: "run-main"}),
    receiptForm(store, redraw));
}

/** One record: what it is; opened, the ways out and what was done. */
function keptRow({head, record}, after) {
  const what = record.kind === "remark" ? K("remark", {step: record.entries[0]?.number || ""}) : record.exit ? K("ended") : K("open");
  const place = el("div", {});
  const row = el("details", {}, el("summary", {}, el("b", {}, `${record.document} ${record.revision}`), ` ${record.asset} ${record.started.slice(0, 10)} · ${what}`,
    owed({head, record}) ? "" : ` · ${K("given")}`), place);
  row.addEventListener("toggle", () => {
    if (row.open && !place.childElementCount) place.append(waysOut(record, head, after), recordTable(record));
  });
  return row;
}

/** One file with all of them, by the share sheet where there is one. */
async function handOver(kept, handed) {
  const text = kept.length === 1 ? canonical(kept[0].record) : `[${kept.map(({record}) => canonical(record)).join(",")}]`;
  const name = kept.length === 1 ? fileName(kept[0].head, "json") : `records-${localTime().slice(0, 10)}-${kept.length}.json`;
  const file = new File([text], name, {type: "application/json"});
  try {
    if (navigator.canShare && navigator.canShare({files: [file]})) await navigator.share({files: [file], title: name});
    else save(name, "application/json", text);
  } catch {
    return; // closed without choosing: nothing was handed over
  }
  await handed(kept);
}

/** Only what the workshop says it holds may leave the phone, and only as it is there: an open run never. */
function receiptForm(store, redraw) {
  const typed = el("textarea", {rows: 2, autocomplete: "off", autocapitalize: "characters", spellcheck: "false"});
  const file = el("input", {type: "file", accept: ".json,.txt,application/json,text/plain"});
  const trouble = el("p", {class: "run-trouble", role: "alert"});
  const read = async () => {
    const receipt = readReceipt(file.files[0] ? await file.files[0].text() : typed.value);
    if (!receipt) return void (trouble.textContent = K("no-receipt"));
    const now = await keptRecords(store);
    const covered = now.filter(({record}) => receiptCovers(receipt, record) && (record.finished || record.kind === "remark"));
    for (const {head} of covered) await store.forget(head.id);
    const left = now.length - covered.length;
    outcome = [counted("gone", covered.length), left ? counted("stays", left) : ""].filter(Boolean).join(" ");
    return redraw();
  };
  return el("details", {class: "kept-receipt"}, el("summary", {}, K("receipt")), el("p", {}, K("receipt-why")),
    labelled(K("receipt-codes"), typed), labelled(K("receipt-file"), file), trouble, button(K("receipt-read"), read, {class: "run-plain"}));
}
