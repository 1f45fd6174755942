/** Handing records over: by the share sheet, as files, on paper; they leave the phone only against a receipt. */
import {el, button, W, clockOf} from "./dom.js";
import {recordOf} from "./record.js";
import {canonical} from "./canonical.js";
import {csvOf} from "./csv.js";
import {packedRecord} from "./code.js";
import {qrCanvas} from "./qr.js";
import {localTime} from "./clock.js";

export function fileName(head, ending) {
  const part = (text) => text.replace(/[^A-Za-z0-9-]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 24);
  return `${part(head.document)}-${part(head.asset) || "record"}-${head.started.slice(0, 10)}-${head.id.slice(0, 8)}.${ending}`;
}

/** What the store holds of a run now: the head a screen was drawn from may be older and lack what was settled since. */
async function stored(store, head) {
  return (await store.runs()).find((each) => each.id === head.id) || head;
}

/** Build the record of a run and remember its hash, so that the next one is chained to it; the chain is settled once. */
export async function finishedRecord(store, head) {
  const entries = await store.entries(head.id), now = await stored(store, head);
  const previous = now.previous === undefined ? (await store.kept("last-digest")) || "" : now.previous;
  const record = recordOf(now, entries, previous);
  if (now.previous === undefined) await store.change({...now, previous});
  if (record.finished || head.kind === "remark") await store.keep("last-digest", record.digest);
  return record;
}

export async function markHanded(store, head, record) {
  return store.change({...(await stored(store, head)), handed: localTime(), handedEntries: record.entries.length});
}

export function save(name, type, text) {
  const address = URL.createObjectURL(new Blob([text], {type}));
  const link = el("a", {href: address, download: name});
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

export async function share(record, head) {
  const file = new File([canonical(record)], fileName(head, "json"), {type: "application/json"});
  if (navigator.canShare && navigator.canShare({files: [file]})) {
    await navigator.share({files: [file], title: fileName(head, "json")});
    return true;
  }
  return false;
}

/** The ways a record can go; `after` is told when one was used. */
export function waysOut(record, head, after) {
  const json = () => {
    save(fileName(head, "json"), "application/json", canonical(record));
    after();
  };
  const shared = async () => {
    try {
      if (await share(record, head)) after();
    } catch { /* closed without choosing: nothing happened */ }
  };
  const can = Boolean(navigator.canShare && navigator.canShare({files: [new File(["{}"], "a.json", {type: "application/json"})]}));
  const code = el("div", {role: "status"});
  return el("div", {class: "run-ways"},
    can ? button(W("share"), shared, {class: "run-main"}) : null,
    button(W("save-json"), json, {class: can ? "run-plain" : "run-main"}),
    button(W("save-csv"), () => save(fileName(head, "csv"), "text/csv;charset=utf-8", csvOf([record])), {class: "run-plain"}),
    button(globalThis.kilterWord("code.show"), () => showCode(record, code, after), {class: "run-plain"}),
    code,
    button(W("print"), () => window.print(), {class: "run-plain"}));
}

/** The record as a code for the camera of the workshop's computer; a person says that it was taken. */
async function showCode(record, place, after) {
  const say = (key) => el("p", {}, globalThis.kilterWord(key));
  const text = await packedRecord(canonical(record));
  if (!text) return void place.replaceChildren(say("code.too-long"));
  try {
    const drawn = await qrCanvas(text, globalThis.kilterWord("code.of", {document: record.document}));
    place.replaceChildren(say("code.scan"), drawn, button(globalThis.kilterWord("code.taken"), after, {class: "run-plain"}));
  } catch {
    place.replaceChildren(say("code.failed"));
  }
  return undefined;
}

/** The record as a table, on the screen and on paper. */
export function recordTable(record) {
  const rows = record.entries.map((entry) => el("tr", {}, el("td", {}, clockOf(entry.at)), el("td", {}, entry.number || ""),
    el("td", {}, entryWords(entry))));
  const head = [["document", `${record.document} ${record.revision}`], ["asset", record.asset], ["serial", record.serial],
    ["work-order", record.workOrder], ["worker", record.worker], ["hash", record.hash.slice(0, 12)], ["digest", record.digest.slice(0, 12)]];
  return el("div", {class: "run-record"},
    el("dl", {}, head.filter(([, value]) => value).map(([key, value]) => el("div", {}, el("dt", {}, W(key)), el("dd", {}, value)))),
    el("table", {}, el("caption", {}, W("what-was-done")), el("tbody", {}, rows)));
}

export function entryWords(entry) {
  switch (entry.kind) {
    case "reading": {
      const name = [entry.phase && W(`phase.${entry.phase.replace(" ", "-")}`), entry.name].filter(Boolean).join(", ");
      return `${name || W("reading")}: ${entry.value} ${entry.unit} (${entry.limits}), ${W(`verdict.${entry.verdict.replaceAll(" ", "-")}`)}`;
    }
    case "answer": return entry.text;
    case "wait": return W("said.wait", {seconds: entry.waited});
    case "handover": return W("said.handover", {to: entry.to});
    case "hold": return W("said.hold", {initials: entry.initials});
    case "exit": return W(`exit.${entry.exit.replace(/[^a-z]+/g, "-")}`);
    case "note": case "remark": return entry.text;
    case "revision": return W(entry.choice === "go on" ? "said.went-on" : "said.stopped-for", {revision: entry.inForce});
    default: return W(`said.${entry.kind}`);
  }
}
